"""Papers: made from what is known now, kept as bytes with their digest, and never changed afterwards."""

from __future__ import annotations

import hashlib
import json
import uuid
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import Max, Q, QuerySet
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright import __version__
from sillwright.base.errors import OutOfRange, OutputError
from sillwright.base.words import N_, Reader, say
from sillwright.catalogue import Catalogue
from sillwright.paper.of_opening import opening_paper
from sillwright.paper.report import report
from sillwright.paper.writing import slug
from sillwright.study import SiteStudy, site_as_json, study_site
from sillwright.survey.model import Survey
from sillwright.survey.required import missing_facts
from sillwright.web.accounts.models import User
from sillwright.web.orders.catalogues import catalogue_for
from sillwright.web.records.audit import record
from sillwright.web.records.disk import put
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Observation, Opening, Paper, Site
from sillwright.web.records.surveys import survey_of
from sillwright.web.trouble.substitutes import refuse_while_in

Kind = Literal["report", "elevation", "answer", "dxf", "install", "wiring", "scribe", "scribe_dxf"]
KINDS: dict[Kind, tuple[str, str]] = {
    "report": ("application/pdf", "pdf"),
    "elevation": ("image/svg+xml", "svg"),
    "answer": ("application/json", "json"),
    "dxf": ("image/vnd.dxf", "dxf"),
    "install": ("application/pdf", "pdf"),
    "wiring": ("application/pdf", "pdf"),
    "scribe": ("application/pdf", "pdf"),
    "scribe_dxf": ("image/vnd.dxf", "dxf"),
}
OF_SITES = ("report", "answer")
"""Papers of a whole site; the others show one opening."""
MOST_OPENINGS = 100
"""Openings in one paper; a larger site is papered opening by opening."""


class Damaged(Exception):
    """The bytes of a paper are gone, or are no longer those that were made."""


@dataclass(frozen=True)
class Sheaf:
    """What a paper can be made of, and the openings of which too little is known for one."""

    survey: Survey
    left_out: tuple[str, ...]  # tags


def sheaf_of(site: Site, openings: Sequence[Opening]) -> Sheaf:
    """The openings of a paper, in their order."""
    survey = survey_of(site, openings).survey
    ready = tuple(each for each in survey.openings if not missing_facts(each))
    left_out = tuple(str(each.tag.value) for each in survey.openings if missing_facts(each))
    return Sheaf(Survey(site=survey.site, openings=ready), left_out)


def make_paper(
    kind: Kind, site: Site, opening: Opening | None, *, by: User, reader: Reader, request: HttpRequest | None = None
) -> Paper:
    """Make a paper of a site, or of one opening; the same state on the same day gives the paper there is.

    Raises :class:`Refused` where too little is known, or while a substitute part is in at one of its openings;
    :class:`OutputError` where it cannot be set or written.
    """
    began = timezone.now()  # what is written from here on may not be in it
    openings = [opening] if opening else list(site.openings.filter(put_away=None))
    if len(openings) > MOST_OPENINGS:
        raise Refused(_("A paper holds at most %(most)d openings; make one of each.") % {"most": MOST_OPENINGS})
    refuse_while_in(each.pk for each in openings)
    sheaf = sheaf_of(site, openings)
    if not sheaf.survey.openings:
        raise Refused(_("Too little is known for a paper; the pages of the openings say what is needed first."))
    if kind not in OF_SITES and opening is None:
        raise Refused(_("This paper shows one opening; make it at the opening's page."))
    catalogue = catalogue_for(site)
    content = _content(kind, study_site(sheaf.survey, reader, catalogue=catalogue), catalogue)
    media, ending = KINDS[kind]
    about = slug(site.name) if opening is None else f"{slug(site.name)}-{slug(opening.tag)}"
    paper = Paper(
        site=site,
        opening=opening,
        kind=kind,
        name=f"{about[:100]}-{kind}.{ending}",
        digest=hashlib.sha256(content).hexdigest(),
        media=media,
        size=len(content),
        version=__version__[:40],
        units=reader.units,
        by=by,
        made=began,
    )
    return _kept(paper, content, request)


def _content(kind: Kind, study: SiteStudy, catalogue: Catalogue | None) -> bytes:
    if kind == "report":
        return report(study, made_on=timezone.localdate(), version=__version__)
    if kind == "answer":
        return (json.dumps(site_as_json(study), ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()
    try:
        return opening_paper(
            kind,
            study.openings[0],
            study.reader,
            made_on=timezone.localdate(),
            version=__version__,
            catalogue=catalogue,
        )
    except OutOfRange as error:  # a scribe of a floor that nobody has read, or that is too uneven for one
        raise Refused(error.in_words(study.reader)) from None


def _kept(paper: Paper, content: bytes, request: HttpRequest | None) -> Paper:
    """The file first, then its row: a row never speaks of a file that is not there."""
    path = path_of(paper.pk)
    _write(path, content)
    kept = False
    try:
        with transaction.atomic():
            Site.objects.select_for_update().get(pk=paper.site_id)  # two presses of one button come one by one
            if (same := _same(paper)) is not None:
                return same
            paper.save(force_insert=True)
            site, opening = paper.site, paper.opening
            about = {"organisation": site.organisation, "site": site, "opening": opening}
            record(request, "paper made", paper.name, after=paper.digest, who=paper.by, **about)
        kept = True
    finally:
        if not kept:
            path.unlink(missing_ok=True)
    return paper


def _same(paper: Paper) -> Paper | None:
    """The paper of the same bytes that was made today, where it is still whole."""
    alike = {name: getattr(paper, name) for name in ("site_id", "opening_id", "kind", "digest", "version", "units")}
    day = timezone.now().replace(hour=0, minute=0, second=0, microsecond=0)
    last = last_written(paper.site, paper.opening)
    made: QuerySet[Paper] = Paper.objects.filter(**alike, made__gte=max(day, last or day))
    for each in made.order_by("made"):
        with suppress(Damaged):
            content_of(each)
            return each
    return None


def last_written(site: Site, opening: Opening | None) -> datetime | None:
    """When a fact was last written that a paper of this opening, or of the whole site, speaks of."""
    written = Observation.objects.filter(site=site)
    if opening is not None:
        written = written.filter(Q(opening=opening) | Q(opening=None))
    last: datetime | None = written.aggregate(last=Max("received"))["last"]
    return last


def path_of(key: uuid.UUID) -> Path:
    """Where the bytes of a paper are."""
    return Path(default_storage.path(f"papers/{key.hex[:2]}/{key}"))


def content_of(paper: Paper) -> bytes:
    """The bytes of a paper. Raises :class:`Damaged` where they are not those that were made."""
    try:
        content = path_of(paper.pk).read_bytes()
    except OSError:
        raise Damaged from None
    if hashlib.sha256(content).hexdigest() != paper.digest:
        raise Damaged
    return content


def _write(path: Path, content: bytes) -> None:
    try:
        put(path, content)
    except OSError as error:
        said = N_("the paper cannot be kept on this server ({why}); make room there, then make it again")
        raise OutputError(say(said, why=error.strerror)) from error
