"""The commands as a technician uses them."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml

from sillwright.cli.main import COMMANDS

ROOT = Path(__file__).parents[2]
YARD = ROOT / "examples/ferry-yard.yaml"


def sillwright(*words: str | Path, cwd: Path | None = None, typed: str = "") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", "from sillwright.cli.main import run; run()", *map(str, words)]
    return subprocess.run(command, cwd=cwd, input=typed, capture_output=True, text=True, timeout=120, check=False)


def test_study_answers_first_and_says_where_the_papers_are(tmp_path: Path) -> None:
    done = sillwright("study", YARD, "--out", tmp_path / "papers")
    assert done.returncode == 0
    first = done.stdout.splitlines()[0]
    assert "6 openings" in first
    assert "2 may close under power" in first
    assert str(tmp_path / "papers") in done.stdout
    assert (tmp_path / "papers/lanternfield-ferry-yard.pdf").read_bytes().startswith(b"%PDF")


def test_study_as_json_writes_no_papers_unless_told_where(tmp_path: Path) -> None:
    done = sillwright("study", YARD, "--json", cwd=tmp_path)
    answer = json.loads(done.stdout)
    assert answer["format"] == "sillwright-study/1"
    assert [each["tag"] for each in answer["openings"]] == ["B1", "B2", "D3", "D4", "F1", "G1"]
    assert [each["duty"]["powered_closing"] for each in answer["openings"]] == [
        "yes",
        "unknown",
        "yes",
        "no",
        "no",
        "no",
    ]
    assert list(tmp_path.iterdir()) == []
    assert answer["openings"][0]["exposure"]["contact"]["peak_force"] > 0
    asked = answer["openings"][1]["unknown"]
    assert asked[0]["fact"] == "operator.made"
    assert "duty.powered_closing" in asked[0]["decides"]


def test_study_can_fail_on_what_must_stop_today(tmp_path: Path) -> None:
    assert sillwright("study", YARD, "--json", "--fail-on", "stop").returncode == 3
    assert sillwright("study", YARD, "--json", "--fail-on", "act").returncode == 3


def test_a_refused_file_names_place_value_and_remedy_and_writes_nothing(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.yaml"
    wrong.write_text(YARD.read_text().replace("8 in/s", "8", 1).replace("kind: jackshaft", "kind: jakshaft", 1))
    done = sillwright("study", wrong, "--out", tmp_path / "papers")
    assert done.returncode == 2
    assert done.stdout == ""
    assert "openings[0].operator.kind" in done.stderr
    assert "did you mean “jackshaft”?" in done.stderr
    assert re.search(r"line \d+, column \d+", done.stderr)
    assert not (tmp_path / "papers").exists()


def test_a_draft_is_checked_but_not_studied(tmp_path: Path) -> None:
    draft = tmp_path / "draft.yaml"
    draft.write_text("format: sillwright-survey/1\nsite: {name: Yard, country: US}\nopenings:\n- tag: B9\n")
    checked = sillwright("check", draft)
    assert checked.returncode == 0
    assert "missing: door.kind" in checked.stdout
    assert sillwright("study", draft, "--json").returncode == 2


def test_check_asks_what_is_not_plausible() -> None:
    done = sillwright("check", YARD)
    assert done.returncode == 0
    assert "10 ft 6 in, or 10.6 ft = 10 ft 7-3/16 in?" in done.stdout


def test_a_new_survey_is_asked_and_reads_back(tmp_path: Path) -> None:
    typed = "Quillback Sheds\nUS\nB7\n\nus\nsectional\n10.4 ft\n10 ft 4 in\n12 ft\n" + "\n" * 60
    done = sillwright("new", tmp_path / "sheds.yaml", typed=typed)
    assert done.returncode == 0, done.stderr
    checked = sillwright("check", tmp_path / "sheds.yaml")
    assert "ready to study" in checked.stdout


def test_a_new_survey_is_kept_when_the_person_stops(tmp_path: Path) -> None:
    done = sillwright("new", tmp_path / "sheds.yaml", typed="Quillback Sheds\nUS\nB7\n")
    assert done.returncode == 0
    assert "tag: B7" in (tmp_path / "sheds.yaml").read_text()


def test_a_spreadsheet_to_fill_reads_back(tmp_path: Path) -> None:
    assert sillwright("new", tmp_path / "sheds.xlsx").returncode == 0
    assert sillwright("check", tmp_path / "sheds.xlsx").returncode == 0


def test_an_existing_file_is_left_alone(tmp_path: Path) -> None:
    kept = tmp_path / "kept.yaml"
    kept.write_text("mine")
    assert sillwright("new", kept).returncode == 2
    assert kept.read_text() == "mine"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("approach", "0.512 m"),
        ("contact", "Greatest force"),
        ("overtravel", "0.06858 m"),
        ("contact_spread", "Share"),
    ],
)
def test_a_calculation_answers_first(name: str, said: str) -> None:
    file = {"contact_spread": "spread"}.get(name, name)
    done = sillwright("calc", name, ROOT / f"examples/{file}.yaml")
    assert done.returncode == 0, done.stderr
    assert said in done.stdout.splitlines()[0]
    result = json.loads(sillwright("calc", name, ROOT / f"examples/{file}.yaml", "--json").stdout)
    assert result["sources"]


def test_the_bars_of_a_cut_list_are_shown_one_by_one() -> None:
    done = sillwright("calc", "cutlist", ROOT / "examples/cutlist.yaml")
    assert "The bars" in done.stdout
    assert "dock 1 and 2 11 ft 10-1/2 in" in done.stdout
    assert "Place and compression" not in sillwright("calc", "floor", ROOT / "examples/floor.yaml").stdout


def test_what_the_shop_works_from_is_written_beside_the_report(tmp_path: Path) -> None:
    survey, catalogue = ROOT / "examples/ferry-yard.yaml", ROOT / "examples/catalogue.yaml"
    sillwright("study", survey, "--catalogue", catalogue, "--shop", "--out", tmp_path)
    written = {path.name for path in tmp_path.iterdir()}
    assert {"b1.svg", "b1.dxf", "b1-install.pdf"} <= written
    assert "b1-scribe.pdf" in written
    assert "b2-scribe.pdf" not in written, "nobody has read the floor there"


def test_an_unknown_calculation_names_the_nearest() -> None:
    done = sillwright("calc", "aproach", ROOT / "examples/approach.yaml")
    assert done.returncode == 2
    assert "approach" in done.stderr


def test_a_case_out_of_range_is_refused_with_its_place(tmp_path: Path) -> None:
    case = tmp_path / "case.yaml"
    case.write_text("method: iso13855-normal\nresponse_time: -1\nresolution: 14\nspeed: 3\n")
    done = sillwright("calc", "approach", case)
    assert done.returncode == 2
    assert "3 mistakes" in done.stderr


def test_the_schema_describes_case_and_result() -> None:
    schema = json.loads(sillwright("calc", "contact", "--schema").stdout)
    assert schema["case"]["properties"]["closing_speed"]["x-unit"] == "m/s"


@pytest.mark.parametrize(
    ("name", "file"), [("approach", "approach"), ("contact", "contact"), ("overtravel", "overtravel")]
)
def test_the_schema_takes_the_example_and_refuses_an_unknown_key(name: str, file: str) -> None:
    schema = json.loads(sillwright("calc", name, "--schema").stdout)["case"]
    example = yaml.safe_load((ROOT / f"examples/{file}.yaml").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(example, schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**example, "colour": "red"}, schema)


def test_a_calculation_says_its_notes_on_the_screen(tmp_path: Path) -> None:
    case = tmp_path / "case.yaml"
    case.write_text("method: iso13855-parallel\nresponse_time: 300 ms\nfield_height: 300 mm\nresolution: 80 mm\n")
    assert "Note: " in sillwright("calc", "approach", case).stdout


def test_a_spread_shows_its_forces() -> None:
    assert "peak_force" in sillwright("calc", "contact_spread", ROOT / "examples/spread.yaml").stdout


def test_one_leaf_beyond_the_model_does_not_keep_a_site_from_its_papers(tmp_path: Path) -> None:
    site = tmp_path / "site.yaml"
    fast = "closing_speed: 4.9 m/s, moving_mass: 60000 kg, opening_speed: 5 m/s"
    site.write_text(
        "format: sillwright-survey/1\nsite: {name: Yard, country: US}\nopenings:\n"
        f"- {{tag: A, door: {{kind: grille, clear_width: 60 m, clear_height: 40 m, {fast}}},"
        " operator: {reaction: 10 s, dwell: 60 s, deceleration: 100 m/s^2}}\n"
        "- {tag: B, door: {kind: sectional, clear_width: 3 m, clear_height: 3 m}}\n"
    )
    assert sillwright("study", site, "--out", tmp_path / "out").returncode == 0


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is full")
def test_an_answer_that_cannot_be_printed_is_said_in_one_line() -> None:
    command = "from sillwright.cli.main import run; run()"
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-c", command, "selftest"], stdout=full, stderr=subprocess.PIPE, text=True, check=False
        )
    assert done.returncode == 4
    assert len(done.stderr.splitlines()) == 1


def test_a_terminal_without_the_sign_still_shows_the_answer(tmp_path: Path) -> None:
    command = [sys.executable, "-c", "from sillwright.cli.main import run; run()", "check", str(YARD)]
    env = {**os.environ, "PYTHONIOENCODING": "latin-1"}
    assert subprocess.run(command, env=env, capture_output=True, check=False).returncode == 0


def test_the_self_test_runs_every_shipped_case() -> None:
    done = sillwright("selftest")
    assert done.returncode == 0
    assert "all as their sources say" in done.stdout


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_an_example(name: str) -> None:
    done = sillwright(name, "--help")
    assert done.returncode == 0
    assert f"Example: sillwright {name}" in done.stdout


def test_a_name_cannot_steer_a_terminal(tmp_path: Path) -> None:
    hostile = tmp_path / "hostile.yaml"
    hostile.write_text(YARD.read_text().replace("name: Workshop bay 1", 'name: "bay \\e[31m\\a one"', 1))
    done = sillwright("study", hostile, "--out", tmp_path / "out")
    assert "\x1b" not in done.stdout + done.stderr
    assert "\a" not in done.stdout + done.stderr
