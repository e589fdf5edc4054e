"""The handout of a lesson as a PDF."""

from __future__ import annotations

import io
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pikepdf
import pytest

from sillwright.base.words import Reader
from sillwright.paper.handout import Handout, Part, Roll, Signed, handout_paper

EN, ES = Reader(), Reader(language="es", part="handout")
ON = date(2026, 5, 4)
HOSTILE = '#panic("x") = *b* _i_ `r` $y$ @z <l> \\ // 門 "q"'


def sheet(line: str = "It takes 6 min.", *more: str, readers: tuple[Reader, ...] = (EN,)) -> Handout:
    parts = [
        Part(heading=said("What the class did", readers), lines=[(line, *more)], numbered=True),
        Part(heading=said("To keep", readers), lines=[(line, *more)]),
    ]
    title, answer = (said(each, readers) for each in ("It closes only while held.", "It was: the lead."))
    return Handout(readers=readers, title=title, answer=answer, parts=parts)


def said(words: str, readers: tuple[Reader, ...]) -> tuple[str, ...]:
    return tuple(f"{words} ({each.language})" if at else words for at, each in enumerate(readers))


def roll(*rows: Signed) -> Roll:
    heads = [(each,) for each in ("Name", "Signature", "Result", "Date", "Due again")]
    return Roll(heading=("Who was there",), heads=heads, rows=rows, field=(1000, 400))


def signed(**told: str) -> Signed:
    at = {"name": "Nell Gray", "drawn": "", "written": "N. Gray", "day": "2026-05-04", "due": "2027-05-04", **told}
    return Signed(result=("Passed",), **at)


def made(shown: Handout, who: Roll | None = None) -> bytes:
    return handout_paper(shown, company="Harbour Doors", made_on=ON, version="1.0", roll=who)


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


def test_two_languages_stand_side_by_side_on_the_same_page(tmp_path: Path) -> None:
    shown = made(sheet("It takes 6 min.", "Toma 6 min.", readers=(EN, ES)))
    with pikepdf.open(io.BytesIO(shown)) as pdf:
        assert len(pdf.pages) == 1
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en-US"
    words = words_of(shown, tmp_path)
    assert "1. It takes 6 min. Toma 6 min." in words
    assert "page 1 of 1 · página 1 de 1" in words


def test_in_spanish_alone_the_frame_is_spanish_too(tmp_path: Path) -> None:
    shown = made(sheet("Toma 6 min.", readers=(ES,)))
    with pikepdf.open(io.BytesIO(shown)) as pdf:
        assert pdf.Root.Lang == "es-US"
    words = words_of(shown, tmp_path)
    for each in ("Lección: encontrar la falla", "4 de mayo de 2026", "página 1 de 1"):
        assert each in words
    assert "Lesson" not in words


def test_who_was_there_stands_on_a_page_of_its_own_with_signature_result_and_when_it_is_due(tmp_path: Path) -> None:
    shown = made(sheet(), roll(signed(), signed(name="Ann Lee", drawn="M1 2L3 4", written="")))
    with pikepdf.open(io.BytesIO(shown)) as pdf:
        assert len(pdf.pages) == 2
    words = words_of(shown, tmp_path)
    assert "Nell Gray N. Gray Passed 2026-05-04 2027-05-04" in words
    assert "Ann Lee Passed 2026-05-04 2027-05-04" in words
    assert b"/Figure" in pikepdf_text(shown)


def pikepdf_text(content: bytes) -> bytes:
    """The file with its streams open, to find what is tagged in it."""
    opened = io.BytesIO()
    with pikepdf.open(io.BytesIO(content)) as pdf:
        pdf.save(opened, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    return opened.getvalue()


def test_a_roll_without_names_has_rows_to_be_signed_by_hand() -> None:
    heights = []
    for who in (roll(), roll(signed())):
        with pikepdf.open(io.BytesIO(made(sheet(), who))) as pdf:
            heights.append(pdf.pages[1].Contents.read_bytes().count(b" l\n"))
    assert heights[0] > heights[1] + 5


def test_what_a_text_says_is_only_ever_text(tmp_path: Path) -> None:
    shown = words_of(made(sheet(HOSTILE), roll(signed(name=HOSTILE, written=HOSTILE))), tmp_path)
    assert shown.count("#panic") >= 3  # twice in the parts, and in narrow columns where it is broken
    assert "*b* _i_" in shown


def test_the_same_handout_is_the_same_to_the_last_byte() -> None:
    assert made(sheet()) == made(sheet())
