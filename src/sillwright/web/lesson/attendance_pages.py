"""The page of who was there: a name, a signature drawn or written, the result, when it is due again."""

from __future__ import annotations

import uuid
from dataclasses import fields
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.base.words import Reader, translate
from sillwright.web.lesson.attending import (
    HEIGHT,
    MOST_MONTHS,
    RESULTS_IN_WORDS,
    WIDTH,
    Told,
    attend,
    counting,
    due_on,
    path_of,
)
from sillwright.web.lesson.models import LONGEST_NAME, Lesson
from sillwright.web.lesson.pages import lesson_for
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.sites.mine import key_in

DUE = 12  # months, unless it is said otherwise
TYPED = tuple(each.name for each in fields(Told) if each.name != "id")


@require_http_methods(["GET", "HEAD", "POST"])
def attendance(request: HttpRequest, id: UUID) -> HttpResponse:
    """Who was there; a form adds a row, or corrects one."""
    lesson = lesson_for(request, id)
    if request.method != "POST":
        return _page(request, lesson)
    typed = {name: request.POST.get(name, "") for name in TYPED}
    try:
        made = attend(lesson, Told(id=key_in(request), **typed), by=person(request), request=request)
    except Refused as refused:
        return _page(request, lesson, typed, str(refused))
    messages.success(request, _("Kept: %(name)s.") % {"name": made.name})
    return redirect("attendance", id=id)


def _page(
    request: HttpRequest, lesson: Lesson, typed: dict[str, str] | None = None, wrong: str = ""
) -> HttpResponse:
    rows = counting(lesson)
    reader = Reader(language=get_language() or "en")
    results = {name: translate(words, reader) for name, words in RESULTS_IN_WORDS.items()}
    told: dict[str, Any] = {
        "lesson": lesson,
        "rows": [
            {
                "row": each,
                "path": path_of(each.signature),
                "due": due_on(each),
                "result": results[each.result],
            }
            for each in rows
        ],
        "results": results.items(),
        "today": timezone.localdate().isoformat(),
        "typed": typed or {"months": str(DUE), "day": timezone.localdate().isoformat(), "result": "passed"},
        "most": MOST_MONTHS,
        "longest": LONGEST_NAME,
        "size": (WIDTH, HEIGHT),
        "key": uuid.uuid4(),
        "wrong": wrong,
    }
    return render(request, "lesson/attendance_page.html", told, status=422 if wrong else 200)
