"""The handout of a lesson as a PDF."""

from __future__ import annotations

import io
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pikepdf
import pytest

from sillwright.paper.handout import Handout, Part, handout_paper

ON = date(2026, 5, 4)
HOSTILE = '#panic("x") = *b* _i_ `r` $y$ @z <l> \\ // 門 "q"'


def sheet(language: str = "en", line: str = "It takes 6 min.") -> Handout:
    parts = [Part(heading="What the class did", lines=[line], numbered=True), Part(heading="To keep", lines=[line])]
    return Handout(language=language, title="It closes only while held.", answer="It was: the lead.", parts=parts)


def made(*sheets: Handout) -> bytes:
    return handout_paper(sheets, company="Harbour Doors", made_on=ON, version="1.0")


def words_of(content: bytes, tmp_path: Path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    (tmp_path / "paper.pdf").write_bytes(content)
    command = ["pdftotext", "-layout", str(tmp_path / "paper.pdf"), "-"]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def test_the_answer_stands_in_front_with_who_teaches(tmp_path: Path) -> None:
    shown = words_of(made(sheet()), tmp_path)
    for words in ("Lesson: finding the fault", "Harbour Doors", "It was: the lead.", "1. It takes 6 min."):
        assert words in shown


def test_each_language_begins_a_page_of_its_own() -> None:
    for sheets in ([sheet()], [sheet(), sheet("es")]):
        with pikepdf.open(io.BytesIO(made(*sheets))) as pdf:
            assert len(pdf.pages) == len(sheets)
            assert pdf.Root.MarkInfo.Marked
            assert pdf.Root.Lang == "en-US"


def test_what_a_text_says_is_only_ever_text(tmp_path: Path) -> None:
    shown = words_of(made(sheet(line=HOSTILE)), tmp_path)
    assert '#panic("x")' in shown
    assert "*b* _i_" in shown


def test_the_same_handout_is_the_same_to_the_last_byte() -> None:
    assert made(sheet()) == made(sheet())
