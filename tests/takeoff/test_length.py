"""Lengths of edges: the trade's worked cases, the quarter inch below, pieces, dead strips and what is missing.

Expected numbers are the trade's worked examples, from memory; those beside them follow by hand from the same rules,
with the arithmetic in the comment. Everything is written in inches here.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.calculation import as_json, load
from sillwright.base.case_reading import read_case
from sillwright.base.errors import DocumentError, OutOfRange
from sillwright.base.node import parse
from sillwright.base.scale import INCH
from sillwright.base.words import Reader, retold
from sillwright.takeoff import LengthCase, LengthResult, length
from sillwright.takeoff.lengths.length_model import EdgeLengths
from sillwright.takeoff.lengths.measures import down

METRIC = Reader(units="metric")
WORDS = {"kind", "guide_condition", "meets", "lead_end", "construction", "ships", "order_word", "post_count"}


def inches(metres: float | None) -> float | None:
    return None if metres is None else round(metres / 0.0254, 6)


def case(kind: str, **measures: Any) -> LengthCase:
    """A case in inches, with dead ends of 1-1/2 in unless it says otherwise."""
    told = {"dead_end_lead": 1.5, "dead_end_far": 1.5, **measures}
    plain = {
        name: value if name in WORDS or value is None or isinstance(value, bool) else float(Fraction(value) * INCH)
        for name, value in told.items()
    }
    return LengthCase(kind=kind, **plain)  # type: ignore[arg-type]


def of(kind: str, **measures: Any) -> LengthResult:
    return length(case(kind, **measures))


def first(kind: str, **measures: Any) -> EdgeLengths:
    return of(kind, **measures).bodies[0]


def placed(found: LengthResult, place: str) -> EdgeLengths | None:
    return next((each for each in found.bodies if each.place == place), None)


# Worked cases SE-1 … OP-1 of the trade: measures, body, channel, dead strip, verdict.
WORKED = [
    pytest.param("sectional", {"panel_width": 126, "clear_width": 124}, 126, 126, 0.5, "within", id="SE-1"),
    pytest.param(
        "sectional",
        {"panel_width": 126, "clear_width": 124, "bracket_left": 1.5, "bracket_right": 1.5},
        126, 123, 0.5, "within", id="SE-2",
    ),
    pytest.param(
        "sectional",
        {"panel_width": 144, "clear_width": 144, "dead_end_lead": 2, "dead_end_far": 2},
        144, 144, 2, "just met", id="SE-3 on the boundary",
    ),
    pytest.param(
        "rolling",
        {"guide_clear_floor": 144.5, "clear_width": 144, "guide_condition": "looked_at"},
        143.75, 143.75, 1.625, "note", id="RO-1",
    ),
    pytest.param(
        "rolling",
        {"guide_clear_floor": 168, "clear_width": 168, "guide_condition": "looked_at"},
        167.25, 167.25, 1.875, "note", id="RO-2",
    ),
    pytest.param(
        "rolling",
        {"guide_clear_floor": 168, "clear_width": 168, "guide_condition": "looked_at",
         "dead_end_lead": 2, "dead_end_far": 2},
        167.25, 167.25, 2.375, "act", id="RO-3",
    ),
    pytest.param(
        "rolling",
        {"guide_clear_floor": 233, "clear_width": 233, "guide_condition": "looked_at"},
        232.25, 232.25, 1.875, "note", id="RO-4 between jambs",
    ),
    pytest.param(
        "rolling",
        {"guide_clear_floor": 164, "guide_clear_chest": 163.25, "guide_clear_head": 164, "clear_width": 162},
        162.25, 162.25, 1.375, "within", id="RO-5 bent guide",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "measures", "body", "channel", "strip", "verdict"), WORKED)
def test_the_trades_worked_cases(kind, measures, body, channel, strip, verdict):
    found = first(kind, **measures)
    assert (inches(found.body_length), inches(found.channel_length)) == (body, channel)
    assert (inches(found.dead_left), inches(found.dead_right)) == (strip, strip)
    assert (found.verdict_left, found.verdict_right) == (verdict, verdict)


def test_sg_1_a_slide_gates_leading_edge_from_an_inch_above_its_underside_to_72_inches():
    edge = first("slide_gate", underside=2, leaf_top=84)
    assert (edge.place, edge.rule, inches(edge.body_length)) == ("leading", "LEN-9", 69)
    assert (inches(edge.starts_at), inches(edge.ends_at)) == (3, 72)


def test_sw_1_a_swing_gates_underside_and_tip():
    found = of("swing_gate", leaf_length=96, leaf_height=60, underside=8)
    told = {each.place: inches(each.body_length) for each in found.bodies}
    assert told == {"tip": 58, "underside": 88}


def test_op_1_three_pieces_where_two_would_be_too_long():
    found = first("one_piece", leaf_width=582, meets="overlaps")
    assert (found.piece_count, inches(found.piece_length)) == (3, 193.75)
    two = down((found.body_length - 0.125 * 0.0254) / 2)
    assert inches(two) == 290.75  # 24 ft 2-3/4 in


def test_worked_lengths_against_the_trades_table(verify):
    """The bodies of the eleven worked cases, against the printed table."""
    printed = {
        "SE-1": (first("sectional", panel_width=126), 3.2004),
        "RO-1": (first("rolling", guide_clear_floor=144.5, guide_condition="looked_at"), 3.65125),
        "RO-2": (first("rolling", guide_clear_floor=168, guide_condition="looked_at"), 4.24815),
        "RO-4": (first("rolling", guide_clear_floor=233, guide_condition="looked_at"), 5.89915),
        "SG-1": (first("slide_gate", underside=2, leaf_top=84), 1.7526),
    }
    for name, (found, metres) in printed.items():
        verify(
            f"body length of {name}",
            got=found.body_length or 0.0,
            expected=metres,
            within=1e-12,
            source="trade's worked examples of lengths, from memory",
        )


# Clearance by the clear, on and beside 12 ft and 20 ft.
@pytest.mark.parametrize(
    ("clear", "each_side"),
    [(144, 0.25), ("2305/16", 0.375), (240, 0.375), ("3841/16", 0.5), (20, 0.25), (480, 0.5)],
)
def test_the_clearance_steps_at_12_and_20_feet(clear, each_side):
    found = first("rolling", guide_clear_floor=clear, guide_condition="looked_at")
    assert inches(found.clearance) == each_side


@pytest.mark.parametrize("condition", ["bent", "wind_locks", "not_looked_at"])
def test_guides_bent_locked_or_not_looked_at_take_an_eighth_more_on_each_side(condition):
    found = first("grille", guide_clear_floor=100, guide_condition=condition)
    assert (inches(found.clearance), inches(found.body_length)) == (0.375, 99.25)


@pytest.mark.parametrize(
    ("chest", "each_side"), [(100, 0.25), ("799/8", 0.25), ("797/8", 0.25), ("1593/16", 0.375)]
)
def test_three_heights_within_three_eighths_count_as_looked_at(chest, each_side):
    """100, 99-7/8, 99-5/8 in are within 3/8 in of 100; 99-9/16 in is not."""
    found = first("rolling", guide_clear_floor=100, guide_clear_chest=chest, guide_clear_head=100)
    assert inches(found.clearance) == each_side


def test_two_heights_alone_do_not_count_as_looked_at():
    assert inches(first("rolling", guide_clear_floor=100, guide_clear_head=100).clearance) == 0.375


def test_the_smallest_height_decides_wherever_it_is():
    for name in ("guide_clear_floor", "guide_clear_chest", "guide_clear_head"):
        clear = dict.fromkeys(("guide_clear_floor", "guide_clear_chest", "guide_clear_head"), 100.25)
        assert inches(first("rolling", **{**clear, name: 100}).body_length) == 99.5


def test_the_flat_seat_decides_where_it_is_shorter_than_the_guides_allow():
    found = of("rolling", guide_clear_floor=100, guide_condition="looked_at", seat_length=98)
    assert inches(found.body_length) == 98
    assert any("8 ft 2 in, decides" in note for note in found.notes)
    longer = of("rolling", guide_clear_floor=100, guide_condition="looked_at", seat_length=120)
    assert inches(longer.body_length) == 99.5


def test_bigger_plugs_shorten_the_channel_by_half_an_inch():
    found = first("rolling", guide_clear_floor=100, guide_condition="looked_at", plugs_bigger=True)
    assert (inches(found.body_length), inches(found.channel_length)) == (99.5, 99)


# down: on the quarter, a hair above and below it, and the quarters that binary cannot hold.
@pytest.mark.parametrize("quarters", [1, 3, 7, 401, 504, 575, 999, 2329, 4799])
def test_a_length_that_is_a_quarter_keeps_it(quarters):
    exact = float(quarters * INCH / 4)
    assert down(exact) == exact
    assert down(exact + 3e-10) == exact
    assert down(exact - 3e-10) == exact  # round-off of a sum
    assert down(exact - 1e-6) == float((quarters - 1) * INCH / 4)


@given(st.integers(1, 40_000), st.integers(1, 4_000))
def test_sums_of_sixteenths_round_down_as_fractions_do(clear, brackets):
    """What binary floats of sixteenths give equals the same sum in exact fractions."""
    panel, left = Fraction(clear, 16), Fraction(brackets, 16)
    got = down(float(panel * INCH) - float(left * INCH) - float(left * INCH))
    exact = (panel - 2 * left) * 4 // 1
    assert got == float(Fraction(exact, 4) * INCH)


@given(st.floats(0.3, 60.0))
def test_a_body_is_never_longer_than_the_panel_and_at_most_a_quarter_shorter(panel):
    body = length(LengthCase(kind="sectional", panel_width=panel)).body_length
    assert body is not None
    assert panel - 0.00635 - 1e-8 < body <= panel + 1e-9


@given(st.integers(8, 960), st.integers(8, 960))
def test_a_wider_clear_never_gives_a_shorter_body_on_one_side_of_a_step(one, other):
    """Inside one band of clearance the body grows with the clear."""
    low, high = sorted((one, other))
    if not any(low <= step * 12 < high for step in (12, 20)):
        bodies = [first("rolling", guide_clear_floor=each).body_length or 0.0 for each in (low, high)]
        assert bodies[0] <= bodies[1]


@given(st.floats(0.2, 59.0), st.floats(0.1, 30.0))
def test_pieces_with_their_joints_fill_the_body_and_none_is_too_long(width, limit):
    found = length(LengthCase(kind="one_piece", leaf_width=width, meets="overlaps", piece_limit=limit)).bodies[0]
    assert found.piece_length is not None
    assert found.body_length is not None
    laid = found.piece_count * found.piece_length + (found.piece_count - 1) * 0.003175
    assert found.piece_length <= limit + 1e-9
    assert laid <= found.body_length + 1e-9
    assert found.body_length - laid < found.piece_count * 0.00635 + 1e-9


@pytest.mark.parametrize(("width", "pieces"), [(288, 1), (288.25, 2), (576, 2), (576.25, 3), (12, 1)])
def test_the_number_of_pieces_on_both_sides_of_the_longest(width, pieces):
    assert first("one_piece", leaf_width=width, meets="overlaps").piece_count == pieces


def test_straight_shipment_allows_16_feet_and_a_told_limit_counts_before_it():
    told = {"leaf_width": 240, "meets": "overlaps"}
    assert first("one_piece", **told).piece_count == 1
    assert first("one_piece", **told, ships="straight").piece_count == 2
    assert first("one_piece", **told, ships="straight", piece_limit=240).piece_count == 1


def test_a_joint_leaves_both_dead_ends_and_the_gap():
    assert inches(first("one_piece", leaf_width=582, meets="overlaps").joint_dead) == 3.125
    short = of("one_piece", leaf_width=582, meets="overlaps", dead_end_lead=0.5, dead_end_far=0.5)
    assert inches(short.bodies[0].joint_dead) == 1.125
    assert not any("Each joint" in note for note in short.notes)
    assert first("one_piece", leaf_width=282, meets="overlaps").joint_dead is None


# Dead strips: e 1-1/2 in, panel 126 in.
@pytest.mark.parametrize(
    ("width", "strip", "verdict"),
    [
        (126, 1.5, "within"),
        (126.125, 1.5625, "note"),
        (127, 2, "just met"),
        (127.125, 2.0625, "act"),
        (120, 0, "within"),
    ],
)
def test_the_strip_at_its_boundaries(width, strip, verdict):
    found = first("sectional", panel_width=126, clear_width=width)
    assert (inches(found.dead_left), found.verdict_left) == (strip, verdict)


def test_a_body_off_centre_leaves_more_on_one_side_and_less_on_the_other():
    found = first("sectional", panel_width=126, clear_width=126, shift=0.5)
    assert (inches(found.dead_left), inches(found.dead_right)) == (2, 1)
    other = first("sectional", panel_width=126, clear_width=126, shift=-0.5)
    assert (inches(other.dead_left), inches(other.dead_right)) == (1, 2)


@pytest.mark.parametrize(
    ("end", "left", "right"), [("left", 2, 0.5), ("right", 0.5, 2), ("both", 2, 2), (None, 2, 2)]
)
def test_the_dead_end_at_the_lead_lies_on_the_leads_side(end, left, right):
    found = first("sectional", panel_width=126, clear_width=126, dead_end_lead=2, dead_end_far=0.5, lead_end=end)
    assert (inches(found.dead_left), inches(found.dead_right)) == (left, right)


def test_an_unknown_dead_end_counts_as_two_inches_and_says_so():
    found = of("sectional", panel_width=126, clear_width=126, dead_end_lead=None, dead_end_far=None)
    assert inches(found.dead_left) == 2
    assert any("data sheet decides" in said for said in found.assumptions)
    known = of("sectional", panel_width=126, clear_width=126)
    assert not any("data sheet" in said for said in known.assumptions)


def test_body_sensing_and_order_length_are_three_numbers():
    told = {"panel_width": 126, "dead_end_lead": 2, "dead_end_far": 1}
    body, sensing = (first("sectional", **told, order_word=word) for word in ("body", "sensing"))
    assert (inches(body.order_length), body.order_word) == (126, "body")
    assert (inches(sensing.order_length), sensing.order_word) == (123, "sensing")
    assert inches(body.sensing_length) == 123


def test_each_piece_has_its_own_dead_ends():
    """Three pieces of 193-3/4 in, each without 3 in."""
    assert inches(first("one_piece", leaf_width=582, meets="overlaps").sensing_length) == 3 * 190.75


def test_cut_on_site_buys_an_inch_for_each_piece_and_two_percent():
    one = first("sectional", panel_width=126, construction="cut_on_site")
    assert inches(one.purchase_length) == pytest.approx(127 * 1.02)
    assert (one.plugs, one.leads, one.end_elements) == (2, 1, 1)
    three = first("one_piece", leaf_width=582, meets="overlaps", construction="cut_on_site")
    assert inches(three.purchase_length) == pytest.approx(585 * 1.02)
    assert (three.plugs, three.leads, three.end_elements) == (6, 3, 1)  # in series: the last far end only
    assert first("sectional", panel_width=126).purchase_length is None


def test_a_bracket_below_the_channel_ends_the_body_with_it():
    told = {"panel_width": 126, "bracket_left": 1.5, "bracket_right": 1}
    assert inches(first("sectional", **told).body_length) == 126
    below = first("sectional", **told, bracket_below_channel=True)
    assert (inches(below.body_length), inches(below.channel_length)) == (123.5, 123.5)


@pytest.mark.parametrize(
    ("measures", "body"),
    [
        ({"meets": "overlaps", "leaf_width": 200.3}, 200.25),
        ({"meets": "between_jambs", "clear_width": 200}, 199),
        ({"meets": "between_jambs", "clear_width": 200, "leaf_width": 199.5}, 199),
        ({"meets": "between_jambs", "clear_width": 200, "leaf_width": 196}, 196),
        ({"leaf_width": 201, "clear_width": 200}, 201),
        ({"leaf_width": 199, "clear_width": 200}, 199),
        ({"leaf_width": 200, "clear_width": 200}, None),
        ({"leaf_width": 200}, None),
        ({"meets": "overlaps", "clear_width": 200}, None),
    ],
)
def test_a_one_piece_leaf_overlaps_or_closes_between_its_jambs(measures, body):
    found = first("one_piece", **measures)
    assert inches(found.body_length) == body
    assert bool(found.missing) == (body is None or "meets" not in measures)


def test_a_fire_doors_length_is_for_information():
    found = of("rolling_fire", guide_clear_floor=100, guide_condition="looked_at")
    assert (inches(found.body_length), found.bodies[0].rule, found.bodies[0].informs_only) == (99.5, "LEN-6", True)
    assert any("through the door's maker" in note for note in found.notes)


def test_a_fabric_door_has_no_length_and_its_pocket_is_a_check():
    found = first("high_speed", seat_length=120, clear_width=118)
    assert (found.body_length, found.order_length, found.missing) == (None, None, ("serial",))
    assert (inches(found.pocket_least), inches(found.pocket_most)) == (118, 119)
    assert first("high_speed").pocket_most is None


@pytest.mark.parametrize(("underside", "starts"), [(0, 2), (0.5, 2), (1, 2), (1.25, 2.25), (6, 7)])
def test_an_upright_body_begins_an_inch_above_the_leaf_and_two_above_grade(underside, starts):
    assert inches(first("slide_gate", underside=underside, leaf_top=84).starts_at) == starts


@pytest.mark.parametrize(("top", "ends"), [(60, 60), (72, 72), (72.25, 72), (120, 72)])
def test_an_upright_body_ends_with_the_leaf_or_at_72_inches(top, ends):
    assert inches(first("slide_gate", underside=2, leaf_top=top).ends_at) == ends


def test_the_top_of_a_gate_is_its_height_on_its_gap_where_nobody_measured_it():
    assert inches(first("slide_gate", underside=2, leaf_height=48).body_length) == 47  # 3 to 50 in


def test_posts_carry_a_body_on_both_faces_and_begin_two_to_four_inches_above_grade():
    found = placed(of("slide_gate", underside=2, leaf_top=84, post_count=2), "post")
    assert found is not None
    assert (found.rule, inches(found.body_length), found.count) == ("LEN-10", 70, 4)
    higher = placed(of("slide_gate", underside=2, leaf_top=84, post_start=4), "post")
    assert higher is not None
    assert (inches(higher.body_length), higher.count) == (68, None)
    assert placed(of("slide_gate", underside=2, leaf_top=84, post_count=0), "post") is None


@pytest.mark.parametrize(("gap", "count"), [(15.9, 1), (16, 1), (16.1, "none"), (None, None), (0, 1)])
def test_the_tail_needs_a_body_where_it_comes_within_16_inches(gap, count):
    found = placed(of("slide_gate", underside=2, leaf_top=84, tail_gap=gap), "trailing")
    assert ("none" if found is None else found.count) == count


@pytest.mark.parametrize(
    ("closed", "opened", "needed"),
    [(4, 4, False), (4.1, 4.1, True), (15.9, 2, True), (16, 16, False), (2, 8, True), (20, 3, False)],
)
def test_the_gap_below_a_swing_gate_counts_between_4_and_16_inches_anywhere_along_the_swing(closed, opened, needed):
    found = of("swing_gate", leaf_length=96, leaf_height=60, underside=closed, underside_open=opened)
    assert (placed(found, "underside") is not None) is needed


def test_a_gap_that_nobody_measured_along_the_swing_is_asked_for():
    found = placed(of("swing_gate", leaf_length=96, leaf_height=60, underside=2), "underside")
    assert found is not None
    assert (found.body_length, found.count, found.missing) == (None, None, ("underside_open",))


def test_the_tip_of_a_high_gate_ends_at_72_inches():
    """From 5 in (gap 4 in, 1 in) to 72 in."""
    assert inches(first("swing_gate", leaf_height=96, underside=4).body_length) == 67


# What the usual wrong measurement would have given.
@pytest.mark.parametrize(
    ("kind", "measures", "said"),
    [
        ("sectional", {"panel_width": 126, "clear_width": 124}, "10 ft 4 in, 2 in too short"),
        ("rolling", {"guide_clear_floor": 100, "guide_condition": "looked_at", "bar_overall": 105},
         "8 ft 9 in, 5-1/2 in too long. It would stand in the guides."),
        ("rolling", {"guide_clear_floor": 100, "guide_condition": "looked_at", "clear_width": 98},
         "8 ft 2 in, 1-1/2 in too short."),
        ("one_piece", {"leaf_width": 120, "clear_width": 116, "meets": "overlaps"}, "9 ft 8 in, 4 in too short"),
        ("slide_gate", {"underside": 2, "leaf_top": 84, "clear_width": 240}, "20 ft, 14 ft 3 in too long"),
    ],
)  # fmt: skip
def test_the_usual_mistake_is_told(kind, measures, said):
    assert said in (first(kind, **measures).usual_mistake or "")


def test_half_of_the_opening_is_the_usual_mistake_at_a_swing_gates_underside():
    told = placed(of("swing_gate", leaf_length=96, leaf_height=60, underside=8, clear_width=200), "underside")
    assert told is not None
    assert "8 ft 4 in, 1 ft too long" in (told.usual_mistake or "")


def test_a_mistake_that_comes_out_right_is_none():
    assert first("sectional", panel_width=126, clear_width=126).usual_mistake is None
    assert first("sectional", panel_width=126).usual_mistake is None


# What is missing, and what cannot be.
@pytest.mark.parametrize(
    ("kind", "missing"),
    [
        ("sectional", "panel_width"),
        ("rolling", "guide_clear_floor"),
        ("grille", "guide_clear_floor"),
        ("rolling_fire", "guide_clear_floor"),
        ("high_speed", "serial"),
        ("one_piece", "meets"),
        ("slide_gate", "underside"),
        ("swing_gate", "leaf_height"),
    ],
)
def test_the_opening_alone_tells_no_length(kind, missing):
    found = of(kind, clear_width=144, bar_overall=150)
    assert found.body_length is None
    assert found.bodies[0].missing[0] == missing
    assert found.piece_count == 1
    as_json(found)


@pytest.mark.parametrize("clear", [0, 0.25, 0.5])
def test_measures_that_leave_nothing_tell_no_length(clear):
    found = of("rolling", guide_clear_floor=clear)
    assert found.body_length is None
    assert any("nothing is left" in note for note in found.notes)


def test_brackets_that_take_the_whole_channel_tell_no_length():
    found = of("sectional", panel_width=100, bracket_left=60, bracket_right=60)
    assert (found.body_length, found.channel_length) == (None, None)


def test_a_gates_leaf_below_its_own_gap_tells_no_length():
    assert of("slide_gate", underside=30, leaf_top=20).body_length is None


@pytest.mark.parametrize("value", [-1.0, float("nan"), float("inf"), 1e9])
@pytest.mark.parametrize(
    "name", ["panel_width", "clear_width", "guide_clear_floor", "dead_end_far", "piece_limit", "shift"]
)
def test_a_number_that_is_none_is_refused(name, value):
    with pytest.raises(OutOfRange, match=name):
        LengthCase(kind="sectional", **{name: value if name != "shift" or value != -1.0 else -2.0})


def test_only_a_one_piece_leaf_meets_its_jambs():
    with pytest.raises(OutOfRange, match="one-piece"):
        LengthCase(kind="sectional", meets="overlaps")


def test_every_kind_answers_whatever_is_known():
    for kind in (
        "sectional",
        "rolling",
        "grille",
        "rolling_fire",
        "high_speed",
        "one_piece",
        "slide_gate",
        "swing_gate",
    ):
        found = of(kind)
        assert found.bodies
        assert all(each.body_length is None for each in found.bodies)


def test_a_case_file_in_words_gives_the_same_answer_as_numbers():
    text = b"kind: rolling\nguide_clear_floor: 12 ft 1/2 in\nguide_condition: looked_at\nclear_width: 12 ft\n"
    read = read_case(LengthCase, parse(text, "case.yaml"), "case.yaml")
    assert inches(length(read).body_length) == 143.75


def test_a_case_file_with_a_kind_that_is_none_is_refused():
    with pytest.raises(DocumentError):
        read_case(LengthCase, parse(b"kind: portcullis\n", "case.yaml"), "case.yaml")


def test_the_answer_reads_in_the_readers_units():
    notes = of("one_piece", leaf_width=582, meets="overlaps").notes
    assert any("16 ft 1-3/4 in" in note for note in notes)
    assert any("4.921 m" in retold(note, METRIC) for note in notes)


def test_the_sources_say_what_is_from_memory_and_what_was_read():
    sures = {each.document: each.sure for each in of("sectional", panel_width=126, clear_width=126).sources}
    assert sures["trade rules of thumb"] == "memory"
    assert sures["16 CFR 1211.12(a)(3)"] == "read"


def test_the_calculation_can_be_registered():
    found = load("length", "sillwright.takeoff:length")
    assert (found.case, found.result) == (LengthCase, LengthResult)
