"""The commands of the catalogue as a company uses them."""

from __future__ import annotations

import json
from pathlib import Path

from sillwright.catalogue import demo
from sillwright.catalogue.rows import lists
from sillwright.catalogue.writing import fingerprint

from .test_commands import sillwright
from .test_said_in_another_language import Answer, answer, loose  # noqa: F401 (a fixture)

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples/catalogue.yaml"


def test_a_catalogue_is_checked_and_the_answer_comes_first() -> None:
    done = sillwright("catalogue", "check", EXAMPLE)
    assert done.returncode == 0, done.stderr
    first, second, *_ = done.stdout.splitlines()
    assert first == "catalogue.yaml: can be used, prices in USD of January 15, 2026; nothing is left out"
    assert second.startswith("Invented, for demonstration only")
    assert "profiles    1" in done.stdout


def test_what_has_no_price_is_counted_and_named(tmp_path: Path) -> None:
    path = tmp_path / "parts.yaml"
    path.write_text(EXAMPLE.read_text().replace(", price: {each: 40}", "").replace(", price: {each: 47}", ""))
    said = sillwright("catalogue", "check", path).stdout
    assert "cords       2        2" in said
    assert "cords: no price: a quote cannot count it (Cord 2 ft, 2 conductors; Cord 3 ft, 2 conductors)" in said


def test_a_long_remark_names_a_few_and_counts_the_rest(tmp_path: Path) -> None:
    path = tmp_path / "parts.yaml"
    boxes = "".join(f"- {{name: Box {number}}}\n" for number in range(9))
    path.write_text(
        "format: sillwright-catalogue/1\nname: Y\ncurrency: EUR\npriced_on: 2026-01-15\nboxes:\n" + boxes
    )
    assert "Box 0; Box 1; Box 2; Box 3; and 5 more" in sillwright("catalogue", "check", path).stdout
    told = json.loads(sillwright("catalogue", "check", path, "--json").stdout)
    assert len(told["remarks"][0]["names"]) == 9


def test_the_invented_catalogue_is_printed_and_reads_back(tmp_path: Path) -> None:
    path = tmp_path / "parts.yaml"
    path.write_text(sillwright("catalogue", "demo").stdout, encoding="utf-8")
    told = json.loads(sillwright("catalogue", "check", path, "--json").stdout)
    assert told["format"] == "sillwright-catalogue-check/1"
    assert told["fingerprint"] == fingerprint(demo())
    assert told["entries"]["profiles"] == 8
    assert [each["id"] for each in told["remarks"]] == ["half_listing"]


def test_a_refused_catalogue_names_place_value_and_remedy(tmp_path: Path) -> None:
    path = tmp_path / "parts.yaml"
    path.write_text(EXAMPLE.read_text().replace("slide_in", "slide-in", 1))
    done = sillwright("catalogue", "check", path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "channels[0].fixing: not a known word here, read “slide-in”" in done.stderr
    assert "did you mean “slide_in”?" in done.stderr


def test_a_survey_is_not_taken_for_a_catalogue() -> None:
    done = sillwright("catalogue", "check", ROOT / "examples/ferry-yard.yaml")
    assert done.returncode == 2
    assert "this is read here: format: sillwright-catalogue/1" in done.stderr


def test_a_spreadsheet_to_fill_is_written_once(tmp_path: Path) -> None:
    path = tmp_path / "parts.xlsx"
    done = sillwright("catalogue", "template", path, "--units", "metric")
    assert done.returncode == 0, done.stderr
    assert f"read it with sillwright catalogue check {path}" in done.stdout
    assert sillwright("catalogue", "template", path).returncode == 4
    assert sillwright("catalogue", "template", path, "--replace").returncode == 0
    empty = sillwright("catalogue", "check", path)
    assert empty.returncode == 2
    assert "catalogue!A1: “currency” is missing" in empty.stderr


def test_a_spreadsheet_has_the_name_of_one(tmp_path: Path) -> None:
    done = sillwright("catalogue", "template", tmp_path / "parts.yaml")
    assert done.returncode == 2
    assert "the name of a spreadsheet ends in .xlsx" in done.stderr
    assert not list(tmp_path.iterdir())


def test_a_name_cannot_steer_a_terminal(tmp_path: Path) -> None:
    path = tmp_path / "parts.yaml"
    path.write_text(EXAMPLE.read_text().replace("name: Box class G", 'name: "Box \\e[31m\\a G"', 1))
    done = sillwright("catalogue", "check", path)
    assert done.returncode == 2
    assert not {"\x1b", "\a"} & set(done.stdout + done.stderr)


def test_every_command_of_the_catalogue_has_help_with_an_example() -> None:
    for name in ("check", "template", "demo"):
        assert f"Example: sillwright catalogue {name}" in sillwright("catalogue", name, "--help").stdout


WORDS = "sillwright catalogue check USD format name currency priced_on key value"


def test_the_catalogue_is_told_of_in_marked_words(answer: Answer, tmp_path: Path) -> None:  # noqa: F811
    lists_of = " ".join(lists())
    said = answer("catalogue", "check", EXAMPLE)
    marked, _, mark = said.rpartition(" ")
    assert len(mark.strip()) == 64
    assert not loose(marked, EXAMPLE.name, WORDS, lists_of)
    assert not loose(answer("catalogue", "template", "a.xlsx"), "a.xlsx", WORDS)
    refused = answer("catalogue", "check", tmp_path / "a.xlsx")
    assert refused.count("\n") > 3
    assert not loose(refused, "a.xlsx", WORDS)
    path = tmp_path / "b.yaml"
    path.write_text(
        "format: sillwright-catalogue/1\nname: Y\ncurrency: usd\npriced_on: soon\nboxes: [{name: ''}]\n"
    )
    assert not loose(answer("catalogue", "check", path), "b.yaml", WORDS, "boxes usd soon")
