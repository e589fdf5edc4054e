"""Openings as people might have said them, right and wrong, full and empty: what phone and server are asked.

Every case begins with something that means something (an example beside a rule, an opening of an example site) and
is then changed a little or a lot. The same seed makes the same case.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cache
from random import Random
from typing import Any

from sillwright.base import data
from sillwright.base.fact import ORIGINS
from sillwright.duty import rulebook
from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Opening, Survey
from sillwright.survey.questions import spec_at
from sillwright.survey.reading import read_survey
from sillwright.survey.spec import GroupSpec, Spec, join

from ..duty.test_answers import COMMERCIAL, EUROPE, GATE, HOUSE, OLD
from ..survey.entries_at_random import FILES
from .offline_phone import Case

Entries = list[Entry]

DAYS = (
    "2004", "2010", "2010-08", "2010-08-28", "2010-08-29", "2014", "2016-01", "2016-01-11", "2016-01-12", "2018",
    "2018-07", "2018-08-01", "2018-09-10", "2018-09-11", "2019-03", "2024-02-29", "2025", "2025-03-03",
    "2025-03-04", "2026-02-01", "2026-03-04", "2100", "1900",
)  # fmt: skip
WRONG = (
    "",
    "?",
    "soon",
    "10",
    "1,5 m",
    "2010-13",
    "2011-02-29",
    "x" * 61,
    "12 ft 14 in",
    "a\u0007b",
    "none",
    "unknown",
)
RARE = ("3 furlong", "2 league", "4 xyzzy", "1 parsec", "7 decifoot", "12 kiloinch/day", "5 statohm")
"""Units that only the server can tell from words that are none."""
SIZES = {
    "m": (
        "5 in", "6 in", "6-1/16 in", "6-1/8 in", "0.1524 m", "15.24 cm", "0.15241 m", "½ ft", "0.5 ft", "10.6 ft",
        "35.4 in", "0.9 m", "8 ft", "7' 11-15/16\"", "2.4384 m", "2.5 m", "2499 mm", "4 in", "4-1/16 in", "16 in",
        "57 mm", "2-1/4 in", "57.15 mm", "12 ft", "3.71 m",
    ),
    "m/s": (
        "6 in/s", "24 in/s", "5 in/s", "0.1524 m/s", "0.5 ft/s", "30 in/s", "12 in/s", "0.2 m/s", "0.6096 m/s",
        "1 mph",
    ),
    "ohm": (
        "10 kohm", "8.2 kΩ", "10.1 kohm", "3.4 kohm", "3399 ohm", "30 kohm", "30.1 kohm", "500 ohm", "501 ohm",
        "2 ohm", "5 Mohm", "100 ohm", "40 kohm", "11 kohm", "11.1 kohm",
    ),
    "K": ("-31 degC", "5 degF"), "kg": ("310 kg",), "s": ("80 ms",), "m/s^2": ("2 m/s^2",), "N": ("700 N",),
}  # fmt: skip
WORDS = {
    "model": ("edge-m", "eye-t", "edge-z", "unknown"),
    "through": ("none", "converter-k", "transmitter-a; receiver-a", "transmitter-a", ""),
    "lists_devices": (
        "edge-m", "eye-t; edge-m", "edge-m; converter-k; transmitter-a; receiver-a", "none", "edge-z",
    ),
    "listed_to": ("UL 325", "none", "another", "UL 325; EN 12453"),
    "means": ("i1; e1", "e1; y1", "inherent; sensing_edge", "y1", "none", "e1; e2; c1", "photo_eye; zz"),
    "name": ("edge", "aux", "converter-k"),
    "input": ("edge", "aux", "no such"),
    "of": ("e1", "y1", "E1", "e2"),
    "at": ("operator", "box"),
    "what": (
        "TEST-4", "TEST-6", "test-9 edge moving", "TEST-10", "TEST-11", "TEST-24", "force", "Force record",
        "TEST-12", "jumper", "TEST-٤", "ＴＥＳＴ-6", "test 10", "Test_06", "TEST–9 hand", "test 2x4 flat",
        "TEST-99", "pushed the edge", "TEST11",
    ),
    "id": ("e1", "e9", "a b"),
}  # fmt: skip
LISTS = {
    "protection": ("e1", "y1", "i1", "c1", "e2", "é2"), "stations": ("m1", "m2"), "controls": ("m1",),
    "operator.controls": ("m1", "k7"), "converters": ("m1",), "operator.inputs": ("m1", "m2"),
    "zones": ("m1", "m2"),
    "tests": ("m1", "m2", "m3"), "readings": ("m1", "m2", "m3"), "temporary_parts": ("m1",), "defeats": ("m1",),
}  # fmt: skip
ODD_PATHS = (
    "door", "door.kind.more", "protection.", "protection..kind", "protection.e1.e2.kind", "protection.a b.kind", "",
    ".", "colour", "tag", "site.country", "door.kind.", "constructor", "__proto__", "protection.__proto__.kind",
    "operator.inputs", "zones.7.means",
)  # fmt: skip


@cache
def bases() -> tuple[Case, ...]:
    """Where the cases begin: examples beside rules, openings of example sites, what tests of duty begin with."""
    given = [
        {**data.table("sillwright.duty", "rules")["base"][rule.of], **example.given}
        for rule in rulebook.rules()
        for example in rule.examples
    ]
    facts = [*given, *[COMMERCIAL, OLD, HOUSE, GATE, EUROPE] * 15]
    surveys = [survey_from_facts(each) for each in facts] + [read_survey(path, draft=True) for path in FILES]
    return tuple(case for survey in surveys for case in cases_of(survey))


def cases_of(survey: Survey) -> Iterator[Case]:
    """Every opening of a survey as what people said."""
    site = tuple(entries_of(survey.site, "site"))
    for opening in survey.openings:
        yield Case(str(survey.site.country.value or "US"), site, tuple(entries_of(opening)))


def case_at_random(seed: int) -> Case:
    """The case of a seed."""
    random = Random(seed)  # noqa: S311 - chosen for variety, nothing is kept secret by it
    base = random.choice(bases())
    site, opening = list(base.site), list(base.opening)
    for _ in range(random.choice((0, 1, 1, 2, 3, 5, 8, 14))):
        random.choice(CHANGES)(opening, random)
        if random.random() < 0.15:
            _change_site(site, random)
    if random.random() < 0.3:
        random.shuffle(opening)
    country = random.choice((base.country, base.country, base.country, "US", "DE", "JP", "GB", "XX"))
    return Case(country, tuple(site), tuple(opening))


def told_rarely(case: Case) -> bool:
    """Whether something was typed in a unit that only the server can tell of."""
    return any(each.typed in RARE for each in (*case.site, *case.opening))


# what changes


def _change_site(site: Entries, random: Random) -> None:
    path = random.choice(("site.country", "site.country", "site.surveyed_on", "site.units", "site.subdivision"))
    if random.random() < 0.3:
        site[:] = [each for each in site if each.path != path]
    site.append(_said(path, random, {"site.country": ("US", "DE", "GB", "JP", "FR", "us", "ZZ")}.get(path, DAYS)))


def _drop(told: Entries, random: Random) -> None:
    if told:
        del told[random.randrange(len(told))]


def _drop_below(told: Entries, random: Random) -> None:
    """Nobody has spoken of a whole group, list or member."""
    if told:
        path = random.choice(told).path.split(".")
        start = ".".join(path[: random.randint(1, len(path))])
        told[:] = [each for each in told if each.path != start and not each.path.startswith(f"{start}.")]


def _change(told: Entries, random: Random) -> None:
    if told:
        at = random.randrange(len(told))
        told[at] = _said(told[at].path, random)


def _second_reading(told: Entries, random: Random) -> None:
    if told:
        told.append(_said(random.choice(told).path, random))


def _repeat(told: Entries, random: Random) -> None:
    """The same once more, measured: perhaps a sixteenth of an inch off."""
    lengths = [each for each in told if each.says == "value" and _spec(each.path) and _spec(each.path).unit == "m"]
    if lengths:
        one = random.choice(lengths)
        told.append(replace(one, origin="measured"))
        near = random.choice(("6 in", "6-1/16 in", "6-1/8 in", "6-3/8 in", "6-1/2 in", "6-9/16 in", one.typed))
        told.append(replace(one, origin="measured", typed=near))


def _other_origin(told: Entries, random: Random) -> None:
    if told:
        at = random.randrange(len(told))
        told[at] = replace(told[at], origin=random.choice((None, *ORIGINS)))


def _only_assumed(told: Entries, random: Random) -> None:
    """A list that somebody only assumed."""
    listed = random.choice(list(LISTS))
    told[:] = [replace(each, origin="assumed") if each.path.startswith(f"{listed}.") else each for each in told]


def _add(told: Entries, random: Random) -> None:
    """Something more is said, of a fact that rules look at."""
    told.append(_said(random.choice(facts_looked_at()), random))


def _add_member(told: Entries, random: Random) -> None:
    listed = random.choice(list(LISTS))
    member = random.choice(LISTS[listed])
    for path in facts_looked_at():
        if path.startswith(f"{listed}.{member}.") and random.random() < 0.7:
            told.append(_said(path, random))


def _of_the_list(told: Entries, random: Random) -> None:
    listed = random.choice(list(LISTS))
    told.append(Entry(path=listed, says=random.choice(("unknown", "none"))))
    if random.random() < 0.4:
        told[:] = [each for each in told if not each.path.startswith(f"{listed}.")]


def _taken_away(told: Entries, random: Random) -> None:
    members = [each.path for each in told if any(each.path.startswith(f"{listed}.") for listed in LISTS)]
    if members:
        path = random.choice(members).rpartition(".")[0]
        told.append(Entry(path=path, says="removed"))


def _odd(told: Entries, random: Random) -> None:
    if random.random() < 0.4:
        told.append(Entry(path=random.choice(ODD_PATHS), typed=random.choice(("x", "edge-m", "DE"))))
    elif told:
        at = random.randrange(len(told))
        told[at] = replace(told[at], says="value", typed=random.choice((*WRONG, random.choice(RARE))))


def _other_id(told: Entries, random: Random) -> None:
    """A device that is said to have another id than the one it is called by."""
    if random.random() < 0.15:
        told.append(_said(f"protection.{random.choice(LISTS['protection'])}.id", random))


Change = Callable[[Entries, Random], None]
CHANGES: tuple[Change, ...] = (
    _drop, _drop, _drop_below, _change, _change, _change, _second_reading, _second_reading, _repeat, _other_origin,
    _only_assumed, _add, _add, _add, _add_member, _add_member, _of_the_list, _taken_away, _odd, _other_id,
)  # fmt: skip


# what is said


def _spec(path: str) -> Any:
    try:
        return spec_at(path)
    except Exception:  # noqa: BLE001 - a path that names nothing
        return None


def _said(path: str, random: Random, words: tuple[str, ...] = ()) -> Entry:
    says = random.choice(("value",) * 12 + ("unknown", "none", "removed"))
    spec = _spec(path)
    typed = random.choice(words or _texts(spec)) if spec else "x"
    return Entry(
        path=path,
        says=says,  # type: ignore[arg-type]
        typed=typed if says == "value" else "",
        origin=random.choice((None, None, None, "measured", "measured", *ORIGINS)),
    )


def _texts(spec: Spec) -> tuple[str, ...]:
    """What people type at a fact."""
    if spec.kind == "choice":
        return (*spec.choices, *dict(spec.synonyms), f"{spec.choices[0]} (rain)")
    if spec.kind == "count":
        return ("4", "5", "6", "5.0", "4.999999999999", "1e1", "1_0", "٥", "nan")
    known: dict[str, tuple[str, ...]] = {
        "flag": ("yes", "no", "TRUE", "n", "perhaps"),
        "date": DAYS,
        "money": ("400 USD/h",),
    }
    if spec.kind == "points":
        return ("0 in, 0 in; 48 in, 1/4 in", "1 m")
    return known.get(spec.kind) or (
        SIZES[spec.unit] if spec.kind == "quantity" else WORDS.get(spec.name, ("A 7", "12"))
    )


@cache
def facts_looked_at() -> tuple[str, ...]:
    """Every fact of an opening that a rule or a record may look at, members of lists by a few names."""
    return tuple(path for path in _below(Opening, "") if path.split(".")[0] not in {"tag", "photos", "statements"})


def _below(group: Any, path: str) -> Iterator[str]:
    for name, spec in group.specs.items():
        here = join(path, name)
        if not isinstance(spec, GroupSpec):
            if name != "id":
                yield here
        elif not spec.many:
            yield from _below(spec.group, here)
        else:
            for member in LISTS.get(here, ()):
                yield from _below(spec.group, f"{here}.{member}")
