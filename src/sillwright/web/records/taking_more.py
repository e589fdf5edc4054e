"""A survey file about a site that is there: what is new comes in, what differs stands beside what was known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from sillwright.base.errors import UnknownName
from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.model import Survey
from sillwright.survey.questions import answer_at, spec_at
from sillwright.survey.values import Refused as Unread
from sillwright.web.accounts.models import User
from sillwright.web.records.audit import record
from sillwright.web.records.log import Head, Said, write_all
from sillwright.web.records.models import Fact, Opening, Site
from sillwright.web.records.sites import make_opening


@dataclass
class Came:
    """What came of a file."""

    openings: list[Opening] = field(default_factory=list)  # new ones
    facts: int = 0  # that nothing was known of
    beside: list[tuple[Opening | None, str]] = field(default_factory=list)  # facts that have one reading more now


@transaction.atomic
def take_in_more(site: Site, survey: Survey, *, author: User, device: str = "") -> Came:
    """Add what a file says to a site. Raises :class:`Refused` where something of it cannot be kept."""
    came = Came()
    record(None, "file taken in", "", who=author, organisation=site.organisation, site=site)
    _add(site, None, entries_of(survey.site, "site"), came, author, device)
    there = {each.tag: each for each in site.openings.all()}
    for about in survey.openings:
        tag = str(about.tag.value)
        opening = there.get(tag)
        if opening is None:
            opening = make_opening(site, tag, author=author)
            came.openings.append(opening)
        _add(site, opening, entries_of(about), came, author, device)
    return came


def _add(
    site: Site, opening: Opening | None, entries: Iterable[Entry], came: Came, author: User, device: str
) -> None:
    rows = Fact.objects.filter(site=site, opening=opening)
    known = {each.path: [Head(**head) for head in each.heads] for each in rows}
    now, said = timezone.now(), []
    for each in entries:
        if each.path in {"tag", "site.name"}:
            continue
        heads = known.get(each.path, [])
        if any(_same(each, head) for head in heads):
            continue
        if heads:
            came.beside.append((opening, each.path))
        else:
            came.facts += 1
        said.append(Said.of(each, device=device, at=now + timedelta(microseconds=len(said))))
    if said:
        write_all(site, opening, said, author=author)


def _same(entry: Entry, head: Head) -> bool:
    if entry.says != head.says:
        return False
    if entry.says != "value":
        return True
    if entry.typed == head.typed:
        return True
    try:
        return spec_at(entry.path).same(answer_at(entry.path, entry.typed), answer_at(entry.path, head.typed))
    except (UnknownName, Unread):
        return False
