"""The list of the evening: stop today, quote, watch – by the study's findings and by what people said."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.finding import LEVEL_IN_WORDS
from sillwright.base.words import Reader, translate
from sillwright.web.answers.body import body_of
from sillwright.web.records.answers import answer_of, key_of, state_of
from sillwright.web.records.models import Answer, Fact, Opening, Photo, Question, Remark, Site
from sillwright.web.records.remarks import standing as said_still
from sillwright.web.records.surveys import standing
from sillwright.web.walk.missing import Told, about_in_words, missing, temporary
from sillwright.web.walk.rows import URGENCIES, URGENCY

LONGEST = 8.0  # seconds that studies may take before the page is shown without the rest
MOST_REASONS = 3  # findings of one door that the list names
WEIGHT = {"stop": "stop", "act": "quote", "note": "watch"}
"""How urgent a finding of the study is; what is in order is not urgent."""
_ORDER = (*URGENCIES, "")


@dataclass(frozen=True, kw_only=True)
class Line:
    """One door in the list."""

    opening: Opening
    name: str
    weight: str  # stop, quote, watch or nothing
    study: str  # its weight by the study alone
    study_words: str
    studied: bool
    findings: tuple[str, ...]
    words: tuple[tuple[str, str, datetime], ...]  # of urgency: who, which word, when
    remarks: tuple[Remark, ...]
    left: tuple[tuple[str, str], ...]  # what was left out on purpose, and why
    missing: tuple[str, ...]
    temporary: tuple[str, ...]
    photos: int
    questions: int

    @property
    def raised(self) -> bool:
        """Whether people say that it is more urgent than the study does."""
        return self.studied and _ORDER.index(self.weight) < _ORDER.index(self.study)


@dataclass(frozen=True, kw_only=True)
class Evening:
    """The doors by how urgent they are, heaviest first, and how many were not studied in time."""

    parts: tuple[tuple[str, str, tuple[Line, ...]], ...]  # weight, title, lines
    open: int


def evening_of(site: Site, reader: Reader) -> Evening:
    """The list of a site; what was not studied before is studied now, for a few seconds."""
    openings = list(site.openings.filter(put_away=None))
    for each in openings:
        each.site = site
    answers = _answers(site, openings, reader)
    record = _Record(site)
    lines = [_line(each, answers.get(each.pk), record, reader) for each in openings]
    titles = {word: str(words).capitalize() for word, words in Remark.URGENCIES}
    titles[""] = _("Nothing urgent, or not known yet")
    parts = ((weight, titles[weight], tuple(each for each in lines if each.weight == weight)) for weight in _ORDER)
    return Evening(parts=tuple(part for part in parts if part[2]), open=len(openings) - len(answers))


def _answers(site: Site, openings: Sequence[Opening], reader: Reader) -> dict[Any, Answer]:
    """The answers that hold; those of further doors as far as the time goes."""
    kept = {each.opening_id: each for each in Answer.objects.filter(opening__site=site, reader=key_of(reader))}
    until = time.monotonic() + LONGEST
    found = {}
    for each in openings:
        answer = kept.get(each.pk)
        if answer is not None and answer.state == state_of(each):
            found[each.pk] = answer
        elif time.monotonic() < until:
            found[each.pk] = answer_of(each, reader, body_of)
    return found


class _Record:
    """What was taken down at a site beside the studies, in a handful of queries."""

    def __init__(self, site: Site) -> None:
        self._facts: dict[Any, list[Fact]] = {}
        for row in Fact.objects.filter(site=site).order_by("pk"):
            self._facts.setdefault(row.opening_id, []).append(row)
        self._remarks: dict[Any, list[Remark]] = {}
        for each in said_still(Remark.objects.filter(site=site).select_related("author")):
            self._remarks.setdefault(each.opening_id, []).append(each)
        taken = Photo.objects.filter(site=site, copy_of=None).exclude(state="refused")
        self._shots: dict[Any, list[str]] = {}
        for key, shot in taken.values_list("opening", "shot"):
            self._shots.setdefault(key, []).append(shot)
        asked = Question.objects.filter(site=site, answered=None, withdrawn=None)
        self.questions = Counter(asked.values_list("opening", flat=True))

    def told(self, opening: Opening) -> Told:
        """The readings that stand."""
        return standing(self._facts.get(opening.pk, ()))

    def shots(self, opening: Opening) -> list[str]:
        """The shots of the photos that there are."""
        return self._shots.get(opening.pk, [])

    def said(self, opening: Opening, kind: str) -> tuple[Remark, ...]:
        """The remarks of one kind that stand, oldest first."""
        return tuple(each for each in self._remarks.get(opening.pk, ()) if each.kind == kind)


def _line(opening: Opening, answer: Answer | None, record: _Record, reader: Reader) -> Line:
    told, words, left = record.told(opening), record.said(opening, "urgency"), record.said(opening, "left")
    level = answer.level if answer else ""
    study = WEIGHT.get(level, "")
    weight = min([study, *(each.words for each in words)], key=_ORDER.index)
    names = {word: str(name) for word, name in Remark.URGENCIES}
    said = LEVEL_IN_WORDS.get(level)  # type: ignore[call-overload]
    reasons = [words for each, words in answer.findings if each == level] if answer else []
    lacks = missing(told, record.shots(opening), bool(words), {each.about for each in left}, reader)
    return Line(
        opening=opening,
        name=next((head.typed for head in told.get("name", ()) if head.typed), ""),
        weight=weight,
        study=study,
        study_words=translate(said, reader) if said else _("too little is known"),
        studied=answer is not None,
        findings=tuple(reasons[:MOST_REASONS]) if study else (),
        words=tuple((each.author.name, names[each.words], each.at) for each in words),
        remarks=record.said(opening, "remark"),
        left=tuple((about_in_words(each.about, reader), each.words) for each in left if each.about != URGENCY),
        missing=tuple(lacks),
        temporary=temporary(told),
        photos=len(record.shots(opening)),
        questions=record.questions[opening.pk],
    )
