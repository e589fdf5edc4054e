"""The page of the class: what the door does, what it costs, what was found. Without an account, by a short code."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import override
from django.views.decorators.http import require_http_methods

from sillwright.trouble.amounts import minutes_in_words
from sillwright.web.asking.limits import too_many
from sillwright.web.lesson.models import Lesson
from sillwright.web.lesson.shown import complaint, ending, groups, repairs, steps_of
from sillwright.web.lesson.teaching import open_lesson, step, under
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.records.log import Refused

A_MINUTE = 300
"""Pages to one address in a minute: a whole class may sit behind one. Each process counts its own."""


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def board(request: HttpRequest, token: str) -> HttpResponse:
    """The page of the class; a post makes a step. No search engine finds it, nothing keeps it.

    A page asks by ``seen``, the number of steps that it shows, whether there is more; no content where there is no
    more.
    """
    response = too_many(request, "class", A_MINUTE) or _board(request, token)
    response["Cache-Control"] = "no-store"
    response["X-Robots-Tag"] = "noindex, nofollow"
    return response


def _board(request: HttpRequest, token: str) -> HttpResponse:
    row = open_lesson(token)
    if row is None:
        words = _("The code is not whole, or the lesson is over. Ask the trainer for the code.")
        return refusal(request, 404, _("No lesson under this code"), words)
    with override(row.language):
        if request.method != "POST":
            seen = request.GET.get("seen")
            return HttpResponse(status=204) if seen == str(row.steps.count()) else _page(request, row)
        try:
            step(row, request.POST.get("kind", ""), request.POST.get("name", "")[:80])
        except Refused as refused:
            return _page(request, row, str(refused))
        return redirect("board", token=row.code)


def _page(request: HttpRequest, row: Lesson, wrong: str = "") -> HttpResponse:
    here = under(row)
    steps = steps_of(here.course, here.reader)
    told: dict[str, Any] = {
        "lesson": row,
        "complaint": complaint(here, here.reader),
        "minutes": minutes_in_words(here.course.minutes),
        "steps": list(reversed(steps)),
        "last": steps[-1] if steps else None,
        "wrong": wrong,
    }
    if here.course.ended:
        told["end"] = ending(here, here.reader)
    else:
        told |= {"groups": groups(here), "repairs": repairs(here)}
    return render(request, "lesson/board_page.html", told, status=422 if wrong else 200)
