"""What the answer rests on: every fact that was taken down, as used, as written and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.fact import Fact
from sillwright.base.words import Reader
from sillwright.paper.facts import shown
from sillwright.paper.voice import Voice, group_of
from sillwright.survey.spec import Spec
from sillwright.web.answers.asking import Field, field_of, sentence_case
from sillwright.web.records.answers import Studied
from sillwright.web.records.models import Opening
from sillwright.web.taking.words import named_answer

_NAMES = ("tag", "name", "site.name")  # what things are called, not what is known of them


@dataclass(frozen=True)
class Taken:
    """One fact as it was taken down."""

    value: str
    written: str
    origin: str
    field: Field


@dataclass(frozen=True)
class TakenGroup:
    """Facts that belong together."""

    title: str
    facts: list[Taken]


def taken(opening: Opening, studied: Studied, reader: Reader) -> list[TakenGroup]:
    """The facts in use, by group."""
    survey, groups = studied.facts.rebuilt.survey, dict[str, list[Taken]]()
    for spec, fact in (*survey.openings[0].facts(), *survey.site.facts()):
        if not is_name(fact.path) and fact.standing not in {"not asked", "not known", "two readings"}:
            title = sentence_case(group_of(fact.path, reader)) or _("Opening")
            groups.setdefault(title, []).append(_taken(spec, fact, opening, studied, reader))
    return [TakenGroup(title, facts) for title, facts in groups.items()]


def is_name(path: str) -> bool:
    """Whether a fact is only what something is called.

    >>> is_name("tag"), is_name("protection.e1.id"), is_name("protection.e1.kind")
    (True, True, False)
    """
    return path in _NAMES or path.endswith(".id")


def _taken(spec: Spec, fact: Fact[Any], opening: Opening, studied: Studied, reader: Reader) -> Taken:
    path, voice = studied.facts.rebuilt.named(fact.path), Voice(reader)
    value = value_in_words(path, spec, fact.value, voice)
    typed = fact.reading.typed if fact.reading and spec.kind in {"quantity", "date", "money"} else ""
    written = typed if typed != value else ""
    told = fact.reading is not None and (fact.reading.origin or fact.reading.by or fact.reading.evidence)
    return Taken(
        value, written, voice.origin(fact.reading) if told else "", field_of(opening, studied, path, reader)
    )


def value_in_words(path: str, spec: Spec, value: Any, voice: Voice) -> str:
    """A value of a fact as a person reads it."""
    if spec.kind == "choice" and value is not None:
        return named_answer(path, str(value))
    return shown(spec, value, voice)
