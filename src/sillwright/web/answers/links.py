"""Links to a paper: made and withdrawn by those who may share, opened by whoever holds one."""

from __future__ import annotations

from uuid import UUID

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.web.answers.papers import handed_out
from sillwright.web.records.links import DAYS, count, is_away, link_of, make_link, may_show, withdraw
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Link, Paper
from sillwright.web.records.papers import last_written
from sillwright.web.records.seen import fetched

USUAL = 30  # days
_WITH = ("site__organisation", "opening")


@require_http_methods(["GET", "HEAD", "POST"])
def links(request: HttpRequest, id: UUID) -> HttpResponse:
    """The links to a paper. The answer to a post shows the new link, this once."""
    paper = fetched(Paper.objects.select_related(*_WITH), request.user, id, "manage")
    made, wrong = "", ""
    if request.method == "POST":
        days = request.POST.get("days", "")
        span = int(days) if days.isdecimal() and len(days) < 4 else 0
        try:
            _link, token = make_link(paper, span, by=request.user, request=request)  # type: ignore[arg-type]
            made = request.build_absolute_uri(reverse("shared", args=[token]))
        except Refused as refused:
            wrong = str(refused)
    made_so_far = list(paper.links.select_related("by").order_by("-made")[:200])
    out = [who for who in {each.by for each in made_so_far} if not may_show(who, paper)]
    told = {
        "paper": paper,
        "links": made_so_far,
        "away": is_away(paper),
        "out": out,
        "days": DAYS,
        "usual": USUAL,
        "made": made,
        "wrong": wrong,
        "now": timezone.now(),
    }
    return render(request, "answers/links_page.html", told, status=422 if wrong else 200)


@require_POST
def withdrawn(request: HttpRequest, id: UUID) -> HttpResponse:
    """End a link now."""
    link = get_object_or_404(Link.objects.only("pk", "paper_id"), pk=id)
    paper = fetched(Paper.objects.select_related(*_WITH), request.user, link.paper_id, "manage")
    link.paper = paper
    withdraw(link, by=request.user, request=request)  # type: ignore[arg-type]
    return redirect("paper_links", paper.pk)


@require_safe
@login_not_required
def shared(request: HttpRequest, token: str) -> HttpResponse:
    """What the holder of a link sees: what the paper is, whose, and until when; ``?download=1`` is the file."""
    link = link_of(token)
    if link is None:
        raise Http404
    if "download" in request.GET:
        response = handed_out(request, link.paper)
    else:
        if request.method == "GET":
            count(link)
        paper = link.paper
        written = last_written(paper.site, paper.opening)
        told = {"link": link, "paper": paper, "outdated": written is not None and written > paper.made}
        response = render(request, "answers/shared_page.html", told)
    response["Cache-Control"] = "no-store"
    response["X-Robots-Tag"] = "noindex, nofollow"
    response["Referrer-Policy"] = "no-referrer"
    return response
