"""What an opening comes to: its study, what it would be if, and its drawing."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, Literal
from uuid import UUID

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Query, Router
from pydantic import BaseModel, Field

from sillwright.base.errors import Mistake
from sillwright.base.words import Reader
from sillwright.study.answer import opening_as_json
from sillwright.survey.questions import mistake_in
from sillwright.web.answers.what_if import MOST_FACTS, supposing
from sillwright.web.api.limits import count
from sillwright.web.api.operations.openings import MistakeSaid, mistake_said, openings_of
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import person, reads
from sillwright.web.records.answers import Studied, reader_for, study_of
from sillwright.web.records.log import Refused, Said, checked
from sillwright.web.records.models import LONGEST_TYPED, Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.surveys import Facts, facts_of

router = Router(tags=[gettext_noop("Studies")])

SVG = "image/svg+xml"
WEIGHT, WEIGHT_OF_A_TRY = 5, 10  # requests that one study, and one study of what might be, count for
MOST_KEPT = 64  # studies in the memory of a process

UnitsWanted = Annotated[
    Literal["", "us", "metric", "site"],
    Query("", description="Units of sentences: us, metric, or those of the site's country; else your own choice."),
]
LanguageWanted = Annotated[Words, Query("", max_length=8, description="Language of sentences; else your own.")]


class StudySaid(BaseModel):
    """An opening studied; or what a study needs first. Numbers are SI, sentences are the reader's."""

    revision: int
    missing: list[str] = Field(description="Facts that a study needs first; then there is no study.")
    mistakes: list[MistakeSaid] = Field(description="What was taken down and cannot be read.")
    study: dict[str, Any] | None = Field(description="One of “openings” of the format sillwright-study/1.")


class WhatIf(Asked):
    """Facts as they might be: what would be typed, or null for not known. Nothing is kept."""

    facts: dict[Words, Annotated[Words, Field(max_length=LONGEST_TYPED)] | None] = Field(
        min_length=1, max_length=MOST_FACTS, examples=[{"operator.made": "2019"}]
    )


@router.get(
    "/openings/{uuid:opening}/study",
    response=StudySaid,
    auth=reads,
    summary=gettext_noop("Read what an opening comes to"),
)
def study(request: HttpRequest, opening: UUID, units: UnitsWanted, language: LanguageWanted) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    count(request, WEIGHT - 1)
    return _said(found, studied(found), reader_of(request, found.site, units, language))


@router.post(
    "/openings/{uuid:opening}/what-if",
    response=StudySaid,
    auth=reads,
    summary=gettext_noop("Try what an opening would come to; nothing is kept"),
)
def what_if(
    request: HttpRequest, opening: UUID, asked: WhatIf, units: UnitsWanted, language: LanguageWanted
) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    count(request, WEIGHT_OF_A_TRY - 1)
    tried = _tried(found, facts_of(found), asked.facts)
    return _said(found, study_of(found, tried), reader_of(request, found.site, units, language))


@router.get(
    "/openings/{uuid:opening}/drawing.svg",
    auth=reads,
    summary=gettext_noop("Draw an opening"),
    openapi_extra={"responses": {200: {"content": {SVG: {"schema": {"type": "string"}}}}}},
)
def drawing(request: HttpRequest, opening: UUID, units: UnitsWanted, language: LanguageWanted) -> Any:
    from sillwright.paper.elevation import elevation  # fonts are heavy
    from sillwright.paper.svg import svg

    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    count(request, WEIGHT - 1)
    known = studied(found)
    about, study = known.facts.rebuilt.survey.openings[0], known.study
    reader = reader_of(request, found.site, units, language)
    drawn = svg(elevation(about, reader, study.findings, study.takeoff) if study else elevation(about, reader))
    return HttpResponse(drawn, content_type=f"{SVG}; charset=utf-8")


@dataclass(frozen=True)
class _Asked:
    """An opening and its facts, alike where the same observations stand under the same names."""

    alike: tuple[str, ...]
    opening: Opening = field(compare=False)
    facts: Facts = field(compare=False)


def studied(opening: Opening) -> Studied:
    """The study of an opening as it is now; the latest ones are kept until a fact of theirs changes."""
    known = facts_of(opening)
    names = (str(opening.pk), opening.tag, opening.site.name, opening.site.country)
    ids = (head.id for heads in known.heads.values() for head in heads)
    return _studied(_Asked((*names, *ids), opening, known))


@lru_cache(maxsize=MOST_KEPT)
def _studied(asked: _Asked) -> Studied:
    return study_of(asked.opening, asked.facts)


def reader_of(request: HttpRequest, site: Site, units: str, language: str) -> Reader:
    """How the caller reads at a site. Raises :class:`Problem` for a language that this server does not have."""
    reader = reader_for(person(request), site, units)
    if not language:
        return reader
    known = [code for code, _name in settings.LANGUAGES]
    if language not in known:
        wrong = Mistake(path="language", message=_("not a language of this server"), accepted=", ".join(known))
        raise Problem("mistakes", mistakes=(wrong,))
    return Reader(language=language, units=reader.units, country=reader.country)


def _said(opening: Opening, studied: Studied, reader: Reader) -> dict[str, Any]:
    return {
        "revision": opening.revision,
        "missing": studied.missing,
        "mistakes": [mistake_said(each) for each in studied.facts.rebuilt.mistakes.values()],
        "study": opening_as_json(studied.study, reader) if studied.study else None,
    }


def _tried(opening: Opening, known: Facts, supposed: dict[str, str | None]) -> Facts:
    """The facts with these in the place of what is known. Raises :class:`Problem` with every mistake."""
    if wrong := tuple(found for path, typed in supposed.items() if (found := _wrong(path, typed))):
        raise Problem("mistakes", mistakes=wrong)
    return supposing(opening, known, supposed)


def _wrong(path: str, typed: str | None) -> Mistake | None:
    said = Said(fact=path, says="unknown" if typed is None else "value", typed=typed or "")
    try:
        checked(said, of_site=path.startswith("site."))
        return None if typed is None else mistake_in(path, typed)
    except Refused as error:
        return Mistake(path=path, message=str(error))
