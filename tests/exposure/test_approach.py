"""Approach distances: branches and their boundaries, the inverse, what is refused and what is said.

Expected numbers follow from the formulas named in ``data/approach.toml`` (computed by hand, millimetres in
the comment beside them); the published values stand in ``tests/reference/test_approach.py``.
"""

from __future__ import annotations

from math import inf, nextafter

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.exposure import ApproachCase, approach
from sillwright.exposure._approach import METHODS, WHY

NEEDED = {"resolution": 0.030, "field_height": 0.3}


def case(method: str = "iso13855-normal", **given: object) -> ApproachCase:
    needs = {name: NEEDED[name] for name in METHODS[method].needs}
    return ApproachCase(**{"method": method, "response_time": 0.2, **needs, **given})  # type: ignore[arg-type]


# ISO 13855:2010, normal approach (second-hand formula): time s, resolution m, distance m, branch.
BOUNDARIES = [
    pytest.param(0.250, 0.014, 0.500, "k2000", id="exactly 500 mm keeps the speed of an arm"),
    pytest.param(0.186, 0.030, 0.500, "k2000", id="372 + 128 = 500 mm, with round-off in binary"),
    pytest.param(0.260, 0.014, 0.500, "least_500", id="520 mm, again 416 mm: 500 mm is the least"),
    pytest.param(0.3125, 0.014, 0.500, "k1600", id="625 mm, again exactly 500 mm"),
    pytest.param(0.320, 0.014, 0.512, "k1600", id="640 mm, again 512 mm"),
    pytest.param(0.050, 0.014, 0.100, "k2000", id="exactly 100 mm"),
    pytest.param(0.049, 0.014, 0.100, "least_100", id="98 mm: 100 mm is the least"),
    pytest.param(0.001, 0.0265, 0.102, "k2000", id="2 + 100 mm"),
    pytest.param(0.150, 0.013, 0.300, "k2000", id="d below 14 mm adds nothing"),
    pytest.param(0.150, 0.015, 0.308, "k2000", id="d of 15 mm adds 8 mm"),
    pytest.param(0.100, 0.040, 0.408, "k2000", id="d of exactly 40 mm is covered: 200 + 208 mm"),
]


@pytest.mark.parametrize(("time", "resolution", "expected", "branch"), BOUNDARIES)
def test_normal_approach_at_its_boundaries(time, resolution, expected, branch):
    found = approach(case(response_time=time, resolution=resolution))
    assert found.distance == pytest.approx(expected, abs=1e-12)
    assert found.branch == branch
    assert found.why == WHY[branch]


def test_normal_approach_above_40_mm_is_refused_with_the_remedy():
    with pytest.raises(OutOfRange, match=r"resolution: 40\.1 mm is out of range.*use iso13855-beams"):
        approach(case(resolution=0.0401))


# ISO 13855:2010, parallel: second term 1200 - 0.4 H, at least 850 mm, so from H = 875 mm on.
@pytest.mark.parametrize(
    ("height", "expected", "branch"),
    [(0.0, 1.520, "k1600"), (0.875, 1.170, "k1600"), (0.880, 1.170, "high_field"), (1.0, 1.170, "high_field")],
)
def test_parallel_approach_in_the_2010_edition(height, expected, branch):
    found = approach(case("iso13855-parallel", field_height=height, edition="2010"))
    assert found.distance == pytest.approx(expected, abs=1e-12)
    assert (found.branch, found.edition, found.distance_2024) == (branch, "2010", None)


def test_of_equal_editions_the_newer_decides():
    found = approach(case("iso13855-parallel", field_height=0.0))
    assert found.distance_2010 == found.distance_2024 == found.distance
    assert (found.edition, found.branch) == ("2024", "fixed_1200")


@pytest.mark.parametrize("height", [1.001, -0.001, float("nan"), inf])
def test_a_field_height_outside_the_model_is_refused(height):
    with pytest.raises(OutOfRange, match="field_height"):
        case("iso13855-parallel", field_height=height)


def test_a_field_that_can_be_crawled_under_says_so():
    assert any("crawl" in note for note in approach(case("iso13855-parallel", field_height=0.201)).notes)
    assert not approach(case("iso13855-parallel", field_height=0.200)).notes


def test_a_field_too_low_for_its_resolution_says_so():
    """15 (70 - 50) = 300 mm."""
    low, enough = (
        approach(case("iso13855-parallel", field_height=height, resolution=0.070)) for height in (0.15, 0.3)
    )
    assert "at least 0.3 m" in low.notes[0]
    assert not any("too low" in note for note in enough.notes)
    assert approach(case("iso13855-parallel", field_height=0.0, resolution=0.030)).least_height == 0


def test_the_extra_and_the_reach_count_in_the_2024_edition_only():
    found = approach(case(reach=0.128, extra=0.050, response_time=0.1))
    assert found.distance_2010 == pytest.approx(0.328)  # 200 + 128
    assert found.distance_2024 == pytest.approx(0.378)  # 200 + 128 + 50
    assert found.edition == "2024"


def test_the_greater_edition_may_be_the_older():
    found = approach(case(reach=0.0, response_time=0.1))
    assert (found.edition, found.distance) == ("2010", pytest.approx(0.328))


@pytest.mark.parametrize("method", [name for name, each in METHODS.items() if "reach" in each.uses])
def test_what_the_2024_edition_adds_is_not_invented(method):
    found = approach(case(method))
    assert found.distance_2024 is None
    assert any("not known here" in text for text in found.assumptions)
    with pytest.raises(OutOfRange, match="not known here; give reach"):
        approach(case(method, edition="2024"))
    assert approach(case(method, edition="2024", reach=0.5)).edition == "2024"


def test_what_the_2024_text_leaves_open_is_said():
    found = approach(case("iso13855-two-hand", edition="2024", reach=0.15, response_time=0.2))
    assert (found.distance, found.branch) == (0.5, "least_500")  # 400 + 150 = 550, again 320 + 150 = 470
    assert any("leaves it open" in text for text in found.assumptions)


def test_a_formula_from_memory_says_so():
    found = approach(case("iso13855-two-hand"))
    assert "to be confirmed" in found.assumptions[0]
    assert found.sources[0].sure == "memory"


def test_hands_at_machines_are_not_people_at_a_door():
    found = approach(case("osha-1910-217"))
    assert "hands" in found.valid_for
    assert any("method of ISO 13855" in note for note in found.notes)
    assert (found.edition, found.distance_2010, found.distance_2024) == (None, None, None)


@pytest.mark.parametrize("method", sorted(METHODS))
def test_every_method_names_its_sources_and_for_whom_it_holds(method):
    found = approach(case(method))
    assert found.sources
    assert "operator" in found.valid_for or "14 and older" in found.valid_for


def test_facts_that_a_method_does_not_use_are_named():
    found = approach(case("osha-1910-217", resolution=0.014, field_height=0.1, reach=0.1, extra=0.1))
    unused = [note.split()[0] for note in found.notes if "not used" in note]
    assert unused == ["resolution", "field_height", "reach", "extra"]


REFUSED = [
    ({"method": "iso13855-normal", "response_time": 0.1}, "resolution: nothing given"),
    ({"method": "iso13855-parallel", "response_time": 0.1}, "field_height: nothing given"),
    ({"method": "iso13855-beams"}, "response_time: nothing given"),
    ({"method": "osha-1910-217", "response_time": 0.1, "edition": "2010"}, "edition: .* leave it out"),
    ({"method": "b11-19", "response_time": 0.1, "resolution": 0.07}, "70 mm is out of range.*from memory"),
    ({"method": "running", "response_time": 0.1}, "'running' is not one of"),
    ({"method": "iso13855-beams", "response_time": 0.0}, "above 0 s"),
    ({"method": "iso13855-beams", "response_time": float("nan")}, "out of range"),
    ({"method": "iso13855-beams", "response_time": 61}, "at most 60 s"),
]


@pytest.mark.parametrize(("given", "message"), REFUSED)
def test_what_cannot_be_used_is_refused(given, message):
    with pytest.raises(OutOfRange, match=message):
        approach(ApproachCase(**given))


def test_without_a_response_time_only_the_inverse_is_answered():
    found = approach(case("iso13855-beams", response_time=None, available_distance=1.25))
    assert found.needed_response_time == pytest.approx(0.25)  # (1250 - 850) / 1600
    assert (found.distance, found.branch, found.enough, found.edition) == (None, None, None, None)


# ISO 13855:2010, normal approach, d = 14 mm: the distance that is there, the longest time it allows.
@pytest.mark.parametrize(
    ("place", "time"),
    [(0.099, None), (0.100, 0.050), (0.499, 0.2495), (0.500, 0.3125), (0.512, 0.320)],
)
def test_the_inverse_at_the_boundaries(place, time):
    found = approach(case(resolution=0.014, available_distance=place))
    assert found.needed_response_time == (None if time is None else pytest.approx(time))


def test_a_place_closer_than_the_reach_allows_no_time_at_all():
    found = approach(case("iso13855-beams", available_distance=0.850))
    assert (found.needed_response_time, found.enough) == (None, False)


def test_the_inverse_holds_for_both_editions():
    found = approach(case("iso13855-parallel", field_height=0.3, available_distance=1.680))
    assert found.needed_response_time == pytest.approx(0.3)  # 2024: (1680 - 1200) / 1600
    only = approach(case("iso13855-parallel", field_height=0.3, available_distance=1.680, edition="2010"))
    assert only.needed_response_time == pytest.approx(0.375)  # 2010: (1680 - 1080) / 1600


cases = st.builds(
    case,
    st.sampled_from(sorted(METHODS)),
    response_time=st.floats(1e-3, 5),
    resolution=st.floats(1e-3, 0.040),
    field_height=st.floats(0, 1),
    reach=st.none() | st.floats(0, 1.5),
    extra=st.floats(0, 0.3),
)


def with_(given: ApproachCase, **changes: object) -> ApproachCase:
    return ApproachCase(**{**vars(given), **changes})


@given(cases)
def test_the_time_found_for_a_distance_is_the_longest(given):
    """The inverse of the distance is at least the time it came from, and needs no more than that place."""
    place = approach(given).distance
    longest = approach(with_(given, available_distance=place)).needed_response_time
    assume(longest is not None and longest <= 60)
    assert longest >= given.response_time * (1 - 1e-9) - 1e-12
    assert approach(with_(given, response_time=longest)).distance <= place + 1e-9
    assert approach(with_(given, response_time=longest * 1.001 + 1e-6)).distance > place


@given(cases, st.floats(1.0001, 2))
def test_a_slower_answer_never_needs_less_distance(given, factor):
    slower = with_(given, response_time=given.response_time * factor)
    assert approach(slower).distance >= approach(given).distance - 1e-12


@given(cases, st.floats(0.01, 5))
def test_enough_says_the_same_as_the_inverse(given, place):
    found = approach(with_(given, available_distance=place))
    assume(abs(place - found.distance) > 1e-6)
    longest = found.needed_response_time
    assert found.enough == (longest is not None and longest >= given.response_time)


@given(cases)
def test_the_greater_edition_decides(given):
    found = approach(given)
    known = [each for each in (found.distance_2010, found.distance_2024) if each is not None]
    assert not known or found.distance == max(known)
    assert found.distance > 0


def test_the_smallest_step_above_500_mm_does_not_change_the_distance():
    """Both branches meet at 500 mm, so round-off there cannot move the answer."""
    at, above = (approach(case(resolution=0.014, response_time=time)) for time in (0.25, nextafter(0.25, 1)))
    assert above.distance == pytest.approx(at.distance, abs=1e-12)
