"""How far a leaf goes on, and what a profile gives for it warm and cold: the tables of the trade, and the law."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.catalogue.profile import CurveAt
from sillwright.mechanics import OvertravelCase, overtravel
from sillwright.takeoff.choosing.cold import stiffer
from sillwright.takeoff.choosing.stopping import Stopping, given_by, stopping_of
from tests.survey.building import survey_of
from tests.verification import Verify

from .held_against import INCH, KNOWN, besides, made, verdict, why

# Trade, stopping distance: speed (in/s); for a good brake, an ordinary one and one that coasts: distance (mm) and
# 1.2 times it (in). t1 and t2 of each in seconds.
BRAKES = {"good": (0.06, 0.10), "ordinary": (0.10, 0.25), "coasting": (0.15, 0.40)}
STOPPING = [
    (6, (17, 0.79), (34, 1.62), (53, 2.52)),
    (8, (22, 1.06), (46, 2.16), (71, 3.36)),
    (12, (34, 1.58), (69, 3.24), (107, 5.04)),
    (18, (50, 2.38), (103, 4.86), (160, 7.56)),
    (24, (67, 3.17), (137, 6.48), (213, 10.1)),
    (40, (112, 5.28), (229, 10.8), (356, 16.8)),
]


@pytest.mark.parametrize(("speed", "good", "ordinary", "coasting"), STOPPING)
def test_the_stopping_table_of_the_trade(
    speed: float,
    good: tuple[float, float],
    ordinary: tuple[float, float],
    coasting: tuple[float, float],
    verify: Verify,
) -> None:
    for (name, (response, stopping)), (distance, needed) in zip(
        BRAKES.items(), (good, ordinary, coasting), strict=True
    ):
        case = OvertravelCase(closing_speed=speed * INCH, response=response, stopping_time=stopping)
        found = overtravel(case)
        assert found.stopping_distance * 1000 == pytest.approx(distance, abs=0.5)
        verify(
            f"overtravel needed at {speed} in/s, {name} brake, in inches",
            got=found.required_overtravel / INCH,
            expected=needed,
            within=0.05 if needed > 10 else 0.005,
            source="stopping table of the trade (from memory, recomputed there)",
            relative=False,
        )


def test_a_reaction_beyond_the_model_is_cut_to_what_it_covers() -> None:
    found = stopping_of(
        survey_of({**KNOWN, "operator.reaction": "10 s", "operator.deceleration": "0.01 m/s^2"}).openings[0]
    )
    assert found is not None
    assert found.greatest.response == found.greatest.stopping_time == 10.0


# PRO-3. At 12 in/s with 60 ms + (10 to 50) ms and 2 m/s²: s = 44.6 to 56.8 mm, times 1.2; it gives 30 mm.
FAST: dict[str, Any] = {"door__closing_speed": "12 in/s"}


def test_a_short_stop_is_a_remark_where_no_force_limit_is_law() -> None:
    found = verdict(**FAST)
    assert found.fits == "fits"
    assert "goes solid before the leaf stops" in besides(found)
    assert "Beyond that the force rises fast" in besides(found)


@pytest.mark.parametrize("country", ["DE", "GB", "CH"])
def test_a_short_stop_speaks_against_a_profile_where_a_force_limit_is_law(country: str) -> None:
    found = verdict(site__country=country, **FAST)
    assert (found.fits, "goes solid" in why(found)) == ("does not fit", True)
    assert verdict(site__country=country).fits == "fits"


def test_in_a_country_that_nobody_looked_into_a_short_stop_is_open() -> None:
    found = verdict(site__country="CA", **FAST)
    assert (found.fits, "Whether a force limit is law" in why(found)) == ("not known", True)


@pytest.mark.parametrize(("country", "fits"), [("US", "fits"), ("DE", "not known")])
def test_a_stop_that_nobody_knows_is_open_where_a_force_limit_is_law(country: str, fits: str) -> None:
    assert verdict(site__country=country, without="door.closing_speed").fits == fits
    assert verdict(made("P", curves=()), site__country=country).fits == fits
    slow_brake = verdict(site__country=country, without="operator.deceleration", door__closing_speed="6 in/s")
    assert slow_brake.fits == fits
    said = why(slow_brake) if country == "DE" else besides(slow_brake)
    assert "Measure that: touch the edge by hand" in said


def test_facts_narrow_how_the_leaf_stops_and_none_leave_the_range_of_the_trade() -> None:
    """12 in/s: 1.2 × (44.6 … 56.8) mm by facts; 1.58 … 5.04 in of the table without."""
    known = stopping_of(survey_of({**KNOWN, "door.closing_speed": "12 in/s"}).openings[0])
    assert known is not None
    assert [round(each * 1000, 1) for each in known.required] == [53.5, 68.1]
    unknown = stopping_of(survey_of({"door.closing_speed": "12 in/s"}).openings[0])
    assert unknown is not None
    assert [round(each / INCH, 2) for each in unknown.required] == [1.58, 5.04]
    assert stopping_of(survey_of({}).openings[0]) is None


def test_of_two_readings_of_the_speed_both_count() -> None:
    twice = [{"value": "6 in/s", "from": "told", "by": "owner"}, {"value": "12 in/s", "from": "plate"}]
    found = stopping_of(survey_of({**KNOWN, "door.closing_speed": twice}).openings[0])
    assert found is not None
    assert (found.least.closing_speed, found.greatest.closing_speed) == pytest.approx((6 * INCH, 12 * INCH))


def stop(needed: float) -> Stopping:
    """A leaf that needs so much overtravel, whatever its brake: 1.2 v t1 with v = 0.1 m/s."""
    case = OvertravelCase(closing_speed=0.1, response=needed / 0.12, stopping_time=0.0)
    return Stopping(least=case, greatest=case)


STRAIGHT = made("P", actuation_travel=0.005, curves=(CurveAt(temperature=295.0, curve=((0, 0), (0.05, 500))),))


def test_travel_counts_up_to_the_stated_force_and_less_in_the_cold() -> None:
    """400 N at 40 mm, 35 mm after the answer; at 0 degF 1.5 times as stiff: 26.7 - 5 = 21.7 mm."""
    warm = given_by(STRAIGHT, stop(0.03), 295.0)
    cold = given_by(STRAIGHT, stop(0.03), 255.3722222222222)
    assert warm is not None
    assert cold is not None
    assert warm.enough is True
    assert warm.available == pytest.approx(0.035)
    assert cold.enough is False
    assert cold.available == pytest.approx(0.040 / 1.5 - 0.005)


def test_a_curve_measured_in_the_cold_outranks_the_rule_of_thumb() -> None:
    frozen = CurveAt(temperature=255.0, curve=((0, 0), (0.05, 1000)))
    found = given_by(replace(STRAIGHT, curves=(frozen, *STRAIGHT.curves)), stop(0.03), 255.0)
    assert found is not None
    assert found.available == pytest.approx(0.015)  # 400 N at 20 mm


def test_below_the_coldest_curve_its_material_tells_how_much_stiffer_it_gets() -> None:
    """Measured at 255.372 K (1.5), asked at 238.15 K (2.5): 2.5 / 1.5 times its force."""
    frozen = CurveAt(temperature=255.3722222222222, curve=((0, 0), (0.05, 750)))
    found = given_by(replace(STRAIGHT, curves=(frozen, *STRAIGHT.curves)), stop(0.001), 238.15)
    assert found is not None
    assert found.available == pytest.approx(0.04 / 2.5 - 0.005)


@pytest.mark.parametrize(
    ("changed", "coldest"), [({"material": None}, 260.0), ({"material": "tpe"}, 250.0), ({}, 230.0), ({}, None)]
)
def test_where_the_cold_is_beyond_what_is_known_it_is_open(changed: dict[str, Any], coldest: float | None) -> None:
    found = given_by(replace(STRAIGHT, **changed), stop(0.001), coldest)
    assert found is not None
    assert (found.cold, found.enough) == (None, None)


# PRO-4, force over that in a warm room: temperature in K, EPDM or silicone, TPE or soft PVC.
@pytest.mark.parametrize(
    ("temperature", "rubber", "plastic"),
    [(300.0, 1.0, 1.0), (295.0, 1.0, 1.0), (273.15, 1.2, 1.5), (263.15, None, 2.0), (255.3722222222222, 1.5, 3.0),
     (255.3, None, None), (244.26111111111112, 2.0, None), (238.15, 2.5, None), (238.0, None, None)],
)  # fmt: skip
def test_how_much_stiffer_a_body_gets_in_the_cold(
    temperature: float, rubber: float | None, plastic: float | None
) -> None:
    if rubber is not None:
        assert stiffer("epdm", temperature) == stiffer("silicone", temperature) == pytest.approx(rubber)
    if temperature < 238.15:
        assert stiffer("epdm", temperature) is None
    assert (
        stiffer("tpe", temperature)
        == stiffer("pvc", temperature)
        == (None if plastic is None else pytest.approx(plastic))
    )


@given(st.floats(238.15, 310), st.floats(238.15, 310))
def test_colder_is_never_softer(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    stiff, soft = stiffer("epdm", cold), stiffer("epdm", warm)
    assert stiff is not None
    assert soft is not None
    assert stiff >= soft - 1e-12
    assert stiffer("nitrile", cold) is None
