"""Sentences as templates with named values, turned into words only where somebody reads them.

Everything a person reads goes through :func:`render` with a :class:`Reader`, so that language and units are
the reader's. A value that came from a user is only ever put *into* a sentence; it is never a template.
"""

from __future__ import annotations

import gettext
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from sillwright.base.data import translations
from sillwright.base.display import show

Units = Literal["us", "metric"]


def N_(text: str) -> str:  # noqa: N802 (the name that message extractors know)
    """Marks a sentence for the translation catalogue and returns it unchanged."""
    return text


@dataclass(frozen=True, kw_only=True)
class Reader:
    """Who reads: the language of sentences, the units of numbers, the country of dates.

    ``part`` names a part of the program that speaks languages in which the rest of it is not said yet: its
    sentences are looked up in a catalogue of its own, and nothing else is half translated.
    """

    language: str = "en"
    units: Units = "us"
    country: str = "US"
    part: str = ""


ENGLISH = Reader()


@dataclass(frozen=True)
class Amount:
    """A number with its SI unit inside a sentence."""

    value: float
    unit: str
    digits: int = 3  # significant ones, of forces and times


@dataclass(frozen=True)
class Sentence:
    """A template and the values that go into it."""

    template: str
    values: Mapping[str, Any] = field(default_factory=dict)


class Phrase(str):
    """A sentence that reads as its English text, and keeps what it was made of, so that it can be said anew.

    For messages that are text wherever they go: they are compared, sorted and printed as any text is.
    """

    template: str
    values: Mapping[str, Any]

    def __new__(cls, template: str, values: Mapping[str, Any]) -> Phrase:
        phrase = super().__new__(cls, _filled(template, values, ENGLISH))
        phrase.template = template
        phrase.values = values
        return phrase

    def __reduce__(self) -> tuple[type[Phrase], tuple[str, dict[str, Any]]]:
        return Phrase, (self.template, dict(self.values))


def say(template: str, /, **values: Any) -> Phrase:
    """A marked sentence with its values as text.

    >>> say(N_("{count} points; 2 to {most} are accepted"), count=1, most=64)
    '1 points; 2 to 64 are accepted'
    """
    return Phrase(template, values)


def retold(text: str, reader: Reader) -> str:
    """A phrase in the reader's language and units; any other text as it is."""
    return _filled(text.template, text.values, reader) if isinstance(text, Phrase) else text


@cache
def _catalogue(language: str) -> gettext.NullTranslations:
    return gettext.translation(
        "sillwright", str(files("sillwright.base") / "locale"), languages=[language], fallback=True
    )


def translate(text: str, reader: Reader) -> str:
    """A marked text or a phrase in the reader's language; unchanged where the catalogue lacks it."""
    if isinstance(text, Phrase):
        return retold(text, reader)
    if reader.part:
        return translations(reader.language, reader.part).get(text, text)
    return _catalogue(reader.language).gettext(text) if text else ""


def render(sentence: Sentence, reader: Reader) -> str:
    """A sentence in the reader's language and units.

    >>> width = Sentence("The leaf is {width} wide.", {"width": Amount(3.2004, "m")})
    >>> render(width, Reader(units="us")), render(width, Reader(units="metric"))
    ('The leaf is 10 ft 6 in wide.', 'The leaf is 3.200 m wide.')
    """
    return _filled(sentence.template, sentence.values, reader)


def _filled(template: str, values: Mapping[str, Any], reader: Reader) -> str:
    shown = {name: in_words(value, reader) for name, value in values.items()}
    return translate(template, reader).format_map(shown)


def in_words(value: Any, reader: Reader) -> str:
    """A single value as the reader's text."""
    if isinstance(value, Amount):
        return show(value.value, value.unit, reader.units, value.digits)
    if isinstance(value, Sentence):
        return render(value, reader)
    if isinstance(value, str):
        return retold(value, reader)
    if isinstance(value, date):
        return dated(value, reader)
    if isinstance(value, bool):
        return translate(N_("yes") if value else N_("no"), reader)
    if isinstance(value, (tuple, list)):
        said = [in_words(each, reader) for each in value]
        return ("; " if any("," in each for each in said) else ", ").join(said)
    return str(value)


_MONTHS = (
    N_("January"), N_("February"), N_("March"), N_("April"), N_("May"), N_("June"), N_("July"),
    N_("August"), N_("September"), N_("October"), N_("November"), N_("December"),
)  # fmt: skip


def dated(day: date, reader: Reader) -> str:
    """A date in the order of the reader's country.

    >>> dated(date(2010, 8, 29), Reader()), dated(date(2010, 8, 29), Reader(country="DE"))
    ('August 29, 2010', '29 August 2010')
    """
    order = N_("{month} {day}, {year}") if reader.country == "US" else N_("{day} {month} {year}")
    month = translate(_MONTHS[day.month - 1], reader)
    return translate(order, reader).format(month=month, day=day.day, year=day.year)
