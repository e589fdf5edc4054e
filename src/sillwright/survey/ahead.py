"""Dates of what has been done that lie ahead: a slip of the pen that would outdo every later record."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening, Site

GRACE = timedelta(days=1)  # it is tomorrow elsewhere
_CALENDAR = (Source(document=N_("calendar"), sure="computed"),)


def dates_ahead(opening: Opening, site: Site, today: date) -> tuple[Finding, ...]:
    """The dates of an opening and its site that lie after ``today`` and after the day of the survey itself.

    A month or a year that has begun does not lie ahead.

    Source: the calendar; everything that a survey holds a date of has been done.
    """
    surveyed = site.surveyed_on.value
    latest = today + GRACE if surveyed is None else max(today + GRACE, surveyed.last)
    return tuple(_ahead(latest, opening, site))


def _ahead(latest: date, opening: Opening, site: Site) -> Iterator[Finding]:
    for fact in (fact for group in (site, opening) for _, fact in group.facts() if fact.path != "site.surveyed_on"):
        for day in (fact.value, *fact.rivals):
            if isinstance(day, Interval) and day.first > latest:
                yield Finding(
                    id="survey.date_ahead",
                    level="act",
                    text=Sentence(
                        N_("The date {day} of “{path}” lies ahead."), {"day": str(day), "path": fact.path}
                    ),
                    why=Sentence(N_("Of several records the latest counts: a wrong year hides the true last one.")),
                    do=Sentence(N_("Look it up and correct it before anything here is relied upon.")),
                    facts=(fact.path,),
                    sources=_CALENDAR,
                )
