"""Which channel: room to get the body in, the state of the slot, the catalogue, and how a rigid one is cut."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import inf, nan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader, render
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel
from sillwright.catalogue.profile import Price
from sillwright.takeoff.answer import ChannelAdvice
from sillwright.takeoff.channels.channel import channel, room
from sillwright.takeoff.channels.rail import rail_pieces
from tests.survey.building import opening_of

INCH = 0.0254
GAP = INCH / 8
READER = Reader()
SOUND = {"door.bottom.channel": "t_slot", "door.bottom.condition": "good"}
WIDE = {"door.side_room.left": "10 in", "door.side_room.right": "4 ft"}
NARROW = {"door.side_room.left": "10 in", "door.side_room.right": "20 in"}
NONE = {"door.side_room.left": "10 in", "door.side_room.right": "11 in"}


def catalogue(*channels: Channel) -> Catalogue:
    return Catalogue(
        format="sillwright-catalogue/1",
        name="Invented for tests",
        currency="USD",
        priced_on="2026-01-05",
        channels=channels,
    )


def advice(
    facts: dict[str, Any], length: float | None = 3.2, parts: Catalogue | None = None, **more: Any
) -> ChannelAdvice:
    return channel(opening_of(facts), length, parts, **more)


def names(found: ChannelAdvice) -> set[str]:
    return {each.id.removeprefix("takeoff.") for each in found.findings}


# Side room at working height, the wider side decides: left, right, what is done. Rules of the trade, from memory.
@pytest.mark.parametrize(
    ("left", "right", "kind"),
    [
        ("3 ft", "0 in", "existing"),
        ("0 in", "36 in", "existing"),
        ("35 in", "0 in", "existing"),
        ("12 in", "0 in", "existing"),
        ("11-3/4 in", "0 in", "face_fixed"),
        ("0 in", "0 in", "face_fixed"),
        ("35 in", None, "ask"),
        (None, None, "ask"),
        (None, "4 ft", "existing"),
    ],
)
def test_the_room_beside_the_opening_decides(left: str | None, right: str | None, kind: str) -> None:
    found = advice({**SOUND, "door.side_room.left": left, "door.side_room.right": right})
    assert found.kind == kind


@pytest.mark.parametrize(
    ("wider", "space"), [("36 in", "slide"), ("35-3/4 in", "bend"), ("12 in", "bend"), ("11-3/4 in", "none")]
)
def test_the_wider_side_tells_how_a_body_gets_in(wider: str, space: str) -> None:
    for sides in (("2 in", wider), (wider, "2 in")):
        left, right = sides
        assert room(opening_of({"door.side_room.left": left, "door.side_room.right": right})) == space


def test_where_room_is_little_it_is_said_that_the_bottom_panel_stays_on() -> None:
    """Its brackets and cables hold the spring. Where there is room nothing is said."""
    assert names(advice({**SOUND, **WIDE})) == set()
    for sides in (NARROW, NONE):
        found = advice({**SOUND, **sides})
        assert "channel_room" in names(found)
        assert "spring" in render(found.findings[0].do, READER)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("height", "kind"), [(2.5 * INCH, "existing"), (2.5 * INCH + 1e-4, "face_fixed"), (None, "existing")]
)
def test_a_tall_body_is_not_bent_in(height: float | None, kind: str) -> None:
    found = advice({**SOUND, **NARROW}, body_height=height)
    assert found.kind == kind
    assert advice({**SOUND, **WIDE}, body_height=0.1).kind == "existing"


def test_on_the_cold_side_of_a_freezer_nothing_is_bent_in() -> None:
    """40 degF itself is not below."""
    assert advice({**SOUND, **NARROW, "surroundings.cold_side": "40 degF"}).kind == "existing"
    assert advice({**SOUND, **NARROW, "surroundings.cold_side": "39 degF"}).kind == "face_fixed"


def test_a_place_that_gets_cold_is_fitted_on_a_warmer_day() -> None:
    cold, mild = (advice({**SOUND, **NARROW}, coldest=each) for each in (250.0, 290.0))
    assert "channel_cold" in names(cold)
    assert "channel_cold" not in names(mild)
    assert "channel_cold" not in names(advice({**SOUND, **WIDE}, coldest=250.0))


@pytest.mark.parametrize("condition", ["rusted", "Crushed on the left", "loose", "bent", "unknown make"])
def test_a_spent_slot_takes_a_new_channel(condition: str) -> None:
    found = advice({**SOUND, **WIDE, "door.bottom.condition": condition})
    assert found.kind == "slide_in"
    assert condition in render(found.why, READER)


@pytest.mark.parametrize("make", ["unknown", "?", {"value": None, "from": "measured"}])
def test_a_slot_of_no_known_make_takes_a_new_channel(make: Any) -> None:
    assert advice({**WIDE, "door.bottom.channel": make, "door.bottom.condition": "good"}).kind == "slide_in"


def test_a_slot_of_no_known_make_is_not_called_spent_by_a_word_of_praise() -> None:
    found = advice({**WIDE, "door.bottom.channel": "unknown make", "door.bottom.condition": "good"})
    assert render(found.why, READER).startswith("There is no slot of a known make")


@pytest.mark.parametrize("slot", [{}, SOUND, {"door.bottom.condition": "rusted"}])
def test_without_room_the_channel_goes_on_with_the_body_in_it_whatever_the_slot_is_like(
    slot: dict[str, Any],
) -> None:
    assert advice({**NONE, **slot}).kind == "face_fixed"


@pytest.mark.parametrize(
    "facts",
    [
        {},
        {"door.bottom.channel": "t_slot"},
        {"door.bottom.condition": "good"},
        {**SOUND, "door.bottom.condition": "hm"},
    ],
)
def test_a_slot_that_nobody_called_sound_is_asked_about(facts: dict[str, Any]) -> None:
    assert advice({**WIDE, **facts}).kind == "ask"


def test_of_two_words_on_the_slot_the_worse_counts() -> None:
    twice = [{"value": "good", "from": "told", "by": "owner"}, {"value": "rusted", "from": "photo", "by": "desk"}]
    assert advice({**WIDE, "door.bottom.channel": "t_slot", "door.bottom.condition": twice}).kind == "slide_in"


@pytest.mark.parametrize(
    ("kind", "advised"),
    [("slide_gate", "face_fixed"), ("swing_gate", "face_fixed"), ("high_speed", "ask"), ("rolling_fire", "ask"),
     ("one_piece", "existing"), ("grille", "existing")],
)  # fmt: skip
def test_kinds_of_leaves_have_their_own_way(kind: str, advised: str) -> None:
    found = advice({**SOUND, **WIDE, "door.kind": kind})
    assert found.kind == advised
    assert render(found.why, READER)


FACE = Channel(
    name="Face", fixing="face_fixed", seat=2 * INCH, stock=(3.048, 3.6576), pieceable=True, price=Price(per_metre=9)
)
CHEAP = Channel(
    name="Cheap", fixing="face_fixed", seat=1.5 * INCH, stock=(2.0,), pieceable=True, price=Price(per_metre=5)
)
WHOLE = Channel(name="Whole", fixing="face_fixed", stock=(3.048,), price=Price(per_metre=1))
TWO = Channel(name="Two parts", fixing="two_part", pieceable=True)
SEAT = {"door.bottom.seat_width": "1-1/2 in"}


def test_the_cheapest_channel_that_sits_is_named() -> None:
    wide = {"door.bottom.seat_width": "2 in"}
    assert advice({**SOUND, **NONE, **wide}, parts=catalogue(FACE, CHEAP)).part == "Cheap"
    assert advice({**SOUND, **NONE, **SEAT}, parts=catalogue(FACE, CHEAP)).part == "Cheap"
    assert advice({**SOUND, **NONE, **SEAT}, parts=catalogue(FACE)).part is None
    assert advice({**SOUND, **NONE, **wide}, parts=catalogue(FACE)).part == "Face"


def test_a_seat_that_nobody_measured_holds_no_channel() -> None:
    found = advice({**SOUND, **NONE}, parts=catalogue(FACE))
    assert (found.part, "channel_part" in names(found)) == (None, True)


def test_where_none_is_screwed_on_with_its_body_one_of_two_parts_is_told() -> None:
    assert advice({**SOUND, **NONE, **SEAT}, parts=catalogue(TWO)).kind == "two_part"
    assert advice({**SOUND, **NONE, **SEAT}, parts=catalogue(TWO, CHEAP)).kind == "face_fixed"


def test_a_channel_that_may_not_be_pieced_is_too_short_for_a_long_run() -> None:
    """10 ft 6 in out of 10 ft."""
    found = advice({**SOUND, **NONE}, 3.2004, catalogue(WHOLE))
    assert (found.part, found.pieces, "channel_length" in names(found)) == ("Whole", (), True)
    fits = advice({**SOUND, **NONE}, 3.048, catalogue(WHOLE))
    assert (fits.pieces, "channel_length" in names(fits)) == ((3.048,), False)


def inches(pieces: Sequence[float]) -> list[float]:
    return [round(each / INCH, 6) for each in pieces]


def test_the_longest_stock_of_the_catalogue_cuts_the_run() -> None:
    found = advice({**SOUND, **NONE, "door.bottom.seat_width": "2 in"}, 144 * INCH, catalogue(FACE))
    assert inches(found.pieces) == [144.0]


# LEN-17: run and longest piece in inches, pieces of the answer; n pieces with n - 1 gaps of 1/8 in, down to 1/4 in.
@pytest.mark.parametrize(
    ("run", "longest", "expected"),
    [
        (120, 120, [120.0]),
        (120.125, 120, [60.0, 60.0]),  # 120-1/8 - 1/8 = 120
        (126, 120, [62.75, 62.75]),  # 125-7/8 in half, 62-15/16
        (240.125, 120, [120.0, 120.0]),
        (240.25, 120, [80.0, 80.0, 80.0]),  # 240
        (242, 120, [80.5, 80.5, 80.5]),  # 241-3/4 in three, 80-7/12
        (63.3, 120, [63.3]),
    ],
)
def test_a_long_channel_is_cut_into_equal_pieces(run: float, longest: float, expected: list[float]) -> None:
    assert inches(rail_pieces(run * INCH, longest * INCH, GAP)) == expected


def test_without_a_length_or_with_a_sound_slot_nothing_is_cut() -> None:
    assert advice({**SOUND, **NONE}, None).pieces == ()
    assert advice({**SOUND, **WIDE}, 3.2).pieces == ()
    assert advice({**SOUND, **NONE}, nan).pieces == ()


@pytest.mark.parametrize(
    ("run", "longest"), [(0.0, 3.0), (-1.0, 3.0), (nan, 3.0), (inf, 3.0), (3.0, 0.0), (3.0, nan)]
)
def test_what_cannot_be_cut_is_refused(run: float, longest: float) -> None:
    with pytest.raises(OutOfRange, match="not a length above zero"):
        rail_pieces(run, longest, GAP)


@given(st.integers(1, 4 * 60 * 12), st.integers(40, 4 * 20 * 12))
def test_the_pieces_fit_the_run_and_the_stock_and_one_fewer_would_not(quarters: int, longest: int) -> None:
    quarter = Fraction(127, 20000)
    run, most, gap = quarters * quarter, longest * quarter, Fraction(127, 40000)
    pieces = [Fraction(each).limit_denominator(10**9) for each in rail_pieces(float(run), float(most), GAP)]
    count = len(pieces)
    taken = sum(pieces) + (count - 1) * gap
    assert max(pieces) <= most
    assert taken <= run
    assert run - taken < count * quarter
    assert count == 1 or (count - 1) * most + (count - 2) * gap < run


def test_a_text_with_markup_is_only_text() -> None:
    found = advice({**WIDE, "door.bottom.channel": "t_slot", "door.bottom.condition": "<b>rust</b> {x}"})
    assert "<b>rust</b> {x}" in render(found.why, READER)
