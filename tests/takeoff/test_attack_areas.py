"""Words on a classified area: only a plain no is a no, and until it is settled no electric part is named.

By PRO-9 of the trade, from memory: the owner's document classifies; unknown = no electric part is proposed.
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import render
from sillwright.catalogue import demo
from sillwright.duty import assess
from sillwright.survey.classified import area_in_words, area_of
from sillwright.takeoff import take_off

from .openings import SECTIONAL, US, assumed, at, blocks_at, told

ORDINARY = [
    "none", "No", "No.", "not classified", "unclassified", "Nonclassified", "non-hazardous",
    "not a classified area", "ordinary location", "general purpose", "no hazard",
    "no explosion risk", "none here", "no zone",
    "none (owner's document 7)", "unclassified, owner", "none - owner's plan E-4",
]  # fmt: skip
OPEN = [
    "?", "unknown", "not known", "n/a", "no idea", "no document", "no one knows", "none?", "not sure", "maybe",
    "none that I know of", "none known", "none as far as we know", "not yet classified", "no answer", "not checked",
    "no sign", "TBD", "no longer", "ordinary?", "none, solvents are used", "-", "",
]  # fmt: skip
CLASSIFIED = [
    "Zone 2", "zone?", "Class I Division 2", "Class I?", "ATEX", "no, but the paint store next door is Zone 2",
    "No Zone 1, Zone 2", "none; zone 2 inside", "grain dust", "paint is mixed here", "Keine",
]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "area"),
    [
        *((each, "ordinary") for each in ORDINARY),
        *((each, "open") for each in OPEN),
        *((each, "classified") for each in CLASSIFIED),
    ],
)
def test_what_words_on_an_area_come_to(words: str, area: str) -> None:
    assert area_in_words(words) == area
    assert area_in_words(f"  {words.upper()} ") == area


def area(value: Any) -> dict[str, Any]:
    return {**SECTIONAL, "surroundings.classified_area": value}


@pytest.mark.parametrize("words", [each for each in OPEN if each])
def test_an_order_waits_while_the_area_is_open(words: str) -> None:
    blocks = blocks_at(area(words))
    assert set(blocks) == {"classified_area"}
    assert "not settled" in render(blocks["classified_area"].reason, US)


def test_of_two_readings_the_worse_counts():
    fact = at(area([told("none"), told("Zone 2", by="owner")]))[1].surroundings.classified_area
    assert area_of(fact) == "classified"


def test_an_area_that_nobody_was_asked_about_says_nothing():
    opening = at(SECTIONAL)[1]
    assert area_of(opening.surroundings.classified_area) is None
    looked = at(area({"value": None, "from": "instructions"}))[1]
    assert area_of(looked.surroundings.classified_area) == "ordinary"


@pytest.mark.parametrize("words", ["n/a", "unclassified", "none", "not classified", "Zone 2", "?"])
def test_duty_and_take_off_judge_an_area_alike(words: str) -> None:
    site, opening = at(area(words))
    stops = [each.id for each in assess(site, opening).findings if each.id == "duty.classified_area"]
    assert bool(stops) is bool(blocks_at(area(words)))


@pytest.mark.parametrize(("words", "named"), [("none", True), ("Zone 2", False), ("no idea", False), ("?", False)])
def test_no_electric_part_is_named_while_the_area_is_open(words: str, named: bool) -> None:
    box = {"box.side": "right", "box.height": "5 ft", "box.offset": "1 ft", "site.coldest": "40 degF"}
    found = take_off(*at({**area(words), **box}), demo())
    assert bool(found.way.part) is named
    said = [render(each, US) for each in found.way.alternatives]
    assert any("No electric part is proposed" in each for each in said) is not named
    assert named or all(each.fits != "fits" for each in found.profiles)


def test_an_assumed_no_is_not_called_a_contradiction_but_fits_no_profile():
    found = take_off(*at(area(assumed("none"))), demo())
    assert all(each.fits != "fits" for each in found.profiles)
