"""What is kept of sites and openings.

``Observation`` is the record: it is only ever added to. ``Fact`` is derived from it in the same transaction and can
be rebuilt from it; pages read facts alone. ``Event`` is the audit trail, only ever added to as well.
"""

from __future__ import annotations

import uuid
from datetime import timedelta
from typing import Any, ClassVar

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from sillwright.web.accounts.models import Organisation, User
from sillwright.web.records.seen import OpeningSet, PaperSet, PhotoSet, QuestionSet, SiteSet

LONGEST_TYPED = 4000
LONGEST_PATH = 200


class Site(models.Model):
    """A site: its name, whose it is, and the facts of it and of its openings."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=200)
    country = models.CharField(max_length=2, default="US")  # what the facts say of it, for lists
    organisation = models.ForeignKey(Organisation, models.PROTECT, related_name="sites")
    revision = models.PositiveIntegerField(default=0)  # counts what was written about the site itself
    made = models.DateTimeField(default=timezone.now)
    put_away = models.DateTimeField(null=True)  # out of the lists; nothing is ever deleted

    objects: ClassVar[models.Manager[Site]] = SiteSet.as_manager()

    def __str__(self) -> str:
        return self.name


class Share(models.Model):
    """That another organisation may read, or write, a site."""

    MODES = (("read", _("may read")), ("write", _("may write")))

    site = models.ForeignKey(Site, models.CASCADE, related_name="shares")
    organisation = models.ForeignKey(Organisation, models.CASCADE, related_name="shared")
    mode = models.CharField(max_length=5, choices=MODES, default="read")
    made = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["site", "organisation"], name="one_share_a_pair")]


class Opening(models.Model):
    """One opening of a site."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="openings")
    tag = models.CharField(max_length=100)
    position = models.PositiveIntegerField(default=0)  # in walking order
    revision = models.PositiveIntegerField(default=0)  # counts what was written about it
    made = models.DateTimeField(default=timezone.now)
    put_away = models.DateTimeField(null=True)

    objects: ClassVar[models.Manager[Opening]] = OpeningSet.as_manager()

    class Meta:
        ordering: ClassVar = ["position", "made"]
        constraints: ClassVar = [models.UniqueConstraint(fields=["site", "tag"], name="one_opening_a_tag")]

    def __str__(self) -> str:
        return self.tag


class Observation(models.Model):
    """One said thing about a site or an opening, as it was typed. Never changed, never deleted."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made where it was written
    site = models.ForeignKey(Site, models.PROTECT, related_name="observations")
    opening = models.ForeignKey(Opening, models.PROTECT, null=True, related_name="observations")
    fact = models.CharField(max_length=LONGEST_PATH)
    says = models.CharField(max_length=8)
    typed = models.TextField(blank=True)
    origin = models.CharField(max_length=12, blank=True)
    by = models.CharField(max_length=200, blank=True)  # who measured it or told it, in words
    on = models.CharField(max_length=40, blank=True)  # which day, as typed
    evidence = models.CharField(max_length=200, blank=True)
    author = models.ForeignKey(User, models.PROTECT, related_name="+")
    device = models.CharField(max_length=100, blank=True)
    at = models.DateTimeField()  # by the clock of the device
    received = models.DateTimeField(default=timezone.now)
    replaces = models.JSONField(default=list)  # ids of what the author saw

    class Meta:
        indexes: ClassVar = [models.Index(fields=["site", "opening", "fact"], name="observations_of_a_fact")]


class Fact(models.Model):
    """The observations of one fact that stand, derived from the log."""

    site = models.ForeignKey(Site, models.CASCADE, related_name="facts")
    opening = models.ForeignKey(Opening, models.CASCADE, null=True, related_name="facts")
    path = models.CharField(max_length=LONGEST_PATH)
    heads: models.JSONField[Any, Any] = models.JSONField(default=list)
    awaited: models.JSONField[Any, Any] = models.JSONField(default=list)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["opening", "path"], condition=models.Q(opening__isnull=False), name="one_fact_an_opening"
            ),
            models.UniqueConstraint(
                fields=["site", "path"], condition=models.Q(opening__isnull=True), name="one_fact_a_site"
            ),
        ]


class Answer(models.Model):
    """A study of an opening, kept until a fact changes: the page's body in one reader's words and units."""

    opening = models.ForeignKey(Opening, models.CASCADE, related_name="answers")
    reader = models.CharField(max_length=20)
    state = models.CharField(max_length=80)  # revisions and program version it was made from
    headline = models.TextField()
    closing = models.CharField(max_length=8)
    level = models.CharField(max_length=5)
    findings: models.JSONField[Any, Any] = models.JSONField(default=list)  # [level, sentence], heaviest first
    body = models.TextField()
    made = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["opening", "reader"], name="one_answer_a_reader")]


def link_ends() -> Any:
    """When a link that is made now stops being good, unless another day is chosen."""
    return timezone.now() + timedelta(days=30)


class Paper(models.Model):
    """A paper that was made: its bytes' digest, so that what was handed out can be told from what was not."""

    KINDS = (
        ("report", _("report")),
        ("elevation", _("elevation")),
        ("answer", _("answer for programs")),
        ("dxf", _("elevation for the drawing office")),
        ("install", _("install sheet")),
        ("wiring", _("wiring sheet")),
        ("scribe", _("scribe")),
        ("scribe_dxf", _("scribe for the drawing office")),
        ("quote", _("quote")),
        ("order", _("order")),
    )

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="papers")
    opening = models.ForeignKey(Opening, models.PROTECT, null=True, related_name="papers")
    kind = models.CharField(max_length=10, choices=KINDS)
    name = models.CharField(max_length=120)
    digest = models.CharField(max_length=64)
    media = models.CharField(max_length=80)
    size = models.PositiveIntegerField()
    version = models.CharField(max_length=40)  # of the program
    units = models.CharField(max_length=6)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now)

    objects: ClassVar[models.Manager[Paper]] = PaperSet.as_manager()


class Link(models.Model):
    """A link to a paper that needs no account: it ends by itself and can be withdrawn. Only its digest is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    paper = models.ForeignKey(Paper, models.CASCADE, related_name="links")
    digest = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now)
    ends = models.DateTimeField(default=link_ends)
    withdrawn = models.DateTimeField(null=True)
    opened = models.PositiveIntegerField(default=0)

    @property
    def good(self) -> bool:
        """Whether it still opens."""
        return self.withdrawn is None and timezone.now() < self.ends


class Remark(models.Model):
    """Something a person says of an opening beside its facts. Never changed, never deleted.

    ``remark``: free words. ``urgency``: one of ``stop``, ``quote``, ``watch`` in ``words``. ``left``: what
    ``about`` names (a shot or a fact) is left out at this door on purpose, with the reason in ``words``.
    """

    KINDS = (("remark", _("remark")), ("urgency", _("urgency")), ("left", _("left out")))
    URGENCIES = (("stop", _("stop today")), ("quote", _("quote")), ("watch", _("watch")))

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made where it was written
    site = models.ForeignKey(Site, models.PROTECT, related_name="remarks")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="remarks")
    kind = models.CharField(max_length=7, choices=KINDS)
    about = models.CharField(max_length=LONGEST_PATH, blank=True)
    words = models.TextField(blank=True)
    author = models.ForeignKey(User, models.PROTECT, related_name="+")
    device = models.CharField(max_length=100, blank=True)
    at = models.DateTimeField()  # by the clock of the device
    received = models.DateTimeField(default=timezone.now)
    replaces = models.JSONField(default=list)  # ids of what the author saw

    class Meta:
        indexes: ClassVar = [models.Index(fields=["opening", "kind"], name="remarks_of_an_opening")]


class Photo(models.Model):
    """A photo of an opening: who took it when, what it shows, and how much of it has arrived."""

    STATES = (("coming", _("on its way")), ("kept", _("kept")), ("refused", _("refused")))

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made where it was taken
    site = models.ForeignKey(Site, models.PROTECT, related_name="photos")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="photos")
    shot = models.CharField(max_length=40, blank=True)  # one of the named shots
    fact = models.CharField(max_length=LONGEST_PATH, blank=True)  # whose evidence it is
    place = models.CharField(max_length=60, blank=True)  # a shape of the drawing
    x = models.FloatField(null=True)  # where its pin stands on the drawing, as shares of width and height
    y = models.FloatField(null=True)
    copy_of = models.ForeignKey("self", models.PROTECT, null=True, related_name="copies")
    marks: models.JSONField[Any, Any] = models.JSONField(default=list)  # what was drawn on a copy
    words = models.CharField(max_length=1000, blank=True)
    author = models.ForeignKey(User, models.PROTECT, related_name="+")
    device = models.CharField(max_length=100, blank=True)
    taken = models.DateTimeField()  # by the clock of the device, or as the file says
    received = models.DateTimeField(default=timezone.now)
    state = models.CharField(max_length=7, choices=STATES, default="coming")
    why = models.CharField(max_length=300, blank=True)  # it is refused
    size = models.PositiveIntegerField()  # bytes that are to come
    digest = models.CharField(max_length=64)  # of the bytes that are to come
    arrived = models.PositiveIntegerField(default=0)
    width = models.PositiveIntegerField(default=0)
    height = models.PositiveIntegerField(default=0)

    objects: ClassVar[models.Manager[Photo]] = PhotoSet.as_manager()

    class Meta:
        ordering: ClassVar = ["taken", "id"]


class Question(models.Model):
    """A question about one fact of one opening, to a person or by a link. Of a link only the digest is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)  # made where it was written
    site = models.ForeignKey(Site, models.PROTECT, related_name="questions")
    opening = models.ForeignKey(Opening, models.PROTECT, related_name="questions")
    fact = models.CharField(max_length=LONGEST_PATH)
    words = models.TextField()
    photo = models.ForeignKey(Photo, models.PROTECT, null=True, related_name="questions")
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    to = models.ForeignKey(User, models.PROTECT, null=True, related_name="asked")
    name = models.CharField(max_length=200, blank=True)  # of the person whom a link is for
    digest = models.CharField(max_length=64, null=True, unique=True)
    at = models.DateTimeField()  # by the clock of the device
    received = models.DateTimeField(default=timezone.now)
    ends = models.DateTimeField(default=link_ends)
    withdrawn = models.DateTimeField(null=True)
    answered = models.DateTimeField(null=True)
    answer = models.ForeignKey(Observation, models.PROTECT, null=True, related_name="answers")

    objects: ClassVar[models.Manager[Question]] = QuestionSet.as_manager()

    class Meta:
        ordering: ClassVar = ["received", "id"]

    @property
    def ended(self) -> bool:
        """Whether its link has ended by itself."""
        return self.digest is not None and self.ends <= timezone.now()


class Key(models.Model):
    """A token with which a program acts for a person: with scope and end. Only its digest is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    user = models.ForeignKey(User, models.CASCADE, related_name="keys")
    name = models.CharField(max_length=100)
    digest = models.CharField(max_length=64, unique=True)
    scope = models.CharField(max_length=6, choices=(("read", _("may read")), ("write", _("may write"))))
    made = models.DateTimeField(default=timezone.now)
    ends = models.DateTimeField()
    withdrawn = models.DateTimeField(null=True)
    used = models.DateField(null=True)  # the last day

    @property
    def good(self) -> bool:
        """Whether it still opens."""
        return self.withdrawn is None and timezone.now() < self.ends


class Once(models.Model):
    """What was answered to a request with an idempotency key, so that a repeat gets the same answer."""

    user = models.ForeignKey(User, models.CASCADE, related_name="+")
    key = models.CharField(max_length=100)
    digest = models.CharField(max_length=64)  # of what was asked
    status = models.PositiveSmallIntegerField()
    answer = models.JSONField(null=True)
    made = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["user", "key"], name="one_answer_a_key")]


class Event(models.Model):
    """One line of the audit trail. Never changed, never deleted; holds no entered value, only digests."""

    at = models.DateTimeField(default=timezone.now)
    who = models.ForeignKey(User, models.PROTECT, null=True, related_name="+")
    organisation = models.ForeignKey(Organisation, models.PROTECT, null=True, related_name="events")
    site = models.ForeignKey(Site, models.PROTECT, null=True, related_name="events")
    opening = models.ForeignKey(Opening, models.PROTECT, null=True, related_name="events")
    verb = models.CharField(max_length=40)
    what = models.CharField(max_length=300, blank=True)
    before = models.CharField(max_length=64, blank=True)
    after = models.CharField(max_length=64, blank=True)
    request = models.CharField(max_length=32, blank=True)

    class Meta:
        indexes: ClassVar = [models.Index(fields=["organisation", "-at"], name="trail_of_an_organisation")]
