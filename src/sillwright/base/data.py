"""Package data: the tables that ship with the program, as TOML beside the code that uses them."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from sillwright.base.po import read_po


@cache
def table(package: str, name: str) -> dict[str, Any]:
    """The TOML file ``data/<name>.toml`` of a package, read once. Callers never change it."""
    return tomllib.loads(text(package, f"{name}.toml"))


def text(package: str, name: str) -> str:
    """A text file of a package's ``data`` folder."""
    return (files(package) / "data" / name).read_text(encoding="utf-8")


@cache
def translations(language: str, part: str) -> dict[str, str]:
    """The sentences of a part of the program in a language; none where it does not speak it."""
    kept = files("sillwright.base") / "locale" / language / "LC_MESSAGES" / f"{part}.po"
    return read_po(kept.read_text(encoding="utf-8")) if kept.is_file() else {}


def folder(package: str) -> Path:
    """The ``data`` folder of a package as a path, for libraries that open files themselves."""
    return Path(str(files(package) / "data"))
