"""Answers that do not fit the others: which one, taken back, makes the rest likely."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sillwright.trouble.compiled import IMPOSSIBLE, Floats, log_sum
from sillwright.trouble.posterior import Belief, weighed

UNLIKELY = np.log(0.05)
LESS_LIKELY = np.log(0.2)
"""An answer is a surprise where the others leave it less than 5 %, five times less likely than before."""


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Without:
    """What would be believed without one of the answers, and how likely the others make it."""

    test: str
    weights: Floats
    log_given_others: float
    log_alone: float

    @property
    def surprises(self) -> bool:
        """Whether the answer does not fit the others."""
        if self.log_alone == IMPOSSIBLE:
            return True
        return bool(self.log_given_others <= UNLIKELY and self.log_given_others - self.log_alone <= LESS_LIKELY)


def without_each(belief: Belief) -> tuple[Without, ...]:
    """For each answer what would be believed without it, after the same repairs."""
    joint, told = belief.log_joint, belief.log_told
    nothing = log_sum(joint)
    found = []
    for at, test in enumerate(belief.told):
        weights, likely = weighed(belief, without=at)
        # Where the others do not fit either, taking this one back is no help.
        given = 0.0 if likely == IMPOSSIBLE else belief.log_evidence - likely
        alone = log_sum(joint + told[at]) - nothing
        found.append(Without(test=test, weights=weights, log_given_others=given, log_alone=alone))
    return tuple(found)


def surprises(without: tuple[Without, ...], belief: Belief) -> tuple[str, ...]:
    """Tests whose answers no longer fit the others, the worst first; all where no single one is to blame."""
    found = [each for each in without if each.surprises]
    if not found and not belief.possible:
        found = list(without)
    return tuple(each.test for each in sorted(found, key=lambda each: each.log_given_others))
