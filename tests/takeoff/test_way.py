"""The way from a leaf to its operator: cord, reel, radio or neither, and what hangs there now."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import CoiledCord, Reel
from sillwright.survey.door import KINDS
from sillwright.takeoff.answer import Way
from sillwright.takeoff.ways.way import way
from sillwright.takeoff.ways.wires import circuit_needed, conductors
from tests.survey.building import survey_of

FOOT = 0.3048
TWO_FEET, THREE_FEET = 0.6096, 0.9144
READER = Reader()
EDGE: dict[str, Any] = {"protection": [{"id": "e1", "kind": "sensing_edge", "circuit": "resistor"}]}
FOUR: dict[str, Any] = {"protection": [{"id": "e1", "kind": "sensing_edge", "circuit": "four_wire"}]}
BOX: dict[str, Any] = {"box__side": "right", "box__height": "7 ft", "box__offset": "1 ft"}


def catalogue(cords: Sequence[CoiledCord] = (), reels: Sequence[Reel] = ()) -> Catalogue:
    return Catalogue(
        format="sillwright-catalogue/1",
        name="Invented for tests",
        currency="USD",
        priced_on="2026-01-05",
        cords=tuple(cords),
        reels=tuple(reels),
    )


def at(lead_end: Any = "right", parts: Catalogue | None = None, **facts: Any) -> Way:
    """The way at a door 14 ft high; facts by path, with two underscores for a dot."""
    told = {"door.clear_height": "14 ft", "site.coldest": "5 degF"}
    told |= {name.replace("__", "."): value for name, value in facts.items()}
    found = survey_of(told)
    return way(found.site, found.openings[0], lead_end, parts)


def levels(found: Way) -> dict[str, str]:
    return {each.id.removeprefix("takeoff."): each.level for each in found.findings}


def said(found: Way, name: str) -> str:
    (finding,) = (each for each in found.findings if each.id == f"takeoff.{name}")
    assert finding.do is not None
    return render(finding.text, READER) + " " + render(finding.do, READER)


def test_a_door_14_ft_high_takes_a_3_ft_cord_from_a_box_at_7_ft() -> None:
    found = at(**EDGE, **BOX)
    assert (found.kind, found.retracted, found.conductors, found.box_side) == ("cord", THREE_FEET, 2, "right")
    assert found.ratio == pytest.approx(2.36, abs=0.005)
    assert found.box_height == pytest.approx(7 * FOOT)
    assert levels(found) == {}


@pytest.mark.parametrize("lift", ["standard", "high", "vertical", "follows_roof"])
def test_under_a_higher_lift_the_cord_stays_and_the_fixed_wire_grows(lift: str) -> None:
    """SIDE-7: the bottom edge travels the height of the opening, whatever the lift."""
    facts: dict[str, Any] = {"operator__kind": "jackshaft", "operator__side": "right"}
    found, plain = at(door__lift=lift, **facts), at(**facts)
    assert (found.retracted, found.longest) == (plain.retracted, plain.longest)
    if lift == "standard":
        assert found.fixed_wire == plain.fixed_wire == pytest.approx(10 * FOOT)  # 14 - 7 + 3 ft
    else:
        assert found.fixed_wire is None
        assert "10 ft of fixed wire and the extra lift" in said(found, "fixed_wire")


def test_on_the_other_side_the_fixed_wire_goes_over_the_opening() -> None:
    """SIDE-1: width + 2 × height above the box + 3 ft = 10 ft 4 in + 14 ft + 3 ft."""
    found = at("left", operator__kind="hoist", operator__side="right")
    assert found.fixed_wire == pytest.approx(27 * FOOT + 4 * 0.0254)


@pytest.mark.parametrize("missing", ["operator__kind", "operator__side"])
def test_without_the_operators_place_no_fixed_wire_is_told(missing: str) -> None:
    facts: dict[str, Any] = {"operator__kind": "hoist", "operator__side": "right"}
    assert at("left", **{**facts, missing: None}).fixed_wire is None
    assert at(None, **facts).fixed_wire is None


def test_a_trolley_in_the_middle_has_no_length_of_wire_by_rule() -> None:
    assert at(operator__kind="trolley", operator__side="right").fixed_wire is None


# What the edge's circuit needs, CORD-6.
@pytest.mark.parametrize(
    ("circuits", "needed"),
    [(["plain"], 2), (["resistor"], 2), (["four_wire"], 4), (["resistor", "plain"], 2),
     (["resistor", "four_wire"], None), (["optical"], None), ([None], None), (["resistor", None], None)],
)  # fmt: skip
def test_the_conductors_follow_the_circuit_of_the_edge(circuits: list[str | None], needed: int | None) -> None:
    edges = [{"id": f"e{at}", "kind": "sensing_edge", "circuit": each} for at, each in enumerate(circuits)]
    assert conductors(survey_of({"protection": edges}).openings[0]) == needed


def test_without_an_edge_the_only_input_says_how_many_conductors() -> None:
    opening = survey_of({"operator.inputs": [{"name": "edge", "circuit": "four_wire"}]}).openings[0]
    assert (conductors(opening), circuit_needed(opening)) == (4, "four_wire")


def test_an_input_for_eyes_is_not_the_edges() -> None:
    inputs = [{"name": "eye", "circuit": "pulse_two_wire"}, {"name": "edge", "circuit": "resistor"}]
    assert circuit_needed(survey_of({"operator.inputs": inputs}).openings[0]) == "resistor"
    both = [{"name": "a", "circuit": "plain"}, {"name": "b", "circuit": "resistor"}]
    assert circuit_needed(survey_of({"operator.inputs": both}).openings[0]) is None


def test_a_four_wire_edge_needs_four_conductors_whatever_hangs_there() -> None:
    assert at(**FOUR, cord__conductors=2).conductors == 4


def test_an_edge_whose_circuit_nobody_knows_leaves_the_cord_open() -> None:
    found = at(protection=[{"id": "e1", "kind": "sensing_edge"}], parts=catalogue([CORD]))
    assert (found.conductors, found.part, levels(found)["cord_circuit"]) == (None, None, "note")


def test_an_air_edge_sends_a_hose() -> None:
    found = at(protection=[{"id": "a1", "kind": "air_edge", "circuit": "air"}])
    assert levels(found) == {"cord_hose": "note"}


# The trade's rule: a cord drawn more than 3.5 times wears out. H 14 ft, box at 7 ft, 1 ft off: 7.07 ft.
@pytest.mark.parametrize(("retracted", "level"), [("2 ft", "act"), ("3 ft", "good")])
def test_the_cord_there_is_judged_where_its_box_is(retracted: str, level: str) -> None:
    found = at(**BOX, cord__retracted=retracted)
    assert levels(found)["cord_ratio"] == level


def test_a_cord_that_is_too_short_only_from_a_far_box_asks_for_a_tape() -> None:
    """10 ft of travel, 1-1/2 ft cord: 3.40 with the box 1 ft off, 3.59 with it 2 ft off."""
    facts: dict[str, Any] = {"door__clear_height": "10 ft", "cord__retracted": "18 in", "box__height": "5 ft"}
    assert levels(at(**facts))["cord_ratio"] == "note"
    assert levels(at(**facts, box__offset="1 ft"))["cord_ratio"] == "good"
    assert levels(at(**facts, box__offset="2 ft"))["cord_ratio"] == "act"


def test_a_cord_whose_box_nobody_looked_at_is_never_called_good() -> None:
    assert "cord_ratio" not in levels(at(cord__retracted="3 ft"))
    assert levels(at(cord__retracted="1 ft"))["cord_ratio"] == "act"


def test_the_offset_that_nobody_measured_can_change_the_cord() -> None:
    """10 ft: the 1-1/2 ft cord at 1 ft off, the 2 ft cord at 2 ft off; the longer is told, and what to measure."""
    found = at(door__clear_height="10 ft")
    assert (found.retracted, levels(found)["cord_measure"]) == (TWO_FEET, "note")
    assert "1 ft 6 in, 2 ft" in said(found, "cord_measure")
    assert at(door__clear_height="14 ft").retracted == THREE_FEET
    assert "cord_measure" not in levels(at(door__clear_height="14 ft"))


def test_of_two_readings_of_the_height_the_greater_counts() -> None:
    twice = [{"value": "8 ft", "from": "told", "by": "owner"}, {"value": "14 ft", "from": "photo", "by": "desk"}]
    found = at(door__clear_height=twice)
    assert (found.retracted, levels(found)["cord_measure"]) == (THREE_FEET, "note")


ACROSS = [
    ("left", "right", "act"),
    ("right", "left", "act"),
    ("right", "right", None),
    ("left", "both", None),
    ("left", None, None),
]


@pytest.mark.parametrize(("box", "lead", "level"), ACROSS)
def test_a_box_across_the_opening_from_the_lead_is_quoted(box: str, lead: Any, level: str | None) -> None:
    assert levels(at(lead, box__side=box)).get("box_side") == level


def test_a_box_above_the_opening_hangs_the_cord_from_the_operator() -> None:
    found = at(box__height="15 ft", box__offset="1 ft")
    assert levels(found)["cord_hung"] == "act"
    assert "reaches 7 ft 11-9/16 in less far" in said(found, "cord_hung")  # √226 - √50 ft
    assert "cord_hung" not in levels(at(box__height="14 ft", box__offset="1 ft"))


@pytest.mark.parametrize(
    ("height", "level"), [("8.4 ft", None), ("8 ft 5 in", "note"), ("5 ft 7 in", "note"), ("5.6 ft", None)]
)
def test_a_box_more_than_a_tenth_off_the_middle_is_said(height: str, level: str | None) -> None:
    """CORD-3: 7 ft ± 1.4 ft."""
    assert (
        levels(at(box__height={"value": height, "from": "measured"}, box__offset="1 ft")).get("box_height") == level
    )


@pytest.mark.parametrize(("travel", "kind"), [("16 ft", "cord"), ("16 ft 1 in", "reel")])
def test_above_16_ft_of_travel_a_reel_is_preferred(travel: str, kind: str) -> None:
    assert at(door__clear_height=travel).kind == kind


def test_a_reel_is_told_with_the_cord_that_would_do() -> None:
    """REEL-1: 18 + 2 + 3 = 23 ft of cable, the 25 ft reel."""
    found = at(door__clear_height="18 ft", parts=catalogue(reels=[SHORT_REEL, REEL]), **EDGE)
    assert (found.kind, found.part, found.retracted, found.ratio) == ("reel", "Reel 25", None, None)
    assert any("3 ft cord" in render(each, READER) for each in found.alternatives)
    assert levels(found) == {"reel_rewind": "note"}


def test_in_the_cold_a_cord_is_preferred_all_the_same() -> None:
    found = at(door__clear_height="18 ft", site__coldest="-10 degF")
    assert (found.kind, levels(found)["cord_cold"]) == ("cord", "note")


@pytest.mark.parametrize(
    ("speed", "kind", "finding"),
    [("12 in/s", "reel", None), ("18 in/s", "reel", None), ("20 in/s", "reel", "note"), ("30 in/s", "cord", None)],
)
def test_a_reel_has_to_wind_up_faster_than_the_leaf_opens(speed: str, kind: str, finding: str | None) -> None:
    found = at(door__clear_height="18 ft", door__opening_speed=speed)
    assert (found.kind, levels(found).get("reel_rewind")) == (kind, finding)


def test_where_no_cord_fits_and_no_reel_is_quick_enough_radio_is_told() -> None:
    parts = catalogue([CoiledCord(name="Short", retracted=FOOT, extended=5 * FOOT, conductors=2)])
    slow, fast = (at(parts=parts, door__opening_speed=speed, **EDGE) for speed in ("12 in/s", "30 in/s"))
    assert (slow.kind, fast.kind) == ("reel", "radio")
    assert "opens faster than a reel winds up" in render(fast.why, READER)


def test_a_catalogue_without_a_long_enough_reel_names_none() -> None:
    parts = catalogue(reels=[Reel(name="Reel two", cable=30 * FOOT, conductors=2)])
    assert at(door__clear_height="18 ft", parts=parts, **FOUR).part is None


def test_a_rolling_leaf_and_two_leaves_in_one_opening_have_a_word_on_radio() -> None:
    told = [
        render(each, READER) for each in at(door__kind="rolling", door__second_leaf__kind="grille").alternatives
    ]
    assert any("with the leaf open" in each for each in told)
    assert any("two leaves in one opening" in each for each in told)


def test_a_cord_of_no_length_is_no_cord() -> None:
    assert "cord_ratio" not in levels(at(cord__retracted="0 in", **BOX))


def test_a_catalogues_cord_that_does_not_stretch_is_left_out() -> None:
    odd = CoiledCord(name="Odd", retracted=3 * FOOT, extended=3 * FOOT, conductors=2)
    assert at(parts=catalogue([odd, COLD_CORD]), **EDGE).part == "Cord 4 cold"


CORD = CoiledCord(name="Cord 3", retracted=3 * FOOT, extended=15 * FOOT, conductors=2)
FOUR_CORD = CoiledCord(name="Cord 3/4", retracted=3 * FOOT, extended=15 * FOOT, conductors=4)
COLD_CORD = CoiledCord(name="Cord 4 cold", retracted=4 * FOOT, extended=20 * FOOT, conductors=4, coldest=233.15)
SHORT_REEL = Reel(name="Reel 20", cable=20 * FOOT, conductors=4)
REEL = Reel(name="Reel 25", cable=25 * FOOT, conductors=4)


def test_the_part_of_the_catalogue_has_the_conductors() -> None:
    parts = catalogue([FOUR_CORD, CORD, COLD_CORD])
    assert at(parts=parts, **EDGE).part == "Cord 3"
    assert at(parts=parts, **FOUR).part == "Cord 3/4"


def test_below_0_degf_only_a_cord_made_for_it_is_named() -> None:
    """CORD-6: 0 degF itself is not below."""
    parts = catalogue([CORD, FOUR_CORD, COLD_CORD])
    assert at(parts=parts, site__coldest="0 degF", **EDGE).part == "Cord 3"
    found = at(parts=parts, site__coldest="-1 degF", **EDGE)
    assert (found.part, levels(found)["cord_cold"]) == ("Cord 4 cold", "note")
    none_made = at(parts=catalogue([CORD]), site__coldest="-1 degF", **EDGE)
    assert (none_made.part, levels(none_made)["cord_cold"]) == (None, "note")


def test_how_cold_it_gets_is_asked_where_nobody_knows() -> None:
    found = at(site__coldest=None)
    assert "How cold it gets is not known; below 0 °F" in said(found, "cord_cold")


def test_the_cold_side_of_a_freezer_counts() -> None:
    assert levels(at(site__coldest="50 degF", surroundings__cold_side="-10 degF"))["cord_cold"] == "note"


@pytest.mark.parametrize("kind", ["slide_gate", "swing_gate"])
def test_a_gate_has_no_coiled_cord(kind: str) -> None:
    """SIDE-8."""
    found = at(door__kind=kind, cord__retracted="3 ft", door__leaf_length="20 ft")
    assert (found.kind, found.retracted, levels(found)) == ("radio", None, {"cord_gate": "act"})
    told = " ".join(render(each, READER) for each in found.alternatives)
    assert "cable carrier" in told
    assert "Fixed wire" in told


def test_a_fabric_leaf_takes_what_its_maker_gives() -> None:
    found = at(door__kind="high_speed")
    assert found.kind == "unknown"
    assert "its maker gives" in render(found.why, READER)


def test_a_leaf_that_swings_out_is_measured_by_hand() -> None:
    assert levels(at(door__kind="one_piece"))["cord_path"] == "act"


@pytest.mark.parametrize("missing", ["door__kind", "door__clear_height"])
def test_without_kind_or_height_the_way_is_not_known(missing: str) -> None:
    found = at(**{missing: None})
    assert (found.kind, found.retracted, found.longest) == ("unknown", None, None)


@pytest.mark.parametrize(("wall", "level"), [("7 in", "act"), ("8 in", "note"), ("11 in", "note"), ("12 in", None)])
def test_a_box_and_its_cord_want_8_to_12_in_of_free_wall(wall: str, level: str | None) -> None:
    """SIDE-1."""
    assert levels(at("left", free_wall__left=wall)).get("wall") == level
    assert "wall" not in levels(at("right", free_wall__left=wall))


def test_with_no_wall_on_either_side_radio_is_told() -> None:
    """REEL-5."""
    assert at(free_wall__left="4 in", free_wall__right="0 in").kind == "radio"
    assert at(free_wall__left="4 in").kind == "cord"


def test_washed_down_the_box_is_rated_for_hosing() -> None:
    assert levels(at(surroundings__wash_down="foam, daily"))["box_wet"] == "note"
    for text in ("no", "None", "unknown", None):
        assert "box_wet" not in levels(at(surroundings__wash_down=text))


def test_a_loop_in_the_beam_of_an_eye_is_quoted() -> None:
    """CORD-5: box at 2 ft, 3 ft cord: limp it hangs √8 / 2 = 1.41 ft lower, to 7 in; an eye at 5 in is clear."""
    facts: dict[str, Any] = {"box__height": "2 ft", "box__offset": "1 ft", "door__clear_height": "10 ft"}
    low: dict[str, Any] = {"protection": [{"id": "y1", "kind": "photo_eye", "height": "5 in"}]}
    high: dict[str, Any] = {"protection": [{"id": "y1", "kind": "photo_eye", "height": "18 in"}]}
    assert "cord_snag" not in levels(at(**facts, **low))
    assert levels(at(**facts, **high))["cord_snag"] == "act"


def test_mirrored_facts_give_the_mirrored_way() -> None:
    facts: dict[str, Any] = {"operator__kind": "hoist", "box__side": "left", "free_wall__left": "9 in"}
    mirrored: dict[str, Any] = {"operator__kind": "hoist", "box__side": "right", "free_wall__right": "9 in"}
    one, other = at("left", operator__side="left", **facts), at("right", operator__side="right", **mirrored)
    assert (one.fixed_wire, one.retracted, levels(one)) == (other.fixed_wire, other.retracted, levels(other))
    assert (one.box_side, other.box_side) == ("left", "right")


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_says_why_and_every_finding_what_to_do(kind: str) -> None:
    facts: dict[str, Any] = {"cord__retracted": "1 ft", "cord__conductors": 2, "box__height": "20 ft"}
    found = at("left", door__kind=kind, box__side="right", surroundings__wash_down="<b>hot</b>", **facts, **FOUR)
    assert render(found.why, READER)
    for each in found.findings:
        assert each.id.startswith("takeoff.")
        assert each.do is not None
        assert "{" not in render(each.text, READER) + render(each.do, READER)
        assert each.place in {"cord", "box"}


@pytest.mark.parametrize("height", ["8 in", "130 ft"])
def test_the_smallest_and_the_tallest_opening_have_a_way(height: str) -> None:
    assert at(door__clear_height=height, box__height="0 in", box__offset="98 ft").kind in {"cord", "reel", "radio"}
