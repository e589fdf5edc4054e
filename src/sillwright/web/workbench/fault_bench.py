"""The fault bench: choose a circuit, hurt it, press it; see what the operator sees and what the leaf still feels.

The address is its state, as on every bench. Parts that stand at the board are shown to a trainer only. A phone
keeps the page and the book of its answers, and works without a signal.
"""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.views.decorators.cache import cache_control
from django.views.decorators.http import condition, require_safe

from sillwright.base.words import Reader
from sillwright.web.records.answers import reader_at
from sillwright.web.workbench.admission import turned_away
from sillwright.web.workbench.fault_asked import Chosen, chosen, mistakes, trains
from sillwright.web.workbench.fault_book import address, book_in, version
from sillwright.web.workbench.fault_shown import answer, choices

PAGE = "workbench/fault_bench_page.html"


@login_not_required
@require_safe
def fault_bench(request: HttpRequest) -> HttpResponse:
    """The bench."""
    if (away := turned_away(request, computes=True)) is not None:
        return away
    user: Any = request.user
    own = user.units if user.is_authenticated else "site"
    reader = reader_at("US", own, get_language() or "en")
    may_train = trains(request)
    asked = chosen(request, may_train)
    wrong = list(mistakes(asked, reader))
    told = {"chosen": asked, "wrong": wrong, "may_train": may_train, "book": address(), "sized": _sized(request)}
    told |= {**choices(reader), **answer(asked, reader, wrong=bool(wrong))}
    return render(request, PAGE, told, status=422 if wrong else 200)


def _sized(request: HttpRequest) -> str:
    """The same page in large type, or in small type where it is large."""
    query = request.GET.copy()
    if query.pop("large", [""])[-1] != "1":
        query["large"] = "1"
    return f"?{query.urlencode()}"


@login_not_required
@require_safe
def kept(request: HttpRequest) -> HttpResponse:
    """The page that a phone keeps, the same for everybody; its script answers from the book."""
    reader = Reader(language=get_language() or "en")
    told = {"user": None, "kept": True, "chosen": Chosen(), "book": address(), "sized": "?large=1"}
    return render(request, PAGE, told | choices(reader) | answer(Chosen(), reader))


@login_not_required
@require_safe
@cache_control(private=True, no_cache=True)
@condition(etag_func=lambda request: f'"{version()}-{get_language() or "en"}"')
def book(request: HttpRequest) -> HttpResponse:
    """Every answer of the bench, parts at the board left out."""
    return HttpResponse(book_in(get_language() or "en"), content_type="application/json")
