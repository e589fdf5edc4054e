"""People and the organisations they belong to. People come in by invitation only."""

from __future__ import annotations

import secrets
import uuid
from datetime import datetime, timedelta
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.contrib.auth.models import PermissionsMixin
from django.contrib.sessions.base_session import AbstractBaseSession
from django.db import models
from django.db.models.functions import Lower
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from sillwright.web.accounts.roles import Role

INVITATION_LASTS = timedelta(days=14)


class People(BaseUserManager["User"]):
    """Makes users; an address is kept in small letters, so that there is one account for it."""

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> User:
        """A user with this address. Without a password nobody can sign in with one."""
        user = self.model(email=email.strip().lower(), **fields)
        user.set_password(password)
        user.save()
        return user

    def get_by_natural_key(self, email: str | None) -> User:
        """The user with this address, whatever its letters' size."""
        return self.get(email=(email or "").lower())


class User(AbstractBaseUser, PermissionsMixin):
    """A person who signs in by mail address."""

    UNITS = (("site", _("as the site says")), ("us", _("feet and inches")), ("metric", _("metric")))

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    email = models.EmailField(unique=True)
    name = models.CharField(max_length=100)
    units = models.CharField(max_length=6, choices=UNITS, default="site")
    language = models.CharField(max_length=8, default="en")
    is_active = models.BooleanField(default=True)
    date_joined = models.DateTimeField(default=timezone.now)

    objects: ClassVar[People] = People()
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(Lower("email"), name="one_account_an_address")]

    def __str__(self) -> str:
        return self.name


class Organisation(models.Model):
    """A dealer, an owner, an advisor's firm."""

    KINDS = (("dealer", _("dealer")), ("owner", _("owner")), ("advisor", _("advisor's firm")))

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=8, choices=KINDS, default="dealer")
    people: models.ManyToManyField[User, Membership] = models.ManyToManyField(
        User, through="Membership", related_name="organisations"
    )
    made = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    """That a person belongs to an organisation, and as what."""

    organisation = models.ForeignKey(Organisation, models.CASCADE, related_name="memberships")
    user = models.ForeignKey(User, models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=[(each.value, each.label) for each in Role])
    since = models.DateTimeField(default=timezone.now)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["organisation", "user"], name="one_role_a_person")]


def new_token() -> str:
    """A secret for a link: 256 bits, as text."""
    return secrets.token_urlsafe(32)


def invitation_ends() -> datetime:
    """When an invitation made now stops being good."""
    return timezone.now() + INVITATION_LASTS


class Invitation(models.Model):
    """That somebody may join: one link, one use, fourteen days. Only the digest of its secret is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    organisation = models.ForeignKey(Organisation, models.CASCADE, related_name="invitations")
    role = models.CharField(max_length=10, choices=[(each.value, each.label) for each in Role])
    email = models.EmailField(blank=True)  # empty: whoever has the link
    digest = models.CharField(max_length=64, unique=True)
    by = models.ForeignKey(User, models.SET_NULL, null=True, related_name="+")
    made = models.DateTimeField(default=timezone.now)
    ends = models.DateTimeField(default=invitation_ends)
    used_by = models.ForeignKey(User, models.SET_NULL, null=True, related_name="+")
    withdrawn = models.DateTimeField(null=True)

    @property
    def good(self) -> bool:
        """Whether it can still be used."""
        return self.used_by_id is None and self.withdrawn is None and timezone.now() < self.ends


class Session(AbstractBaseSession):
    """A session, and whose it is; of nobody before sign-in."""

    person = models.ForeignKey(User, models.CASCADE, null=True, related_name="+")

    @classmethod
    def get_session_store_class(cls) -> Any:
        """The store that reads and writes this table."""
        from sillwright.web.accounts.sessions import SessionStore

        return SessionStore
