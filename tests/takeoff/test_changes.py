"""What a new edge changes: its weight at the springs, its height at the limit, the cut-out that is handed on."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.catalogue.profile import Profile
from sillwright.takeoff.answer import Changes
from sillwright.takeoff.choosing.changes import changes
from sillwright.takeoff.floors.cutout import cutout
from tests.survey.building import opening_of

INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237
PER_FOOT = POUND / FOOT
READER = Reader()


def profile(pounds_per_foot: float | None = 0.9, height: float = 1.75 * INCH) -> Profile:
    return Profile(
        name="Common, invented",
        construction="factory_sealed",
        height=height,
        actuation_travel=INCH * 3 / 16,
        circuits=("resistor",),
        weight_per_metre=None if pounds_per_foot is None else pounds_per_foot * PER_FOOT,
    )


def after(feet: float | None, given: Profile | None, **facts: Any) -> Changes:
    told = {name.replace("__", "."): value for name, value in facts.items()}
    return changes(opening_of(told), None if feet is None else feet * FOOT, given)


def levels(found: Changes) -> dict[str, str]:
    return {each.id.removeprefix("takeoff."): each.level for each in found.findings}


def text(found: Changes, name: str) -> str:
    (one,) = (each for each in found.findings if each.id.removeprefix("takeoff.") == name)
    assert one.do is not None
    return render(one.text, READER) + " " + render(one.do, READER)


def test_the_added_weight_is_pounds_per_foot_times_the_body() -> None:
    """0.9 lb/ft × 10 ft 6 in = 9.45 lb."""
    found = after(10.5, profile())
    assert found.added_weight == pytest.approx(9.45 * POUND)
    assert "weighs 9.45 lb" in text(found, "weight")


# PRO-8: pounds added, weight of the leaf in pounds, level, what is to be done.
@pytest.mark.parametrize(
    ("added", "leaf", "level", "word"),
    [
        (5.0, None, "note", "Lift the leaf by hand"),
        (5.001, None, "act", "check the balance"),
        (15.0, None, "act", "check the balance"),
        (15.001, None, "act", "spring change"),
        (4.5, 300, "note", "Lift the leaf by hand"),  # exactly 1.5 %
        (4.6, 300, "act", "check the balance"),
        (4.6, 700, "note", "Lift the leaf by hand"),
        (20.0, 5000, "act", "spring change"),
    ],
)
def test_a_heavier_edge_asks_more_of_the_springs(added: float, leaf: float | None, level: str, word: str) -> None:
    mass = None if leaf is None else f"{leaf} lb"
    found = after(10, profile(added / 10), door__leaf_mass=mass)
    assert levels(found)["weight"] == level
    assert word in text(found, "weight")


def test_of_two_readings_of_the_leafs_weight_the_lighter_counts() -> None:
    twice = [{"value": "290 lb", "from": "told", "by": "owner"}, {"value": "700 lb", "from": "plate"}]
    assert levels(after(10, profile(0.46), door__leaf_mass=twice))["weight"] == "act"


def test_a_fabric_leaf_carries_what_its_maker_lists() -> None:
    found = after(10, profile(0.1), door__kind="high_speed")
    assert levels(found)["weight"] == "act"
    assert "maker" in text(found, "weight")


def test_a_gate_has_no_springs_to_balance() -> None:
    found = after(6, profile(5.0), door__kind="slide_gate")
    assert found.added_weight == pytest.approx(30 * POUND)
    assert levels(found) == {}


def test_without_length_weight_or_profile_nothing_is_made_up() -> None:
    assert after(None, profile()).added_weight is None
    assert after(10, profile(None)).added_weight is None
    assert "not known" in text(after(10, profile(None)), "weight")
    nothing = after(10, None)
    assert (nothing.added_weight, nothing.added_height, nothing.findings) == (None, None, ())


@pytest.mark.parametrize(("old", "more"), [("1 in", 0.75), ("1-3/4 in", 0.0), ("3 in", -1.25)])
def test_the_added_height_is_that_of_the_body_over_the_old_seal(old: str, more: float) -> None:
    assert after(10, profile(), door__bottom__old_height=old).added_height == pytest.approx(more * INCH)


@pytest.mark.parametrize(("old", "said"), [("2-1/4 in", True), ("2-3/16 in", False)])
def test_a_lower_body_must_not_hang_off_the_floor(old: str, said: bool) -> None:
    found = after(10, profile(), door__bottom__old_height=old)
    assert ("lower" in levels(found)) is said
    assert found.added_height is not None
    assert found.added_height < 0


def test_an_old_seal_that_nobody_measured_leaves_the_height_open() -> None:
    found = after(10, profile())
    assert (found.added_height, levels(found)["height"]) == (None, "note")


def test_of_two_readings_of_the_old_seal_the_greater_change_is_told() -> None:
    twice = [{"value": "1/4 in", "from": "told", "by": "owner"}, {"value": "3 in", "from": "photo", "by": "desk"}]
    found = after(10, profile(), door__bottom__old_height=twice)
    assert levels(found)["lower"] == "note"
    assert found.added_height == pytest.approx(1.5 * INCH)  # 1-3/4 - 1/4 in, the greater change


def test_the_window_of_the_cut_out_is_handed_on_with_its_findings() -> None:
    opening = opening_of({"operator.cutout_height": "3 in"})
    near = cutout(opening, compression=INCH / 4, actuation_travel=INCH * 3 / 16, unevenness=0.0)
    found = changes(opening, 3.2, profile(), near)
    assert (found.window, found.window_strict, found.sentence) == (near.window, near.window_strict, near.sentence)
    assert levels(found)["cutout"] == "act"
    assert changes(opening, 3.2, profile()).window is None


@pytest.mark.parametrize("kind", ["sectional", "rolling", "one_piece", "rolling_fire"])
def test_every_finding_says_where_and_what_to_do(kind: str) -> None:
    found = after(20, profile(2.0, 4 * INCH), door__kind=kind, door__bottom__old_height="1 in")
    for each in found.findings:
        assert each.place == "bottom"
        assert each.do is not None
        assert "{" not in render(each.text, READER) + render(each.do, READER)
