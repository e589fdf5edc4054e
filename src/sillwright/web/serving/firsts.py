"""The first account, and what an empty installation can be filled with: an invented site, invented people."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sillwright.base.errors import InputError
from sillwright.base.words import N_, say

if TYPE_CHECKING:
    from sillwright.web.accounts.models import Organisation

DEMO_HOST = "demo.example"
DEMO_PEOPLE = ("owner", "advisor", "technician", "reader")
NOBODY = "nobody@sillwright.invalid"


@dataclass(frozen=True)
class Account:
    """An account of a demonstration."""

    email: str
    password: str


def public_address(here: str) -> str:
    """Where people reach it: behind a proxy the first name in ``SILLWRIGHT_HOSTS``, else where it listens."""
    from django.conf import settings

    return f"https://{settings.HOSTS[0]}" if settings.TLS and settings.HOSTS else here


def first_link(address: str) -> str:
    """The link that makes the first account; empty where somebody has one."""
    from sillwright.web.accounts.inviting import first_invitation

    token = first_invitation()
    return f"{address}/invitations/{token}/" if token else ""


def owner_link(address: str, name: str = "") -> str:
    """A link that makes somebody an owner of an organisation; of the only one where no name is given.

    Raises :class:`InputError` where it is not clear which one is meant.
    """
    from sillwright.web.accounts.inviting import invite
    from sillwright.web.accounts.models import Organisation
    from sillwright.web.accounts.roles import Role

    if not name and (link := first_link(address)):
        return link
    found = list((Organisation.objects.filter(name=name) if name else Organisation.objects.all()).order_by("name"))
    if len(found) != 1:
        names = ", ".join(Organisation.objects.order_by("name").values_list("name", flat=True)[:20])
        raise InputError(say(N_("which organisation? say --organisation with one of: {names}"), names=names or "–"))
    return f"{address}/invitations/{invite(found[0], Role.OWNER, '', None)[1]}/"


def take_in_example() -> bool:
    """Give an empty installation an invented site; whether it was empty. Nobody can sign in because of it."""
    from django.db import transaction

    from sillwright.web.accounts.models import Organisation, User
    from sillwright.web.sites.demo import make_demo

    if User.objects.exists():
        return False
    with transaction.atomic():
        first_link("")  # makes the organisation
        author = User.objects.create_user(NOBODY, name="Invented example", is_active=False)
        make_demo(Organisation.objects.order_by("made")[0], author)
    return True


def demonstration() -> list[Account]:
    """An invented organisation with one account a role, and the invented site; none where people have accounts.

    Passwords are made by chance and told once.
    """
    from django.db import transaction

    from sillwright.web.accounts.models import Membership, Organisation, User
    from sillwright.web.sites.demo import make_demo

    if User.objects.exists():
        return []
    made = []
    with transaction.atomic():
        organisation: Organisation = Organisation.objects.create(name="Breakwater Doors (invented)", kind="dealer")
        for role in DEMO_PEOPLE:
            account = Account(f"{role}@{DEMO_HOST}", secrets.token_urlsafe(12))
            user = User.objects.create_user(account.email, account.password, name=f"Demo {role}")
            Membership.objects.create(user=user, organisation=organisation, role=role)
            made.append(account)
        make_demo(organisation, User.objects.get(email=made[0].email))
    return made


def is_demonstration() -> bool:
    """Whether accounts of a demonstration can sign in here."""
    from sillwright.web.accounts.models import User

    return User.objects.filter(email__endswith=f"@{DEMO_HOST}", is_active=True).exists()
