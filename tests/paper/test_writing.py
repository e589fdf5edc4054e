"""Papers are written whole or not at all, under names that cannot leave their folder."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutputError
from sillwright.paper import writing
from sillwright.paper.writing import slug, slugs, write_all, write_papers

from ..survey.building import survey_of
from .studies import site

DAY = date(2026, 11, 25)


def test_a_site_gets_its_report_and_a_drawing_for_each_opening(tmp_path):
    study = site(survey_of({"tag": "B2"}, {"tag": "Bay 7/8"}, name="Quillback Sheds"))
    papers = write_papers(study, tmp_path / "out", made_on=DAY, version="0")
    assert [path.name for path in papers] == ["quillback-sheds.pdf", "b2.svg", "bay-7-8.svg"]
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == sorted(path.name for path in papers)
    assert papers[0].read_bytes().startswith(b"%PDF")
    assert papers[1].read_text(encoding="utf-8").startswith("<svg ")


def test_tags_that_look_alike_keep_their_own_files(tmp_path):
    study = site(survey_of({"tag": "bay 2"}, {"tag": "Bay-2"}, {"tag": "bay-2-2"}, name="bay 2"))
    papers = write_papers(study, tmp_path, made_on=DAY, version="0")
    assert len({path.name for path in papers}) == 4


@given(st.lists(st.text(max_size=80), max_size=20))
def test_names_stay_in_their_folder_and_never_collide(words):
    names = slugs(words)
    assert len(set(names)) == len(names) == len(words)
    for name in names:
        assert name.isascii()
        assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
        assert 0 < len(name) < 80


@pytest.mark.parametrize("word", ["con", "NUL", "com1", "lpt9"])
def test_names_that_a_system_keeps_for_itself_are_not_used(word):
    assert slug(word) == f"{word.lower()}-"


def test_nothing_is_left_where_one_paper_cannot_be_written(tmp_path):
    (tmp_path / "b2.svg").mkdir()
    study = site(survey_of({"tag": "B2"}, name="Quillback Sheds"))
    with pytest.raises(OutputError, match="is a folder"):
        write_papers(study, tmp_path, made_on=DAY, version="0")
    assert [path.name for path in tmp_path.iterdir()] == ["b2.svg"]


def test_papers_of_an_earlier_run_stay_where_a_new_one_fails(tmp_path, monkeypatch):
    earlier = tmp_path / "a.pdf"
    earlier.write_bytes(b"earlier")

    def full_disk(path: Path, content: bytes) -> Path:
        raise OSError(28, "No space left on device", str(path))

    monkeypatch.setattr(writing, "_written_aside", full_disk)
    with pytest.raises(OutputError, match=r"No space left on device.*--out"):
        write_all([(earlier, b"new")])
    assert earlier.read_bytes() == b"earlier"


def test_what_was_put_aside_is_removed_when_writing_breaks_off(tmp_path, monkeypatch):
    def broken(handle: int) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(os, "fsync", broken)
    with pytest.raises(OutputError, match="Input/output error"):
        write_all([(tmp_path / "a.pdf", b"new")])
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_a_file_is_refused_with_a_remedy(tmp_path):
    (tmp_path / "out").write_text("in the way")
    with pytest.raises(OutputError, match="choose another folder"):
        write_all([(tmp_path / "out" / "a.pdf", b"new")])


def test_a_paper_can_be_read_by_whoever_may_read_new_files(tmp_path):
    write_all([(tmp_path / "a.pdf", b"new")])
    (tmp_path / "plain").write_bytes(b"")
    assert (tmp_path / "a.pdf").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_what_a_killed_run_left_aside_is_taken_away_by_a_later_one(tmp_path):
    old, new = tmp_path / ".b1-abc.part", tmp_path / ".b1-def.part"
    for left in (old, new):
        left.write_bytes(b"half")
    os.utime(old, (1_000_000_000, 1_000_000_000))
    write_all([(tmp_path / "b1.svg", b"<svg/>")])
    assert sorted(path.name for path in tmp_path.iterdir()) == [".b1-def.part", "b1.svg"]
