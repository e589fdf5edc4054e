"""A phone without a signal: the evaluator's scripts in Chromium, and the server's side of each comparison."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any
from urllib.parse import urlsplit

from sillwright.base.errors import DocumentError, UnknownName
from sillwright.base.words import Reader, render
from sillwright.duty import Duty, assess
from sillwright.study._study import _unknown
from sillwright.study.headline import headline
from sillwright.study.why import fact_in_words
from sillwright.survey.entries import Entry, survey_from_entries
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening
from sillwright.survey.questions import answer_at, mistake_in
from sillwright.survey.values import Money

from .browser import ROOT, browsing

STATIC = ROOT / "src/sillwright/web/static"
HERE = "http://phone.test"  # no such host: every file comes from the folder
READER = Reader()


@dataclass(frozen=True)
class Case:
    """What somebody said of one opening and its site."""

    country: str
    site: tuple[Entry, ...]
    opening: tuple[Entry, ...]

    def as_told(self) -> dict[str, Any]:
        """The case as the scripts are given it."""
        return {
            "country": self.country,
            "site": [asdict(each) for each in self.site],
            "opening": [asdict(each) for each in self.opening],
        }


@dataclass
class Phone:
    """A page that has the scripts and the book, and nothing else."""

    page: Any

    def keep(self, book: Mapping[str, Any]) -> None:
        """Hand the book over; what follows is answered by it."""
        self.page.evaluate("(text) => { window.book = JSON.parse(text); }", json.dumps(book))

    def answers(self, cases: Sequence[Case]) -> list[dict[str, Any]]:
        """The answer to each case, with its sentences."""
        return self._asked("answers", [each.as_told() for each in cases])

    def reads(self, typed: Sequence[tuple[str, str]]) -> list[dict[str, Any]]:
        """What each text comes to at its fact."""
        return self._asked("reads", typed)

    def _asked(self, name: str, of: Sequence[Any]) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = json.loads(self.page.evaluate(name, json.dumps(of)))
        return found


SCRIPT = """
import { answer } from "/offline/evaluator/answer.js";
import { read } from "/offline/evaluator/reading.js";
import { asksInWords, factInWords, headlineInWords, whyInWords } from "/offline/evaluator/say.js";
const said = (told) => {
  const found = answer(window.book, told);
  const unknown = found.unknown.map((each) => (
    { ...each, why: whyInWords(window.book, each.fact), named: factInWords(window.book, each.fact) }));
  const rules = found.rules.map((each) => ({ ...each, asks: asksInWords(window.book, each.id) }));
  return { ...found, unknown, rules, headline: headlineInWords(window.book, found) };
};
window.answers = (text) => JSON.stringify(JSON.parse(text).map(said));
window.reads = (text) => JSON.stringify(JSON.parse(text).map(([path, typed]) => read(window.book, path, typed)));
window.ready = true;
"""
PAGE = '<!doctype html><title>phone</title><script type="module" src="/start.js"></script>'


@contextmanager
def phone() -> Iterator[Phone]:
    """A phone with the scripts, until the block ends."""
    with browsing() as browser:
        page = browser.new_context().new_page()
        page.route("**/*", _file)
        page.goto(HERE)
        page.wait_for_function("window.ready")
        yield Phone(page)


def _file(route: Any) -> None:
    path = urlsplit(route.request.url).path
    if path == "/":
        route.fulfill(body=PAGE, content_type="text/html")
    else:
        body = SCRIPT if path == "/start.js" else (STATIC / path.lstrip("/")).read_text(encoding="utf-8")
        route.fulfill(body=body, content_type="text/javascript")


# the server's side


def server_says(case: Case) -> dict[str, Any] | None:
    """What the server answers; None where a survey cannot hold what was said."""
    try:
        rebuilt = survey_from_entries("Quay 7", case.site, {"T1": case.opening}, case.country)
    except DocumentError:
        return None
    site, opening = rebuilt.survey.site, rebuilt.survey.openings[0]
    duty = assess(site, opening)
    return {
        **_duty(duty),
        "unknown": _open_facts(opening, duty),
        "headline": render(headline(opening, duty), READER),
        # a part of another country is told on the server only: its list of parts is long, and no rule asks for one
        "mistakes": {path for path in rebuilt.mistakes if path != "site.subdivision"},
        "members": dict(rebuilt.members),
    }


def _duty(duty: Duty) -> dict[str, Any]:
    names = ("kind", "works", "watched", "listed", "monitored")
    return {
        "powered_closing": duty.powered_closing,
        "regime": duty.regime,
        "no_rules": duty.no_rules,
        "deciding_facts": list(duty.deciding_facts),
        "deciding_sets": [list(each) for each in duty.deciding_sets],
        "rules": [
            {
                "id": each.id,
                "verdict": each.verdict,
                "waits_for": list(each.facts),
                "asks": render(each.asks, READER),
            }
            for each in duty.rules
        ],
        "devices": [{"fact": each.path, **{name: getattr(each, name) for name in names}} for each in duty.devices],
    }


def _open_facts(opening: Opening, duty: Duty) -> list[dict[str, Any]]:
    """What is not known, without what moves the numbers of a contact."""
    return [
        {
            "fact": each.fact,
            "decides": list(each.decides),
            "why": render(each.why, READER),
            "named": render(fact_in_words(opening, each.fact), READER),
        }
        for each in _unknown(opening, duty, None)
    ]


def phone_said(found: dict[str, Any]) -> dict[str, Any]:
    """A phone's answer in the same form, without whether it failed and what it was not sure of."""
    kept = {name: each for name, each in found.items() if name not in {"failed", "unsure"}}
    return {**kept, "mistakes": {path for path in found["mistakes"] if path != "site.subdivision"}}


def server_reads(path: str, typed: str) -> dict[str, Any]:
    """What the server makes of a text, in the form of the script's answer."""
    try:
        if mistake_in(path, typed) is not None:
            return {"ok": False}
    except UnknownName:
        return {"ok": False}
    return {"ok": True, "value": plain(answer_at(path, typed))}


def plain(value: Any) -> Any:
    """A value as a script has it."""
    if isinstance(value, Interval):
        return {"first": value.first.isoformat(), "last": value.last.isoformat()}
    if isinstance(value, Money):
        return {"amount": value.amount, "currency": value.currency, "per": value.per}
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    return value.isoformat() if isinstance(value, date) else value
