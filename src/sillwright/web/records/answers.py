"""Studies of openings, kept until a fact of them changes."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from sillwright.base.words import Reader, Units, render
from sillwright.study import POINTS, study_opening
from sillwright.study.model import OpeningStudy
from sillwright.survey.required import missing_facts
from sillwright.web.accounts.models import User
from sillwright.web.orders.catalogues import catalogue_for
from sillwright.web.prepared import Prepared
from sillwright.web.program import program
from sillwright.web.records.models import Answer, Opening, Site
from sillwright.web.records.surveys import Facts, facts_of


def reader_for(user: User, site: Site, units: str = "") -> Reader:
    """How a person reads at a site: in the site's own units, unless the person has chosen otherwise."""
    return reader_at(site.country, units or user.units, user.language)


def reader_at(country: str, units: str, language: str = "en") -> Reader:
    """A reader by country; units ``site`` are those of the country."""
    chosen: Units = "us" if units == "us" or (units == "site" and country == "US") else "metric"
    return Reader(language=language, units=chosen, country=country)


def key_of(reader: Reader) -> str:
    """A reader as a key."""
    return f"{reader.language}-{reader.units}-{reader.country}"


def state_of(opening: Opening) -> str:
    """What a study was made from: the program and both revisions, which a change of name counts up as well."""
    return f"{program()} {opening.site.revision}.{opening.revision}"[:80]


@dataclass(frozen=True)
class Studied:
    """An opening with its facts, studied where enough is known for that."""

    facts: Facts
    study: OpeningStudy | None
    missing: tuple[str, ...]  # what a study needs first


def study_of(opening: Opening, facts: Facts | None = None, *, points: int = POINTS) -> Studied:
    """Study an opening now, with a band of the contact from so many points. What is missing is named instead."""
    found = facts or facts_of(opening)
    survey = found.rebuilt.survey
    about = survey.openings[0]
    missing = missing_facts(about)
    if missing:
        return Studied(found, None, missing)
    catalogue = catalogue_for(opening.site)
    return Studied(found, study_opening(survey.site, about, points=points, catalogue=catalogue), missing)


Body = Callable[[Opening, Studied, Reader], str]


def answer_of(opening: Opening, reader: Reader, body: Body) -> Answer:
    """The kept answer, where it still holds; else a new one, kept."""
    state, key = state_of(opening), key_of(reader)
    kept = _kept(opening, key, state)
    if kept is not None:
        return kept
    with _STUDYING[hash((opening.pk, key)) % len(_STUDYING)]:  # many who look at once wait for one study
        return _kept(opening, key, state) or _made(opening, reader, body, state, key)


_ANSWER = Prepared(Answer, ["opening", "reader"])
_STUDYING = tuple(threading.Lock() for _ in range(64))


def _kept(opening: Opening, key: str, state: str) -> Answer | None:
    found = _ANSWER.get(opening.pk, key)
    return found if found is not None and found.state == state else None


def _made(opening: Opening, reader: Reader, body: Body, state: str, key: str) -> Answer:
    studied = study_of(opening)
    about = studied.study
    new = {
        "state": state,
        "headline": render(about.headline, reader) if about else "",
        "closing": about.duty.powered_closing if about else "unknown",
        "level": about.findings[0].level if about and about.findings else "",
        "findings": [[each.level, render(each.text, reader)] for each in about.findings] if about else [],
        "body": body(opening, studied, reader),
    }
    return Answer.objects.update_or_create(opening=opening, reader=key, defaults=new)[0]
