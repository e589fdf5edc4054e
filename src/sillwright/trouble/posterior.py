"""What is likely after what was told: every hypothesis is weighed, in logarithms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sillwright.trouble.answer import Call
from sillwright.trouble.compiled import IMPOSSIBLE, Compiled, Floats, Frame, compiled, facts_that_move, log_sum
from sillwright.trouble.model import FaultModel


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Belief:
    """How likely each hypothesis is, and how likely what was told was to be told."""

    frame: Frame
    weights: Floats  # by hypothesis; they add to one
    log_evidence: float  # of symptom, answers and repairs; -inf: nothing explains them together
    log_joint: Floats  # prior and symptom, by hypothesis
    told: tuple[str, ...]  # tests that were answered, in the order of their last answers
    log_told: Floats  # answer down, hypothesis across
    after: tuple[int, ...] = ()  # by answer, how many repairs were made before it
    repairs: tuple[int, ...] = ()  # made in this order, none of which helped

    @property
    def possible(self) -> bool:
        """Whether anything explains all that was told. Where nothing does, `weights` leave the answers out."""
        return self.log_evidence > IMPOSSIBLE


def last_answers(call: Call) -> dict[str, str | None]:
    """The answer to each test that counts: the last one. The order is that of the last answers."""
    found: dict[str, str | None] = {}
    for test, outcome in call.answers:
        found.pop(test, None)
        found[test] = outcome
    return found


def believe(model: FaultModel, call: Call) -> Belief:
    """The posterior of a call. An answer "don't know" changes nothing.

    An answer speaks of the door as it was when it was given: one before a repair of what was there before it, one
    after it of what the repair has left. That matters for a pair of which a repair has mended the one fault.
    """
    given = compiled(model, facts_that_move(model, call.symptom, call.facts))
    frame = given.frame
    known = {test: outcome for test, outcome in last_answers(call).items() if outcome is not None}
    rows = [frame.outcome(test, outcome) for test, outcome in known.items()]
    made = dict(call.after)
    belief = Belief(
        frame=frame,
        weights=np.empty(0),
        log_evidence=IMPOSSIBLE,
        log_joint=_with_symptom(given, call.symptom),
        told=tuple(known),
        log_told=frame.log_rows[rows],
        after=tuple(min(made.get(test, 0), len(call.repaired)) for test in known),
        repairs=tuple(frame.repairs[name] for name in call.repaired),
    )
    weights, total = weighed(belief)
    return replace(belief, weights=weights, log_evidence=total)


def weighed(belief: Belief, without: int | None = None) -> tuple[Floats, float]:
    """The weights after answers and repairs in their order, and how likely all that was told was to be told.

    ``without`` leaves one of the answers out. Where nothing explains them together, the weights are those without
    any answer.
    """
    used = [at for at in range(len(belief.told)) if at != without]
    logs = _in_order(belief, used)
    if logs.max() > IMPOSSIBLE:
        return weigh(logs, logs)
    left = _in_order(belief, [])
    return weigh(left if left.max() > IMPOSSIBLE else belief.log_joint, belief.log_joint)[0], IMPOSSIBLE


def _in_order(belief: Belief, used: Sequence[int]) -> Floats:
    """Logarithms of what is left of each hypothesis after each repair and the answers before and behind it."""
    logs = belief.log_joint
    for made in range(len(belief.repairs) + 1):
        rows = [at for at in used if belief.after[at] == made]
        logs = logs + belief.log_told[rows].sum(axis=0)
        if made < len(belief.repairs) and logs.max() > IMPOSSIBLE:
            most = logs.max()
            left = after_repair(belief.frame, np.exp(logs - most), belief.repairs[made])
            with np.errstate(divide="ignore"):
                logs = np.log(left) + most
    return logs


def _with_symptom(given: Compiled, symptom: str | None) -> Floats:
    """Prior times the likelihood of the symptom; a symptom that nothing can show is left out."""
    if symptom is None:
        return given.log_prior
    joint: Floats = given.log_prior + given.log_symptom[given.frame.symptoms[symptom]]
    return joint if joint.max() > IMPOSSIBLE else given.log_prior


def weigh(logs: Floats, otherwise: Floats) -> tuple[Floats, float]:
    """Weights that add to one, and the logarithm of their sum; of ``otherwise`` where nothing is possible."""
    total = log_sum(logs)
    if total == IMPOSSIBLE:
        return np.exp(otherwise - log_sum(otherwise)), IMPOSSIBLE
    return np.exp(logs - total), total


def after_repair(frame: Frame, weights: Floats, repair: int) -> Floats:
    """What is left of the weights when a repair did not end the trouble.

    Of a pair it may have mended the one fault; the other is then there alone.
    """
    left = weights.copy()
    success = float(frame.success[repair])
    mends_first = (frame.first >= 0) & (frame.remedy[frame.first] == repair)
    mends_second = (frame.second >= 0) & (frame.remedy[frame.second] == repair)
    alone = frame.second < 0
    ends = (mends_first & alone) | (mends_first & mends_second)
    half = ~alone & (mends_first ^ mends_second)
    mended = weights[half] * success
    left[ends] *= 1.0 - success
    left[half] -= mended
    stays = np.where(mends_first[half], frame.second[half], frame.first[half])
    np.add.at(left, 1 + stays, mended)
    return left


def marginals(frame: Frame, weights: Floats) -> Floats:
    """The probability that a fault is there, alone or with another."""
    found = np.zeros(len(frame.remedy))
    for each in (frame.first, frame.second):
        np.add.at(found, each[each >= 0], weights[each >= 0])
    return found
