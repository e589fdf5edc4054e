"""The bars as a drawing: to scale, equal bars once, words only where they fit."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.drawing import record
from sillwright.takeoff import CutlistCase, CutPiece, StockLength, cutlist
from sillwright.takeoff.cutting.layout import WIDTH, bars_drawing

from .cuttings import TABLE, made, order

METRIC = Reader(units="metric")


def rails(label: str = "rail", **more: Any) -> CutlistCase:
    pieces = (CutPiece(length=1.2, count=4, label=label), CutPiece(length=0.4, label="stop"))
    return CutlistCase(pieces=pieces, stock=(StockLength(length=3.0, name="bar"),), kerf=0.003, **more)


def test_bars_are_drawn_to_scale_from_their_start() -> None:
    drawing = bars_drawing(cutlist(rails(trim_start=0.01)), METRIC)
    seen = record(drawing)
    assert drawing.metres_per_mm == pytest.approx(3.0 / WIDTH)
    bar, first, second = (seen.one(name) for name in ("bar.1", "bar.1.piece.1", "bar.1.piece.2"))
    assert (bar.left, bar.right) == pytest.approx((0.0, 3.0))
    assert (first.left, first.right) == pytest.approx((0.01, 1.21))
    assert (second.left, second.right) == pytest.approx((1.213, 2.413))
    assert bar.bottom == pytest.approx(first.bottom)
    assert bar.top == pytest.approx(first.top)


def test_nothing_stands_outside_the_longest_bar() -> None:
    for row in TABLE["made"][:3]:
        drawing = bars_drawing(cutlist(made(row)), METRIC)
        assert drawing.box.left >= -1e-9
        assert drawing.box.right <= WIDTH * drawing.metres_per_mm + 1e-9
        assert not record(drawing).overlaps()


def test_equal_bars_share_a_row() -> None:
    seen = record(bars_drawing(cutlist(rails()), METRIC))
    assert [each for each in seen.words if "×" in each] == ["1 × bar, 3.000 m", "1 × bar, 3.000 m"]
    alike = cutlist(order([1400] * 6, [3000.0]))
    unlabelled = CutlistCase(pieces=(CutPiece(length=1.4, count=6),), stock=(StockLength(length=3.0),), kerf=0.0)
    assert len([each for each in record(bars_drawing(alike, METRIC)).names if "piece" not in each]) == 3
    assert record(bars_drawing(cutlist(unlabelled), METRIC)).words[0] == "3 × 3.000 m"


def test_a_piece_says_its_length_and_what_it_is_for() -> None:
    seen = record(bars_drawing(cutlist(rails()), METRIC))
    assert "1.200 m, rail" in seen.words
    assert "400 mm, stop" in seen.words


def test_a_long_label_is_cut_and_a_short_piece_turns_its_words() -> None:
    drawing = bars_drawing(cutlist(rails(label="upper rail of the second gate at the north yard, outside")), METRIC)
    assert any(each.endswith("…") for each in record(drawing).words)
    whole = [part.title for part in drawing.parts if "piece.1" in part.name]
    assert whole[0].endswith("outside")
    narrow = record(bars_drawing(cutlist(order([6000, 180, 180, 20], [6400.0])), METRIC))
    turned = [text for text, _ in narrow.texts if text.turned]
    assert [text.words for text in turned] == ["180 mm", "180 mm"]
    assert "20 mm" not in " ".join(narrow.words)


def test_an_off_cut_that_is_kept_is_shown() -> None:
    result = cutlist(rails(keep=0.5))
    drawing = bars_drawing(result, METRIC)
    seen = record(drawing)
    (kept,) = [name for name in seen.names if name.endswith("off_cut")]
    bar = next(bar for bar in result.bars if bar.kept)
    assert seen.one(kept).left == pytest.approx(bar.off_cut_start)
    assert seen.one(kept).right == pytest.approx(3.0)
    assert any("to stock" in each for each in seen.words)
    assert not [name for name in record(bars_drawing(cutlist(rails()), METRIC)).names if "off_cut" in name]


def test_who_cannot_see_it_is_told_the_same() -> None:
    drawing = bars_drawing(cutlist(rails()), Reader())
    assert drawing.title == "Cut list, 2 bars"
    assert drawing.described.count("rail") == 4
    assert "left." in drawing.described
