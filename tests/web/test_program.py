"""An answer that is kept holds for the program that made it, and for no other."""

from __future__ import annotations

from pathlib import Path

import pytest

from sillwright.web.program import program
from sillwright.web.records import answers

from .conftest import World


def test_a_rule_that_was_mended_makes_another_program(tmp_path: Path) -> None:
    names = ("before", "mended", "same")
    for name, limit in zip(names, ("2016", "2018", "2016"), strict=True):
        (tmp_path / name / "data").mkdir(parents=True)
        (tmp_path / name / "data" / "rules.toml").write_text(f"since = {limit}\n", "utf-8")
    before, mended, same = (program(tmp_path / name) for name in names)
    assert before == same != mended


def test_another_program_studies_an_opening_anew(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    before = answers.state_of(world.opening)
    assert answers.state_of(world.opening) == before
    monkeypatch.setattr(answers, "program", lambda: "another")
    assert answers.state_of(world.opening) != before
