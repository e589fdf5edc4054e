"""New survey files: a commented draft from answers, and a workbook to fill in.

A file is written aside and then given its name, so that there is never half of one; what is there is not written
over unless that is asked for.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from textwrap import wrap
from typing import Any

import yaml

from sillwright.base.errors import InputError, OutputError
from sillwright.base.fact import ORIGINS
from sillwright.base.node import short
from sillwright.base.words import N_, Units, say
from sillwright.survey.model import FORMAT, Opening, Site
from sillwright.survey.questions import LISTS, Question, mistake_in, questions, spec_at, value_of
from sillwright.survey.spec import ID, Group, GroupSpec, Spec, join

Answers = Mapping[str, str | None]
"""What was answered, by fact path: text as typed, None for *don't know*. What is not there was not asked.

Members of lists are called by id or number: ``protection.e1.kind``, ``use.traffic.1.who``. ``none`` for a list
itself, ``protection``, says that there is none.
"""

_NEEDED = ("site.name", "site.country", "tag")
_NONE = "none"
_HEAD = (
    (
        N_(
            "A draft of an opening. Fill in what is missing. What begins with # was not asked; null was asked, and "
            "is not known yet; [] was looked for, and there is none."
        ),
        "",
    ),
    (
        N_(
            "Lengths carry their unit: 10 ft 6 in, 3.71 m. Sides are said inside, looking out. Where a fact comes "
            "from may be written with it:"
        ),
        "{value: 8 in/s, from: measured, by: technician, on: 2026-03-04}",
    ),
    ("", f"from: {' | '.join(ORIGINS)}"),
)
"""Sentences at the head of a draft, each with what is typed as it stands."""


def draft_text(answers: Answers, translate: Callable[[str], str] = str) -> str:
    """A commented survey file with every answer; what was not known is null, what was not asked a comment.

    ``translate`` gives the comments in another language. Raises :class:`InputError` where the site's name, its
    country or the tag is missing, or where the reader would refuse an answer.

    >>> print(draft_text({"site.name": "Ferry Yard", "site.country": "US", "tag": "B2"}).splitlines()[5])
    format: sillwright-survey/1
    """
    missing = [path for path in _NEEDED if not (answers.get(path) or "").strip()]
    if missing:
        said = N_("{facts}: answer it first; without it there is no file to write")
        raise InputError(say(said, facts=", ".join(missing)))
    kind = answers.get("door.kind")
    tree = _tree(answers)
    asked = [each for each in questions() if each.asked_of(kind)]
    writer = _Writer({each.path: each for each in asked}, translate)
    site = writer.group(Site, tree.pop("site"), "site", 2)
    opening = _dashed(writer.group(Opening, tree, "", 4))
    head = [line for words, typed in _HEAD for line in writer.comment(f"{writer.said(words)} {typed}", 0)]
    return "\n".join([*head, f"format: {FORMAT}", "site:", *site, "openings:", *opening]) + "\n"


_Tree = dict[str, Any]


def _tree(answers: Answers) -> _Tree:
    """Answers by path as nested mappings. Raises :class:`InputError` where the reader would refuse one."""
    tree: _Tree = {}
    for path, said in answers.items():
        words = said.strip() if said else ""
        if any("\ud800" <= sign <= "\udfff" for sign in path + words):
            raise InputError(say(N_("{path}: half a sign cannot stand in a file"), path=short(path)))
        if words and not _is_none(path, words) and (wrong := mistake_in(path, words, answers)):
            raise InputError(wrong.said)
        if not words and path not in LISTS:
            spec_at(path)
        here = tree
        *groups, name = path.split(".")
        for group in groups:
            if not ID.fullmatch(group):
                said = N_("“{name}”: a member of a list is called by letters, figures, - and _")
                raise InputError(say(said, name=short(group)))
            here = here.setdefault(group, {})
            if not isinstance(here, dict):
                raise InputError(
                    say(N_("{path}: “{group}” is answered as a whole already"), path=path, group=group)
                )
        if name in here:
            raise InputError(say(N_("{path}: answered in part already"), path=path))
        here[name] = words or None
    return tree


def _is_none(path: str, words: str) -> bool:
    return path in LISTS and words.casefold() == _NONE


class _Writer:
    """Writes groups line by line: the facts in the order of the questions, each under its question."""

    def __init__(self, asked: Mapping[str, Question], translate: Callable[[str], str]) -> None:
        self.asked = asked
        self.translate = translate

    def said(self, words: str) -> str:
        """Marked words in the language of the comments."""
        return self.translate(words) if words else ""

    @staticmethod
    def comment(words: str, indent: int) -> list[str]:
        """Words as lines of comment."""
        margin = f"{' ' * indent}# "
        return wrap(words.strip(), 116, initial_indent=margin, subsequent_indent=margin)

    def group(self, kind: type[Group], tree: _Tree, path: str, indent: int) -> list[str]:
        below = [
            each.removeprefix(path).lstrip(".").partition(".")[0] for each in self.asked if self._in(each, path)
        ]
        names = [*dict.fromkeys(name for name in [*below, *kind.specs] if name in kind.specs)]
        lines: list[str] = []
        for name in names:
            spec, here = kind.specs[name], join(path, name)
            if isinstance(spec, Spec):
                lines += self._fact(spec, tree, here, indent)
            elif spec.many:
                lines += self._list(spec, tree, here, indent)
            else:
                inner = self.group(spec.group, tree.get(name) or {}, here, indent + 2)
                if inner:
                    lines += [f"{' ' * indent}{'' if name in tree else '# '}{name}:", *inner]
        return lines

    @staticmethod
    def _in(asked: str, path: str) -> bool:
        if not path:
            return not asked.startswith("site.")
        return asked.startswith(f"{path}.")

    def _fact(self, spec: Spec, tree: _Tree, path: str, indent: int) -> list[str]:
        question = self.asked.get(path)
        margin = " " * indent
        lines = self._comment(question, indent) if question else []
        if spec.name in tree:
            said = tree[spec.name]
            value = self._not_known() if said is None else dumped(value_of(spec, said))
            return [*lines, f"{margin}{spec.name}: {value}"]
        return [*lines, f"{margin}# {spec.name}:"] if question else []

    def _not_known(self) -> str:
        return f"null  # {self.said(N_('asked, not known yet'))}"

    def _comment(self, question: Question, indent: int) -> list[str]:
        said = [f"{self.said(question.ask)} {self.said(question.why)}", " | ".join(question.spec.choices)]
        return [line for text in said for line in self.comment(text, indent)]

    def _list(self, spec: GroupSpec, tree: _Tree, path: str, indent: int) -> list[str]:
        margin = " " * indent
        if spec.name not in tree:
            asked = any(self._in(each, path) for each in self.asked)
            none = self.said(N_("[] says: looked, there is none"))
            return [f"{margin}# {spec.name}: []  # {none}"] if asked else []
        said = tree[spec.name]
        if not isinstance(said, dict):
            none = f"[]  # {self.said(N_('looked, there is none'))}"
            empty = self._not_known() if said is None else none
            return [f"{margin}{spec.name}: {empty}"]
        lines = [f"{margin}{spec.name}:"]
        for label, member in said.items():
            inner = self.group(spec.group, member, f"{path}.*", indent + 4)
            if "id" in spec.group.specs:
                inner = [f"{margin}    id: {dumped(label)}", *inner]
            lines += _dashed(inner)
        return lines


def _dashed(lines: Sequence[str]) -> list[str]:
    """The lines of a mapping as a member of a list: its first key gets the dash."""
    first = next(number for number, line in enumerate(lines) if not line.lstrip().startswith("#"))
    line = lines[first]
    margin = len(line) - len(line.lstrip())
    return [*lines[:first], f"{' ' * (margin - 2)}- {line.lstrip()}", *lines[first + 1 :]]


def dumped(value: Any) -> str:
    """A value as it stands in a survey file, on one line.

    >>> print(dumped("a: b"), dumped(["a, b", "c"]), dumped(True))
    'a: b' ['a, b', c] true
    """
    if isinstance(value, list):
        return f"[{', '.join(map(dumped, value))}]"
    style = None if not isinstance(value, str) or value.isprintable() else '"'
    text = yaml.safe_dump(
        [value], default_flow_style=True, default_style=style, allow_unicode=True, width=1_000_000_000
    )
    return text.strip()[1:-1]


# files


def write_new(path: Path, content: str | bytes, *, replace: bool = False) -> None:
    """Write a file as a whole or not at all; over one that is there only with ``replace``.

    Raises :class:`OutputError` where it cannot be written.
    """
    data = content.encode("utf-8") if isinstance(content, str) else content
    aside = None
    try:
        if not replace and path.exists():
            raise _kept(path)
        handle, aside = tempfile.mkstemp(prefix=f".{path.name[:40]}.", dir=path.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(aside, 0o644)
        if not replace:  # takes the name, where nobody else has it
            os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644))
        os.replace(aside, path)
    except FileExistsError:
        raise _kept(path) from None
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise OutputError(say(N_("{file}: cannot be written ({why})"), file=path, why=why)) from None
    finally:
        if aside is not None:
            with suppress(OSError):
                os.unlink(aside)


def _kept(path: Path) -> OutputError:
    said = N_("{file}: is there already and was left as it is; choose another name")
    return OutputError(say(said, file=path))


def write_template(
    path: Path, *, units: Units = "us", replace: bool = False, translate: Callable[[str], str] = str
) -> None:
    """Write the workbook to fill in, one opening a row; the same bytes every time.

    ``translate`` gives what explains it in another language. Raises :class:`OutputError` where it cannot be
    written.
    """
    from sillwright.survey.template import template  # the spreadsheet library is heavy

    write_new(path, template(units, translate), replace=replace)
