"""The reader's words: sentences, amounts, names of facts and citations, in one language and one system of units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sillwright.base.fact import Reading
from sillwright.base.source import Source
from sillwright.base.words import ENGLISH, N_, Amount, Reader, Sentence, in_words, render, translate
from sillwright.paper.terms import ORIGIN
from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Group, GroupSpec


@dataclass(frozen=True)
class Voice:
    """Says things to one reader."""

    reader: Reader

    def __call__(self, template: str, **values: Any) -> str:
        """A marked sentence with its values."""
        return render(Sentence(template, values), self.reader)

    def of(self, sentence: Sentence | None) -> str:
        """A sentence that came with a result; nothing where there is none."""
        return render(sentence, self.reader) if sentence else ""

    def amount(self, value: float | None, unit: str) -> str:
        """A number with its unit; a dash where there is none."""
        return "–" if value is None else in_words(Amount(value, unit), self.reader)

    def word(self, words: str) -> str:
        """A single marked word or name."""
        return translate(words, self.reader)

    def cite(self, source: Source) -> str:
        """A citation with how sure we are of it."""
        return source.in_words(self.reader)

    def origin(self, reading: Reading[Any] | None) -> str:
        """Where a reading comes from, by whom and when."""
        if reading is None:
            return ""
        parts = [self.word(ORIGIN[reading.origin or ""]), reading.by, reading.on, reading.evidence]
        return ", ".join(part for part in parts if part)


def names_of_facts(opening: Opening, voice: Voice) -> dict[str, str]:
    """What each fact of an opening is called on paper, by its path."""
    names: dict[str, str] = {}
    for spec, fact in opening.facts():
        group = group_of(fact.path, voice.reader)
        title = voice.word(spec.title)
        names[fact.path] = f"{group}: {title}" if group else title
    return names


def group_of(path: str, reader: Reader = ENGLISH) -> str:
    """What the group of a fact is called, in words; items of a list are counted from 1.

    >>> group_of("use.traffic[0].who"), group_of("tag")
    ('use traffic 1', '')
    """
    return " ".join(_steps(path, reader)[:-1])


def name_of(path: str, names: dict[str, str], reader: Reader) -> str:
    """What a fact is called; its path in words where the survey has no such fact yet."""
    if path in names:
        return names[path]
    first, *rest = _steps(path, reader)
    return f"{first}: {' '.join(rest)}" if rest else first


def _steps(path: str, reader: Reader) -> list[str]:
    """The steps of a path in words; members of a list are called by their own names, or counted."""
    here: type[Group] = Opening
    parts, found, member = path.split("."), [], False
    for at, part in enumerate(parts):
        name, _, index = part.partition("[")
        spec = here.specs.get(name)
        said = translate(name.replace("_", " "), reader)
        if at == 0 and name == "site":
            here, said = Site, translate(N_("site"), reader)
        elif spec is None or (member and at < len(parts) - 1):
            said = name.replace("_", " ")
        elif isinstance(spec, GroupSpec):
            here = spec.group
        member = isinstance(spec, GroupSpec) and spec.many and not index and not member
        found.append(f"{said} {int(index.rstrip(']')) + 1}" if index else said)
    return found
