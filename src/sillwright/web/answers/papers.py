"""The papers of an opening and of a site: made, listed, downloaded."""

from __future__ import annotations

import logging
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.web.answers.files import as_file
from sillwright.web.answers.limits import one_too_many
from sillwright.web.pages.refusals import refused
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening, Paper, Site
from sillwright.web.records.papers import KINDS, OF_SITES, Damaged, content_of, last_written, make_paper, sheaf_of
from sillwright.web.records.seen import fetched

MOST_A_MINUTE = 20
A_PAGE = 50
log = logging.getLogger("sillwright.papers")


@require_http_methods(["GET", "HEAD", "POST"])
def of_opening(request: HttpRequest, id: UUID) -> HttpResponse:
    """The papers of one opening; a post makes one."""
    opening = fetched(Opening.objects.select_related("site__organisation"), request.user, id)
    return _papers(request, opening.site, opening, may_write=opening.may_write, may_manage=opening.may_manage)


@require_http_methods(["GET", "HEAD", "POST"])
def of_site(request: HttpRequest, id: UUID) -> HttpResponse:
    """The papers of a site; a post makes one."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id)
    return _papers(request, site, None, may_write=site.may_write, may_manage=site.may_manage)


def _papers(
    request: HttpRequest, site: Site, opening: Opening | None, *, may_write: bool, may_manage: bool
) -> HttpResponse:
    wrong, status = "", 200
    if request.method == "POST":
        if not may_write:
            raise PermissionDenied
        wrong, status = _made(request, site, opening)
        if not wrong:
            return redirect(request.path)
    earlier = Paper.objects.filter(site=site, opening=opening).select_related("by").order_by("-made")
    told = {
        "site": site,
        "opening": opening,
        "reader": reader_for(request.user, site),  # type: ignore[arg-type]
        "left_out": sheaf_of(site, [opening] if opening else list(site.openings.filter(put_away=None))).left_out,
        "kinds": [kind for kind in KINDS if opening or kind in OF_SITES],
        "papers": Paginator(earlier, A_PAGE).get_page(request.GET.get("page")),
        "written": last_written(site, opening),
        "may_write": may_write,
        "may_manage": may_manage,
        "wrong": wrong,
    }
    return render(request, "answers/papers_page.html", told, status=status)


def _made(request: HttpRequest, site: Site, opening: Opening | None) -> tuple[str, int]:
    """Make the paper that is asked for; what is wrong and the status, where it cannot be."""
    kind = request.POST.get("kind", "")
    if kind not in KINDS:
        return _("Choose which paper to make."), 422
    if one_too_many(request, "papers", MOST_A_MINUTE):
        return _("Many papers were made just now. Wait a minute, then try again."), 429
    reader = reader_for(request.user, site)  # type: ignore[arg-type]
    try:
        paper = make_paper(kind, site, opening, by=request.user, reader=reader, request=request)  # type: ignore[arg-type]
    except Refused as error:
        return str(error), 422
    words = _("%(name)s is made. Its digest begins %(digest)s.")
    messages.success(request, words % {"name": paper.name, "digest": paper.digest[:12]})
    return "", 302


@require_safe
def paper(request: HttpRequest, id: UUID) -> HttpResponse:
    """A paper as a file; refused where its bytes are no longer those that were made."""
    return handed_out(request, fetched(Paper.objects.all(), request.user, id))


def handed_out(request: HttpRequest, found: Paper) -> HttpResponse:
    """The file of a paper."""
    try:
        return as_file(content_of(found), found.media, found.name)
    except Damaged:
        log.error("damaged", extra={"facts": {"paper": str(found.pk)}})
        words = _("The file is not the one that was made, so it is not handed out. Make the paper anew.")
        return refused(request, 409, _("This paper is damaged"), words)
