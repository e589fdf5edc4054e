"""Histories of phones that write about one door without hearing of each other, and what they come to, slowly.

A history is told by steps; each phone sees what it wrote itself and what the server told it when it last asked. Its
clock may be hours wrong. What a history comes to is worked out here by sets alone, without any code of ours.
"""

from __future__ import annotations

import random
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

FACTS = ("door.clear_width", "door.headroom", "protection.e1.kind", "protection.e1.state")
MEMBER = "protection.e1"
TYPED = {
    "door.clear_width": ("10 ft", "12 ft", "wide"),
    "door.headroom": ("1 ft 6 in", "450 mm"),
    "protection.e1.kind": ("sensing_edge", "photo_eye"),
    "protection.e1.state": ("works", "dead"),
}
PHONES = 10
DEEDS = ("write", "write", "write", "deny", "remove", "meet", "lose", "learn")
NOON = datetime(2026, 3, 4, 12, tzinfo=UTC)
Step = tuple[int, str, int]  # which phone does what, and a number that chooses the fact and the value
Entry = dict[str, Any]


def some_steps(seed: int, most: int = 60) -> list[Step]:
    """Steps by chance, the same for the same seed."""
    chance = random.Random(seed)  # noqa: S311
    steps = range(chance.randrange(4, most))
    return [(chance.randrange(PHONES), chance.choice(DEEDS), chance.randrange(1000)) for _ in steps]


@dataclass
class History:
    """What came of steps."""

    log: list[Entry] = field(default_factory=list)  # as written
    arrivals: list[Entry] = field(default_factory=list)  # at the server, with repeats
    known: list[dict[str, Entry]] = field(default_factory=lambda: [{} for _ in range(PHONES)])
    waiting: list[list[Entry]] = field(default_factory=lambda: [[] for _ in range(PHONES)])
    told: list[list[Entry]] = field(default_factory=lambda: [[] for _ in range(PHONES)])  # at the last asking


def history(steps: Iterable[Step], hours: Sequence[int] = (0, 5, -7, 30, -30, 0, 1, -1, 12, 0)) -> History:
    """The history that these steps tell; ``hours`` are how wrong the clocks are."""
    found = History()
    for minute, (phone, deed, number) in enumerate(steps):
        if deed in {"write", "deny", "remove"}:
            at = NOON + timedelta(minutes=minute, hours=hours[phone])
            _write(found, phone, deed, number, at)
        if deed in {"meet", "lose"}:
            found.arrivals += found.waiting[phone]
        if deed == "meet":
            found.waiting[phone] = []
        if deed in {"meet", "learn"}:
            found.told[phone] = list(found.arrivals)
            found.known[phone] |= {each["id"]: each for each in found.arrivals}
    return found


def _write(found: History, phone: int, deed: str, number: int, at: datetime) -> None:
    seen = comes_to(found.known[phone].values())
    fact, says, typed = FACTS[number % len(FACTS)], "value", ""
    replaces = seen.get(fact, [])
    if deed == "write":
        typed = TYPED[fact][number // 7 % len(TYPED[fact])]
    elif deed == "deny":
        says = "unknown"
    else:
        fact, says = MEMBER, "removed"
        replaces = [each for path, ids in seen.items() if path.startswith(MEMBER) for each in ids]
    if number % 11 == 0:
        replaces = replaces[:1]  # a page that is older than what the phone knows
    entry = {
        "id": str(uuid.uuid5(uuid.NAMESPACE_OID, f"{len(found.log)} {number}")),
        "fact": fact,
        "says": says,
        "typed": typed,
        "at": at.isoformat(timespec="milliseconds").replace("+00:00", "Z"),
        "replaces": replaces,
    }
    found.log.append(entry)
    found.known[phone][entry["id"]] = entry
    found.waiting[phone].append(entry)


def comes_to(entries: Iterable[Entry]) -> dict[str, list[str]]:
    """Which entries stand, by fact, oldest first: those that no other one names as replaced."""
    told = {each["id"]: each for each in entries}
    gone = {name for each in told.values() for name in each["replaces"] if name != each["id"]}
    standing: dict[str, list[str]] = {}
    for _at, key, fact in sorted((each["at"], each["id"], each["fact"]) for each in told.values()):
        if key not in gone:
            standing.setdefault(fact, []).append(key)
    return standing
