"""Catalogues by organisation, quotes and orders.

An old quote is reprinted from the bytes that it went out with. What became of a quote (``QuoteStep``) and what was
said of an order (``OrderNote``) is only ever added to; the database refuses anything else.
"""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from sillwright.web.accounts.models import Organisation, User
from sillwright.web.orders.seen import OrderSet, QuoteSet
from sillwright.web.records.models import Paper, Site

LONGEST_NAME = 200


class CatalogueVersion(models.Model):
    """A catalogue as an organisation brought it. Never changed, never deleted; the highest number counts."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    organisation = models.ForeignKey(Organisation, models.PROTECT, related_name="catalogues")
    number = models.PositiveIntegerField()
    name = models.CharField(max_length=200)
    currency = models.CharField(max_length=3)
    priced_on = models.CharField(max_length=10)
    invented = models.BooleanField(default=False)
    content = models.TextField()  # the catalogue written anew as YAML
    fingerprint = models.CharField(max_length=64)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["-number"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["organisation", "number"], name="one_catalogue_a_number")
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.number})"


class Quote(models.Model):
    """What is offered for a site. Once it is sent, what counts is what its step *sent* holds."""

    STATES = (
        ("draft", _("draft")),
        ("sent", _("sent")),
        ("accepted", _("accepted")),
        ("lost", _("lost")),
        ("expired", _("expired")),
    )

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="quotes")
    organisation = models.ForeignKey(Organisation, models.PROTECT, related_name="quotes")
    number = models.PositiveIntegerField()  # counted by organisation
    title = models.CharField(max_length=LONGEST_NAME)
    state = models.CharField(max_length=8, choices=STATES, default="draft")  # of the last step, for lists
    offered: models.JSONField[Any, Any] = models.JSONField(default=list)  # alternatives as they were entered
    to = models.TextField(blank=True)  # whom it is for, line by line
    words = models.TextField(blank=True)  # for whoever decides
    exclusions: models.JSONField[Any, Any] = models.JSONField(default=list)
    terms = models.TextField(blank=True)  # the organisation's own
    valid_until = models.DateField()
    ask_again_on = models.DateField(null=True)
    catalogue = models.ForeignKey(CatalogueVersion, models.PROTECT, related_name="quotes")
    revision = models.PositiveIntegerField(default=0)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now)
    changed_by = models.ForeignKey(User, models.PROTECT, related_name="+")
    changed = models.DateTimeField(default=timezone.now)

    objects: ClassVar[models.Manager[Quote]] = QuoteSet.as_manager()

    class Meta:
        ordering: ClassVar = ["-made", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["organisation", "number"], name="one_quote_a_number")
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """How it is called on papers."""
        return f"Q-{self.number:04d}"


class QuoteStep(models.Model):
    """A change of state of a quote: into which, on which day, by whom. Never changed, never deleted.

    The step *sent* holds the quote as it went out (``frozen``).
    """

    quote = models.ForeignKey(Quote, models.PROTECT, related_name="steps")
    state = models.CharField(max_length=8, choices=Quote.STATES)
    on = models.DateField()
    name = models.CharField(max_length=LONGEST_NAME)  # of the person, in words
    reason = models.TextField(blank=True)
    alternative = models.CharField(max_length=LONGEST_NAME, blank=True)
    frozen: models.JSONField[Any, Any] = models.JSONField(default=dict)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [models.UniqueConstraint(fields=["quote", "state"], name="one_step_a_state")]


class QuoteFile(models.Model):
    """A file that a quote went out as. Never changed, never deleted: reprinted, it is the same bytes."""

    quote = models.ForeignKey(Quote, models.PROTECT, related_name="files")
    ending = models.CharField(max_length=4)
    paper = models.ForeignKey(Paper, models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["quote", "ending"], name="one_file_an_ending")]


class Order(models.Model):
    """What is ordered for a site. Once it is released, what counts is what its note *release* holds."""

    STATES = (("draft", _("not released")), ("released", _("released")))

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    site = models.ForeignKey(Site, models.PROTECT, related_name="orders")
    organisation = models.ForeignKey(Organisation, models.PROTECT, related_name="orders")
    quote = models.ForeignKey(Quote, models.PROTECT, null=True, related_name="orders")
    number = models.PositiveIntegerField()  # counted by organisation
    title = models.CharField(max_length=LONGEST_NAME)
    to = models.TextField(blank=True)  # the maker, line by line
    lines: models.JSONField[Any, Any] = models.JSONField(default=list)  # openings with what was chosen for each
    catalogue = models.ForeignKey(CatalogueVersion, models.PROTECT, related_name="orders")
    state = models.CharField(max_length=8, choices=STATES, default="draft")
    revision = models.PositiveIntegerField(default=0)
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    made = models.DateTimeField(default=timezone.now)
    changed_by = models.ForeignKey(User, models.PROTECT, related_name="+")
    changed = models.DateTimeField(default=timezone.now)

    objects: ClassVar[models.Manager[Order]] = OrderSet.as_manager()

    class Meta:
        ordering: ClassVar = ["-made", "id"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["organisation", "number"], name="one_order_a_number")
        ]

    def __str__(self) -> str:
        return self.label

    @property
    def label(self) -> str:
        """How it is called on papers."""
        return f"PO-{self.number:04d}"


class OrderNote(models.Model):
    """Something that was said of an order, or of one of its lines. Never changed, never deleted."""

    KINDS = (
        ("release", _("released")),
        ("acknowledgement", _("acknowledgement")),
        ("answer", _("answer")),
        ("goods_in", _("goods in")),
        ("claim", _("claim")),
    )

    order = models.ForeignKey(Order, models.PROTECT, related_name="notes")
    line = models.PositiveIntegerField(default=0)  # 0: of the order as a whole
    kind = models.CharField(max_length=15, choices=KINDS)
    told: models.JSONField[Any, Any] = models.JSONField(default=dict)
    paper = models.ForeignKey(Paper, models.PROTECT, null=True, related_name="+")
    by = models.ForeignKey(User, models.PROTECT, related_name="+")
    at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering: ClassVar = ["pk"]
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["order"], condition=models.Q(kind="release"), name="one_release_an_order"
            )
        ]
