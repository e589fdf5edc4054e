"""Lessons as tests need them: quick to make, of nobody real."""

from __future__ import annotations

from django.utils import timezone

from sillwright.web.accounts.models import Organisation, User
from sillwright.web.lesson.models import Attendance, Lesson, LessonStep


def bare_lesson(organisation: Organisation, by: User, code: str = "ABC234") -> Lesson:
    """A lesson that was begun without its page: the lead is broken, the best course one repair long."""
    steps = [{"kind": "repair", "id": "new_lead", "outcome": None, "minutes": 45.0, "helped": True}]
    return Lesson.objects.create(
        organisation=organisation,
        by=by,
        code=code,
        seed=2,
        symptom="CALL-01",
        faults=["LEAD_OPEN"],
        best={"steps": steps, "minutes": 45.0, "ended": "mended"},
    )


def attended(lesson: Lesson, by: User) -> Attendance:
    """Somebody who made a step and signed."""
    LessonStep.objects.create(lesson=lesson, kind="test", name="ohms_operator", outcome="open", minutes=6.0)
    told = {"name": "Nell 門", "signature": [[[10, 20], [30, 40]]], "result": "passed"}
    return Attendance.objects.create(lesson=lesson, day=timezone.localdate(), by=by, **told)
