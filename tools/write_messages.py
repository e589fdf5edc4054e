"""Writes the catalogue of every sentence a person reads: ``make messages``. A test compares it.

Sentences are marked in code with ``N_`` and stand in rule tables under a few keys; titles of facts and of model
fields are words that people read, too.
"""

from __future__ import annotations

import ast
import tomllib
from collections.abc import Iterator
from pathlib import Path

from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Group, GroupSpec

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src/sillwright"
TARGET = SOURCE / "base/locale/sillwright.pot"
READ_IN_TABLES = {"asks", "remedy", "says", "who", "what", "title", "text", "why", "do", "ask", "held"}


def marked(path: Path) -> Iterator[str]:
    """Literals in ``N_(…)`` of one module."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "N_":
            (argument,) = node.args
            if isinstance(argument, ast.Constant):
                yield str(argument.value)


def tabled(rows: object) -> Iterator[str]:
    """Sentences of a table, wherever they stand in it."""
    if isinstance(rows, dict):
        for key, value in rows.items():
            if key in READ_IN_TABLES and isinstance(value, str):
                yield value
            else:
                yield from tabled(value)
    elif isinstance(rows, list):
        for row in rows:
            yield from tabled(row)


def titled(group: type[Group]) -> Iterator[str]:
    """What the facts of a group are called."""
    for spec in group.specs.values():
        yield spec.title
        if isinstance(spec, GroupSpec):
            yield from titled(spec.group)


def text() -> str:
    """The catalogue as it should stand."""
    found: dict[str, set[str]] = {}
    for path in sorted(SOURCE.rglob("*.py")):
        for sentence in marked(path):
            found.setdefault(sentence, set()).add(str(path.relative_to(SOURCE)))
    for path in sorted([*(SOURCE / "duty/data").glob("*.toml"), SOURCE / "survey/data/questions.toml"]):
        for sentence in tabled(tomllib.loads(path.read_text(encoding="utf-8"))):
            found.setdefault(sentence, set()).add(str(path.relative_to(SOURCE)))
    for sentence in (*titled(Site), *titled(Opening)):
        found.setdefault(sentence, set()).add("survey/model.py")
    lines = ["# Every sentence that a person reads. Written by `make messages`.", 'msgid ""', 'msgstr ""']
    lines += ['"Content-Type: text/plain; charset=UTF-8\\n"', ""]
    for sentence in sorted(found):
        escaped = sentence.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
        lines += [f"#: {' '.join(sorted(found[sentence]))}", f'msgid "{escaped}"', 'msgstr ""', ""]
    return "\n".join(lines)


if __name__ == "__main__":
    TARGET.parent.mkdir(exist_ok=True)
    TARGET.write_text(text(), encoding="utf-8")
