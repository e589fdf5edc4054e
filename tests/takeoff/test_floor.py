"""The floor: unevenness, what a body and its fin take up, the first cure that fits, what is done where.

Worked numbers: trade rules of thumb FLOOR-4, FLOOR-6, FLOOR-7, PRO-1 and the table of cures, from memory; lengths
in inches, exact.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf, nan
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.calculation import as_json
from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader, retold
from sillwright.catalogue.profile import CurveAt
from sillwright.takeoff import FloorCase, floor
from sillwright.takeoff.floors.curve_at import curve_at
from sillwright.takeoff.floors.floor_model import FloorProfile, FloorVerdict
from sillwright.takeoff.floors.floor_table import number, source
from sillwright.takeoff.floors.levels import joined, level_error
from tests.verification import Verify

from .floors import BARE, FINNED, FOOT, INCH, case, gaps, stretches

RULES = "trade rules of thumb, from memory"
SLOPING = (0, 1 / 8, 1 / 4, 3 / 8, 1 / 2, 5 / 8, 1 / 2)  # FLOOR-7, every 2 ft
EVEN = (0.0,) * 13


# ---------------------------------------------------------------- worked numbers


def test_the_worked_floor(verify: Verify) -> None:
    found = floor(case(*SLOPING, every=24))
    verify("unevenness, in", got=found.unevenness / INCH, expected=5 / 8, within=1e-12, source=f"FLOOR-7, {RULES}")
    verify(
        "best line, fall in inches a foot",
        got=-found.slope * FOOT / INCH,
        expected=1 / 24,
        within=1e-12,
        source=f"FLOOR-7, {RULES}",
    )
    verify(
        "strip, in", got=found.strip / INCH, expected=0.21, within=0.005, relative=False, source=f"FLOOR-7, {RULES}"
    )
    assert found.strip / INCH == pytest.approx(5 / 24, abs=1e-12)
    assert (found.highest_at, found.lowest_at) == pytest.approx((0.0, 10 * FOOT))
    assert [round(x / FOOT) for x, _ in found.touches] == [0, 10, 12]


def test_the_worked_floor_takes_a_fin_or_a_taper_with_a_short_one() -> None:
    found = floor(case(*SLOPING, every=24, profiles=(BARE, FINNED)))
    assert found.cure == "fin"
    assert any("taper of 1/2 in" in note for note in found.notes)
    bare, finned = found.verdicts
    assert (bare.fits, finned.fits, finned.sealed_by) == ("does not fit", "fits", "fin")


def test_two_setups_of_a_level_are_joined_at_the_station_they_share(verify: Verify) -> None:
    first = gaps(0.25, 0.375, 0.5, 0.5)
    second = tuple((x + 3 * FOOT, gap) for x, gap in gaps(0.75, 0.875, 1.0, 0.875))
    row = [gap / INCH for _, gap in joined([first, second])]
    expected = [0.25, 0.375, 0.5, 0.5, 0.625, 0.75, 0.625]
    assert row == pytest.approx(expected, abs=1e-12)
    verify("last gap of two setups, in", got=row[-1], expected=0.625, within=1e-12, source=f"FLOOR-4, {RULES}")


def test_a_setup_that_shares_no_station_is_refused() -> None:
    with pytest.raises(OutOfRange, match="setup 2: no station"):
        joined([gaps(0, 1), ((9.0, 0.0), (10.0, 0.0))])


def test_setups_that_share_two_stations_that_contradict_each_other_are_refused() -> None:
    first, second = gaps(0, 0, 0), ((FOOT, 0.0), (2 * FOOT, 0.1 * INCH), (3 * FOOT, 0.0))
    with pytest.raises(OutOfRange, match="differ by"):
        joined([first, second])


def test_a_level_turned_end_for_end_shows_its_own_error() -> None:
    assert level_error(1.0, 0.875) == 0.0625


# ---------------------------------------------------------------- the table of cures


@pytest.mark.parametrize("read_as", ["heights", "gaps_below_level"])
def test_unevenness_does_not_depend_on_how_it_was_read(read_as: str) -> None:
    assert floor(case(0, 0.25, 0.125, 0, 0, read_as=read_as)).unevenness == pytest.approx(0.25 * INCH)


def test_a_small_gap_is_a_high_floor() -> None:
    found = floor(case(0.5, 0.0, 0.5, 0.5, 0.5))
    assert found.highest_at == pytest.approx(FOOT)
    assert floor(case(0.5, 0.0, 0.5, 0.5, 0.5, read_as="heights")).lowest_at == pytest.approx(FOOT)


@pytest.mark.parametrize(
    ("unevenness", "cure"),
    [
        pytest.param(0, "none", id="level"),
        pytest.param(3 / 16, "none", id="exactly 3/16 in: the body alone"),
        pytest.param(3 / 16 + 1e-6, "fin", id="just more: a fin"),
        pytest.param(1 + 1 / 4 - 1e-6, "fin", id="just less than 1-1/4 in: still a fin"),
        pytest.param(1 + 1 / 4, "floor_work", id="exactly 1-1/4 in: the cut-out has no window any more"),
        pytest.param(2, "floor_work", id="more than 1-1/4 in"),
    ],
)
def test_unevenness_decides_what_is_done_to_a_floor_that_waves(unevenness: float, cure: str) -> None:
    wave = [unevenness if at % 8 < 4 else 0 for at in range(16)]  # humps of 4 ft, dips of 4 ft
    found = floor(case(*wave))
    assert found.unevenness / INCH == pytest.approx(unevenness)
    assert found.cure == cure


@pytest.mark.parametrize("tenths", range(1, 8))
def test_three_sixteenths_are_exact_wherever_the_floor_lies(tenths: int) -> None:
    offset = tenths / 10  # tenths of an inch are no binary fractions
    assert floor(case(offset, offset + 3 / 16, offset, offset, offset)).cure == "none"


def test_a_floor_that_is_a_plane_at_a_slope_takes_a_taper_thick_where_it_is_low() -> None:
    found = floor(case(0, 0.25, 0.5, 0.75, 1.0))  # falls to the right
    assert found.cure == "taper"
    assert found.strip == pytest.approx(0, abs=1e-15)
    (piece,) = found.stretches
    assert piece.work == "taper"
    assert (piece.start, piece.end) == pytest.approx((0.0, 4 * FOOT))
    assert (piece.at_start, piece.at_end) == pytest.approx((0.0, 1.0 * INCH))
    assert "thick on the right" in found.why


def test_a_taper_on_the_mirrored_floor_is_thick_on_the_left() -> None:
    found = floor(case(1.0, 0.75, 0.5, 0.25, 0))
    (piece,) = found.stretches
    assert (piece.at_start, piece.at_end) == pytest.approx((1.0 * INCH, 0.0))
    assert "thick on the left" in found.why


@pytest.mark.parametrize(
    ("bottom", "said"),
    [("wood", "scribe the bottom section"), ("metal", "are never cut"), (None, "thick on the right")],
)
def test_wood_may_be_scribed_and_metal_is_never_cut(bottom: str | None, said: str) -> None:
    why = floor(case(0, 0.25, 0.5, 0.75, 1.0, bottom=bottom)).why
    assert said in why
    assert ("scribe" in why) == (bottom == "wood")


def test_a_very_steep_taper_is_questioned() -> None:
    assert any("is a lot" in note for note in floor(case(0, 0.5, 1.0, 1.5, 2.0)).notes)
    assert not any("is a lot" in note for note in floor(case(0, 0.25, 0.5, 0.75, 1.0)).notes)


def test_a_wooden_section_is_scribed_where_no_fin_reaches() -> None:
    wave = [1.0 if at % 8 < 4 else 0 for at in range(16)]
    found = floor(case(*wave, profiles=(BARE, FINNED), bottom="wood"))
    assert found.cure == "scribe"
    assert stretches(found.stretches) == [("scribe", 0, 180, 1)]


def test_without_a_fin_that_reaches_one_is_wanted() -> None:
    wave = [1.0 if at % 8 < 4 else 0 for at in range(16)]
    found = floor(case(*wave, profiles=(BARE, FINNED)))
    assert (found.cure, [each.fits for each in found.verdicts]) == ("fin", ["does not fit"] * 2)
    assert "takes up 13/16 in is wanted" in found.why


def test_a_short_hump_is_ground_down_to_what_the_body_takes_up() -> None:
    hump = [*EVEN[:5], -1.0, *EVEN[6:]]  # gaps: 1 in high at 5 ft, even a foot away
    found = floor(case(*hump, profiles=(BARE,)))
    assert found.cure == "grind"
    ((work, start, end, most),) = stretches(found.stretches)
    assert (work, most) == ("grind", 0.8125)
    assert (start, end) == (50.25, 69.75)  # where the slopes of the hump pass 3/16 in


def test_a_short_dip_is_patched_up_to_what_the_body_takes_up() -> None:
    found = floor(case(*EVEN[:5], 1.0, *EVEN[6:], profiles=(BARE,)))
    assert found.cure == "patch"
    assert stretches(found.stretches) == [("patch", 50.25, 69.75, 0.8125)]


def test_a_hump_and_a_dip_are_both_named() -> None:
    found = floor(case(*EVEN[:3], -0.5, *EVEN[4:9], 0.5, *EVEN[10:], profiles=(BARE,)))
    assert found.cure == "grind"
    assert [each.work for each in found.stretches] == ["grind", "patch"]
    assert "Grind" in found.why
    assert "Patch" in found.why


def test_a_hump_longer_than_two_feet_is_not_ground() -> None:
    found = floor(case(*EVEN[:4], -1.0, -1.0, -1.0, *EVEN[7:], profiles=(BARE,)))
    assert found.cure == "fin"
    high = floor(case(*EVEN[:4], -2.0, -2.0, -2.0, *EVEN[7:], profiles=(BARE,)))
    assert high.cure == "floor_work"
    assert [each.work for each in high.stretches] == ["grind"]


def test_a_fin_that_reaches_comes_before_grinding() -> None:
    hump = [*EVEN[:5], -0.5, *EVEN[6:]]
    assert floor(case(*hump, profiles=(BARE,))).cure == "grind"
    found = floor(case(*hump, profiles=(BARE, FINNED)))
    assert found.cure == "fin"
    assert [(work, most) for work, _, _, most in stretches(found.stretches)] == [("fin", 0.25)] * 2


def test_where_the_body_does_not_touch_the_fin_does() -> None:
    found = floor(case(0, 0.5, 0, 0.5, 0, profiles=(FINNED,)))
    for each in found.stretches:
        assert each.work == "fin"
        assert each.most == pytest.approx(0.25 * INCH)  # 1/2 in less the 1/4 in the edge is pressed


# ---------------------------------------------------------------- profiles


def profile(fin: float = 0.0, **given: Any) -> FloorProfile:
    facts: dict[str, Any] = {
        "name": "x",
        "height": 1.75 * INCH,
        "actuation_travel": 3 / 16 * INCH,
        "fin": fin * INCH,
        **given,
    }
    return FloorProfile(**facts)


@pytest.mark.parametrize("fin", [0, 0.25, 0.75, 1.0])
@pytest.mark.parametrize(("beyond", "seals"), [(0, True), (1e-5, False)])
def test_a_profile_seals_up_to_its_fin_and_three_sixteenths(fin: float, beyond: float, seals: bool) -> None:
    # PRO-1: U <= usable fin + 3/16 in, exact to the boundary.
    unevenness = fin + 3 / 16 + beyond
    (verdict,) = floor(case(0, unevenness, 0, unevenness, 0, profiles=(profile(fin),))).verdicts
    assert verdict.seals is seals
    assert bool(verdict.unsealed) is not seals


def test_the_edge_is_pressed_no_more_than_it_must_and_never_more_than_a_quarter_inch() -> None:
    pressed = [
        floor(case(0, uneven, 0, 0, 0, profiles=(BARE,))).verdicts[0].highest_compression / INCH
        for uneven in (0, 1 / 8, 3 / 16, 1 / 4, 1)
    ]
    assert pressed == pytest.approx([1 / 16, 3 / 16, 1 / 4, 1 / 4, 1 / 4])


def test_gap_and_compression_along_the_sill() -> None:
    (verdict,) = floor(case(0, 0.5, 0.25, 0, 0, profiles=(BARE,))).verdicts
    along = [round(depth / INCH, 6) for _, depth in verdict.compression_along]
    assert along == [0.25, -0.25, 0, 0.25, 0.25]
    assert verdict.body_gap / INCH == pytest.approx(0.25)
    assert verdict.open_gap == verdict.body_gap
    ((start, end),) = verdict.unsealed
    assert (start / INCH, end / INCH) == pytest.approx((4.5, 27.0))


def test_a_body_that_goes_solid_early_is_not_pressed_beyond_it() -> None:
    short = profile(curves=(CurveAt(temperature=293.15, curve=((0, 0), (0.003, 200))),))
    (verdict,) = floor(case(0, 3 / 16, 0, 0, 0, profiles=(short,))).verdicts
    assert verdict.highest_compression == 0.003
    assert not verdict.seals


def test_an_edge_pressed_beyond_its_answer_needs_the_cut_out() -> None:
    even, uneven = (floor(case(0, each, 0, 0, 0, profiles=(BARE,))).verdicts[0] for each in (0, 1 / 8))
    assert not even.answers_when_shut
    assert uneven.answers_when_shut  # 1/16 + 1/8 in are exactly the 3/16 in at which it answers


WARM = CurveAt(temperature=293.15, curve=((0, 0), (0.005, 40), (0.02, 100)))
COLD = CurveAt(temperature=253.15, curve=((0, 0), (0.005, 80), (0.02, 200)))


def left(**given: Any) -> FloorVerdict:
    soft = profile(curves=(COLD, WARM), actuation_travel=0.004)
    facts: dict[str, Any] = {"profiles": (soft,), "force": 100.0, "coldest": 273.15, **given}
    return floor(case(0, 0, 0, 0, 0, **facts)).verdicts[0]


def test_overtravel_left_is_what_remains_after_answer_and_compression() -> None:
    found = left()
    assert found.overtravel_left == pytest.approx(0.016)  # 20 mm at 100 N, less the 4 mm of its answer
    # Half way between the curves: 60 N at 5 mm, 150 N at 20 mm; 100 N at 11.667 mm.
    assert found.overtravel_left_cold == pytest.approx(0.005 + 0.015 * 40 / 90 - 0.004)


def test_compression_beyond_the_answer_counts_against_overtravel() -> None:
    soft = profile(curves=(WARM,), actuation_travel=0.002)
    (verdict,) = floor(case(0, 3 / 16, 0, 0, 0, profiles=(soft,), force=100.0)).verdicts
    assert verdict.overtravel_left == pytest.approx(0.020 - 0.25 * INCH)


@pytest.mark.parametrize(
    ("asked", "coldest", "fits"),
    [
        (0.015, None, "fits"),
        (0.016, None, "fits"),
        (0.0161, None, "does not fit"),
        (0.015, 273.15, "does not fit"),
        (0.007, 273.15, "fits"),
        (0.007, 200.0, "not known"),
        (0.017, 200.0, "does not fit"),
    ],
)
def test_overtravel_decides_in_the_warm_and_in_the_cold(asked: float, coldest: float | None, fits: str) -> None:
    found = left(required_overtravel=asked, coldest=coldest)
    assert found.fits == fits
    assert bool(found.reasons) is (fits != "fits")


def test_a_profile_without_a_curve_is_not_known_to_have_overtravel() -> None:
    found = floor(case(0, 0, 0, 0, 0, profiles=(BARE,), force=100.0, required_overtravel=0.001)).verdicts[0]
    assert (found.fits, found.overtravel_left) == ("not known", None)


@pytest.mark.parametrize(("kelvin", "known"), [(248.15, True), (248.0, False), (298.15, True), (298.3, False)])
def test_a_curve_is_not_guessed_beyond_five_kelvin(kelvin: float, known: bool) -> None:
    assert (curve_at((COLD, WARM), kelvin) is not None) is known


# ---------------------------------------------------------------- a leaf that may hang out of level


def test_a_leaf_that_may_hang_out_of_level_lies_on_a_sloping_floor() -> None:
    level, tilted = (floor(case(0, 0.25, 0.5, 0.75, 1.0, greatest_slope=most)) for most in (0.0, 0.05))
    assert (level.cure, tilted.cure) == ("taper", "none")
    assert level.spread == pytest.approx(1.0 * INCH)
    assert tilted.spread == pytest.approx(0, abs=1e-12)
    assert tilted.leaf_slope == pytest.approx(-0.25 / 12)


def test_a_leaf_hangs_no_further_out_of_level_than_it_may() -> None:
    found = floor(case(0, 0.25, 0.5, 0.75, 1.0, greatest_slope=0.125 / 12))
    assert found.leaf_slope == pytest.approx(-0.125 / 12)
    assert found.spread == pytest.approx(0.5 * INCH)
    assert found.stretches[0].most == pytest.approx(0.5 * INCH)  # the taper takes only what is left


# ---------------------------------------------------------------- how it was read


@pytest.mark.parametrize(
    ("given", "said"),
    [
        pytest.param({"points": gaps(0, 0, 0, 0)}, "at least 5", id="four places"),
        pytest.param({"points": gaps(0, 0, 0, 0, 0, every=12.01)}, "Up to", id="more than 12 in apart"),
        pytest.param({"width": 5 * FOOT}, "jamb: right", id="not up to the right jamb"),
        pytest.param(
            {"points": tuple((x + 3 * INCH, z) for x, z in gaps(0, 0, 0, 0, 0)), "width": 4 * FOOT + 3 * INCH},
            "jamb: left",
            id="not up to the left jamb",
        ),
        pytest.param({"width": None}, "not known", id="width not given"),
        pytest.param({"width": 3 * FOOT}, "outside the opening", id="beyond the right jamb"),
        pytest.param({"points": tuple((-x, z) for x, z in gaps(0, 0, 0, 0, 0))}, "outside", id="mirrored"),
        pytest.param({"points": (*gaps(0, 0, 0, 0, 0), (FOOT, 0.01))}, "a step", id="two heights at one place"),
        pytest.param({"crossfall": 0.0626}, "round-nosed", id="a sill that falls to the front"),
        pytest.param({"crossfall": -0.07}, "round-nosed", id="a sill that falls to the back"),
    ],
)
def test_a_poor_reading_is_told(given: dict[str, Any], said: str) -> None:
    assert any(said in note for note in floor(case(0, 0, 0, 0, 0, **given)).notes)


@pytest.mark.parametrize("given", [{}, {"crossfall": 0.0625}, {"width": 4 * FOOT + 2 * INCH}])
def test_a_good_reading_has_no_notes(given: dict[str, Any]) -> None:
    assert floor(case(0, 0, 0, 0, 0, **given)).notes == ()


def test_it_says_that_nothing_between_the_points_was_seen() -> None:
    assert any("was not seen" in each for each in floor(case(0, 0, 0, 0, 0)).assumptions)


def test_a_reader_of_millimetres_reads_millimetres() -> None:
    why = floor(case(*SLOPING, every=24)).why
    assert "9.5 mm" in retold(why, Reader(units="metric"))


@pytest.mark.parametrize(
    "given",
    [
        pytest.param({"points": ()}, id="no points"),
        pytest.param({"points": ((0, 0),)}, id="one point"),
        pytest.param({"points": ((1, 0), (1, 0.01))}, id="all at one place"),
        pytest.param({"points": ((0, 0), (5e-324, 1))}, id="all but at one place"),
        pytest.param({"points": ((0, 0), (1, nan))}, id="no number"),
        pytest.param({"points": ((0, 0), (inf, 0))}, id="without end"),
        pytest.param({"points": ((0, 0), (1, 61))}, id="too high"),
        pytest.param({"points": ((0, 0, 0), (1, 0, 0))}, id="not pairs"),
        pytest.param({"points": tuple((n / 20, 0) for n in range(1001))}, id="too many"),
        pytest.param({"read_as": "depths"}, id="unknown word"),
        pytest.param({"greatest_slope": -0.01}, id="negative slope"),
        pytest.param({"greatest_compression": 0.0}, id="no compression"),
        pytest.param({"least_contact": 0.00635}, id="contact as much as the greatest compression"),
        pytest.param({"required_overtravel": 0.01}, id="overtravel up to no force"),
        pytest.param({"width": nan}, id="width is no number"),
        pytest.param({"profiles": (BARE,) * 501}, id="too many profiles"),
    ],
)
def test_what_cannot_be_a_floor_is_refused(given: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        case(0, 0, 0, 0, 0, **given)


def test_curves_in_the_wrong_order_are_refused() -> None:
    with pytest.raises(OutOfRange, match="from cold to warm"):
        profile(curves=(WARM, COLD))


def test_the_numbers_have_the_standing_of_their_sources(verify: Verify) -> None:
    verify(
        "greatest lasting compression, m",
        got=number("compression"),
        expected=0.00635,
        within=0,
        source="compression, common practice of the trade",
    )
    assert source("compression").sure == "practice"
    assert source("contact").sure == "memory"


HEIGHTS = st.lists(st.integers(-32, 32), min_size=2, max_size=12)


@given(HEIGHTS, st.sampled_from([None, "wood", "metal"]), st.booleans())
def test_whatever_the_floor_the_answer_hangs_together(
    sixteenths: list[int], bottom: str | None, with_profiles: bool
) -> None:
    profiles = (BARE, FINNED) if with_profiles else ()
    found = floor(case(*(each / 16 for each in sixteenths), bottom=bottom, profiles=profiles))
    as_json(found)
    assert 0 <= found.strip <= found.unevenness + 1e-12
    assert min(z for _, z in found.heights) == 0
    assert found.cure != "unknown"
    assert found.why
    for each in found.stretches:
        assert 0 <= each.start <= each.end <= found.heights[-1][0] + 1e-12
        assert each.most >= 0
    for verdict in found.verdicts:
        depths = [depth for _, depth in verdict.compression_along]
        assert max(depths) == pytest.approx(verdict.highest_compression)
        assert min(depths) == pytest.approx(verdict.lowest_compression, abs=1e-12)
        assert verdict.highest_compression <= number("compression") + 1e-12
        assert verdict.seals is not bool(verdict.unsealed)
    if found.cure == "none":
        assert all(each.sealed_by == "body" for each in found.verdicts)


@given(HEIGHTS)
def test_a_floor_in_a_mirror_takes_the_same_cure(sixteenths: list[int]) -> None:
    left_to_right = case(*(each / 16 for each in sixteenths), profiles=(BARE, FINNED))
    last = left_to_right.points[-1][0]
    mirrored = replace(left_to_right, points=tuple((last - x, z) for x, z in left_to_right.points))
    one, other = floor(left_to_right), floor(mirrored)
    assert one.cure == other.cure
    assert one.strip == pytest.approx(other.strip, abs=1e-12)
    assert one.slope == pytest.approx(-other.slope, abs=1e-12)
    back = [(last - each.end, last - each.start, each.most) for each in reversed(other.stretches)]
    for (start, end, most), each in zip(sorted(back), one.stretches, strict=True):
        assert (start, end, most) == pytest.approx((each.start, each.end, each.most), abs=1e-9)


@given(HEIGHTS)
def test_inches_and_millimetres_give_one_answer(sixteenths: list[int]) -> None:
    inches = [each / 16 for each in sixteenths]
    metric = tuple((at * 304.8 / 1000, each * 25.4 / 1000) for at, each in enumerate(inches))
    us, si = floor(case(*inches)), floor(case(*inches, points=metric, width=metric[-1][0]))
    assert us.cure == si.cure
    assert us.strip == pytest.approx(si.strip, abs=1e-12)


@given(HEIGHTS, st.randoms(use_true_random=False))
def test_the_order_in_which_points_were_taken_down_does_not_matter(sixteenths: list[int], shuffle: Random) -> None:
    one = case(*(each / 16 for each in sixteenths))
    points = list(one.points)
    shuffle.shuffle(points)
    assert floor(replace(one, points=tuple(points))) == floor(one)


def test_a_case_is_read_from_a_file(root: Path) -> None:
    from sillwright.base.case_reading import read_case
    from sillwright.base.node import parse

    text = (root / "examples" / "floor.yaml").read_bytes()
    found = floor(read_case(FloorCase, parse(text, "floor.yaml"), "floor.yaml"))
    assert found.unevenness == pytest.approx(0.625 * INCH)
    assert {each.name: each.fits for each in found.verdicts} == {
        "common": "does not fit",
        "common with fin": "fits",
    }
