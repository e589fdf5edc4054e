"""Who was there: names with a signature, the result, and when it is due again."""

from __future__ import annotations

import json
import uuid
from calendar import monthrange
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.words import N_
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.lesson.models import LONGEST_NAME, RESULTS, Attendance, Lesson
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.text import as_seen, unkept

RESULTS_IN_WORDS = {
    "passed": N_("Passed"),
    "again": N_("To be done again"),
    "there": N_("Was there"),
}
MOST_MONTHS = 120
MOST_ROWS = 500  # of one lesson
WIDTH, HEIGHT = 1000, 400  # of the field that a signature is drawn in
MOST_STROKES, MOST_POINTS = 60, 4000

Strokes = list[list[list[int]]]


@dataclass(frozen=True, kw_only=True)
class Told:
    """A row of the attendance as it was filled in; ``id`` is made with the form."""

    id: uuid.UUID
    name: str
    drawn: str = ""  # strokes as JSON
    written: str = ""
    result: str = ""
    day: str = ""
    months: str = ""
    corrects: str = ""


@transaction.atomic
def attend(lesson: Lesson, told: Told, *, by: User, request: HttpRequest | None = None) -> Attendance:
    """Keep that somebody was there; the same form sent twice keeps it once. Raises :class:`Refused`."""
    Lesson.objects.select_for_update().get(pk=lesson.pk)
    before = Attendance.objects.filter(pk=told.id).first()
    if before is not None:
        if before.lesson_id != lesson.pk:
            raise Refused(_("This form was sent before with something else in it. Load the page again."))
        return before
    name, written = fit(told.name, _("Name")), fit(told.written, _("Written signature"), needed=False)
    strokes = strokes_of(told.drawn)
    if not (strokes or written):
        raise Refused(_("The signature is missing: draw it, or write the name once more."))
    if told.result not in RESULTS:
        raise Refused(_("Result: choose one of the list."))
    if lesson.attendance.count() >= MOST_ROWS:
        raise Refused(_("A lesson has at most %(most)d rows of attendance.") % {"most": MOST_ROWS})
    made = Attendance.objects.create(
        id=told.id,
        lesson=lesson,
        name=name,
        signature=strokes,
        written=written,
        result=told.result,
        day=_day(told.day),
        months=_months(told.months),
        corrects=_corrected(lesson, told.corrects),
        by=by,
    )
    record(request, "attendance kept", str(made.pk), who=by, organisation=lesson.organisation)
    return made


def fit(words: str, name: str, *, needed: bool = True) -> str:
    """A name that can be kept. Raises :class:`Refused`."""
    if sign := unkept(words):
        raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    seen = as_seen(words)
    if needed and not seen:
        raise Refused(_("%(name)s: this is missing.") % {"name": name})
    if len(seen) > LONGEST_NAME:
        raise Refused(_("%(name)s: at most %(most)d signs.") % {"name": name, "most": LONGEST_NAME})
    return seen


def strokes_of(words: str) -> Strokes:
    """The strokes of a drawn signature, from JSON. Raises :class:`Refused` for anything else.

    >>> strokes_of('[[[1, 2], [3, 4]]]')
    [[[1, 2], [3, 4]]]
    """
    if not words.strip():
        return []
    wrong = Refused(_("The drawn signature cannot be read. Clear it and draw it again, or write the name."))
    if len(words) > 20 * MOST_POINTS:
        raise wrong
    try:
        found = json.loads(words)
    except (ValueError, RecursionError):
        raise wrong from None
    if not isinstance(found, list) or len(found) > MOST_STROKES:
        raise wrong
    if not all(isinstance(stroke, list) and stroke and all(map(_point, stroke)) for stroke in found):
        raise wrong
    if sum(map(len, found)) > MOST_POINTS:
        raise wrong
    return found


def _point(found: Any) -> bool:
    return (
        isinstance(found, list)
        and len(found) == 2
        and all(type(each) is int for each in found)
        and 0 <= found[0] <= WIDTH
        and 0 <= found[1] <= HEIGHT
    )


def path_of(strokes: Iterable[Sequence[Sequence[int]]]) -> str:
    """A drawn signature as the path of a picture; a dot is a short line.

    >>> path_of([[[1, 2], [3, 4]], [[5, 6]]])
    'M1 2L3 4M5 6L5 6'
    """
    return "".join(
        f"M{stroke[0][0]} {stroke[0][1]}" + "".join(f"L{x} {y}" for x, y in (stroke[1:] or stroke))
        for stroke in strokes
    )


def _day(words: str) -> date:
    today = timezone.localdate()
    try:
        found = date.fromisoformat(words.strip()) if words.strip() else today
    except ValueError:
        raise Refused(_("Date: year, month and day, such as 2026-05-04.")) from None
    if not today.replace(year=today.year - 10, day=1) <= found <= today:
        raise Refused(_("Date: a day up to today, at most ten years back."))
    return found


def _months(words: str) -> int:
    words = words.strip()
    if not (words.isascii() and words.isdigit() and len(words) < 4 and 1 <= int(words) <= MOST_MONTHS):
        raise Refused(_("Due again: months from 1 to %(most)d.") % {"most": MOST_MONTHS})
    return int(words)


def _corrected(lesson: Lesson, words: str) -> Attendance | None:
    """The row that is wrong, where there is one. It is corrected once; a correction can be corrected in turn."""
    if not words:
        return None
    found = next((each for each in counting(lesson) if str(each.pk) == words), None)
    if found is None:
        raise Refused(_("The row to correct is not there, or is corrected already. Load the page again."))
    return found


def counting(lesson: Lesson) -> list[Attendance]:
    """The rows of a lesson that count, in their order."""
    return list(lesson.attendance.filter(corrected_by=None))


def due_on(row: Attendance) -> date:
    """The day on which it is due again.

    >>> due_on(Attendance(day=date(2024, 2, 29), months=12)).isoformat()
    '2025-02-28'
    """
    month = row.day.month - 1 + row.months
    year, month = row.day.year + month // 12, month % 12 + 1
    return date(year, month, min(row.day.day, monthrange(year, month)[1]))


def due_by(organisation: Organisation, day: date) -> list[tuple[date, Attendance]]:
    """Who is due again by a day, by their newest row under that name, the longest overdue first."""
    rows = Attendance.objects.filter(lesson__organisation=organisation, corrected_by=None)
    newest: dict[str, Attendance] = {}
    for each in rows.exclude(result="again").order_by("day", "at"):
        newest[each.name.casefold()] = each
    found = [(due_on(each), each) for each in newest.values()]
    return sorted((each for each in found if each[0] <= day), key=lambda each: (each[0], each[1].name))
