"""The checkout as the tests of the house see it. Everything is looked up when a test asks, not at import."""

from __future__ import annotations

import ast
import pkgutil
import subprocess
import tomllib
from collections.abc import Iterator
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Annotated, Any, get_args, get_origin

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "sillwright"
CORE = ("base", "survey", "catalogue", "circuit", "mechanics", "duty", "exposure", "hookup", "takeoff", "trouble")


def project() -> dict[str, Any]:
    """pyproject.toml."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def floors() -> list[list[str]]:
    """The floors of the import contract, top down; packages side by side share a row."""
    contracts = project()["tool"]["importlinter"]["contracts"]
    (contract,) = (each for each in contracts if each["type"] == "layers")
    return [[name.strip() for name in row.split("|")] for row in contract["layers"]]


def tracked() -> list[Path]:
    """The files of the project: those that git tracks or would, else all but what commands make."""
    asked = ["git", "-C", str(ROOT), "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        listed = subprocess.run(asked, capture_output=True, check=True, text=True).stdout.split("\0")
        found = [ROOT / name for name in listed if name]
    except (OSError, subprocess.CalledProcessError):  # no git, or a checkout that is another user's
        made = {"out", "__pycache__", ".venv", ".cache", ".git"}
        found = [path for path in ROOT.rglob("*") if not made & set(path.relative_to(ROOT).parts)]
        found = [path for path in found if not any(part.startswith(".") for part in path.parent.parts)]
    return sorted(path for path in found if path.is_file())


def texts() -> Iterator[tuple[Path, str]]:
    """Every file of the project that is text, with what it says."""
    for path in tracked():
        try:
            yield path, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


def sources(*packages: str) -> list[Path]:
    """The Python files of packages, of all of them where none is named."""
    folders = [SOURCE / name for name in packages] if packages else [SOURCE]
    return sorted(path for folder in folders for path in folder.rglob("*.py"))


@cache
def parsed(path: Path) -> ast.Module:
    """The syntax tree of a file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def where(path: Path, node: ast.AST | None = None) -> str:
    """A place in the checkout as a message names it."""
    line = f":{node.lineno}" if isinstance(node, (ast.stmt, ast.expr)) else ""
    return f"{path.relative_to(ROOT).as_posix()}{line}"


def models(*packages: str) -> set[type]:
    """The cases and results of packages, and every model inside one."""
    from sillwright.base.model import Case, Model, Result

    for name in packages:
        package = import_module(f"sillwright.{name}")
        for each in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            import_module(each.name)
    found: set[type] = set()
    waiting: list[type] = [each for root in (Case, Result) for each in root.__subclasses__()]
    while waiting:
        each = waiting.pop()
        if each in found or not each.__module__.startswith("sillwright."):
            continue
        found.add(each)
        waiting += each.__subclasses__()
        inside = (leaf for _, leaf in leaves(each))
        waiting += [leaf for leaf in inside if isinstance(leaf, type) and issubclass(leaf, Model)]
    return found


def leaves(model: type) -> Iterator[tuple[str, Any]]:
    """The innermost types of a model's fields, with the field's name; a type with a unit stays whole."""
    from typing import get_type_hints

    for name, hint in get_type_hints(model, include_extras=True).items():
        yield from ((name, leaf) for leaf in _inside(hint))


def _inside(hint: Any) -> Iterator[Any]:
    if units(hint) or not get_args(hint):
        yield hint
        return
    inner = get_args(hint)[:1] if get_origin(hint) is Annotated else get_args(hint)
    for each in inner:
        yield from _inside(each)


def units(hint: Any) -> tuple[str, ...]:
    """The unit symbols a type carries."""
    from sillwright.base.units import Unit

    marks = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    return tuple(mark.symbol for mark in marks if isinstance(mark, Unit))
