"""The reversal cut-out: where it may be set on an uneven floor, and what that shows an owner.

HOOK-7 (trade rules of thumb, from memory): c 1/4 in, a 3/16 in, m 1/8 in. The rule's own worked numbers keep the
margin below alone; here it is kept on both sides, so that every upper end is 1/8 in lower.
"""

from __future__ import annotations

from math import nan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import Reader, in_words, render
from sillwright.catalogue.profile import Profile
from sillwright.takeoff.floors.cutout import CutOut, cutout, cutout_of, cutout_window, has_window
from sillwright.takeoff.floors.floor_table import number, source
from tests.verification import Verify

from ..survey.building import opening_of
from .floors import INCH

BOARD, OBJECT = 1.5, 1.0
TRAVEL = {"actuation_travel": 3 / 16 * INCH}
EDGE = {"compression": 1 / 4 * INCH, **TRAVEL}


def window(unevenness: float, height: float) -> tuple[float, float] | None:
    found = cutout_window(unevenness=unevenness * INCH, height=height * INCH, **EDGE)
    return None if found is None else (found[0] / INCH, found[1] / INCH)


@pytest.mark.parametrize(
    ("unevenness", "height", "printed"),
    [
        pytest.param(0, BOARD, 1 + 9 / 16, id="even, board"),
        pytest.param(0, OBJECT, 1 + 1 / 16, id="even, one-inch object"),
        pytest.param(5 / 8, BOARD, 15 / 16, id="5/8 in, board"),
        pytest.param(5 / 8, OBJECT, 7 / 16, id="5/8 in, one-inch object"),
    ],
)
def test_the_worked_windows(verify: Verify, unevenness: float, height: float, printed: float) -> None:
    low, high = window(unevenness, height) or (nan, nan)
    text = f"U {unevenness} in, object {height} in"
    rule = "HOOK-7, trade rules of thumb, from memory"
    verify(f"window from, {text}", got=low, expected=3 / 16, within=1e-12, source=rule)
    verify(f"window to, margin given back, {text}", got=high + 1 / 8, expected=printed, within=1e-12, source=rule)


@pytest.mark.parametrize(("height", "last"), [(BOARD, 1 + 1 / 4), (OBJECT, 3 / 4)])
def test_there_is_a_window_only_below_the_object_less_both_margins(height: float, last: float) -> None:
    assert window(last - 1e-5, height) is not None
    assert window(last, height) is None
    assert window(last + 1e-5, height) is None
    assert has_window((last - 1e-5) * INCH, height * INCH)
    assert not has_window(last * INCH, height * INCH)


def test_the_heights_of_the_objects_are_those_of_the_rule(verify: Verify) -> None:
    verify(
        "board laid flat, m",
        got=number("board"),
        expected=0.0381,
        within=0,
        source="16 CFR 1211.16(b), second-hand",
    )
    verify(
        "object of the type test, m",
        got=number("object"),
        expected=0.0254,
        within=0,
        source="16 CFR 1211.7(b), read",
    )
    assert (source("board").sure, source("object").sure) == ("second-hand", "read")


@given(st.floats(0, 2), st.floats(0, 1), st.floats(0.01, 1), st.floats(0, 4))
def test_a_window_is_never_upside_down_or_below_the_floor(
    unevenness: float, pressed: float, answer: float, height: float
) -> None:
    found = cutout_window(
        compression=pressed * INCH,
        actuation_travel=answer * INCH,
        unevenness=unevenness * INCH,
        height=height * INCH,
    )
    if found is not None:
        assert 0 <= found[0] < found[1]
        assert has_window(unevenness * INCH, height * INCH)


@given(st.floats(0, 1.2), st.floats(0, 1.2))
def test_an_uneven_floor_only_takes_room_away(one: float, other: float) -> None:
    less, more = sorted((one, other))
    (low, high), (still, less_high) = (window(each, BOARD) or (nan, nan) for each in (less, more))
    assert low == still
    assert less_high <= high


def at(set_at: object = None, unevenness: float | None = 0.0, **given: Any) -> CutOut:
    facts = {} if set_at is None else {"operator.cutout_height": set_at}
    edge: dict[str, Any] = {**EDGE, **given}
    uneven = None if unevenness is None else unevenness * INCH
    return cutout(opening_of(facts), unevenness=uneven, **edge)


@pytest.mark.parametrize(
    ("set_at", "unevenness", "setting", "level"),
    [
        pytest.param("1/8 in", 0, "too low", "act", id="turns back from its own floor"),
        pytest.param("3/16 in", 0, "inside", None, id="exactly the lower end"),
        pytest.param("15/16 in", 0, "inside", None, id="exactly the upper end for one inch"),
        pytest.param("1 in", 0, "board only", "note", id="serves for the board alone"),
        pytest.param("1-7/16 in", 0, "board only", "note", id="exactly the upper end for the board"),
        pytest.param("1-1/2 in", 0, "too high", "act", id="does not notice the board"),
        pytest.param("1 in", 5 / 8, "too high", "act", id="the same height on an uneven floor"),
        pytest.param("3/8 in", 1, "board only", "note", id="no height serves for one inch there"),
        pytest.param("1/2 in", 1.25, "no window", "act", id="the floor comes first"),
        pytest.param(None, 1.25, "no window", "act", id="the floor comes first, whatever it is set to"),
        pytest.param(None, 0, "not known", "note", id="not known"),
    ],
)
def test_where_the_cut_out_is_set(set_at: object, unevenness: float, setting: str, level: str | None) -> None:
    found = at(set_at, unevenness)
    assert found.setting == setting
    assert [each.level for each in found.findings] == ([level] if level else [])
    for each in found.findings:
        assert "{" not in " ".join(render(part, Reader()) for part in (each.text, each.why, each.do) if part)
        assert each.sources


def test_an_assumed_height_is_not_known() -> None:
    assert at({"value": "1/2 in", "from": "assumed"}).setting == "not known"


@pytest.mark.parametrize("given", [{"actuation_travel": None}, {"unevenness": None}])
def test_without_floor_or_profile_there_is_no_window_to_speak_of(given: dict[str, Any]) -> None:
    found = at("1 in", **given)
    assert (found.window, found.window_strict, found.setting, found.sentence) == (None, None, "not known", None)
    assert found.findings == ()


@pytest.mark.parametrize(
    ("set_at", "unevenness", "too_high"),
    [("1-5/8 in", None, False), ("1-11/16 in", None, True), ("2 m", None, True), ("1-1/8 in", 5 / 8, True)],
)
def test_a_cut_out_above_the_window_of_every_edge_is_too_high(
    set_at: str, unevenness: float | None, too_high: bool
) -> None:
    # board 1-1/2 in + greatest compression 1/4 in - margin 1/8 in - U, an edge that answers without any travel
    found = at(set_at, unevenness, actuation_travel=None)
    assert found.setting == ("too high" if too_high else "not known")
    assert [each.level for each in found.findings] == (["act"] if too_high else [])
    for each in found.findings:
        assert "{" not in render(each.text, Reader()) + render(each.do or each.text, Reader())


def test_the_sentence_shows_an_owner_what_the_floor_costs() -> None:
    said = in_words(at(unevenness=5 / 8).sentence, Reader())
    assert "between 3/16 in and 13/16 in" in said
    assert "an even floor would give 1-1/4 in, and 5/8 in of it goes into the floor" in said
    assert "That is 5/8 in of room" in said
    assert "goes into the floor" not in in_words(at(unevenness=0).sentence, Reader())
    assert "The floor comes first" in in_words(at(unevenness=2).sentence, Reader())


def test_a_profile_is_pressed_as_the_limit_is_set_for_its_floor() -> None:
    profile = Profile(
        name="common",
        construction="factory_sealed",
        height=1.75 * INCH,
        circuits=("resistor",),
        actuation_travel=TRAVEL["actuation_travel"],
    )
    for unevenness, pressed in ((0, 1 / 16), (1 / 16, 1 / 8), (5 / 8, 1 / 4)):
        found = cutout_of(opening_of({}), unevenness * INCH, profile)
        given = {"compression": pressed * INCH, "unevenness": unevenness * INCH, **TRAVEL}
        expected = cutout_window(**given, height=BOARD * INCH)
        assert found.window == pytest.approx(expected)
    assert cutout_of(opening_of({}), 0.0, None).setting == "not known"
    assert cutout_of(opening_of({}), None, profile).setting == "not known"


@pytest.mark.parametrize(("unevenness", "setting"), [(1.25, "no window"), (2, "no window"), (1.2, "not known")])
def test_a_floor_too_uneven_for_any_cut_out_is_told_before_a_profile_is_chosen(
    unevenness: float, setting: str
) -> None:
    found = cutout_of(opening_of({}), unevenness * INCH, None)
    assert (found.setting, found.window) == (setting, None)
    assert [(each.level, each.place) for each in found.findings] == (
        [("act", "floor")] if setting == "no window" else []
    )
