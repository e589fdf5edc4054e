"""What is kept of lessons: the door with its hidden faults, the steps of the class, who was there.

All three tables are only ever added to; the database refuses anything else. Nothing here names a site: a lesson is
drawn from the fault model alone, and no customer can be known from it. A row of the attendance that was wrong
stands as it was, and the one that corrects it counts.
"""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django.db import models
from django.utils import timezone

from sillwright.web.accounts.models import Organisation, User

LONGEST_CODE = 12
LONGEST_NAME = 100
RESULTS = ("passed", "again", "there")


class Lesson(models.Model):
    """A door for a class. ``best`` is the course that the advice takes at the same door, as reckoned then."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made with the form: pressed twice, begun once
    organisation = models.ForeignKey(Organisation, models.PROTECT, related_name="lessons")
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
    code = models.CharField(max_length=LONGEST_CODE, unique=True)  # in the address that the class opens
    seed = models.PositiveBigIntegerField()
    symptom = models.CharField(max_length=40)
    faults: models.JSONField[Any, Any] = models.JSONField(default=list)  # ids
    facts: models.JSONField[Any, Any] = models.JSONField(default=list)  # names and values
    language = models.CharField(max_length=10, default="en")
    best: models.JSONField[Any, Any] = models.JSONField(default=dict)

    class Meta:
        ordering: ClassVar = ["-at", "id"]


class LessonStep(models.Model):
    """A step that the class made, and what the door showed."""

    lesson = models.ForeignKey(Lesson, models.PROTECT, related_name="steps")
    kind = models.CharField(max_length=10)  # test, repair, stop
    name = models.CharField(max_length=60, blank=True)
    outcome = models.CharField(max_length=60, blank=True)
    minutes = models.FloatField(default=0.0)
    helped = models.BooleanField(default=False)
    ended = models.CharField(max_length=10, blank=True)  # mended, stop, further; empty: it goes on
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["lesson", "kind", "name"], name="a_step_is_made_once")
        ]


class Attendance(models.Model):
    """That somebody was there: a name, a signature drawn or written, the result, and when it is due again."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made with the form: pressed twice, kept once
    lesson = models.ForeignKey(Lesson, models.PROTECT, related_name="attendance")
    name = models.CharField(max_length=LONGEST_NAME)
    signature: models.JSONField[Any, Any] = models.JSONField(default=list)  # strokes of points; empty: written
    written = models.CharField(max_length=LONGEST_NAME, blank=True)
    result = models.CharField(max_length=10)
    day = models.DateField()
    months = models.PositiveSmallIntegerField(default=12)  # until it is due again
    corrects = models.OneToOneField("self", models.PROTECT, null=True, related_name="corrected_by")
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["at", "id"]
