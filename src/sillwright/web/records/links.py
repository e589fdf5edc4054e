"""Links to papers that need no account: shown once, ended by a day or at will. Their digest alone is kept.

A link shows nobody what whoever made it may not see any more, and nothing that was put away.
"""

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
from sillwright.web.records.seen import rights_at

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
    """The link with this secret, where it is good; unknown, ended, withdrawn and closed ones are alike."""
    links = Link.objects.select_related("paper__site__organisation", "paper__opening", "paper__by", "by")
    found = links.filter(digest=digest(token)).first()
    if found is None or not found.good or is_away(found.paper) or not may_show(found.by, found.paper):
        return None
    return found


def is_away(paper: Paper) -> bool:
    """Whether its site or its opening was put away; its links open nothing until that is put back."""
    return paper.site.put_away is not None or (paper.opening is not None and paper.opening.put_away is not None)


def may_show(person: User, paper: Paper) -> bool:
    """Whether somebody still sees the paper, so that a link of that person may show it to others."""
    return person.is_active and rights_at(person, paper.site_id).read


def count(link: Link) -> None:
    """That a link was opened, not by whom."""
    Link.objects.filter(pk=link.pk).update(opened=F("opened") + 1)


def _record(request: HttpRequest | None, verb: str, link: Link, by: User) -> None:
    paper = link.paper
    site, opening = paper.site, paper.opening
    about = {"organisation": site.organisation, "site": site, "opening": opening}
    record(request, verb, paper.name, who=by, after=paper.digest, **about)
