"""The scribe on paper: full size, strips that join, a line to measure, the same bytes every time."""

from __future__ import annotations

import io
import shutil
import subprocess
from datetime import date
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader
from sillwright.drawing import record
from sillwright.drawing.canvas import Recorder
from sillwright.paper.scribe import EDGE, MOST, OVERLAP, SIZES, Paper, clipped, scribe_pages, scribe_pdf
from sillwright.takeoff.floors.scribe import ScribeCurve, scribe
from tests.verification import Verify

from .hostile import HOSTILE

DAY = date(2026, 1, 2)
US, METRIC = Reader(), Reader(units="metric", country="DE")
HUMPS = scribe([(at * 0.3, (at * 7 % 5) * 0.003) for at in range(13)], -0.02, 3.65)
PAPERS: tuple[Paper, ...] = ("us-letter", "a4")


def pages(curve: ScribeCurve = HUMPS, paper: Paper = "us-letter", reader: Reader = US) -> list[Recorder]:
    return [record(each) for each in scribe_pages(curve, reader, name="B1", paper=paper)]


def strips(shown: list[Recorder]) -> list[tuple[Recorder, str]]:
    """Every strip by its number, with the page it stands on."""
    return [(page, name.partition(".")[2]) for page in shown for name in page.names if name.startswith("scribe.")]


def text_of(made: bytes, tmp_path: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    paper = tmp_path / "scribe.pdf"
    paper.write_bytes(made)
    done = subprocess.run(["pdftotext", "-layout", str(paper), "-"], capture_output=True, text=True, check=True)
    return done.stdout


@pytest.mark.parametrize("paper", PAPERS)
def test_the_strips_show_the_whole_line_and_overlap(paper: Paper) -> None:
    long = (SIZES[paper][0] - 2 * EDGE) / 1000
    step = long - OVERLAP / 1000
    found = strips(pages(paper=paper))
    assert len(found) == 1 + -(-(HUMPS.right - HUMPS.left - long) // step)
    for at, (page, number) in enumerate(found):
        assert number == str(at + 1)
        start, end = HUMPS.left + at * step, min(HUMPS.right, HUMPS.left + at * step + long)
        line = page.one(f"scribe.{number}")
        assert line.left == pytest.approx(EDGE / 1000)
        assert line.right - line.left == pytest.approx(end - start)
        heights = [height for _, height in clipped(HUMPS.cut, start, end)]
        bottom = page.one(f"bottom.{number}").bottom
        assert line.bottom - bottom == pytest.approx(min(heights))
        assert line.top - bottom == pytest.approx(max(heights))


def test_marks_of_one_number_are_at_one_place_along_the_sill() -> None:
    step = (SIZES["us-letter"][0] - 2 * EDGE - OVERLAP) / 1000
    found = strips(pages())
    rings = [[circle for circle, _ in page.circles] for page, _ in found]
    assert all(rings)
    for (page, number), (after, following) in pairwise(found):
        right = page.one(f"register.{number}").right
        left = after.one(f"register.{following}").left
        there = HUMPS.left + (int(number) - 1) * step + right
        again = HUMPS.left + int(number) * step + left
        # a mark reaches 4 mm to either side of its place, its number lies beyond that and is no shape
        assert there - 0.004 == pytest.approx(again + 0.004)


def test_nothing_stands_outside_the_page_or_upon_other_words() -> None:
    for paper in PAPERS:
        for reader in (US, METRIC):
            for drawing in scribe_pages(HUMPS, reader, name="B1, the wash bay", paper=paper):
                width, height = (each / 1000 for each in SIZES[paper])
                box = drawing.box
                assert (box.left, box.bottom) >= (0, 0)
                assert (box.right, box.top) <= (width, height)
                assert record(drawing).overlaps() == []


def test_each_page_says_which_side_and_how_many() -> None:
    shown = pages()
    for number, page in enumerate(shown, start=1):
        assert f"Page {number} of {len(shown)}" in page.words
        assert any("Inside, looking out" in words for words in page.words)
        assert any("100 %" in words for words in page.words)
        check = page.one("check")
        assert {"100 mm", "4 in"} <= set(check.words)
    assert "left jamb" in shown[0].words
    assert not any("left jamb" in page.words for page in shown[1:])


def test_the_lines_to_measure_are_as_long_as_they_say() -> None:
    lines = [points for points, _ in pages()[0].paths if len(points) == 2 and points[0][1] == points[1][1]]
    lengths = {round(end[0] - start[0], 6) for start, end in lines}
    assert {0.1, 0.1016} <= lengths


@pytest.mark.parametrize("paper", PAPERS)
def test_the_line_to_measure_on_the_printed_page(tmp_path: Path, paper: Paper, verify: Verify) -> None:
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not installed")
    made = tmp_path / "scribe.pdf"
    made.write_bytes(scribe_pdf(HUMPS, US, name="B1", made_on=DAY, paper=paper))
    drawn = subprocess.run(
        ["pdftoppm", "-r", "254", "-gray", "-f", "1", "-l", "1", str(made)], capture_output=True, check=True
    )
    with Image.open(io.BytesIO(drawn.stdout)) as picture:
        width, height = picture.size
        assert (width, height) == tuple(pytest.approx(each * 10, abs=1) for each in SIZES[paper])
        rows = [picture.crop((0, y, int(EDGE * 10) + 1150, y + 1)) for y in range(height * 4 // 5, height)]
        dark = [[x for x, shade in enumerate(row.tobytes()) if shade < 128] for row in rows]
    best = max(dark, key=len)
    verify(
        f"line of 100 mm on a page of {paper}, tenths of a millimetre",
        got=best[-1] - best[0] + 1 - 5,  # the line is 0.5 mm heavy, round at both ends
        expected=1000,
        within=3,
        relative=False,
        source="pdftoppm at 254 dots an inch",
    )


@pytest.mark.parametrize("paper", PAPERS)
def test_pages_are_of_the_size_of_the_paper(paper: Paper) -> None:
    made = scribe_pdf(HUMPS, METRIC, name="B1", made_on=DAY, paper=paper)
    with pikepdf.open(io.BytesIO(made)) as document:
        assert len(document.pages) == len(pages(paper=paper, reader=METRIC))
        for page in document.pages:
            box = [float(each) / 72 * 25.4 for each in page.mediabox]
            assert box[2:] == pytest.approx(SIZES[paper], abs=0.01)


def test_the_country_chooses_the_paper() -> None:
    for reader, width in ((US, 279.4), (METRIC, 297.0)):
        with pikepdf.open(io.BytesIO(scribe_pdf(HUMPS, reader, name="B1", made_on=DAY))) as document:
            assert float(document.pages[0].mediabox[2]) / 72 * 25.4 == pytest.approx(width, abs=0.01)


def test_the_same_scribe_gives_the_same_bytes() -> None:
    one, other = (scribe_pdf(HUMPS, US, name="B1", made_on=DAY) for _ in range(2))
    assert one == other


@pytest.mark.parametrize("typed", HOSTILE, ids=ascii)
def test_what_people_type_is_set_as_text(typed: str) -> None:
    assert scribe_pdf(HUMPS, US, name=typed, made_on=DAY).startswith(b"%PDF")


def test_the_words_are_real_text(tmp_path: Path) -> None:
    said = text_of(scribe_pdf(HUMPS, METRIC, name="B1 <b>", made_on=DAY), tmp_path)
    assert "Page 1 of" in said
    assert "B1 <b>" in said
    assert "take off" in said


def test_a_short_scribe_is_one_strip_without_marks() -> None:
    (page,) = pages(scribe([(0, 0.001), (0.2, 0)], 0, 0.2))
    assert [number for _, number in strips([page])] == ["1"]
    assert not page.has("register.1")


def test_what_is_no_scribe_any_more_is_refused() -> None:
    with pytest.raises(OutOfRange, match="work on the floor"):
        pages(scribe([(0, MOST + 0.001), (1, 0)], 0, 1))
    assert pages(scribe([(0, MOST), (1, 0)], 0, 1))
