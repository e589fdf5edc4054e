"""Links to papers that need no account: shown once, ended by a day or at will. Their digest alone is kept."""

from __future__ import annotations

from datetime import timedelta

from django.db import transaction
from django.db.models import F
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User, new_token
from sillwright.web.records.audit import digest, record
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Link, Paper

DAYS = (1, 7, 30, 90)
MOST_LINKS = 100
"""Links to one paper that are good at the same time."""


@transaction.atomic
def make_link(paper: Paper, days: int, *, by: User, request: HttpRequest | None = None) -> tuple[Link, str]:
    """A new link and its secret, which is known nowhere afterwards. Raises :class:`Refused`."""
    if days not in DAYS:
        raise Refused(_("A link lasts 1, 7, 30 or 90 days."))
    good = Link.objects.filter(paper=paper, withdrawn=None, ends__gt=timezone.now())
    if good.count() >= MOST_LINKS:
        raise Refused(_("This paper has %(most)d links already; withdraw one first.") % {"most": MOST_LINKS})
    token = new_token()
    ends = timezone.now() + timedelta(days=days)
    link = Link.objects.create(paper=paper, digest=digest(token), by=by, ends=ends)
    _record(request, "link made", link, by)
    return link, token


@transaction.atomic
def withdraw(link: Link, *, by: User, request: HttpRequest | None = None) -> None:
    """End a link now. One that was withdrawn before stays as it is."""
    if Link.objects.filter(pk=link.pk, withdrawn=None).update(withdrawn=timezone.now()):
        _record(request, "link withdrawn", link, by)


def link_of(token: str) -> Link | None:
    """The link with this secret, where it is good; unknown, ended and withdrawn ones are alike."""
    links = Link.objects.select_related("paper__site__organisation", "paper__opening", "paper__by")
    found = links.filter(digest=digest(token)).first()
    return found if found is not None and found.good else None


def count(link: Link) -> None:
    """That a link was opened, not by whom."""
    Link.objects.filter(pk=link.pk).update(opened=F("opened") + 1)


def _record(request: HttpRequest | None, verb: str, link: Link, by: User) -> None:
    paper = link.paper
    site, opening = paper.site, paper.opening
    about = {"organisation": site.organisation, "site": site, "opening": opening}
    record(request, verb, paper.name, who=by, after=paper.digest, **about)
