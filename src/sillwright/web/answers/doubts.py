"""What was written down and cannot be used as it stands: unreadable texts, and readings that do not agree."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from sillwright.base.errors import UnknownName
from sillwright.base.words import Reader, retold, translate
from sillwright.paper.facts import shown
from sillwright.paper.voice import Voice, name_of
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.model import Site as SiteFacts
from sillwright.survey.questions import question_at
from sillwright.survey.spec import Spec
from sillwright.web.answers.asking import page_of, sentence_case
from sillwright.web.records.answers import Studied
from sillwright.web.records.models import Opening
from sillwright.web.taking.units import accepted_in


@dataclass(frozen=True)
class Unread:
    """A text that cannot be read, and what would be right."""

    title: str
    typed: tuple[str, ...]
    wrong: str
    right: str
    address: str


@dataclass(frozen=True)
class Rivals:
    """Readings of one fact that do not agree."""

    title: str
    readings: tuple[str, ...]
    address: str


def title_of(path: str, reader: Reader) -> str:
    """What a fact is called at the head of a line; its path in words where no survey has such a fact."""
    try:
        title = translate(question_at(path).title, reader)
    except UnknownName:
        title = name_of(path, {}, reader)
    names = path.split(".")
    member = names[1] if names[0] == "protection" and len(names) > 2 else ""
    return sentence_case(f"{title} ({member})" if member else title)


def unread(opening: Opening, studied: Studied, reader: Reader) -> list[Unread]:
    """Every text that cannot be read."""
    found = []
    for path, mistake in studied.facts.rebuilt.mistakes.items():
        typed = tuple(head.typed for head in studied.facts.heads.get(path, ()) if head.typed)
        found.append(
            Unread(
                title=title_of(path, reader),
                typed=typed,
                wrong=retold(mistake.message, reader),
                right=accepted_in(mistake, reader).replace('\\"', '"'),  # as in a file that quotes it
                address=page_of(opening, path),
            )
        )
    return found


def rivals(opening: Opening, studied: Studied, reader: Reader) -> list[Rivals]:
    """Every fact of which two readings stand side by side, and every list of which they do."""
    survey, voice, unreadable = studied.facts.rebuilt.survey, Voice(reader), studied.facts.rebuilt.mistakes
    found = []
    for group in (survey.site, survey.openings[0]):
        for spec, fact in group.facts():
            if fact.standing == "two readings":
                path = studied.facts.rebuilt.named(fact.path)
                if path in unreadable:
                    continue  # named with both texts already
                said = tuple(_reading(spec, each, voice) for each in fact.readings)
                found.append(Rivals(title_of(path, reader), said, page_of(opening, path)))
        found += _lists(group, opening, reader)
    return found


def _reading(spec: Spec, reading: Any, voice: Voice) -> str:
    value = reading.typed or shown(spec, reading.value, voice)
    return f"“{value}” ({voice.origin(reading)})"


def _lists(group: OpeningFacts | SiteFacts, opening: Opening, reader: Reader) -> list[Rivals]:
    facts = reverse("facts", args=[opening.pk])
    return [
        Rivals(sentence_case(translate(spec.title, reader)), (), facts)
        for spec, listing in group.listings()
        if listing.standing == "two readings"
    ]
