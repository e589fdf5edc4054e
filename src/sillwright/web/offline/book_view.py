"""The document that a phone evaluates by, as it is asked for."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import condition, require_safe

from sillwright.base.words import Reader
from sillwright.web.offline.book import book as book_for
from sillwright.web.people.who import person


def _reader(request: HttpRequest) -> Reader:
    return Reader(language=person(request).language)


def _etag(request: HttpRequest) -> str:
    return f'"{book_for(_reader(request))["version"]}"'


@require_safe
@cache_control(private=True, no_cache=True)
@condition(etag_func=_etag)
def book(request: HttpRequest) -> HttpResponse:
    """The rules, facts and words that the scripts go by; a browser that has this version is told so."""
    return JsonResponse(book_for(_reader(request)))
