"""What is wrong with a door, by what was told, and what to ask or do next."""

from __future__ import annotations

from dataclasses import replace

from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.words import N_, Phrase, Sentence, say
from sillwright.trouble.amounts import share_in_words
from sillwright.trouble.answer import Advice, Call, Step
from sillwright.trouble.book import fault_book, standing
from sillwright.trouble.diagnose_model import DiagnoseCase, DiagnoseResult, FaultShare, LikelyFaults, NextStep
from sillwright.trouble.electrical import circuit_of, for_circuit
from sillwright.trouble.model import FaultModel

MOST_SUSPECTS = 12
LEAST_SHARE = 1e-3
"""A fault that is less likely than that is not listed."""
SOURCES = (
    Source(
        document=N_("Bayes over faults and pairs of faults, enumerated"), sure="computed", id="diagnose-posterior"
    ),
    Source(
        document="Kadane and Simon 1977; Heckerman, Breese and Rommelse 1995, CACM 38(3)",
        clause=N_("repairs in falling chance over cost"),
        sure="second-hand",
        id="diagnose-order",
    ),
    Source(
        document="Heckerman 1989, Quickscore",
        clause=N_("any number of faults"),
        sure="memory",
        id="diagnose-any-number",
    ),
)


def diagnose(case: DiagnoseCase) -> DiagnoseResult:
    r"""What is likely wrong with a door by what was told, and which step comes next.

    .. math:: P(f \mid e) \propto P(f) \prod_i P(e_i \mid f), \qquad
        E = \sum_i c_i \Bigl(1 - \sum_{j<i} p_j\Bigr), \quad p_i / c_i \text{ falling}

    Parameters: who is at the door, the complaint, answers to tests by their ids, facts of the opening, repairs that
    did not help, and how many answers are looked ahead. Returns probabilities (1) of faults and of pairs that go
    together, the next step with the minutes that it takes and the minutes to the right repair on average, and what
    to bring, do, prove and watch.

    Model: the fault model that ships; one fault or one of its pairs, or none of these. A pair shows the later
    outcome of the two. An answer speaks of the door as it was then: before a repair, or as the repair left it.
    Steps that keep people from harm come first; then the test or repair with the fewest expected minutes, one or
    two answers ahead. Valid for the doors, gates and faults of the model, and as far as its shares are: they are
    invented but plausible, so that the numbers order steps and are no statistics.
    The questions that keep people from harm on the telephone come before all of this and are not part of it.

    Raises :class:`UnknownName` for a complaint, test, outcome, fact or repair that is not in the model, with its
    place and the nearest name; :class:`OutOfRange` for an answer after more repairs than were made.

    Source: Bayes' rule; Kadane and Simon 1977 and Heckerman, Breese and Rommelse 1995 for the order of repairs.

    >>> found = diagnose(DiagnoseCase(symptom="CALL-01", look_ahead=1))
    >>> found.next.id, round(found.rest + sum(each.probability for each in found.suspects), 6)
    ('cable_slack', 1.0)
    """
    from sillwright.trouble.advising import advise

    call = Call(
        who=case.who,
        symptom=case.symptom,
        answers=tuple((each.test, each.outcome) for each in case.answers),
        facts=tuple((each.fact, each.value) for each in case.facts),
        repaired=case.repaired,
        after=tuple((each.test, each.after_repairs) for each in case.answers if each.after_repairs),
    )
    book = fault_book()
    model = for_circuit(book, circuit_of(book, call))
    advice = advise(model, call, ahead=case.look_ahead)
    suspects = tuple(_suspect(model, each.faults, each.probability) for each in advice.suspects[:MOST_SUSPECTS])
    return DiagnoseResult(
        in_short=_in_short(model, suspects[0], advice),
        suspects=suspects,
        rest=sum(each.probability for each in advice.suspects[MOST_SUSPECTS:]),
        shares=_shares(model, call, advice),
        next=_step(model, advice.next) if advice.next else None,
        others=tuple(_step(model, each) for each in advice.others),
        stop=_said(advice.stop) if advice.stop else None,
        because=tuple(map(_said, advice.because)),
        surprises=advice.surprises,
        bring=tuple(map(_text, advice.bring)),
        do=tuple(map(_text, advice.do)),
        prove=tuple(map(_text, advice.prove)),
        cautions=tuple(map(_said, advice.cautions)),
        case=case,
        assumptions=_assumptions(case),
        sources=SOURCES,
    )


def _in_short(model: FaultModel, first: LikelyFaults, advice: Advice) -> Phrase:
    likely = {"share": share_in_words(first.probability), "words": first.words}
    if advice.stop is not None:
        return say(N_("{stop} Most likely, in {share} such calls: {words}"), stop=advice.stop, **likely)
    step = _step(model, advice.next).words if advice.next else ""
    return say(N_("Most likely, in {share} such calls: {words} Next: {step}"), step=step, **likely)


def _said(sentence: Sentence) -> Phrase:
    return Phrase(sentence.template, sentence.values)


def _text(words: str) -> Phrase:
    """A text of the model, which the catalogue of translations knows."""
    return Phrase(words, {})


def _suspect(model: FaultModel, faults: tuple[str, ...], probability: float) -> LikelyFaults:
    words = {fault.id: Sentence(fault.words) for fault in model.faults}
    named = tuple(words[fault] for fault in faults)
    if not named:
        said = say(N_("None of the faults that are known here."))
    elif len(named) == 1:
        said = _said(named[0])
    else:
        said = say(N_("{one} And: {other}"), one=named[0], other=named[1])
    return LikelyFaults(faults=faults, words=said, probability=probability)


def _shares(model: FaultModel, call: Call, advice: Advice) -> tuple[FaultShare, ...]:
    from sillwright.trouble.many import any_number, links_of

    names = [fault.id for fault in model.faults]
    try:
        found = any_number(links_of(model, replace(call, repaired=()))) if not call.repaired else None
    except OutOfRange:  # too many answers show something
        found = None
    many = dict(zip(names, found.shares.tolist(), strict=True)) if found is not None else {}
    return tuple(
        FaultShare(fault=fault, probability=share, any_number=many.get(fault))
        for fault, share in advice.shares
        if share >= LEAST_SHARE
    )


def _step(model: FaultModel, step: Step) -> NextStep:
    words = {test.id: test.question for test in model.tests} if step.kind == "test" else {}
    if step.kind == "repair":
        words = {repair.id: repair.words for repair in model.repairs}
    further = N_("Somebody else has to look.")
    return NextStep(
        kind=step.kind,
        id=step.id,
        words=_text(words.get(step.id, further)),
        minutes=step.minutes,
        expected_minutes=step.expected_minutes,
        why=tuple(map(_said, step.why)),
    )


def _assumptions(case: DiagnoseCase) -> tuple[str, ...]:
    said = [say(N_("Shares, likelihoods and minutes: {standing}."), standing=standing())]
    if case.who is None:
        said.append(say(N_("Whoever calls is taken for an owner: looks and tells, opens no cover, runs no leaf.")))
    said.append(say(N_("The questions that keep people from harm on the telephone come before all of this.")))
    return tuple(said)
