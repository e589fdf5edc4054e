"""Which profile fits a leaf, and why the others do not. The profiles here are invented."""

from __future__ import annotations

from math import inf, nan, radians
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.catalogue.parts import ConverterKind
from sillwright.catalogue.profile import Price
from sillwright.survey.door import KINDS
from sillwright.takeoff.choosing.profiles import profiles
from tests.survey.building import survey_of

from .held_against import INCH, KNOWN, besides, catalogue, judged, made, verdict, why


def test_a_profile_of_which_all_is_known_and_nothing_speaks_against_fits() -> None:
    found = verdict()
    assert (found.fits, found.reasons) == ("fits", ())
    assert found.price == pytest.approx(40 + 90 * 3.2004)


def test_those_that_fit_stand_first_and_by_price_for_this_length() -> None:
    """Dear to start with and cheap by the metre wins on a long body, not on a short one."""
    steep, flat = (
        made("steep", price=Price(each=0, per_metre=100)),
        made("flat", price=Price(each=150, per_metre=50)),
    )
    unpriced = made("unpriced", price=None)
    low = made("a, too low", height=INCH)
    no_seat = made("b, seat not told", seat=None)
    long = judged(low, unpriced, no_seat, flat, steep, length=6.0, use__children=True)
    assert [each.name for each in long] == ["flat", "steep", "unpriced", "b, seat not told", "a, too low"]
    short = judged(low, unpriced, no_seat, flat, steep, length=2.0, use__children=True)
    assert [each.name for each in short][:2] == ["steep", "flat"]


# Every fact that can speak against a profile, left out: then nobody knows.
OPEN = [
    ("site.coldest", {}, "How cold it gets"),
    ("site.hottest", {}, "How hot it gets"),
    ("door.bottom.seat_width", {}, "It needs a seat"),
    ("operator.inputs", {}, "Which circuit"),
    ("surroundings.wash_down", {"environments": ("dry", "wet")}, "Whether it is washed down"),
    ("surroundings.wash_down", {"construction": "cut_on_site"}, "Cut on site"),
    ("floor.wet", {"environments": ("dry",)}, "Whether the floor gets wet"),
    ("door.mounted", {"environments": ("dry", "wet", "wash_down")}, "On which face"),
    ("use.children", {"height": 1.75 * INCH}, "Whether children or the public"),
    ("use.public", {"height": 1.75 * INCH}, "Whether children or the public"),
]


@pytest.mark.parametrize(("missing", "changed", "said"), OPEN)
def test_what_nobody_took_down_never_counts_as_fitting(missing: str, changed: dict[str, Any], said: str) -> None:
    profile = made("P", **changed)
    found = verdict(profile, without=missing)
    assert found.fits == "not known"
    assert said in why(found)
    assert verdict(profile).fits == "fits"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"coldest": None}, "How cold it may get is not on its sheet"),
        ({"hottest": None}, "How hot it may get"),
        ({"seat": None}, "How wide a seat"),
        ({"greatest": None}, "How long it can be made"),
        ({"weight_per_metre": None}, "What it weighs"),
        ({"end_elements": ()}, "Which end elements"),
    ],
)
def test_what_its_sheet_does_not_say_never_counts_as_fitting(changed: dict[str, Any], said: str) -> None:
    found = verdict(made("P", **changed))
    assert (found.fits, said in why(found)) == ("not known", True)


def test_without_floor_or_length_nothing_fits() -> None:
    assert verdict(uneven=None).fits == verdict(length=None).fits == "not known"
    assert verdict(length=None).price is None


@pytest.mark.parametrize("length", [nan, inf, -1.0, 0.0])
def test_what_is_no_length_is_as_if_nobody_had_told_it(length: float) -> None:
    assert verdict(length=length) == verdict(length=None)
    if length:
        assert verdict(uneven=length) == verdict(uneven=None)


@pytest.mark.parametrize("path", ["site.coldest", "door.bottom.seat_width", "floor.wet", "use.public"])
def test_what_was_only_assumed_never_counts_as_fitting(path: str) -> None:
    told: dict[str, Any] = {path.replace(".", "__"): {"value": KNOWN[path], "from": "assumed"}}
    found = verdict(**told)
    assert found.fits == "not known"
    assert "Only assumed" in why(found)


def test_two_readings_leave_open_what_they_disagree_on() -> None:
    twice = [{"value": "1 in", "from": "told", "by": "owner"}, {"value": "2 in", "from": "plate"}]
    wide = [{"value": "1-3/4 in", "from": "told", "by": "owner"}, {"value": "2 in", "from": "plate"}]
    assert verdict(door__bottom__seat_width=twice).fits == "not known"
    assert verdict(door__bottom__seat_width=wide).fits == "fits"


# PRO-1: unevenness in inches against 3/16 in that a body seals, and its fin.
@pytest.mark.parametrize(
    ("uneven", "fin", "fits"),
    [(3 / 16, 0.0, "fits"), (0.19, 0.0, "does not fit"), (1 + 3 / 16, 1.0, "fits"), (1.19, 1.0, "does not fit")],
)
def test_body_and_fin_take_up_the_floor_or_it_does_not_fit(uneven: float, fin: float, fits: str) -> None:
    found = verdict(made("P", fin=fin * INCH), uneven=uneven * INCH)
    assert found.fits == fits
    assert ("A lower limit is no cure" in why(found)) is (fits != "fits")


def test_a_fin_that_is_needed_is_tested_at_its_ends() -> None:
    assert "test there" in besides(verdict(uneven=0.5 * INCH))
    assert "test there" not in besides(verdict(uneven=0.1 * INCH))


def test_a_gate_has_no_floor_under_its_edge() -> None:
    found = verdict(uneven=None, door__kind="slide_gate", door__leaf_length="20 ft", door__mounted=None)
    assert "floor" not in why(found)
    assert found.fits == "fits"


def test_the_cold_of_either_side_counts() -> None:
    """Made down to 240 K, -27.7 degF."""
    assert verdict(site__coldest="-27 degF").fits == "fits"
    assert verdict(site__coldest="-28 degF").fits == "does not fit"
    assert "It gets as cold as -40 °F" in why(verdict(surroundings__cold_side="-40 degF"))
    assert verdict(surroundings__warm_side="200 degF").fits == "does not fit"


def test_a_dark_body_in_the_sun_is_said_where_it_is_not_made_for_it() -> None:
    hot = made("P", hottest=340.0)
    assert "In the sun" in besides(verdict(hot, door__mounted="outside"))
    assert "In the sun" not in besides(verdict(hot))
    assert "keeps its set: press it no more than 1/8 in" in besides(verdict(site__hottest="150 degF"))


@pytest.mark.parametrize(
    ("facts", "changed", "said"),
    [
        ({"surroundings__wash_down": "hot foam"}, {"environments": ("dry", "wet")}, "It is washed down here"),
        ({"surroundings__wash_down": "hot foam"}, {"construction": "cut_on_site"}, "sealed by its maker"),
        ({"floor__wet": True}, {"environments": ("dry",)}, "The floor is wet"),
        ({"door__mounted": "outside"}, {"environments": ("dry", "wet")}, "in the weather"),
        ({"surroundings__cold_side": "10 degF"}, {"environments": ("dry", "wet")}, "freezer"),
    ],
)
def test_water_weather_and_frost_speak_against_what_is_not_made_for_them(
    facts: dict[str, Any], changed: dict[str, Any], said: str
) -> None:
    found = verdict(made("P", **changed), **facts)
    assert (found.fits, said in why(found)) == ("does not fit", True)
    assert verdict(**facts).fits == "fits"


def test_washed_down_the_lead_gets_a_drip_loop_and_near_vehicles_oil_is_said() -> None:
    assert "drip loop" in besides(verdict(surroundings__wash_down="yes"))
    assert "Oil and fuel" in besides(verdict(use__traffic=[{"who": "forklift"}]))
    assert "Oil and fuel" not in besides(
        verdict(made("P", material="nitrile", curves=()), use__traffic=[{"who": "car"}])
    )


# PRO-9: what the survey says of the area; an electric profile, an air profile.
@pytest.mark.parametrize(
    ("area", "electric", "air"),
    [
        ("none", "fits", "fits"),
        ({"value": None, "from": "instructions"}, "fits", "fits"),
        ("Class I Division 2", "does not fit", "fits"),
        ("paint is mixed here", "does not fit", "fits"),
        ("unknown", "not known", "fits"),
        (None, "not known", "fits"),
    ],
)
def test_where_vapour_may_ignite_no_electric_part_is_proposed(area: Any, electric: str, air: str) -> None:
    hose = made("air", circuits=("air",))
    assert verdict(surroundings__classified_area=area).fits == electric
    facts = {**KNOWN, "surroundings.classified_area": area}
    survey = survey_of(facts)
    (found,) = profiles(
        survey.site, survey.openings[0], catalogue(hose), floor_unevenness=0.0, circuit="air", body_length=3.2
    )
    assert found.fits == air


def test_an_area_that_nobody_asked_about_is_a_remark() -> None:
    found = verdict(without="surroundings.classified_area")
    assert (found.fits, "Nobody has asked whether vapours" in besides(found)) == ("fits", True)


def test_an_air_edge_is_never_the_only_device() -> None:
    (found,) = judged(made("air", circuits=("air", "resistor")), without="operator.inputs")
    assert "Never the only device" in besides(found)
    assert "Never the only device" not in besides(verdict())


def test_the_circuit_has_to_be_the_inputs() -> None:
    found = verdict(made("P", circuits=("four_wire",)))
    assert (found.fits, "The input takes resistor" in why(found)) == ("does not fit", True)


def test_a_converter_of_the_catalogue_turns_one_circuit_into_another() -> None:
    turner = ConverterKind(name="4W to R, invented", takes=("four_wire",), gives="resistor")
    found = verdict(made("P", circuits=("four_wire",)), converters=(turner,))
    assert (found.fits, "through 4W to R, invented" in besides(found)) == ("fits", True)
    assert verdict(made("P", circuits=("plain",)), converters=(turner,)).fits == "does not fit"


@pytest.mark.parametrize(
    ("value", "fits"), [("10 kohm", "fits"), ("8.2 kohm", "fits"), ("15 kohm", "does not fit"), (None, "not known")]
)
def test_the_end_element_has_to_be_the_inputs(value: str | None, fits: str) -> None:
    inputs = [{"name": "edge", "circuit": "resistor", "resistance": value}]
    assert verdict(operator__inputs=inputs).fits == fits


# PRO-10: gates and one-piece leaves touch from the side; 45 degrees is enough.
@pytest.mark.parametrize(("angle", "fits"), [(45, "fits"), (44, "does not fit"), (90, "fits"), (None, "not known")])
@pytest.mark.parametrize("kind", ["one_piece", "swing_gate"])
def test_a_leaf_that_touches_from_the_side_wants_a_profile_that_answers_there(
    angle: float | None, fits: str, kind: str
) -> None:
    profile = made("P", answers_sideways=None if angle is None else radians(angle))
    assert verdict(profile, door__kind=kind).fits == fits
    assert verdict(profile).fits == "fits"


@pytest.mark.parametrize(("height", "fits"), [(2.75, "fits"), (2.7, "does not fit")])
@pytest.mark.parametrize("fact", ["use__children", "use__public"])
def test_where_children_or_the_public_touch_it_it_is_tall(height: float, fits: str, fact: str) -> None:
    """PRO-11."""
    found = verdict(made("P", height=height * INCH), **{fact: True})
    assert found.fits == fits
    assert "a device that sees them" in besides(found)


def test_trained_users_alone_are_not_the_public() -> None:
    facts: dict[str, Any] = {"use__children": None, "use__public": None, "use__users": "trained"}
    low = made("P", height=INCH * 1.75)
    assert verdict(low, **facts).fits == "fits"
    assert verdict(low, **{**facts, "use__users": "public"}).fits == "does not fit"


@pytest.mark.parametrize(("there", "fits"), [("1-1/2 in", "fits"), ("1-7/16 in", "does not fit")])
def test_body_and_channel_sit_on_the_seat(there: str, fits: str) -> None:
    assert verdict(door__bottom__seat_width=there).fits == fits


# Lengths it can be made in: from 0.1 m to 7.3 m in one piece.
@pytest.mark.parametrize(
    ("length", "fits", "said"),
    [
        (0.1, "fits", ""),
        (0.09, "does not fit", ""),
        (7.3, "fits", ""),
        (7.4, "fits", "2 pieces"),
        (15.0, "fits", "3 pieces"),
    ],
)
def test_a_body_longer_than_it_is_made_comes_in_pieces(length: float, fits: str, said: str) -> None:
    found = verdict(length=length)
    assert found.fits == fits
    assert ("pieces" in besides(found)) is bool(said)
    assert said in besides(found)


def test_fabric_and_labelled_leaves_take_what_their_makers_list() -> None:
    for kind in ("high_speed", "rolling_fire"):
        assert "maker" in why(verdict(door__kind=kind))
        assert verdict(door__kind=kind).fits == "not known"


def test_the_weight_is_said_with_what_it_asks_of_the_springs() -> None:
    """1.2 kg/m over 3.2 m is 8.5 lb."""
    assert "adds 8.47 lb to the leaf: have the balance checked" in besides(verdict())
    assert "spring change" in besides(verdict(made("P", weight_per_metre=4.0)))


def test_a_new_one_is_planned_by_where_it_works() -> None:
    """PRO-13."""
    assert "after 7 to 10 years" in besides(verdict())
    assert "after 5 to 7 years" in besides(verdict(door__mounted="outside"))
    assert "after 2 to 4 years" in besides(verdict(use__closings_per_day=101))
    assert "after 7 to 10 years" in besides(verdict(use__closings_per_day=100))


@given(
    st.sampled_from(sorted(KNOWN)),
    st.sampled_from(KINDS),
    st.sampled_from(["US", "DE", "CA"]),
    st.none() | st.floats(0, 0.1),
    st.none() | st.floats(0.05, 60),
)
def test_to_know_less_never_makes_a_profile_fit(
    missing: str, kind: str, country: str, uneven: float | None, length: float | None
) -> None:
    """Leaving a fact out can open a verdict, or close nothing: it never turns one into *fits*."""
    if missing == "surroundings.classified_area":
        return  # not asked at all is a remark by rule
    all_made = (made("P"), made("low", height=INCH, fin=0.0, environments=("dry",)), made("air", circuits=("air",)))
    facts: dict[str, Any] = {"door__kind": kind, "site__country": country}
    full = {each.name: each.fits for each in judged(*all_made, uneven=uneven, length=length, **facts)}
    less = {
        each.name: each.fits for each in judged(*all_made, uneven=uneven, length=length, without=missing, **facts)
    }
    gained = {name for name, fits in less.items() if fits == "fits" and full[name] != "fits"}
    assert not gained


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("without", [None, *sorted(KNOWN)])
def test_every_sentence_is_whole_at_every_kind_of_leaf(kind: str, without: str | None) -> None:
    found = judged(
        made("<i>P</i>"), made("low", height=INCH, environments=("dry",)), door__kind=kind, without=without
    )
    for each in found:
        said = why(each) + besides(each)
        assert "{" not in said
        assert (each.fits == "fits") is (not each.reasons)


def test_an_empty_catalogue_has_no_verdicts() -> None:
    assert judged() == ()


# FLOOR-8: more than 1/8 in over 2 in, front to back, tilts the touch: choose a round-nosed profile.
@pytest.mark.parametrize(
    ("fall", "nose", "fits"),
    [
        ("9/64 in", "round", "fits"),
        ("9/64 in", "flat", "does not fit"),
        ("9/64 in", None, "not known"),
        ("1/8 in", "flat", "fits"),
        ("1/8 in", None, "fits"),
        (None, None, "fits"),
        ({"value": "1/16 in", "from": "assumed"}, "round", "not known"),
    ],
)
def test_on_a_sill_that_falls_to_the_front_a_profile_is_round_nosed(fall: Any, nose: Any, fits: str) -> None:
    assert verdict(made("P", nose=nose), floor__fall=fall).fits == fits


def test_no_gate_asks_for_the_nose() -> None:
    assert "front to back" not in why(verdict(made("P", nose="flat"), door__kind="slide_gate", floor__fall="1 in"))
