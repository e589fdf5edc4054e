"""The fault model as arrays: hypotheses across, outcomes and symptoms down. Made once for a model and its facts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import log
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sillwright.trouble.model import FaultModel, Move
from sillwright.trouble.same import Same

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Facts = tuple[tuple[str, str], ...]

IMPOSSIBLE = -np.inf


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Frame:
    """What does not depend on the facts of a call.

    Hypothesis 0 is "none of these"; then come the faults one by one, then the listed pairs. Of "none of these" a
    test tells nothing: every outcome is equally likely. A pair shows the later of the outcomes that its two faults
    show; where a test has a row for one of them only, that one decides.
    """

    model: FaultModel
    hypotheses: tuple[tuple[str, ...], ...]
    first: Ints  # fault of a hypothesis, by number; -1: none
    second: Ints  # the other fault of a pair; -1: none
    share: Floats  # of a hypothesis, before any fact
    symptoms: dict[str, int]
    log_symptom: Floats  # symptom down, hypothesis across
    tests: dict[str, int]
    start: Ints  # first outcome of a test; one more than there are tests
    rows: Floats  # outcome down, hypothesis across
    log_rows: Floats
    otherwise: Floats  # of an outcome
    touch_start: Ints  # first of the hypotheses that a test tells something of, in `touched`
    touched: Ints
    test_minutes: Floats
    repairs: dict[str, int]
    remedy: Ints  # of a fault, by number of the repair
    repair_minutes: Floats
    success: Floats
    solo: Ints  # the one repair that mends a hypothesis; -1: none, or it takes two
    split: Ints  # hypotheses that take two repairs

    def outcome(self, test: str, outcome: str) -> int:
        """The row of an outcome."""
        at = self.tests[test]
        names = [each.id for each in self.model.tests[at].outcomes]
        return int(self.start[at]) + names.index(outcome)

    def outcomes(self, test: int) -> slice:
        """The rows of a test."""
        return slice(int(self.start[test]), int(self.start[test + 1]))


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Compiled:
    """A model with the facts of a call."""

    frame: Frame
    log_prior: Floats
    log_symptom: Floats  # symptom down, hypothesis across


def compiled(model: FaultModel, facts: Facts) -> Compiled:
    """A model with the facts of a call. A fact that is told in two ways is not known."""
    return _compiled(Same(model), tuple(sorted(known_facts(facts).items())))


def known_facts(facts: Facts) -> dict[str, str]:
    """The facts that are told in one way only."""
    told: dict[str, set[str]] = {}
    for name, value in facts:
        told.setdefault(name, set()).add(value)
    return {name: values.pop() for name, values in told.items() if len(values) == 1}


def told_by_itself(model: FaultModel, symptom: str | None) -> dict[str, str]:
    """The facts that a complaint says already."""
    return next((dict(each.tells) for each in model.symptoms if each.id == symptom), {})


def facts_that_move(model: FaultModel, symptom: str | None, facts: Facts) -> Facts:
    """The facts that move shares: the causes of a complaint are shares where what it says already holds."""
    by_itself = told_by_itself(model, symptom)
    return tuple((name, value) for name, value in facts if by_itself.get(name) != value)


def ruled_out(needs: tuple[Move, ...], facts: Mapping[str, str]) -> bool:
    """Whether what is known makes something impossible."""
    return any(facts.get(move.fact) == move.value and move.factor == 0 for move in needs)


@lru_cache(maxsize=64)
def _compiled(key: Same, facts: Facts) -> Compiled:
    frame = _frame(key)
    log_prior = _logs(frame.share)
    known = dict(facts)
    moved = np.zeros(len(key.model.faults))
    for at, fault in enumerate(key.model.faults):
        for move in fault.moves:
            if known.get(move.fact) == move.value:
                moved[at] += log(move.factor) if move.factor > 0 else IMPOSSIBLE
    for each in (frame.first, frame.second):
        log_prior = log_prior + np.where(each >= 0, moved[each], 0.0)
    total = log_sum(log_prior)
    if total == IMPOSSIBLE:  # facts that leave nothing possible are not believed
        log_prior, total = _logs(frame.share), 0.0
    return Compiled(frame=frame, log_prior=log_prior - total, log_symptom=_log_symptom(frame, known))


def _log_symptom(frame: Frame, known: Mapping[str, str]) -> Floats:
    """How likely each hypothesis makes people complain so, as far as facts move it."""
    model, number = frame.model, {fault.id: at for at, fault in enumerate(frame.model.faults)}
    factors = np.ones((len(model.symptoms), len(number)))
    for at, symptom in enumerate(model.symptoms):
        for fault, move in symptom.where:
            if known.get(move.fact) == move.value:
                factors[at, number[fault]] *= move.factor
    if (factors == 1.0).all():
        return frame.log_symptom
    return _logs(_of_symptoms(model, _causes(model, number), frame.first, frame.second, factors))


@lru_cache(maxsize=8)
def _frame(key: Same) -> Frame:
    model = key.model
    number = {fault.id: at for at, fault in enumerate(model.faults)}
    pairs = [(one, other) for one, other, _ in model.pairs]
    first = np.array([-1, *range(len(number)), *(number[one] for one, _ in pairs)], np.int64)
    second = np.array([-1] * (1 + len(number)) + [number[other] for _, other in pairs], np.int64)
    repairs = {repair.id: at for at, repair in enumerate(model.repairs)}
    causes = _causes(model, number)
    rows = _rows(model, number, first, second)
    touch_start, touched = _touched(model, number, first, second)
    remedy = np.array([repairs[fault.remedy] for fault in model.faults], np.int64)
    one = (first >= 0) & ((second < 0) | (remedy[first] == remedy[second]))
    return Frame(
        model=model,
        hypotheses=((), *((fault.id,) for fault in model.faults), *pairs),
        first=first,
        second=second,
        share=_shares(model, causes),
        symptoms={symptom.id: at for at, symptom in enumerate(model.symptoms)},
        log_symptom=_logs(_of_symptoms(model, causes, first, second)),
        tests={test.id: at for at, test in enumerate(model.tests)},
        start=_starts([len(test.outcomes) for test in model.tests]),
        rows=rows,
        log_rows=_logs(rows),
        otherwise=np.array([value for test in model.tests for value in test.otherwise]),
        touch_start=touch_start,
        touched=touched,
        test_minutes=np.array([test.minutes for test in model.tests]),
        repairs=repairs,
        remedy=remedy,
        repair_minutes=np.array([repair.minutes for repair in model.repairs]),
        success=np.array([repair.success for repair in model.repairs]),
        solo=np.where(one, remedy[first], -1),
        split=np.flatnonzero(~one & (second >= 0)),
    )


def _causes(model: FaultModel, number: Mapping[str, int]) -> Floats:
    """Share of all calls with a symptom and a fault: symptom down, fault across."""
    causes = np.zeros((len(model.symptoms), len(number)))
    for at, symptom in enumerate(model.symptoms):
        for fault, share in symptom.causes:
            causes[at, number[fault]] += symptom.share * share
    return causes


def _shares(model: FaultModel, causes: Floats) -> Floats:
    pairs = np.array([share for _, _, share in model.pairs])
    alone = causes.sum(axis=0)
    left = 1.0 - model.unlisted - pairs.sum()
    return np.concatenate([[model.unlisted], left * alone / alone.sum(), pairs])


def _of_symptoms(
    model: FaultModel, causes: Floats, first: Ints, second: Ints, factors: Floats | float = 1.0
) -> Floats:
    """P(symptom | hypothesis). With two faults the caller tells what the one or the other shows, evenly."""
    alone = causes.sum(axis=0)
    given = causes / np.where(alone > 0, alone, 1.0) * factors
    overall = np.array([symptom.share for symptom in model.symptoms])
    found = np.where(second >= 0, (given[:, first] + given[:, second]) / 2, given[:, first])
    found[:, 0] = overall / overall.sum()
    return cast(Floats, found)


def _rows(model: FaultModel, number: Mapping[str, int], first: Ints, second: Ints) -> Floats:
    blocks = [np.zeros((0, len(first)))]
    for test in model.tests:
        alone = np.tile(np.array(test.otherwise), (len(number), 1)).T
        own = np.zeros(len(number), np.bool_)
        for fault, row in test.likelihood:
            alone[:, number[fault]] = row
            own[number[fault]] = True
        up_to = np.cumsum(alone, axis=0)
        later = np.diff(up_to[:, first] * up_to[:, second], axis=0, prepend=0.0)
        block = np.where(own[second], alone[:, second], alone[:, first])
        block = np.where(own[first] & own[second], later, block)
        block = np.where(second >= 0, block, alone[:, first])
        block[:, 0] = 1.0 / len(test.outcomes)
        blocks.append(block)
    return np.concatenate(blocks)


def _touched(model: FaultModel, number: Mapping[str, int], first: Ints, second: Ints) -> tuple[Ints, Ints]:
    """For each test the hypotheses whose row is not the one for all others."""
    found = []
    for test in model.tests:
        own = np.zeros(len(number) + 1, np.bool_)  # the last one stands for -1, no fault
        own[[number[fault] for fault, _ in test.likelihood]] = True
        told = own[first] | own[second]
        told[0] = True
        found.append(np.flatnonzero(told))
    return _starts([len(each) for each in found]), np.concatenate([np.zeros(0, np.int64), *found])


def _starts(lengths: list[int]) -> Ints:
    return np.concatenate([[0], np.cumsum(lengths)]).astype(np.int64)


def _logs(values: Floats) -> Floats:
    with np.errstate(divide="ignore"):
        return cast(Floats, np.log(values))


def log_sum(logs: Floats) -> float:
    """The logarithm of a sum, of logarithms; -inf where all of them are.

    >>> float(round(log_sum(np.log(np.array([0.25, 0.5]))), 6)) == round(log(0.75), 6)
    True
    """
    most = float(logs.max(initial=IMPOSSIBLE))
    return most + log(float(np.exp(logs - most).sum())) if np.isfinite(most) else IMPOSSIBLE
