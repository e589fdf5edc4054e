"""The papers' letters: what they can print, and how wide they are, held to the fonts that ship."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.data import folder
from sillwright.drawing import lettering
from sillwright.paper.legible import REPLACEMENT, breakable, legible, letters

FONTS = folder("sillwright.paper") / "fonts"


def font(name: str) -> TTFont:
    return TTFont(FONTS / name)


def as_ranges(points: set[int]) -> str:
    """The form of data/characters.txt; print this to write the file anew when a font changes."""
    ordered = sorted(points)
    starts = [n for n in ordered if n - 1 not in points]
    ends = [n for n in ordered if n + 1 not in points]
    return " ".join(f"{a:X}" if a == b else f"{a:X}-{b:X}" for a, b in zip(starts, ends, strict=True))


def test_the_list_of_letters_is_that_of_the_fonts():
    regular, bold, symbols = (
        set(font(name).getBestCmap()) for name in ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf", "DejaVuSans.ttf")
    )
    written = (folder("sillwright.paper") / "characters.txt").read_text(encoding="utf-8")
    assert " ".join(written.split()) == as_ranges((regular & bold) | symbols)
    assert ord(REPLACEMENT) in letters()


@pytest.mark.parametrize(
    ("name", "table"), [("NotoSans-Regular.ttf", lettering.REGULAR), ("NotoSans-Bold.ttf", lettering.BOLD)]
)
def test_the_widths_of_letters_are_those_of_the_fonts(name, table):
    made = font(name)
    cmap, widths = made.getBestCmap(), made["hmtx"]
    assert made["head"].unitsPerEm == 1000
    assert list(table) == [widths[cmap[lettering.FIRST + n]][0] for n in range(len(table))]


def test_the_fonts_ship_with_their_licences_and_stay_small():
    files = [path for path in Path(FONTS).iterdir() if path.is_file()]
    assert sum(path.stat().st_size for path in files) < 3_000_000
    assert {path.name for path in files if path.suffix == ".txt"} == {
        "NotoSans-LICENSE.txt",
        "DejaVuSans-LICENSE.txt",
    }


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("Bay 2", "Bay 2"),
        ("Tür 3 – Werk", "Tür 3 – Werk"),
        ("e\u0301dge", "édge"),
        ("a\nb\tc\u2028d", "a b c d"),
        ("\u202ertl\u202c \u200fmark", "rtl mark"),
        ("nul\x00bell\x07", "nulbell"),
        ("\U0001f6aa door", "□ door"),
        ("\ud800", "□"),
        ("大", "□"),
        ("10\u00a0m", "10\u00a0m"),
    ],
)
def test_what_people_typed_is_printed_as_far_as_there_are_letters(typed, printed):
    assert legible(typed) == printed


@given(st.text())
def test_every_text_becomes_printable(text):
    shown = legible(text)
    assert all(ord(sign) in letters() for sign in shown)
    assert all(unicodedata.category(sign) not in {"Cc", "Cf", "Cs"} for sign in shown)
    assert legible(shown) == shown


def test_long_runs_may_be_broken_without_losing_a_letter():
    assert breakable("x" * 2000).replace("\u200b", "") == "x" * 2000
    assert max(map(len, breakable("a " + "x" * 100).replace("\u200b", " ").split(" "))) <= 24
