"""Writes the catalogue of every sentence a person reads: ``make messages``. A test compares it.

Sentences are marked in code with ``N_`` and stand in rule tables under a few keys. Titles of facts, of models' fields
and of calculations are words that people read, too, and so are the words by which a fact or a field is answered.
"""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.study.calculations import TABLE, calculation
from sillwright.survey.model import WHO, Opening, Site
from sillwright.survey.spec import Group, GroupSpec
from sillwright.web.workbench.rests import paragraphs_of

ROOT = Path(__file__).parents[1]
SOURCE = ROOT / "src/sillwright"
TARGET = SOURCE / "base/locale/sillwright.pot"
READ_IN_TABLES = {
    "asks", "remedy", "says", "who", "what", "title", "text", "why", "do", "ask", "here", "held", "offers", "source",
    "parts",
}  # fmt: skip
TITLED = tuple(
    f"sillwright.{part}." for part in ("catalogue", "circuit", "mechanics", "exposure", "takeoff", "trouble")
)
"""Parts whose models' titles are read: on a bench, in a result, in what is said of a mistake."""
CITED = {"document", "edition", "clause"}
NOT_READ = {"example", "base", "given"}
"""Tables inside tables that are cases for tests, not words for people."""
NOT_SHOWN = {"exposure/data/approach.toml"}
"""Its sentences say to whoever mends it what a formula is; results say it in words of their own."""
NESTED = re.compile(r"\{\w+\}")

Found = Iterator[tuple[str, str]]  # a sentence, and the file that says it


def in_code() -> Found:
    """Literals in ``N_(…)``, where that is the mark of this catalogue and not the one of the pages."""
    for path in sorted(SOURCE.rglob("*.py")):
        place, tree = path.relative_to(SOURCE).as_posix(), ast.parse(path.read_text(encoding="utf-8"))
        if place == "base/words.py" or any(marks_of_this_catalogue(node) for node in ast.walk(tree)):
            yield from ((words, place) for words in marked(tree))


def marks_of_this_catalogue(node: ast.AST) -> bool:
    """Whether this is where a module takes its ``N_`` from :mod:`sillwright.base.words`."""
    names = {each.name for each in node.names} if isinstance(node, ast.ImportFrom) else set()
    return "N_" in names and getattr(node, "module", "") == "sillwright.base.words"


def marked(tree: ast.Module) -> Iterator[str]:
    """Literals in ``N_(…)`` of one module."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "N_":
            (argument,) = node.args
            if isinstance(argument, ast.Constant):
                yield str(argument.value)


def in_tables() -> Found:
    """Sentences of the tables that ship with the packages."""
    for path in sorted(SOURCE.glob("*/data/*.toml")):
        place = path.relative_to(SOURCE).as_posix()
        if place not in NOT_SHOWN:
            yield from ((words, place) for words in tabled(tomllib.loads(path.read_text(encoding="utf-8"))))


def tabled(rows: object, key: str = "") -> Iterator[str]:
    """Sentences of a table, wherever they stand in it."""
    if isinstance(rows, dict):
        for name, value in rows.items():
            if name not in NOT_READ:
                yield from tabled(value, name)
    elif isinstance(rows, list):
        for row in rows:
            yield from tabled(row, key)
    elif isinstance(rows, str) and key == "offers":
        yield rows.replace("_", " ")
    elif isinstance(rows, str) and (key in READ_IN_TABLES or (key in CITED and ours(rows, key))):
        yield rows


def ours(words: str, key: str) -> bool:
    """Whether part of a citation is in our own words: a title that was published is not."""
    return words[:1].islower() if key == "document" else bool(re.search(r"[a-z]{3}", words))


def of_facts() -> Found:
    """What facts and their groups are called, and the words that answer them."""
    for kind in (Site, Opening):
        yield from ((words, "survey/model.py") for words in titled(kind))
    yield from ((spaced(word), "survey/model.py") for word in WHO)


def titled(group: type[Group]) -> Iterator[str]:
    """The titles, the names and the choices of a group's facts, as they are shown."""
    for name, spec in group.specs.items():
        yield spec.title
        yield spaced(name)
        if isinstance(spec, GroupSpec):
            yield from titled(spec.group)
        else:
            yield from map(spaced, spec.choices)


def spaced(word: str) -> str:
    """A word of a survey file as it is shown."""
    return word.replace("_", " ")


def of_calculations() -> Found:
    """What calculations answer, what the fields of their models are called, and the words in them."""
    for name in TABLE:
        found = calculation(name)
        place = found.function.__module__.removeprefix("sillwright.").replace(".", "/") + ".py"
        yield found.title, place
        yield from ((said, place) for _word, said in paragraphs_of(found))
    waiting: list[type[Model]] = [Model]
    while waiting:
        model = waiting.pop()
        waiting += model.__subclasses__()
        if model.__module__.startswith(TITLED):
            place = model.__module__.removeprefix("sillwright.").replace(".", "/") + ".py"
            yield from ((words, place) for spec in fields_of(model) for words in of_field(spec))


def of_field(spec: FieldSpec) -> Iterator[str]:
    """A field's title and the words that it may hold; ids like ``iso13855-mat`` are no words."""
    if spec.limits.title:
        yield spec.limits.title
    yield from (spaced(word) for word in spec.choices if re.fullmatch(r"[a-z_ ]{3,}", word))


def text() -> str:
    """The catalogue as it should stand."""
    found: dict[str, set[str]] = {}
    for collect in (in_code, in_tables, of_facts, of_calculations):
        for sentence, place in collect():
            found.setdefault(sentence, set()).add(place)
    lines = ["# Every sentence that a person reads. Written by `make messages`.", 'msgid ""', 'msgstr ""']
    lines += ['"Content-Type: text/plain; charset=UTF-8\\n"', ""]
    for sentence in sorted(found):
        escaped = sentence.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
        lines.append(f"#: {' '.join(sorted(found[sentence]))}")
        lines += ["#, python-brace-format"] if NESTED.search(sentence) else []
        lines += [f'msgid "{escaped}"', 'msgstr ""', ""]
    return "\n".join(lines)


if __name__ == "__main__":
    TARGET.parent.mkdir(exist_ok=True)
    TARGET.write_text(text(), encoding="utf-8")
