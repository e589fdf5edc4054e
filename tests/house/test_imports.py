"""Imports: every package has its floor, the command starts light, and the inside stays pure."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

import pytest

from .tree import ROOT, SOURCE, floors, parsed, sources, where

HEAVY = {
    "numpy", "numba", "llvmlite", "scipy", "pint", "typst", "openpyxl", "xlsxwriter", "fontTools", "pycountry",
    "ezdxf",
    "django", "ninja", "pydantic", "allauth", "gunicorn", "psycopg",
}  # fmt: skip
COMPILERS = {"numba", "llvmlite", "scipy"}


def test_every_package_has_its_floor():
    folders = {path.parent.name for path in SOURCE.glob("*/__init__.py")}
    named = [name for row in floors() for name in row]
    assert sorted(folders) == sorted(named)


def test_every_folder_is_a_package():
    loose = {where(path.parent) for path in SOURCE.rglob("*.py") if not (path.parent / "__init__.py").exists()}
    assert not loose


def test_no_module_stands_beside_the_floors():
    assert {path.name for path in SOURCE.glob("*.py")} <= {"__init__.py", "__main__.py"}


def test_the_picture_of_the_house_shows_every_floor():
    said = (ROOT / "CONTRIBUTING.md").read_text(encoding="utf-8")
    rows = [[f"{name}/" for name in row] for row in floors()]
    assert not [name for row in rows for name in row if name not in said]
    places = [said.index(row[0]) for row in rows]
    assert places == sorted(places), "top down, as in the contract"


def loaded_by(code: str) -> set[str]:
    """The top-level modules that a fresh interpreter has loaded after some code."""
    told = (
        f"import sys, json\n{code}\nprint(json.dumps(sorted({{name.partition('.')[0] for name in sys.modules}})))"
    )
    run = subprocess.run([sys.executable, "-c", told], capture_output=True, text=True, check=True, timeout=240)
    return set(json.loads(run.stdout.splitlines()[-1]))


def has(module: str) -> bool:
    """Whether a module can be imported, its packages too."""
    try:
        return find_spec(module) is not None
    except ModuleNotFoundError:
        return False


HELP = """
import contextlib, io
from sillwright.cli.main import run
sys.argv = ["sillwright", "--help"]
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    run()
"""


@pytest.mark.parametrize(
    ("module", "code", "heavy"),
    [
        pytest.param("sillwright.cli.main", "import sillwright.cli.main", HEAVY, id="import of the command"),
        pytest.param("sillwright.cli.main", HELP, HEAVY, id="help"),
        pytest.param("sillwright.base.model", "import sillwright.base.model", HEAVY, id="models"),
        pytest.param("sillwright.exposure", "import sillwright.exposure", HEAVY, id="exposure"),
        pytest.param("sillwright.mechanics", "import sillwright.mechanics", COMPILERS, id="mechanics"),
        pytest.param("sillwright.duty", "import sillwright.duty", HEAVY, id="duty"),
        pytest.param("sillwright.survey", "import sillwright.survey", HEAVY, id="survey"),
    ],
)
def test_heavy_parts_are_imported_only_when_used(module, code, heavy):
    if not has(module):
        pytest.skip(f"{module} is not written yet")
    assert not loaded_by(code) & heavy


def test_a_calculation_in_closed_form_loads_nothing_heavy():
    code = """
from sillwright.exposure import ApproachCase, approach
approach(ApproachCase(method="iso13855-beams", response_time=0.1))
"""
    assert not loaded_by(code) & HEAVY


# What the inside may not touch: the clock, the network, processes, files, chance without a seed, global state.
MODULES = {
    "time", "socket", "ssl", "http", "urllib", "ftplib", "smtplib", "asyncio", "subprocess", "multiprocessing",
    "threading", "concurrent", "random", "secrets", "tempfile", "shutil", "glob", "requests", "httpx",
}  # fmt: skip
CALLS = {
    "open", "now", "today", "utcnow", "read_text", "write_text", "read_bytes", "write_bytes", "unlink", "mkdir",
    "rename", "rmdir", "getenv", "system", "popen", "exists", "is_file", "iterdir",
}  # fmt: skip
CLOCK_AND_CHANCE = {"now", "today", "utcnow", "random", "secrets", "time", "getenv"}
TABLES = SOURCE / "base" / "data.py"


def may_touch_files(path: Path) -> bool:
    """``*.reading``, ``*.writing``, the reader of package data, and kernels for the cache of their compiler."""
    return path == TABLES or path.stem.removeprefix("_").endswith(("reading", "writing", "kernel"))


def opens_a_file(node: ast.Call) -> bool:
    """Whether a call of ``open`` is that of a file: the built-in, a library's, or a path's with its mode."""
    if isinstance(node.func, ast.Name):
        return True
    owner = getattr(getattr(node.func, "value", None), "id", "")
    mode = not node.args or (isinstance(node.args[0], ast.Constant) and isinstance(node.args[0].value, str))
    return mode or owner in {"io", "os", "gzip", "bz2", "lzma", "codecs", "zipfile", "tarfile"}


def impurities(path: Path, tree: ast.Module):
    """What a module below the command line does that only its edges may."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for each in node.names:
                yield node, each.name.partition(".")[0], MODULES
        elif isinstance(node, ast.ImportFrom) and not node.level:
            yield node, (node.module or "").partition(".")[0], MODULES
        elif isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name != "open" or opens_a_file(node):
                yield node, name, CALLS
            if name == "default_rng" and not node.args and not node.keywords:
                yield node, "default_rng without a seed", {"default_rng without a seed"}
        elif isinstance(node, ast.Attribute) and node.attr == "environ":
            yield node, "environ", {"environ"}
        elif isinstance(node, ast.Global):
            yield node, "global", {"global"}


def found_in(path: Path, tree: ast.Module) -> list[str]:
    """The impurities of a module that it may not have."""
    kept = CLOCK_AND_CHANCE | {"socket", "http", "urllib", "subprocess", "global"}
    return [
        f"{where(path, node)} {name}"
        for node, name, forbidden in impurities(path, tree)
        if name in forbidden and (name in kept or not may_touch_files(path))
    ]


def test_the_inside_touches_no_clock_network_files_or_global_state():
    above = {"cli", "web"}
    inside = [path for path in sources() if path.relative_to(SOURCE).parts[0] not in above]
    assert not [found for path in inside for found in found_in(path, parsed(path))]


@pytest.mark.parametrize(
    "code",
    [
        "import time",
        "from urllib.request import urlopen",
        "from datetime import date\ndate.today()",
        "open('x')",
        "import io\nio.open(name)",
        "path.open('wb')",
        "path.open()",
        "from pathlib import Path\nPath('x').write_text('')",
        "import os\nos.environ",
        "import numpy\nnumpy.random.default_rng()",
        "def f():\n    global x",
    ],
)
def test_an_impurity_would_be_found(code):
    assert found_in(SOURCE / "base" / "model.py", ast.parse(code))


def test_a_method_called_open_is_not_a_file():
    assert not found_in(SOURCE / "drawing" / "canvas.py", ast.parse("canvas.open(shape)"))


def test_readers_and_writers_may_touch_files_but_not_the_clock():
    reader = SOURCE / "survey" / "reading.py"
    assert not found_in(reader, ast.parse("open('x')"))
    assert found_in(reader, ast.parse("date.today()"))
