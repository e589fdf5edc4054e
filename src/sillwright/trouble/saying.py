"""What is said of a call: why a step comes next, and what to watch until the fault is found."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sillwright.base.words import N_, Sentence
from sillwright.trouble.amounts import minutes_in_words as minutes_in_words
from sillwright.trouble.amounts import share_in_words as share_in_words
from sillwright.trouble.answer import Call
from sillwright.trouble.choosing import NO_MOVE, Choice, Choices, danger, may
from sillwright.trouble.compiled import Floats, Frame, known_facts, told_by_itself
from sillwright.trouble.model import FaultModel, Test
from sillwright.trouble.posterior import Belief, last_answers, marginals

UNSEEN = 0.05
"""From this chance on it is said that the leaf may close on somebody."""

WORTH_ASKING = 0.1
"""A fault that is as likely is worth a word on what it hangs on."""
OUT_OF_SERVICE = Sentence(N_("Take it out of service before anything else: nothing holds the leaf off people."))
"""What is said of a complaint that says by itself that nothing holds the leaf off people."""
Sentences = Iterator[Sentence]


def why(model: FaultModel, call: Call, belief: Belief, choices: Choices) -> Sentences:
    """Why the next step is the next one."""
    best = choices.best
    if choices.harm:
        yield Sentence(N_("What keeps people from harm comes first."))
    elif best.kind == "test":
        yield from _why_test(model.tests[best.at], belief, best, choices)
    elif best.kind == "repair":
        yield from _why_repair(model, call, belief, best)
    elif may(call.who, "technician"):
        yield Sentence(
            N_("No repair that is left is worth trying on what is known. Somebody who knows this door has to look.")
        )
    else:
        yield Sentence(N_("Nothing more can be told from here. A technician has to look on site."))
    yield from _circuit_unknown(model, call, belief)


def _circuit_unknown(model: FaultModel, call: Call, belief: Belief) -> Sentences:
    """What the complaint alone cannot tell apart: a break that is watched, and one that a plain circuit hides."""
    known = {**told_by_itself(model, call.symptom), **known_facts(call.facts)}
    where = next((each.where for each in model.symptoms if each.id == call.symptom), ())
    hidden = {fault for fault, move in where if move.fact == "circuit"}
    shares = marginals(belief.frame, belief.weights)
    for fault, share in zip(model.faults, shares, strict=True):
        if fault.id in hidden and share >= WORTH_ASKING and "circuit" not in known:
            said = N_(
                "How likely it is that “{fault}” hangs on the circuit of the edge, which is not known: a watched "
                "circuit shows a broken lead at once, a plain one never does."
            )
            yield Sentence(said, {"fault": Sentence(fault.words)})


def _why_test(test: Test, belief: Belief, best: Choice, choices: Choices) -> Sentences:
    told = told_apart(belief.frame, belief.weights, best.at)
    words = {fault.id: Sentence(fault.words) for fault in belief.frame.model.faults}
    if told:
        yield Sentence(
            N_("The answer tells these apart: “{one}” and “{other}”"),
            {"one": words[told[0]], "other": words[told[1]]},
        )
    spared = choices.unasked - best.expected
    minutes = {"minutes": minutes_in_words(test.minutes), "spared": minutes_in_words(max(spared, 0.0))}
    if spared >= 0.5:
        said = N_("It takes {minutes} min and spares {spared} min on the way to the right repair, on average.")
        yield Sentence(said, minutes)
    else:
        yield Sentence(N_("It takes {minutes} min, and no other step tells more for its time."), minutes)


def _why_repair(model: FaultModel, call: Call, belief: Belief, best: Choice) -> Sentences:
    repair = model.repairs[best.at]
    mended = chances(belief)[best.at]
    yield Sentence(
        N_("It mends what is wrong in {share} such calls and takes {minutes} min; no question shortens the way."),
        {"share": share_in_words(mended), "minutes": minutes_in_words(repair.minutes)},
    )
    if not may(call.who, repair.who):
        least = {
            "shift_lead": N_("The shift lead or a technician does it, nobody else."),
            "technician": N_("A technician does it, nobody else."),
        }
        yield Sentence(least[repair.who])


def chances(belief: Belief) -> Floats:
    """How likely each repair mends a fault that is there."""
    frame = belief.frame
    there = np.bincount(frame.remedy, marginals(frame, belief.weights), minlength=len(frame.success))
    found: Floats = np.minimum(there, 1.0) * frame.success
    return found


def told_apart(frame: Frame, weights: Floats, test: int) -> tuple[str, str] | None:
    """The two likely faults whose answers to a test differ most."""
    shares = marginals(frame, weights)
    likely = np.argsort(-shares, kind="stable")[:6]
    rows = frame.rows[frame.outcomes(test), 1 : 1 + len(shares)]
    best, found = 0.0, None
    for place, one in enumerate(likely):
        for other in likely[place + 1 :]:
            apart = float(np.abs(rows[:, one] - rows[:, other]).sum()) * min(shares[one], shares[other])
            if apart > best:
                best, found = apart, (frame.model.faults[one].id, frame.model.faults[other].id)
    return found


def watch(model: FaultModel, call: Call, belief: Belief) -> Sentences:
    """What to watch as long as the fault is not found."""
    symptoms = {symptom.id: symptom for symptom in model.symptoms}
    if call.symptom is not None and symptoms[call.symptom].harm:
        yield OUT_OF_SERVICE
    shares = marginals(belief.frame, belief.weights)
    unseen = sum(shares[at] for at, fault in enumerate(model.faults) if fault.unseen)
    if unseen >= UNSEEN:
        yield Sentence(
            N_(
                "In {share} such calls the leaf may close on somebody without the operator knowing. Until it is "
                "repaired and tested, nobody leaves it closing by itself."
            ),
            {"share": share_in_words(min(unseen, 1.0))},
        )
    if danger(belief) >= NO_MOVE:
        said = N_("Something that carries the leaf may be broken in {share} such calls: nobody runs it.")
        yield Sentence(said, {"share": share_in_words(danger(belief))})
    answers = last_answers(call)
    for test in model.tests:
        if test.stage == "harm" and test.id in answers and answers[test.id] is None:
            said = N_(
                "“{question}” – not known. Not known never counts as good: look before anybody runs the leaf."
            )
            yield Sentence(said, {"question": Sentence(test.question)})
    for part in call.booked_in:
        said = N_("The substitute part “{part}” is still in. Nothing closes before it is booked out.")
        yield Sentence(said, {"part": part})
