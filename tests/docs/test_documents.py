"""Documents that cannot lie: what they show is run, what they list is compared."""

from __future__ import annotations

import importlib.util
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"```(\w*)\n(.*?)```", re.DOTALL)
TYPED = "Quillback Sheds\nUS\nB7\n\nus\nsectional\n10 ft 4 in\n12 ft\n" + "\n" * 60


def tool(name: str) -> Any:
    spec = importlib.util.spec_from_file_location(name, ROOT / f"tools/{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_page_of_commands_is_the_programs_own_help() -> None:
    shown = (ROOT / "docs/commands.md").read_text(encoding="utf-8")
    assert shown == tool("write_commands").text(), "run make commands"


def test_the_page_of_the_survey_file_lists_every_fact() -> None:
    shown = (ROOT / "docs/survey.md").read_text(encoding="utf-8")
    assert shown == tool("write_survey_page").text(), "run make survey-page"


def test_the_catalogue_holds_every_sentence_that_is_marked() -> None:
    kept = (ROOT / "src/sillwright/base/locale/sillwright.pot").read_text(encoding="utf-8")
    assert kept == tool("write_messages").text(), "run make messages"


def test_every_command_that_the_readme_shows_runs_in_its_order(tmp_path: Path) -> None:
    blocks = BLOCK.findall((ROOT / "README.md").read_text(encoding="utf-8"))
    (case,) = [body for language, body in blocks if language == "yaml"]
    (tmp_path / "case.yaml").write_text(case, encoding="utf-8")
    for shown, example in (("parts.yaml", "catalogue.yaml"), ("bars.yaml", "cutlist.yaml")):
        (tmp_path / shown).write_bytes((ROOT / "examples" / example).read_bytes())
    lines = [line for language, body in blocks if not language for line in body.splitlines()]
    commands = [shlex.split(line) for line in lines if line.startswith("sillwright ")]
    assert len(commands) >= 8
    run = [sys.executable, "-c", "from sillwright.cli.main import run; run()"]
    for _, *words in commands:
        done = subprocess.run(
            [*run, *words], cwd=tmp_path, input=TYPED, capture_output=True, text=True, timeout=120, check=False
        )
        assert done.returncode == 0, (words, done.stderr)


def test_the_examples_that_help_shows_exist() -> None:
    shown = re.findall(r"examples/[\w-]+\.\w+", (ROOT / "docs/commands.md").read_text(encoding="utf-8"))
    assert shown
    assert [name for name in shown if not (ROOT / name).exists()] == []
