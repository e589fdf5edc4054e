"""What is not known, as questions with an input, in the order in which they matter."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext as _

from sillwright.base.errors import UnknownName
from sillwright.base.finding import Unknown
from sillwright.base.quantity import EXAMPLES
from sillwright.base.words import Reader, render, translate
from sillwright.exposure.answer import Input
from sillwright.paper.terms import ORIGIN
from sillwright.paper.voice import Voice
from sillwright.study.why import fact_in_words, why
from sillwright.survey.questions import further, question_at, questions, spec_at
from sillwright.survey.spec import Spec
from sillwright.web.records.answers import Studied
from sillwright.web.records.models import Opening
from sillwright.web.taking.lists import LISTS
from sillwright.web.taking.words import on_a_button

AT_ONCE = 3
"""Questions that stand open; the others wait behind a disclosure, unless they decide."""
_MOST_BUTTONS = 6
_QUOTED = re.compile(r'"((?:\\.|[^"\\])*)"')


@dataclass(frozen=True, kw_only=True)
class Field:
    """How a fact is answered: with a button for each word, with one word of many, or with a text."""

    fact: str
    title: str
    shape: str  # buttons, words, text
    choices: tuple[tuple[str, str], ...]
    offers: tuple[str, ...]
    example: str
    seen: str  # ids of what stands now, parted by commas
    address: str  # of the page of the fact
    say: str  # where an answer is sent

    @property
    def choices_as_json(self) -> str:
        """The words to choose from, for the page's script."""
        return json.dumps(self.choices, ensure_ascii=False)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One question. Without a ``field`` it is answered on a page of its own, a list or a group of facts."""

    number: int
    ask: str
    weight: str  # what it decides, in words
    why: str
    where: str  # where to look
    in_use: str  # the value that stands in for it
    source: str
    field: Field | None
    address: str


def field_of(opening: Opening, studied: Studied, path: str, reader: Reader) -> Field:
    """The input for the fact at a path. Raises :class:`UnknownName` where that is no single fact."""
    spec, question = spec_at(path), question_at(path)
    words = ("yes", "no") if spec.kind == "flag" else spec.choices
    heads = studied.facts.heads.get(path, ())
    return Field(
        fact=path,
        title=sentence_case(translate(question.title or spec.title, reader)),
        shape="text" if not words else "buttons" if len(words) <= _MOST_BUTTONS else "words",
        choices=tuple((word, on_a_button(path, word, reader)) for word in words),
        offers=question.offers,
        example=example_of(spec),
        seen=",".join(head.id for head in heads),
        address=page_of(opening, path),
        say=reverse("site_say", args=[opening.site_id]) if of_site(path) else reverse("say", args=[opening.pk]),
    )


def of_site(path: str) -> bool:
    """Whether a fact is one of the site."""
    return path.startswith("site.")


def page_of(opening: Opening, path: str) -> str:
    """The address of the page of a fact."""
    if of_site(path):
        return reverse("site_fact", args=[opening.site_id, path])
    return reverse("fact", args=[opening.pk, path])


def example_of(spec: Spec) -> str:
    """How an answer is written, in a few words; empty where any words will do."""
    if spec.kind == "quantity":
        written = [each.replace('\\"', '"') for each in _QUOTED.findall(EXAMPLES.get(spec.unit, ""))]
        return _("for example %(examples)s") % {"examples": " · ".join(written)} if written else _("with its unit")
    return {
        "count": _("a whole number") if spec.whole else _("a plain number"),
        "date": _("a year, year-month or date: 2019, 2019-03, 2019-03-04"),
        "texts": _("part them by semicolons; none, where there is none"),
        "money": _("for example 400 USD/h"),
        "points": _("pairs of lengths: 0 m, 2 mm; 1.5 m, 4 mm"),
    }.get(spec.kind, "")


def asked(opening: Opening, studied: Studied, reader: Reader) -> tuple[list[Asked], list[Asked]]:
    """The questions that stand open, and those that wait behind a disclosure."""
    unknown = _unknown(studied)
    inputs = _typical(studied)
    found = [_asked(n, each, inputs, opening, studied, reader) for n, each in enumerate(unknown, start=1)]
    heavy = sum(1 for each in unknown if {"study", "duty.powered_closing"} & set(each.decides))
    first = max(AT_ONCE, heavy)
    return found[:first], found[first:]


def _unknown(studied: Studied) -> tuple[Unknown, ...]:
    if studied.study is not None:
        return studied.study.unknown
    return tuple(Unknown(fact=path, decides=("study",), why=why(path)) for path in studied.missing)


def _typical(studied: Studied) -> Mapping[str, Input]:
    exposure = studied.study.exposure if studied.study else None
    found: dict[str, Input] = {}
    for each in exposure.inputs if exposure else ():
        if each.fact and each.origin == "typical":
            found.setdefault(each.fact, each)
    return found


def _asked(
    number: int,
    unknown: Unknown,
    inputs: Mapping[str, Input],
    opening: Opening,
    studied: Studied,
    reader: Reader,
) -> Asked:
    rebuilt = studied.facts.rebuilt
    path, voice = rebuilt.named(unknown.fact), Voice(reader)
    in_use = inputs.get(unknown.fact)
    title = render(fact_in_words(rebuilt.survey.openings[0], unknown.fact), reader)
    ask, where, address, field = sentence_case(title), "", _elsewhere(opening, path), None
    with suppress(UnknownName):  # a list or a group: it has a page of its own
        field, question = field_of(opening, studied, path, reader), question_at(path)
        ask, where = translate(question.ask, reader) or ask, translate(question.why, reader)
    return Asked(
        number=number,
        ask=ask,
        weight=_weight(unknown),
        why="" if "study" in unknown.decides else sentence_case(render(unknown.why, reader)),
        where=where,
        in_use=in_words_of(in_use, voice) if in_use else "",
        source=voice.cite(in_use.source) if in_use and in_use.source else "",
        field=field,
        address=address,
    )


def _elsewhere(opening: Opening, path: str) -> str:
    """The page where a list, or the first fact of a group, is answered."""
    if path in LISTS:
        return reverse("list", args=[opening.pk, path])
    first = next((each.path for each in (*questions(), *further()) if each.path.startswith(f"{path}.")), "")
    if not first or "*" in first:
        return reverse("facts", args=[opening.pk])
    return page_of(opening, first)


def _weight(unknown: Unknown) -> str:
    decides = set(unknown.decides)
    if "study" in decides:
        return _("Needed before anything can be said.")
    if "duty.powered_closing" in decides:
        return _("Decides whether it may close under power.")
    if "exposure.contact" in decides:
        return _("Narrows how hard it would press.")
    if "hookup.joints" in decides:
        return _("Settles how it is wired.")
    if decides == {"hookup.power"}:
        return _("Settles whether the accessory supply is enough.")
    return _("A rule waits for it.")


def in_words_of(each: Input, voice: Voice) -> str:
    """The range that a number is taken from, in the reader's units."""
    low, middle, high = (voice.amount(value, each.unit) for value in (each.low, each.middle, each.high))
    if low == high:
        return middle
    return _("%(low)s to %(high)s, middle %(middle)s") % {"low": low, "middle": middle, "high": high}


def origins(reader: Reader) -> list[tuple[str, str]]:
    """Where an answer can come from, as words to choose from."""
    known = ("measured", "plate", "instructions", "photo", "support", "told", "assumed")
    return [(name, translate(ORIGIN[name], reader)) for name in known]


def missing_in_words(studied: Studied, reader: Reader) -> str:
    """The headline where a study needs more facts first."""
    about = studied.facts.rebuilt.survey.openings[0]
    facts = ", ".join(render(fact_in_words(about, path), reader) for path in studied.missing)
    return _("Nothing can be said of this opening yet. Needed first: %(facts)s.") % {"facts": facts}


def sentence_case(words: str) -> str:
    """Words as they stand at the head of a line.

    >>> sentence_case("the gap"), sentence_case("")
    ('The gap', '')
    """
    return words[:1].upper() + words[1:]
