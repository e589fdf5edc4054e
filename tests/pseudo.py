"""A language that nobody speaks: every marked sentence in letters of its own, so that what is not marked shows.

Only the words of a sentence change, not the values in it: a value that is no marked text itself stands out too.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from functools import cache
from gettext import NullTranslations
from pathlib import Path
from string import Formatter

from sillwright.base import words
from sillwright.base.fact import Fact
from sillwright.base.words import Reader
from sillwright.survey.interval import Interval
from sillwright.survey.model import Survey
from sillwright.survey.spec import Group, Spec

CATALOGUE = Path(words.__file__).parent / "locale/sillwright.pot"
PSEUDO = Reader(language="xx-pseudo")
_LETTERS = str.maketrans(
    "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", "äƀçđëƒğħïĵķłṁñöṗɋřşŧüṽŵẋÿžÄƁÇĐËƑĞĦÏĴĶŁṀÑÖṖɊŘŞŦÜṼŴẊŸŽ"
)
_WORD = re.compile(r"[A-Za-z]{3,}")
UNITS = {"lbf", "kohm", "ohm", "degF", "degC", "MHz", "GHz", "mAh", "dBm"}


@cache
def catalogue() -> frozenset[str]:
    """Every sentence of the catalogue."""
    lines = CATALOGUE.read_text(encoding="utf-8").splitlines()
    return frozenset(
        ast.literal_eval(line.removeprefix("msgid ")) for line in lines if line.startswith("msgid ")
    ) - {""}


def foreign(sentence: str) -> str:
    """A sentence in the letters of that language; its placeholders stay.

    >>> foreign("The {what} is {width} wide")
    'Ŧħë {what} ïş {width} ŵïđë'
    """
    parts = []
    for literal, name, _, _ in Formatter().parse(sentence):
        parts.append(literal.translate(_LETTERS).replace("{", "{{").replace("}", "}}"))
        parts.append("" if name is None else f"{{{name}}}")
    return "".join(parts)


class Pseudo(NullTranslations):
    """Translates what is in the catalogue, and nothing else."""

    def gettext(self, message: str) -> str:
        if message not in catalogue():
            return message
        try:
            return foreign(message)
        except ValueError:  # braces that are no placeholders: words that stand alone, without values
            return message.translate(_LETTERS)


def translations(language: str) -> NullTranslations:
    """What :mod:`sillwright.base.words` looks sentences up in, with that language beside English."""
    return Pseudo() if language == PSEUDO.language else NullTranslations()


def unmarked(text: str, allowed: Iterable[str] = ()) -> list[str]:
    """The words of a text that come neither from the catalogue nor from what is allowed there as it is."""
    for each in sorted(allowed, key=len, reverse=True):
        text = text.replace(each, " ")
    return [word for word in _WORD.findall(text) if word not in UNITS]


def typed_in(survey: Survey) -> set[str]:
    """What people wrote into a survey in words of their own: texts, names, origins; no words out of a few."""
    found: set[str] = set()
    for group in (survey.site, *survey.openings):
        found |= set(_typed(group))
    return {words for words in found if len(words) > 2}


def _typed(group: Group) -> Iterator[str]:
    for spec, fact in group.facts():
        yield from _of_fact(spec, fact)
    for _, listing in group.listings():
        for items in listing.rivals:
            for item in items:
                yield from _typed(item)


def _of_fact(spec: Spec, fact: Fact[object]) -> Iterator[str]:
    own = spec.kind not in {"choice", "flag"}
    for reading in fact.readings:
        yield from (words for words in (reading.by, reading.on, reading.evidence) if words)
        if own:
            yield reading.typed
            values = reading.value if isinstance(reading.value, tuple) else (reading.value,)
            yield from (str(each) for each in values if isinstance(each, (str, Interval)))
