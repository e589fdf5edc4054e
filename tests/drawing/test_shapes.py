"""Shapes know their extents; dimensions keep their labels readable; a recorder remembers what was drawn."""

from __future__ import annotations

import pytest

from sillwright.drawing import (
    Box,
    Circle,
    Dimension,
    Drawing,
    Group,
    Line,
    Polyline,
    Rect,
    Text,
    record,
)
from sillwright.drawing.lettering import cut, width_of, wrapped
from sillwright.drawing.shapes import PENS, around, box_of, dimension_parts


def drawing(*groups: Group) -> Drawing:
    return Drawing(title="Test", described="A test.", parts=groups, metres_per_mm=0.05)


@pytest.mark.parametrize(
    ("shape", "box"),
    [
        (Line(start=(1, 2), end=(0, 5)), Box(0, 2, 1, 5)),
        (Polyline(points=((0, 0), (3, 1), (1, -2))), Box(0, -2, 3, 1)),
        (Rect(x=1, y=1, width=2, height=3), Box(1, 1, 3, 4)),
        (Circle(x=1, y=1, radius=2), Box(-1, -1, 3, 3)),
    ],
)
def test_a_shape_knows_its_extents(shape, box):
    assert box_of(shape) == box


def test_words_extend_from_their_anchor():
    start, middle, end = (
        box_of(Text(x=10, y=0, words="bay", size=2, anchor=anchor)) for anchor in ("start", "middle", "end")
    )
    assert start.left == pytest.approx(10)
    assert middle.x == pytest.approx(10)
    assert end.right == pytest.approx(10)
    assert start.width == pytest.approx(2 * width_of("bay"))


def test_turned_words_run_upwards():
    turned = box_of(Text(x=0, y=0, words="clear height", size=1, turned=True))
    assert turned.height == pytest.approx(width_of("clear height"))
    assert turned.right < turned.height


def test_nothing_has_no_extents():
    assert around([]) == Box(0, 0, 0, 0)


@pytest.mark.parametrize(
    ("start", "end", "offset"),
    [((0, 0), (4, 0), -1), ((0, 0), (4, 0), 1), ((0, 0), (0, 4), -1), ((0, 0), (0, 4), 1)],
)
def test_a_dimension_stands_beside_what_it_measures(start, end, offset):
    dimension = Dimension(start=start, end=end, offset=offset, label="4 m", size=0.2)
    box = box_of(dimension)
    beside = (box.left, box.right) if dimension.upright else (box.bottom, box.top)
    assert beside[0] < 0 if offset < 0 else beside[1] > 0


@pytest.mark.parametrize("end", [(0.0, 0.3), (0.3, 0.0)])
def test_a_label_that_does_not_fit_stands_beyond_the_end(end):
    dimension = Dimension(start=(0, 0), end=end, offset=1, label="5 in above the floor", size=0.2)
    label = next(part for part in dimension_parts(dimension) if isinstance(part, Text))
    box = box_of(label)
    assert (box.bottom if dimension.upright else box.left) > 0.3


def test_roles_differ_in_black_and_white():
    looks = [(pen.weight, pen.dash) for pen in PENS.values()]
    assert len(set(looks)) == len(looks)
    assert PENS["device"].weight > PENS["leaf"].weight > PENS["structure"].weight > PENS["dimension"].weight
    assert PENS["unknown"].dash


def test_a_recorder_finds_a_shape_by_its_name():
    leaf = Group(name="leaf", role="leaf", parts=(Rect(x=0, y=1, width=2, height=3),))
    seen = record(drawing(leaf)).one("leaf")
    assert (seen.left, seen.bottom, seen.right, seen.top, seen.x, seen.y) == (0, 1, 2, 4, 1, 2.5)
    assert not seen.asks


def test_a_recorder_says_which_names_there_are():
    box = Group(name="box", role="device", parts=())
    with pytest.raises(LookupError, match="0 shapes are called 'leaf'; there are box"):
        record(drawing(box)).one("leaf")


def test_a_group_inside_a_group_is_drawn_by_its_own_role():
    inner = Group(name="", role="note", parts=(Line(start=(0, 0), end=(1, 1)), Circle(x=0, y=0, radius=1)))
    outer = Group(name="eye", role="device", parts=(inner, Polyline(points=((0, 0), (1, 0)), closed=True)))
    drawn = record(drawing(outer))
    assert [stroke.role for _, stroke in drawn.paths] == ["note", "device"]
    assert drawn.circles[0][1].role == "note"
    assert drawn.depth == 0


def test_a_shape_with_a_question_mark_asks():
    mark = Text(x=0, y=0, words="?", size=1)
    drawn = record(drawing(Group(name="operator", role="unknown", parts=(mark,))))
    assert drawn.one("operator").asks
    assert drawn.has("operator")


def test_words_on_words_are_noticed():
    words = [Text(x=x, y=0, words=f"label {x}", size=1) for x in (0, 1, 20)]
    assert record(drawing(Group(name="", role="note", parts=tuple(words)))).overlaps() == [("label 0", "label 1")]


def test_long_words_are_broken_and_cut():
    lines = wrapped("y" * 2000, 10, most=3)
    assert len(lines) == 3
    assert lines[-1].endswith("…")
    assert all(width_of(line) <= 10 for line in lines)
    assert cut("short", 10) == "short"
    assert wrapped("", 10) == ()


def test_a_number_stays_with_its_unit():
    assert wrapped("eye 1.500\u00a0m above", 5) == ("eye", "1.500\u00a0m", "above")
