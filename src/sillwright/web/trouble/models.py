"""What is kept of calls: the call itself, how it ended, and substitute parts booked in and out.

All four tables are only ever added to; the database refuses anything else. A second end of a call is a dated
addition: the newest one counts.
"""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django.db import models
from django.utils import timezone

from sillwright.web.accounts.models import User
from sillwright.web.records.models import Opening, Photo, Site
from sillwright.web.trouble.seen import CallSet, SubstituteSet

LONGEST_WORDS = 1000
LONGEST_PLACE = 100
LONGEST_NUMBER = 20


class KeptCall(models.Model):
    """A call about an opening, as it stood when it was kept: what was answered, and what was advised then."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made with the form: pressed twice, kept once
    site = models.ForeignKey(Site, models.PROTECT, related_name="calls")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="calls")
    author = models.ForeignKey(User, models.PROTECT, related_name="+")
    caller = models.CharField(max_length=200, blank=True)  # who called, in words
    words = models.CharField(max_length=LONGEST_WORDS, blank=True)  # what was said and how the leaf was left
    started = models.DateTimeField()
    kept = models.DateTimeField(default=timezone.now)
    call: models.JSONField[Any, Any] = models.JSONField(default=dict)  # who, symptom, answers … in their order
    fingerprint = models.CharField(max_length=64)  # of the fault model that advised
    advice: models.JSONField[Any, Any] = models.JSONField(default=dict)  # as it was shown, in the reader's words

    objects: ClassVar[models.Manager[KeptCall]] = CallSet.as_manager()

    class Meta:
        ordering: ClassVar = ["-kept", "id"]
        indexes: ClassVar = [models.Index(fields=["opening", "-kept"], name="calls_of_an_opening")]


class CallEnd(models.Model):
    """How a call ended: what was found, what it took, who says so."""

    call = models.ForeignKey(KeptCall, models.PROTECT, related_name="ends")
    faults: models.JSONField[Any, Any] = models.JSONField(null=True)  # ids; []: none of these; null: nothing found
    minutes = models.PositiveIntegerField(null=True)
    words = models.CharField(max_length=LONGEST_WORDS, blank=True)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["pk"]


class Substitute(models.Model):
    """A substitute part that was booked in: until it is booked out nothing of its opening is closed or papered."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made with the form: pressed twice, kept once
    site = models.ForeignKey(Site, models.PROTECT, related_name="substitutes")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="substitutes")
    number = models.CharField(max_length=LONGEST_NUMBER)  # on the red tag
    place = models.CharField(max_length=LONGEST_PLACE)  # at which terminals
    member = models.CharField(max_length=20)  # what the facts of the opening call it
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    objects: ClassVar[models.Manager[Substitute]] = SubstituteSet.as_manager()

    class Meta:
        ordering: ClassVar = ["at", "id"]


class SubstituteOut(models.Model):
    """That a substitute part is out again: the photo shows its terminals without it."""

    substitute = models.OneToOneField(Substitute, models.PROTECT, related_name="out")
    photo = models.ForeignKey(Photo, models.PROTECT, related_name="+")
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)
