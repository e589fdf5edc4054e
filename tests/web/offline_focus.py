"""Openings of which nearly everything is known, with one thing told closely around what decides it.

A length read three times a sixteenth of an inch apart, an ohm reading at the edge of its band, two dates of which
one may be the later: what openings at random hardly ever meet.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from random import Random
from typing import Any

from sillwright.survey.entries import Entry
from sillwright.survey.from_facts import survey_from_facts

from ..duty.test_answers import COMMERCIAL, CURTAIN, EUROPE, GATE, HOUSE, OLD
from .offline_cases import cases_of
from .offline_phone import Case

NEAR_SIX = (
    "6 in", "6-1/16 in", "6-1/8 in", "6-7/16 in", "6-1/2 in", "6-17/32 in", "0.5 ft", "0.6 ft", "5-15/16 in",
    "0.1524 m", "0.1541 m", "0.15399 m", "15.3 cm", "0 ft 6 in",
)  # fmt: skip
NEAR_TALL = (
    "2.5 m", "2.51 m", "2.5125 m", "2.513 m", "2.49 m", "2.4875 m", "2.52 m", "2.4999999 m", "8.2 ft", "2.506 m",
)  # fmt: skip
NEAR_SPEED = ("6 in/s", "6.03 in/s", "6.031 in/s", "6.05 in/s", "0.1524 m/s", "0.1532 m/s", "5.97 in/s", "24 in/s")
OHMS = (
    "2 ohm", "500 ohm", "501 ohm", "3.4 kohm", "3399 ohm", "3401 ohm", "30 kohm", "30001 ohm", "10 kohm",
    "340 ohm", "3 kohm", "3001 ohm", "8 kohm", "2788 ohm", "24.6 kohm", "24601 ohm",
)  # fmt: skip
ELEMENTS = ("10 kohm", "1 kohm", "8.2 kohm", "11 kohm", "11.05 kohm", "9 kohm", "8.95 kohm", "9.049 kohm")
LATELY = ("2026-01-10", "2026-02-10", "2026-02", "2026-02-11", "2026", "2026-01")
AGO = (
    "2025-03-04", "2025-03-03", "2025-03", "2025", "2023-02-28", "2023-02-27", "2023-03-01", "2026-03-05",
    "2024-02-29",
)  # fmt: skip
VISITS = ("2026-03-04", "2024-02-29", "2026-03", "2026")
MADE = (
    "2010-08-28", "2010-08-29", "2010-08", "2010", "2009", "2004", "2016-01-11", "2016-01-12", "2018-08-01",
    "2018-09-11", "2018-09-10", "2018", "2019", "2010-08-27",
)  # fmt: skip


def several(path: str, texts: Sequence[str], random: Random, most: int = 3) -> list[Entry]:
    """One to three readings of a fact."""
    origins = ("measured", "measured", "measured", None, "told", "plate", "assumed", "photo")
    return [
        Entry(path=path, typed=random.choice(texts), origin=random.choice(origins))  # type: ignore[arg-type]
        for _ in range(random.randint(1, most))
    ]


def maybe(path: str, texts: Sequence[str], random: Random, chance: float = 0.7) -> list[Entry]:
    """A reading of a fact, or none; now and then one that is assumed, or two."""
    if random.random() > chance:
        return []
    more = random.random()
    if more < 0.1:
        return several(path, texts, random, 2)
    return [Entry(path=path, typed=random.choice(texts), origin="assumed" if more < 0.15 else None)]


# what is told closely


def _eye_height(random: Random) -> list[Entry]:
    return several("protection.y1.height", NEAR_SIX, random)


def _curtain_height(random: Random) -> list[Entry]:
    clear = maybe("door.clear_height", (*NEAR_TALL, "12 ft"), random)
    return [*several("protection.c1.height", NEAR_TALL, random), *clear]


def _speed(random: Random) -> list[Entry]:
    kind = Entry(path="door.kind", typed=random.choice(("rolling_fire", "one_piece")))
    speeds = [f"door.{way}_speed" for way in ("closing", "opening")]
    return [kind, *(each for path in speeds for each in several(path, NEAR_SPEED, random))]


def _ohms(random: Random) -> list[Entry]:
    told = maybe("protection.e1.resistance", ELEMENTS, random, 0.4)
    told += maybe(
        "protection.e1.circuit", ("resistor", "plain", "four_wire", "diode_capacitor", "air"), random, 0.6
    )
    for key in ("m1", "m2", "m3")[: random.randint(1, 3)]:
        told += maybe(f"readings.{key}.of", ("e1", "e1", "e1", "i1", "zz"), random, 0.9)
        told += maybe(f"readings.{key}.at", ("operator", "box"), random, 0.3)
        told += maybe(f"readings.{key}.ohms", OHMS, random, 0.95)
        told += maybe(f"readings.{key}.pressed", ("yes", "no"), random, 0.8)
        told += maybe(f"readings.{key}.on", LATELY, random, 0.6)
    return told


def _tests(random: Random) -> list[Entry]:
    told = []
    codes = random.choice((("TEST-9",), ("force",), ("TEST-12", "Force record"), ("TEST-6", "test-6 monitoring")))
    days = random.sample(random.choice((LATELY, AGO)), 2)
    for key in ("m1", "m2", "m3")[: random.randint(1, 3)]:
        told += maybe(f"tests.{key}.what", codes, random, 0.95)
        told += maybe(f"tests.{key}.result", ("met", "not met", "not met", "not tested (rain)"), random, 0.95)
        told += maybe(f"tests.{key}.on", days, random, 0.8)
    return told


def _inputs(random: Random) -> list[Entry]:
    told = maybe("protection.e1.input", ("edge", "aux"), random, 0.5)
    told += maybe("protection.e1.resistance", ELEMENTS, random, 0.6)
    told += maybe("protection.e1.circuit", ("resistor", "plain", "four_wire"), random, 0.4)
    for key in ("m1", "m2")[: random.randint(1, 2)]:
        told += maybe(f"operator.inputs.{key}.name", ("edge", "aux"), random, 0.8)
        told += maybe(f"operator.inputs.{key}.circuit", ("resistor", "resistor", "plain", "four_wire"), random, 0.9)
        told += maybe(f"operator.inputs.{key}.resistance", ELEMENTS, random, 0.6)
    return told


def _shared(random: Random) -> list[Entry]:
    """Two or three edges on one input, with or without elements of their own, joined in some way."""
    circuit = random.choice(("resistor", "four_wire", "resistor", "plain"))
    told = [
        Entry(path="operator.inputs.m1.name", typed="edge"),
        Entry(path="operator.inputs.m1.circuit", typed=circuit),
    ]
    ways = ("end_to_end", "side_by_side", "own_wires", "in_series", "in_parallel")
    for key in ("e1", "e2", "e3")[: random.choice((2, 2, 3))]:
        here = f"protection.{key}"
        told += [Entry(path=f"{here}.kind", typed="sensing_edge"), Entry(path=f"{here}.model", typed="edge-m")]
        told += maybe(f"{here}.circuit", (circuit,), random, 0.95)
        told += maybe(f"{here}.input", ("edge",), random, 0.95)
        told += maybe(f"{here}.joined", ways, random, 0.6)
        none = Entry(path=f"{here}.resistance", says="none")
        told += [none] if random.random() < 0.5 else maybe(f"{here}.resistance", ("10 kohm",), random, 0.6)
        told += maybe(f"{here}.through", ("none", "converter-k"), random, 0.3)
        if random.random() < 0.1:
            told.append(Entry(path=f"{here}.joined", says=random.choice(("unknown", "none"))))
    return told


def _links(random: Random) -> list[Entry]:
    listed = "edge-m; eye-t; converter-k; transmitter-a; receiver-a; repeater-b"
    told = [
        Entry(path="operator.lists_devices", typed=listed, origin=random.choice((None, "plate", "told", "support")))
    ]
    told += maybe("protection.e1.circuit", ("radio", "resistor"), random, 0.8)
    links = ("none", "transmitter-a", "transmitter-a; receiver-a", "transmitter-a; repeater-b; receiver-a", "x; y")
    told += maybe("protection.e1.through", links, random, 0.6)
    told += random.choice((
        [], [Entry(path="converters", says="unknown")], [Entry(path="converters", says="none")],
        [Entry(path="converters.m1.name", typed="converter-k")],
        [Entry(path="converters.m1.name", typed="converter-k"), Entry(path="converters.m1", says="removed")],
    ))  # fmt: skip
    return told + maybe("operator.instructions.page", ("12",), random, 0.5)


def _dates(random: Random) -> list[Entry]:
    told = several("operator.made", MADE, random)
    return told + (several("operator.board_made", MADE, random) if random.random() < 0.6 else [])


def _a_year(random: Random) -> list[Entry]:
    told = [
        Entry(path="tests.m1.what", typed="force"),
        Entry(path="tests.m1.result", typed="met"),
        *maybe("tests.m1.on", AGO, random, 1.0),
        *maybe("door.last_drop_test", AGO, random, 0.9),
    ]
    return told + ([Entry(path="door.kind", typed="rolling_fire")] if random.random() < 0.4 else [])


def _states(random: Random) -> list[Entry]:
    words = ("works", "unknown", "dead", "torn_off", "missing", "defeated")
    return [each for key in ("e1", "y1") for each in several(f"protection.{key}.state", words, random, 2)]


def _harm(random: Random) -> list[Entry]:
    told = several("as_found", ("closes_on_objects", "closes_by_tap"), random, 2) if random.random() < 0.5 else []
    for listed in ("temporary_parts", "defeats", "stations", "controls", "operator.controls"):
        if random.random() < 0.4:
            first = {"stations": "in_view", "temporary_parts": "what", "defeats": "what"}.get(listed, "closes")
            said = ("jumper",) if first == "what" else ("yes", "no")
            told += several(f"{listed}.m1.{first}", said, random, 1)
            told += random.choice(
                ([], [], [Entry(path=f"{listed}.m1", says="removed")], [Entry(path=listed, says="none")])
            )
    return told


EDGES = ("door", "door", "old", "gate")  # openings with a sensing edge called e1
TOLD: tuple[tuple[Callable[[Random], list[Entry]], tuple[str, ...]], ...] = (
    (_eye_height, ("house",)), (_curtain_height, ("curtain",)), (_speed, ("door", "house")),
    (_ohms, EDGES), (_ohms, EDGES), (_ohms, EDGES), (_tests, EDGES), (_tests, ("europe",)), (_inputs, EDGES),
    (_inputs, ("door",)), (_shared, ("door",)), (_shared, ("door",)),
    (_links, ("door", "gate")), (_dates, ("old", "old", "gate", "house")),
    (_a_year, ("europe", "door")), (_states, ("door", "house", "old")), (_harm, ("door", "europe", "old")),
)  # fmt: skip


@cache
def complete() -> dict[str, Case]:
    """Openings of which nearly everything is known."""
    curtain: dict[str, Any] = {**EUROPE, "tests": None, "protection": [CURTAIN]}
    given = {"door": COMMERCIAL, "old": OLD, "house": HOUSE, "gate": GATE, "europe": EUROPE, "curtain": curtain}
    return {name: next(cases_of(survey_from_facts(facts))) for name, facts in given.items()}


def focused_case(seed: int) -> Case:
    """The case of a seed: what is told closely takes the place of what was known of the same facts."""
    random = Random(seed)  # noqa: S311 - chosen for variety, nothing is kept secret by it
    tell, names = random.choice(TOLD)
    base = complete()[random.choice(names)]
    told = tell(random) + (random.choice(TOLD)[0](random) if random.random() < 0.2 else [])
    facts = {each.path for each in told}
    kept = [each for each in base.opening if each.path not in facts]
    visit = Entry(path="site.surveyed_on", typed=random.choice(VISITS))
    site = [each for each in base.site if each.path != visit.path]
    return Case(base.country, (*site, visit), (*kept, *told))
