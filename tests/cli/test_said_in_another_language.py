"""What the command line answers comes from the catalogue: every sentence said in a language nobody speaks.

Its help is English reference. What is typed stays as it is: names of files, facts, words of a survey, options.
"""

from __future__ import annotations

import io
import re
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

import openpyxl
import pytest

from sillwright.base import words
from sillwright.base.fact import ORIGINS
from sillwright.cli.main import run
from sillwright.duty import rulebook
from sillwright.study.calculations import TABLE
from sillwright.survey.model import Opening, Site
from sillwright.survey.reading import read_survey
from sillwright.survey.spec import Group, GroupSpec

from ..pseudo import Pseudo, catalogue, typed_in, unmarked

ROOT = Path(__file__).parents[2]
SITE = ROOT / "examples/ferry-yard.yaml"
BROKEN = sorted((ROOT / "tests/survey/broken").glob("*.yaml"))

Answer = Callable[..., str]


@pytest.fixture
def answer(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Answer:
    """Gives a command, and what is typed to it; answers what it prints on both streams."""
    monkeypatch.setattr(words, "_catalogue", lambda language: Pseudo())
    monkeypatch.chdir(tmp_path)

    def typed(*command: object, said: str = "") -> str:
        monkeypatch.setattr(sys, "argv", ["sillwright", *map(str, command)])
        monkeypatch.setattr(sys, "stdin", io.StringIO(said))
        with suppress(SystemExit):
            run()
        printed = capsys.readouterr()
        return printed.out + printed.err

    return typed


def in_words_of_files(kind: type[Group] = Opening) -> set[str]:
    """Names of facts and words that answer them, as survey files have them."""
    found: set[str] = set()
    for name, spec in {**Site.specs, **kind.specs}.items():
        found.add(name)
        if isinstance(spec, GroupSpec):
            found |= in_words_of_files(spec.group) if spec.group is not kind else set()
        else:
            found |= {*spec.choices, *dict(spec.synonyms), *ORIGINS}
    return found


def pieces(*texts: str) -> set[str]:
    """The words of texts, each alone."""
    return {word for text in texts for word in re.findall(r"[A-Za-z]+", text)}


def loose(said: str, *allowed: str) -> set[str]:
    """Words of an answer that are neither marked nor among those allowed, each of which stands for itself."""
    return set(unmarked(said)) - pieces(*allowed)


FACTS = " ".join(in_words_of_files())
CITED = " ".join(
    str(part)
    for each in (*rulebook.rules(), *rulebook.texts(), *rulebook.regimes())
    for part in (each.source.document, each.source.edition, each.source.clause)
    if part not in catalogue()
)
FINDINGS = "ASK HAZ duty survey readings owner two"  # of whose ids check prints those of its questions


def test_check_tells_of_a_survey_in_marked_words(answer: Answer) -> None:
    said = answer("check", SITE)
    assert not loose(said, SITE.name, FACTS, FINDINGS, *typed_in(read_survey(SITE)))


def test_study_answers_in_marked_words(answer: Answer) -> None:
    said = answer("study", SITE, "--sources", "--out", "out")
    files = "out lanternfield ferry yard pdf svg"
    agency = "US CPSC, Operation Safe Gate, 6 Aug 2018"
    rules = "FLOOR"  # the clause of the trade's rules that a finding on the floor cites
    assert not loose(said, files, CITED, agency, rules, *typed_in(read_survey(SITE)))


@pytest.mark.parametrize(
    ("name", "file", "allowed"),
    [
        ("approach", "approach", "ISO"),
        ("contact", "contact", ""),
        ("overtravel", "overtravel", "ISO"),
        (
            "contact_spread",
            "spread",
            "Saltelli Computer Physics Communications Joe and Kuo direction numbers new joe kuo",
        ),
    ],
)
def test_a_calculation_answers_in_marked_words(answer: Answer, name: str, file: str, allowed: str) -> None:
    said = answer("calc", name, ROOT / f"examples/{file}.yaml")
    outcomes = "peak_force actuation_time contact_duration time_above_150 lasting_force peak_edge_travel end_force"
    inputs = "closing_speed moving_mass stop.deceleration edge.force_scale stop.dwell"
    assert said
    assert not loose(said, allowed, *([outcomes, inputs] if name == "contact_spread" else []))


def test_the_list_of_calculations_is_in_marked_words(answer: Answer) -> None:
    assert not loose(answer("calc"), "sillwright calc NAME CASE schema", *TABLE)


def test_a_calculation_that_is_not_there_is_refused_in_marked_words(answer: Answer) -> None:
    assert not loose(answer("calc", "nonsuch"), "nonsuch", *TABLE)


def test_the_self_test_reports_in_marked_words(answer: Answer) -> None:
    said = answer("selftest")
    assert not loose(said)
    row = next(line for line in answer("selftest", "--all").splitlines() if "ul325-commercial-date" in line)
    assert not loose(row, "ul325-commercial-date", CITED)


def test_a_new_survey_is_asked_for_and_commented_in_marked_words(answer: Answer, tmp_path: Path) -> None:
    typed = "Yard\nxx\nUS\n\nB1\n\n\n10.6 ft\n10\n" + "\n" * 90
    said = answer("new", "b.yaml", said=typed)
    assert not loose(said, FACTS, "yes no sillwright check yaml xx")
    written = (tmp_path / "b.yaml").read_text(encoding="utf-8")
    assert not loose(
        written, FACTS, "yes no null format sillwright survey openings site value from by on technician Yard US"
    )


def test_a_spreadsheet_to_fill_explains_itself_in_marked_words(answer: Answer, tmp_path: Path) -> None:
    assert not loose(answer("new", "a.xlsx"), "a.xlsx sillwright check")
    assert not loose(answer("new", "a.xlsx"), "a.xlsx")
    book = openpyxl.load_workbook(tmp_path / "a.xlsx")
    *read, how = book.worksheets
    assert [sheet.title for sheet in read] == ["Site", "Openings"]
    assert not loose(" ".join([how.title, *(str(row[0].value) for row in how.iter_rows())]))


@pytest.mark.parametrize("path", BROKEN, ids=[path.stem for path in BROKEN])
def test_a_broken_file_is_refused_in_marked_words(answer: Answer, path: Path) -> None:
    said = answer("check", path)
    content = path.read_text(encoding="utf-8")
    library = "did not find expected" if path.stem == "syntax" else ""
    assert said.count("\n") > 1
    assert not loose(
        said, FACTS, path.name, content, "x" * 60, library, "format sillwright survey openings tag null USD US IBC"
    )


def test_what_is_not_there_is_refused_in_marked_words(answer: Answer) -> None:
    assert not loose(answer("check", "nowhere.yaml"), "nowhere.yaml")


def test_a_wrong_use_is_refused_in_marked_words(answer: Answer) -> None:
    _, _, said = answer("calc", "contact").partition("Error: ")
    assert said
    assert not loose(said, "sillwright calc contact CASE schema")


def test_a_word_that_is_not_marked_would_be_found() -> None:
    assert loose("ŧëẋŧ said so", "so") == {"said"}
