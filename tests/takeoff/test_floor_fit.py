"""The floor of an opening: what its survey says is used, what it leaves open is asked, nothing is guessed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sillwright.base.words import Reader, Sentence, render
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import FloorFit
from sillwright.takeoff.floors.floor_fit import floor_fit

from ..survey.building import survey_of
from .floors import INCH

GAPS = [["0 ft", "0 in"], ["2 ft", "1/8 in"], ["4 ft", "1/4 in"], ["6 ft", "3/8 in"], ["8 ft", "1/2 in"],
        ["10 ft", "5/8 in"], ["12 ft", "1/2 in"]]  # fmt: skip
FLAT = [[f"{at} ft", "0 in"] for at in range(13)]
READ = {"floor.read_as": "gaps_below_level", "floor.points": GAPS}
FINNED = Profile(
    name="finned",
    construction="factory_sealed",
    height=1.75 * INCH,
    actuation_travel=3 / 16 * INCH,
    fin=0.75 * INCH,
    circuits=("resistor",),
)


def at_door(facts: dict[str, Any], **site: Any) -> tuple[Site, Opening]:
    survey = survey_of({"door.clear_width": "12 ft", "door.clear_height": "10 ft", **facts}, **site)
    return survey.site, survey.openings[0]


def fit(facts: dict[str, Any], profiles: tuple[Profile, ...] = (), **site: Any) -> FloorFit:
    return floor_fit(*at_door(facts, **site), profiles)


def ids(found: FloorFit) -> list[str]:
    return [each.id for each in found.findings]


def words(found: FloorFit) -> str:
    parts = [found.why]
    for each in found.findings:
        parts += [sentence for sentence in (each.text, each.why, each.do) if sentence]
    return " ".join(render(each, Reader()) for each in parts if isinstance(each, Sentence))


def test_a_floor_that_was_read_is_judged() -> None:
    found = fit(READ, (FINNED,))
    assert found.unevenness == pytest.approx(5 / 8 * INCH)
    assert found.strip == pytest.approx(5 / 24 * INCH)
    assert found.slope == pytest.approx(-1 / 288)
    assert (found.highest_at, found.cure) == (0.0, "fin")
    assert [(each.name, each.fits) for each in found.verdicts] == [("finned", "fits")]
    assert found.stretches
    assert found.heights[0] == pytest.approx((0.0, 5 / 8 * INCH))
    assert ids(found)[0] == "takeoff.floor"
    assert all(each.place == "floor" and each.sources for each in found.findings)


def test_heights_and_gaps_are_each_others_mirror() -> None:
    high = fit({**READ, "floor.read_as": "heights"})
    assert high.slope == pytest.approx(1 / 288)
    assert high.highest_at == pytest.approx(120 * INCH)


def test_whether_heights_or_gaps_is_asked_and_never_guessed() -> None:
    found = fit({"floor.points": GAPS})
    assert (found.cure, found.slope, found.highest_at) == ("unknown", None, None)
    assert found.unevenness == pytest.approx(5 / 8 * INCH)  # the same either way
    assert found.strip == pytest.approx(5 / 24 * INCH)
    assert ids(found) == ["takeoff.floor_read_as"]
    assert "heights, or gaps below a level?" in words(found)
    assert (found.verdicts, found.stretches, found.heights) == ((), (), ())


def test_two_people_who_say_heights_and_gaps_leave_it_open() -> None:
    both = [
        {"value": "heights", "by": "A", "from": "measured"},
        {"value": "gaps_below_level", "by": "B", "from": "told"},
    ]
    found = fit({"floor.points": GAPS, "floor.read_as": both})
    assert found.cure == "unknown"
    assert "by one" in words(found)


def test_a_flat_floor_is_in_order() -> None:
    found = fit({"floor.points": FLAT, "floor.read_as": "heights"})
    assert found.cure == "none"
    assert [(each.id, each.level) for each in found.findings] == [("takeoff.floor", "good")]


def test_a_floor_that_nobody_read_is_asked_for() -> None:
    found = fit({})
    assert (found.unevenness, found.strip, found.cure) == (None, None, "unknown")
    assert ids(found) == ["takeoff.floor_unread"]
    assert "landing line" in words(found)


def test_an_unevenness_alone_leaves_the_strip_open() -> None:
    found = fit({"floor.unevenness": "5/8 in"})
    assert found.unevenness == pytest.approx(5 / 8 * INCH)
    assert found.strip is None
    assert found.cure == "unknown"
    assert ids(found) == ["takeoff.floor_unread"]


@pytest.mark.parametrize(("told", "cure"), [("3/16 in", "none"), ("1/4 in", "unknown"), ("2 in", "unknown")])
def test_a_small_unevenness_needs_no_points(told: str, cure: str) -> None:
    assert fit({"floor.unevenness": told}).cure == cure


def test_an_unevenness_that_contradicts_its_points_is_told() -> None:
    found = fit({**READ, "floor.unevenness": "1/8 in"})
    assert "takeoff.floor_contradicts" in ids(found)
    assert found.unevenness == pytest.approx(5 / 8 * INCH)
    assert "takeoff.floor_contradicts" not in ids(fit({**READ, "floor.unevenness": "11/16 in"}))


def test_two_readings_of_the_points_are_none() -> None:
    rows = [{"value": GAPS, "from": "measured"}, {"value": FLAT, "from": "told"}]
    found = fit({"floor.read_as": "heights", "floor.points": rows})
    assert (found.unevenness, found.cure) == (None, "unknown")
    assert ids(found) == ["takeoff.floor_two_readings"]


def test_an_assumed_floor_is_computed_and_marked() -> None:
    found = fit({"floor.read_as": "heights", "floor.points": {"value": FLAT, "from": "assumed"}})
    assert found.cure == "none"
    assert "takeoff.floor_assumed" in ids(found)
    told = fit({"floor.unevenness": {"value": "1/8 in", "from": "assumed"}})
    assert "takeoff.floor_assumed" in ids(told)


def test_points_at_one_place_are_refused_in_words() -> None:
    found = fit({"floor.read_as": "heights", "floor.points": [["1 ft", "0 in"], ["1 ft", "1 in"]]})
    assert found.cure == "unknown"
    assert ids(found) == ["takeoff.floor_points"]
    assert "The floor was read at one place only." in words(found)


@pytest.mark.parametrize(
    ("hump", "says"),
    [("7/32 in", "hardly touches"), ("1/4 in", "hardly touches"), ("3/8 in", "the body 1/8 in off")],
)
def test_a_floor_just_too_uneven_for_the_body_alone_is_not_called_nothing_off(hump: str, says: str) -> None:
    points = [*FLAT[:6], ["6 ft", hump], *FLAT[7:]]
    found = fit({"floor.read_as": "heights", "floor.points": points}, (FINNED,))
    assert found.cure == "fin"
    assert says in render(found.why, Reader())


def test_a_poor_reading_says_what_it_lacks() -> None:
    assert "takeoff.floor_reading" in ids(fit(READ))
    assert "2 ft between two places" in words(fit(READ))
    assert "takeoff.floor_reading" not in ids(fit({"floor.points": FLAT, "floor.read_as": "heights"}))


@pytest.mark.parametrize(
    ("facts", "site", "asked"),
    [
        ({}, {"coldest": "-5 degC"}, True),
        ({"surroundings.cold_side": "-20 degC"}, {}, True),
        ({}, {"coldest": "5 degC"}, False),
        ({}, {}, False),
    ],
)
def test_where_it_freezes_the_season_is_asked(facts: dict[str, Any], site: dict[str, Any], asked: bool) -> None:
    found = fit({"floor.points": FLAT, "floor.read_as": "heights", **facts}, **site)
    assert ("takeoff.floor_season" in ids(found)) is asked


@pytest.mark.parametrize("kind", ["slide_gate", "swing_gate"])
def test_a_gate_has_no_floor_to_seal_on(kind: str) -> None:
    found = fit({**READ, "door.kind": kind})
    assert (found.cure, found.findings) == ("unknown", ())


def test_markup_in_a_profile_name_stays_text() -> None:
    hostile = replace(FINNED, name="<b>{x}</b> %s")
    assert fit(READ, (hostile,)).verdicts[0].name == "<b>{x}</b> %s"
    words(fit(READ, (hostile,)))


# FLOOR-8: front-to-back fall of the sill over the body's width: more than 1/8 in over 2 in tilts the touch.
@pytest.mark.parametrize(
    ("fall", "tilted"), [("1/8 in", False), ("9/64 in", True), ("0 in", False), ("3/8 in", True), (None, False)]
)
@pytest.mark.parametrize("read", [READ, {}, {"floor.unevenness": "1/8 in"}, {"floor.points": [["0 ft", "0 in"]]}])
def test_a_sill_that_falls_to_the_front_wants_a_round_nose_however_the_floor_was_read(
    read: dict[str, Any], fall: str | None, tilted: bool
) -> None:
    found = fit({**read, "floor.fall": fall})
    assert ("takeoff.floor_fall" in ids(found)) == tilted
    assert ("Choose a round-nosed profile." in words(found)) == tilted


def test_of_two_readings_of_the_fall_the_greater_counts_and_both_are_asked() -> None:
    told = [
        {"value": "1/16 in", "from": "told", "by": "owner"},
        {"value": "3/8 in", "from": "told", "by": "shift lead"},
    ]
    found = fit({**READ, "floor.fall": told})
    assert {"takeoff.floor_fall", "takeoff.floor_fall_twice"} <= set(ids(found))
    assert "The sill falls by 3/8 in over 2 in" in words(found)


def test_a_gate_does_not_touch_the_sill() -> None:
    assert ids(fit({"door.kind": "slide_gate", "floor.fall": "1 in"})) == []


RAMP = {"floor.read_as": "heights", "floor.points": [["0 ft", "0 in"], ["6 ft", "1/4 in"], ["12 ft", "1/2 in"]]}


@pytest.mark.parametrize(
    ("material", "says", "never"),
    [
        ("wood", "or scribe the bottom section", "are never cut"),
        ("steel", "Sections and bars of metal are never cut", "scribe"),
        ("aluminium", "Sections and bars of metal are never cut", "scribe"),
        ("insulated", "Sections and bars of metal are never cut", "scribe"),
        (None, "a piece tapered", "scribe"),
        ({"value": "wood", "from": "assumed"}, "a piece tapered", "scribe"),
    ],
)
def test_only_wood_that_somebody_saw_is_scribed_and_metal_is_never_cut(
    material: Any, says: str, never: str
) -> None:
    found = fit({**RAMP, "door.bottom.material": material})
    assert found.cure == "taper"
    assert says in words(found)
    assert never not in words(found)


def test_wood_told_by_one_and_steel_by_another_is_not_known() -> None:
    told = [{"value": each, "from": "told", "by": each} for each in ("wood", "steel")]
    found = fit({**RAMP, "door.bottom.material": told})
    assert "scribe" not in words(found)
    assert "never cut" not in words(found)


def test_the_cure_names_the_bottom_among_what_it_rests_on() -> None:
    cure = next(
        each for each in fit({**RAMP, "door.bottom.material": "wood"}).findings if each.id == "takeoff.floor"
    )
    assert "door.bottom.material" in cure.facts
    assert (
        "door.bottom.material" not in next(each for each in fit(RAMP).findings if each.id == "takeoff.floor").facts
    )
