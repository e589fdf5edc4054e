"""What the answer would be with other facts: studied, shown, and kept nowhere."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base.words import Reader, render
from sillwright.paper.voice import Voice
from sillwright.survey.entries import Entry, survey_from_entries
from sillwright.web.answers.asking import missing_in_words
from sillwright.web.answers.changes import changes
from sillwright.web.answers.contact import range_of
from sillwright.web.records.answers import Studied, study_of
from sillwright.web.records.log import Head, Refused, Said, checked
from sillwright.web.records.models import Opening
from sillwright.web.records.surveys import Facts, facts_of
from sillwright.web.taking.units import mistake_words

MOST_FACTS = 20
Supposed = Mapping[str, str | None]
"""A typed answer by the path of its fact; None: nobody knows."""


@dataclass(frozen=True, kw_only=True)
class Tried:
    """The answer as it would be, beside the one that stands."""

    headline_before: str
    headline: str
    closing: str
    changes: tuple[str, ...]
    peak_before: str
    peak: str
    mistakes: Mapping[str, str]


def tried(opening: Opening, supposed: Supposed, reader: Reader) -> Tried:
    """Study an opening with these facts in place of the present ones. Nothing is written.

    Raises :class:`Refused` where one of them is no fact that is kept, or where they are too many.
    """
    _check(supposed)
    facts = facts_of(opening)
    before = study_of(opening, facts)
    after = study_of(opening, supposing(opening, facts, supposed))
    voice = Voice(reader)
    return Tried(
        headline_before=headline_of(before, reader),
        headline=headline_of(after, reader),
        closing=after.study.duty.powered_closing if after.study else "unknown",
        changes=tuple(changes(before.study, after.study, reader)),
        peak_before=_peak(before, voice),
        peak=_peak(after, voice),
        mistakes={
            path: wrong
            for path, typed in supposed.items()
            if typed and (wrong := mistake_words(path, typed, reader))
        },
    )


def _check(supposed: Supposed) -> None:
    if not supposed:
        raise Refused(_("No fact is given to try."))
    if len(supposed) > MOST_FACTS:
        raise Refused(_("At most %(most)d facts are tried at once.") % {"most": MOST_FACTS})
    for path, typed in supposed.items():
        checked(_said(path, typed), of_site=path.startswith("site."))


def _said(path: str, typed: str | None) -> Said:
    return Said(fact=path, says="unknown" if typed is None else "value", typed=typed or "")


def supposing(opening: Opening, facts: Facts, supposed: Supposed) -> Facts:
    """The facts of an opening with some of them replaced, as saving them would leave them."""
    heads = dict(facts.heads)
    for path, typed in supposed.items():
        said = _said(path, typed)
        heads[path] = (Head(id="", says=said.says, typed=said.typed),)
    entries: list[Entry] = [head.entry(path) for path, told in heads.items() for head in told]
    here = [each for each in entries if not each.path.startswith("site.")]
    site = opening.site
    return Facts(survey_from_entries(site.name, entries, {opening.tag: here}, site.country), heads)


def headline_of(studied: Studied, reader: Reader) -> str:
    """The answer as one sentence; where a study needs more facts, which."""
    return render(studied.study.headline, reader) if studied.study else missing_in_words(studied, reader)


def _peak(studied: Studied, voice: Voice) -> str:
    return range_of(studied.study.exposure, voice) if studied.study else ""
