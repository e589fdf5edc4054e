"""What differs between two studies of one opening, in a few sentences, the weightiest first."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sillwright.base.finding import LEVEL_IN_WORDS, Finding, Level
from sillwright.base.words import Reader, render, translate
from sillwright.exposure.answer import JudgedLimit
from sillwright.paper.terms import ANSWER, LIMIT_VERDICT
from sillwright.study.model import OpeningStudy
from sillwright.study.why import fact_in_words

MOST_SENTENCES = 12
_HEAVY: set[Level] = {"stop", "act"}
_LIGHT: set[Level] = {"note", "good"}


def changes(before: OpeningStudy | None, after: OpeningStudy | None, reader: Reader) -> list[str]:
    """The sentences; one that says so where nothing changes."""
    if before is None or after is None:
        return [] if before is after else [_one_of_two(after)]
    found = [
        *_closing(before, after, reader),
        *_findings(before, after, reader, _HEAVY),
        *_limits(before, after, reader),
        *_asked(before, after, reader),
        *_findings(before, after, reader, _LIGHT),
    ]
    more = len(found) - MOST_SENTENCES
    if more > 0:
        also = ngettext("%(n)d more change.", "%(n)d more changes.", more) % {"n": more}
        return [*found[:MOST_SENTENCES], also]
    return found or [_("Nothing changes in the answer, in what was found or in what is asked.")]


def _one_of_two(after: OpeningStudy | None) -> str:
    if after is None:
        return _("Then too little is known for an answer.")
    return _("Then enough is known for an answer.")


def _closing(before: OpeningStudy, after: OpeningStudy, reader: Reader) -> Iterator[str]:
    one, other = before.duty.powered_closing, after.duty.powered_closing
    if one != other:
        words = {"before": translate(ANSWER[one], reader), "after": translate(ANSWER[other], reader)}
        yield (
            _("May close under power without someone holding the control: now %(before)s, then %(after)s.") % words
        )


def _findings(before: OpeningStudy, after: OpeningStudy, reader: Reader, levels: set[Level]) -> Iterator[str]:
    old, new = _told(before, reader), _told(after, reader)
    for key, (finding, text) in new.items():
        if finding.level not in levels:
            continue
        if key not in old:
            yield _("New (%(level)s): %(text)s") % {"level": _level(finding, reader), "text": text}
        elif old[key][1] != text or old[key][0].level != finding.level:
            yield _("Then (%(level)s): %(text)s") % {"level": _level(finding, reader), "text": text}
    for key, (finding, text) in old.items():
        if key not in new and finding.level in levels:
            yield _("No longer (%(level)s): %(text)s") % {"level": _level(finding, reader), "text": text}


def _told(study: OpeningStudy, reader: Reader) -> dict[tuple[str, str, int], tuple[Finding, str]]:
    """Findings by what they are, where, and which of several alike."""
    found: dict[tuple[str, str, int], tuple[Finding, str]] = {}
    for each in study.findings:
        alike = sum(1 for name, place, _n in found if (name, place) == (each.id, each.place or ""))
        found[each.id, each.place or "", alike] = each, render(each.text, reader)
    return found


def _level(finding: Finding, reader: Reader) -> str:
    return translate(LEVEL_IN_WORDS[finding.level], reader)


def _limits(before: OpeningStudy, after: OpeningStudy, reader: Reader) -> Iterator[str]:
    old, new = _judged(before), _judged(after)
    for name, limit in new.items():
        if name in old and old[name].verdict != limit.verdict:
            words = {
                "limit": render(limit.title, reader),
                "before": translate(LIMIT_VERDICT[old[name].verdict], reader),
                "after": translate(LIMIT_VERDICT[limit.verdict], reader),
            }
            yield _("%(limit)s: now %(before)s, then %(after)s.") % words


def _judged(study: OpeningStudy) -> dict[str, JudgedLimit]:
    return {each.id: each for each in study.exposure.limits} if study.exposure else {}


def _asked(before: OpeningStudy, after: OpeningStudy, reader: Reader) -> Iterator[str]:
    old, new = [each.fact for each in before.unknown], [each.fact for each in after.unknown]
    gone = [render(fact_in_words(before.opening, path), reader) for path in old if path not in new]
    come = [render(fact_in_words(after.opening, path), reader) for path in new if path not in old]
    if gone:
        yield _("No longer asked: %(facts)s.") % {"facts": "; ".join(gone)}
    if come:
        yield _("Asked then: %(facts)s.") % {"facts": "; ".join(come)}
