"""What the last answers of a call changed, in words."""

from __future__ import annotations

from collections.abc import Collection, Iterator

import numpy as np

from sillwright.base.words import N_, Sentence
from sillwright.trouble.answer import Call
from sillwright.trouble.compiled import Floats
from sillwright.trouble.model import FaultModel, Test
from sillwright.trouble.posterior import Belief, last_answers, marginals
from sillwright.trouble.saying import share_in_words
from sillwright.trouble.surprising import Without

LAST = 3
"""So many of the last answers are explained."""
WORTH_SAYING = 0.02
"""A fault that is and was less likely than that is not named."""
MOVED = 0.1
"""Least change of log odds that is named."""

Sentences = Iterator[Sentence]


def because(
    model: FaultModel, call: Call, belief: Belief, without: tuple[Without, ...], unsaid: Collection[str] = ()
) -> Sentences:
    """What the last answers changed, the last first; answers that were changed; answers that do not fit.

    Nobody gave the answers to the tests that are ``unsaid``: they are not explained.
    """
    tests = {test.id: test for test in model.tests}
    left_out = {each.test: each for each in without}
    given = [each for each in reversed(last_answers(call).items()) if each[0] not in unsaid]
    for name, outcome in given[:LAST]:
        if outcome is None:
            said = N_("“{question}” – not known; that changes nothing.")
            yield Sentence(said, {"question": Sentence(tests[name].question)})
        else:
            yield from _moved(tests[name], outcome, belief, left_out[name])
    yield from _changed(tests, call)
    for each in without:
        if each.surprises:
            outcome = dict(last_answers(call))[each.test]
            said = N_("“{question}” – “{answer}” does not fit the other answers. Ask it again.")
            yield Sentence(said, _asked(tests[each.test], outcome))


def _asked(test: Test, outcome: str | None) -> dict[str, Sentence]:
    answers = {each.id: Sentence(each.words) for each in test.outcomes}
    unknown = Sentence(N_("not known"))
    return {
        "question": Sentence(test.question),
        "answer": unknown if outcome is None else answers[outcome],
    }


def _moved(test: Test, outcome: str, belief: Belief, without: Without) -> Sentences:
    """What an answer changed: the two faults whose odds moved most, the one up and the other down."""
    frame = belief.frame
    before, now = marginals(frame, without.weights), marginals(frame, belief.weights)
    moved = _log_odds(now) - _log_odds(before)
    moved[np.maximum(before, now) < WORTH_SAYING] = 0.0
    if not moved.size:
        return
    up, down = int(np.argmax(moved)), int(np.argmin(moved))
    words = [Sentence(fault.words) for fault in frame.model.faults]
    told = {**_asked(test, outcome), "more": words[up], "less": words[down]}
    if moved[up] > MOVED and moved[down] < -MOVED:
        if before[up] < before[down] and now[up] > now[down]:
            said = N_("“{question}” – “{answer}”: “{more}” is now more likely than “{less}”; before it was less.")
        else:
            said = N_("“{question}” – “{answer}” speaks for “{more}” and against “{less}”")
        yield Sentence(said, told)
    elif moved[up] > MOVED or moved[down] < -MOVED:
        at = up if moved[up] > MOVED else down
        shares = {"before": share_in_words(before[at]), "now": share_in_words(now[at])}
        said = N_("“{question}” – “{answer}”: “{fault}” is there in {now} such calls; before it was {before}.")
        yield Sentence(said, {**_asked(test, outcome), "fault": words[at], **shares})
    elif test.stage != "harm":  # which is asked in any case, and seldom to tell faults apart
        yield Sentence(N_("“{question}” – “{answer}” changes little."), _asked(test, outcome))


def _log_odds(shares: Floats) -> Floats:
    inside = np.clip(shares, 1e-12, 1 - 1e-12)
    found: Floats = np.log(inside) - np.log1p(-inside)
    return found


def _changed(tests: dict[str, Test], call: Call) -> Sentences:
    first: dict[str, str | None] = {}
    for name, outcome in call.answers:
        first.setdefault(name, outcome)
    for name, now in last_answers(call).items():
        if now != first[name]:
            said = N_("“{question}” – first “{before}”, now “{answer}”. The last answer counts.")
            yield Sentence(said, {**_asked(tests[name], now), "before": _asked(tests[name], first[name])["answer"]})
