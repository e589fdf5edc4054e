"""Repeated measurements of a length: the smallest within 1/2 in, two readings beyond, however long the length is.

The survey takes readings within 0.5 % of each other for the same. On a wide leaf that is more than an inch, too
much for a body that runs between fixed parts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from sillwright.base.fact import Fact, Reading
from sillwright.base.scale import INCH
from sillwright.survey.spec import Spec
from sillwright.takeoff.lengths.measures import above

REPEATS = float(INCH / 2)


def narrowed(fact: Fact[float]) -> Fact[float]:
    """A length by its measured readings: the smallest of them, or *two readings* where they lie too far apart."""
    if not isinstance(fact.value, float):  # a word, or nothing
        return fact
    measured = _measured(fact)
    if fact.standing != "known" or len(measured) < 2:
        return fact
    least, most = measured[0], measured[-1]
    if above((most.value or 0.0) - (least.value or 0.0), REPEATS):
        return replace(fact, standing="two readings", value=None, reading=None, rivals=(least.value, most.value))
    return replace(fact, value=least.value, reading=least)


def _measured(fact: Fact[float]) -> list[Reading[float]]:
    """The measured readings, the smallest first; feet with a decimal point do not count."""
    found = [each for each in fact.readings if each.origin == "measured" and not each.doubtful]
    return sorted((each for each in found if each.value is not None), key=lambda each: each.value or 0.0)


def too_far_apart(facts: Iterable[tuple[Spec, Fact[Any]]]) -> Iterator[tuple[Spec, Fact[float]]]:
    """Lengths that the survey takes for known, though they were measured more than 1/2 in apart."""
    for spec, fact in facts:
        if spec.unit == "m" and spec.kind == "quantity" and fact.standing == "known":
            found = narrowed(fact)
            if found.standing == "two readings":
                yield spec, found
