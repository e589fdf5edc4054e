"""The reader's words: sentences, amounts, names of facts and citations, in one language and one system of units."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from sillwright.base.fact import Reading
from sillwright.base.source import SURE_IN_WORDS, Source
from sillwright.base.words import N_, Amount, Reader, Sentence, in_words, render, translate
from sillwright.paper.terms import ORIGIN
from sillwright.survey.model import Opening

_INDEX = re.compile(r"\[(\d+)\]")


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
        name = ", ".join(part for part in (source.document, source.edition, source.clause) if part)
        return self(N_("{name} ({sure})"), name=name, sure=self.word(SURE_IN_WORDS[source.sure]))

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
        group = group_of(fact.path)
        title = voice.word(spec.title)
        names[fact.path] = f"{group}: {title}" if group else title
    return names


def group_of(path: str) -> str:
    """What the group of a fact is called, in words; items of a list are counted from 1.

    >>> group_of("use.traffic[0].who"), group_of("tag")
    ('use traffic 1', '')
    """
    return _INDEX.sub(_counted, " ".join(path.split(".")[:-1]).replace("_", " "))


def _counted(index: re.Match[str]) -> str:
    return f" {int(index[1]) + 1}"


def name_of(path: str, names: dict[str, str]) -> str:
    """What a fact is called; its path in words where the survey has no such fact yet."""
    return names.get(path) or path.replace("_", " ").replace(".", ": ", 1).replace(".", " ")
