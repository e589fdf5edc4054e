"""The fixed lists of all complaints as one book for a phone without a signal: what is asked, when, and of whom.

The phone weighs nothing by it. It leaves out what was answered, what a fact rules out and what somebody else has to
do, and asks the rest in its order; where nobody goes on stands in the book.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import Any

from sillwright.base.words import Reader, render, translate
from sillwright.trouble.book import fault_book
from sillwright.trouble.danger import STOPPED
from sillwright.trouble.fixed_list import fixed_list, harm_tests, stops
from sillwright.trouble.leading import HANGING
from sillwright.trouble.model import Test
from sillwright.trouble.saying import OUT_OF_SERVICE
from sillwright.web.trouble.address import WHO
from sillwright.web.trouble.shown import minutes_in_words

Told = Mapping[str, Any]


@cache
def list_book(language: str) -> str:
    """The book in a language, as JSON; that language is the active one."""
    model, reader = fault_book(), Reader(language=language)
    every = {test.id: stops(model, None).get(test.id, ()) for test in harm_tests(model)}
    book = {
        "who": WHO,
        "harm": [test.id for test in harm_tests(model)],
        "lists": {each.id: [test.id for test in fixed_list(model, each.id)] for each in model.symptoms},
        "stops": {name: names for name, names in every.items() if names},
        "stops_of": {each.id: _more(stops(model, each.id), every) for each in model.symptoms},
        "stopped": render(STOPPED, reader),
        "tells": {each.id: dict(each.tells) for each in model.symptoms if each.tells},
        "out": [each.id for each in model.symptoms if each.harm],
        "out_of_service": render(OUT_OF_SERVICE, reader),
        "once": {"hanging": {"no": list(HANGING)}},
        "tests": {test.id: _told(test, reader) for test in model.tests},
    }
    return json.dumps(book, ensure_ascii=False, separators=(",", ":"))


def _more(found: Mapping[str, tuple[str, ...]], every: Mapping[str, tuple[str, ...]]) -> Told:
    return {name: names for name, names in found.items() if every.get(name) != names}


def _told(test: Test, reader: Reader) -> Told:
    """One question; what is empty is left out."""
    unless: dict[str, list[str]] = {}
    for move in test.needs:
        unless.setdefault(move.fact, []).append(move.value)
    told = {
        "asks": translate(test.question, reader),
        "how": translate(test.how, reader),
        "takes": minutes_in_words(test.minutes),
        "who": test.who,
        "cautions": [translate(each, reader) for each in test.cautions],
        "says": [[each.id, translate(each.words, reader)] for each in test.outcomes],
        "unless": unless,
    }
    return {name: value for name, value in told.items() if value}
