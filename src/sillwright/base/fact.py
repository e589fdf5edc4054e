"""A fact knows where it comes from, and two readings of it stand side by side until a person settles them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, Literal, TypeVar

T = TypeVar("T")

Origin = Literal["measured", "plate", "instructions", "photo", "support", "told", "assumed"]
ORIGINS: tuple[Origin, ...] = ("measured", "plate", "instructions", "photo", "support", "told", "assumed")
WEIGHT = {
    "measured": 0,
    "plate": 1,
    "instructions": 2,
    "photo": 3,
    None: 4,
    "support": 5,
    "told": 6,
    "assumed": 7,
}

Standing = Literal["not asked", "not known", "none there", "known", "assumed", "two readings"]


@dataclass(frozen=True, kw_only=True)
class Reading(Generic[T]):
    """One value of a fact, as somebody took it down. ``value`` None with an origin: looked, none there."""

    value: T | None
    typed: str = ""
    origin: Origin | None = None
    by: str | None = None
    on: str | None = None
    evidence: str | None = None
    line: int | None = None
    doubtful: bool = False  # typed in a way that can be read two ways


@dataclass(frozen=True, kw_only=True)
class Fact(Generic[T]):
    """All readings of one fact and what they come to.

    ``value`` is what numbers use (None where there is none); ``known`` says whether rules may rest on it.
    """

    path: str
    standing: Standing = "not asked"
    value: T | None = None
    reading: Reading[T] | None = None  # the one that the value is taken from
    readings: tuple[Reading[T], ...] = ()
    rivals: tuple[T | None, ...] = field(default=())  # the values that contradict each other

    @property
    def known(self) -> bool:
        """Whether rules may rest on this fact: it has a value that nobody assumed, or none is there."""
        return self.standing in {"known", "none there"}

    @property
    def origin(self) -> Origin | None:
        """Where the value in use comes from; None where that was not recorded."""
        return self.reading.origin if self.reading else None

    @property
    def doubtful(self) -> bool:
        """Whether the value in use was typed in a way that can be read two ways."""
        return bool(self.reading and self.reading.doubtful)


Same = Callable[[Any, Any], bool]
Repeat = Callable[[Sequence[Any]], Any]
Breadth = Callable[[Any], float]


def settle(
    path: str,
    readings: Sequence[Reading[Any]],
    *,
    same: Same = lambda one, other: one == other,
    repeats: Repeat = lambda values: None,
    breadth: Breadth = lambda value: 0.0,
) -> Fact[Any]:
    """What several readings of one fact come to.

    ``same`` says whether two values agree; ``repeats`` gives the value to use for several measured ones, or
    None where they lie too far apart; of values of equal origin the one with the least ``breadth`` is used. An
    assumption gives way to any other reading; a doubtful text gives way to a measured one. Values that disagree
    make the fact unknown: *two readings*.

    >>> settle("door.kind", [Reading(value="sectional", origin="told"), Reading(value="rolling")]).standing
    'two readings'
    """
    telling = [each for each in readings if each.value is not None or each.origin is not None]
    if not telling:
        return Fact(path=path, standing="not known", readings=tuple(readings))
    real = [each for each in telling if each.origin != "assumed"] or telling
    if any(each.origin == "measured" and not each.doubtful for each in real):
        real = [each for each in real if not each.doubtful]
    best = min(real, key=lambda each: (WEIGHT[each.origin], 0.0 if each.value is None else breadth(each.value)))
    agreed = _agree(real, same)
    if (repeated := _repeated(real, same, repeats)) is not None:
        best, agreed = repeated, True
    if not agreed:
        rivals: list[Any] = []
        for each in real:
            if not any(_alike(each.value, other, same) for other in rivals):
                rivals.append(each.value)
        return Fact(path=path, standing="two readings", readings=tuple(readings), rivals=tuple(rivals))
    standing: Standing = "none there" if best.value is None else "known"
    if best.origin == "assumed":
        standing = "assumed"
    return Fact(path=path, standing=standing, value=best.value, reading=best, readings=tuple(readings))


def _alike(one: Any, other: Any, same: Same) -> bool:
    if one is None or other is None:
        return one is other
    return same(one, other)


def _agree(real: Sequence[Reading[Any]], same: Same) -> bool:
    return all(_alike(one.value, other.value, same) for i, one in enumerate(real) for other in real[i + 1 :])


def _repeated(real: Sequence[Reading[Any]], same: Same, repeats: Repeat) -> Reading[Any] | None:
    measured = [each for each in real if each.origin == "measured" and each.value is not None]
    if len(measured) < 2:
        return None
    value = repeats([each.value for each in measured])
    if value is None:
        return None
    others = [each for each in real if each not in measured]
    if any(not any(_alike(each.value, one.value, same) for one in measured) for each in others):
        return None
    return next(each for each in measured if each.value == value)
