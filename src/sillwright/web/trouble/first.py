"""The questions that keep people from harm, as one page that a phone keeps: it opens without a network.

What is asked next and what is said come from the same function as online: every way through the questions stands in
the page as a tree, which the script walks. Behind them come the fixed lists of all complaints (``list_book``).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import render
from django.utils.translation import get_language
from django.views.decorators.http import require_safe

from sillwright.base.words import Reader, translate
from sillwright.base.words import render as in_words
from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.safety import make_safe, questions
from sillwright.web.trouble.address import SAFE_ANSWERS, NotACall, begun, read
from sillwright.web.trouble.advised import QUESTIONS
from sillwright.web.trouble.list_book import list_book
from sillwright.web.trouble.making_safe import stays
from sillwright.web.trouble.pages import not_a_call
from sillwright.web.trouble.shown import SAFE_WORDS, WHO

SAFE = "harm."  # before the name of a question, in the form


@login_not_required
@require_safe
def first(request: HttpRequest) -> HttpResponse:
    """The page, the same for everybody, since it is kept for everybody; its form without a script leads on."""
    if request.GET:
        return _on(request)
    language = get_language() or "en"
    reader, book = Reader(language=language), fault_book()
    told: dict[str, Any] = {
        "user": None,
        "questions": [(each.id, in_words(each.words, reader)) for each in questions()],
        "answers": list(SAFE_WORDS.items()),
        "tree": tree(language),
        "book": list_book(language),
        "who": list(WHO.items()),
        "symptoms": [
            (each.id, translate(each.words, reader))
            for each in sorted(book.symptoms, key=lambda one: (not one.harm, -one.share))
        ],
    }
    return render(request, "trouble/first_page.html", told)


def _on(request: HttpRequest) -> HttpResponse:
    """To the call that the form tells of."""
    query = QueryDict(mutable=True)
    for name in request.GET:
        value = request.GET.get(name, "")
        if value and name.startswith(SAFE):
            query.appendlist("harm", f"{name.removeprefix(SAFE)}:{value}")
        elif value:
            query[name] = value
    try:
        at = read(query, fault_book(), QUESTIONS)
    except NotACall as error:
        return not_a_call(request, error)
    return HttpResponseRedirect(replace(at, started=at.started or begun().started).address())


@cache
def tree(language: str) -> str:
    """Every way through the questions, as JSON: ``ask`` with a branch for each answer, and what is said (``say``).

    ``texts`` holds each sentence once; ``stays``: nobody goes on to look for the fault.
    """
    texts: dict[str, int] = {}
    whole = {"tree": _branch((), Reader(language=language), texts), "texts": list(texts)}
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":"))


def _branch(told: tuple[tuple[str, str], ...], reader: Reader, texts: dict[str, int]) -> Mapping[str, Any]:
    found = make_safe(Call(harm=told))
    said = [texts.setdefault(in_words(each, reader), len(texts)) for each in found.sentences]
    if found.next is None:
        return {"say": said, "stays": stays(found)}
    asked = found.next.id
    return {
        "ask": asked,
        "say": said,
        "to": {each: _branch((*told, (asked, each)), reader, texts) for each in SAFE_ANSWERS},
    }
