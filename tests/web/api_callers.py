"""Who may call the API in tests: people with a browser, programs with tokens, nobody."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass, field
from datetime import timedelta
from types import SimpleNamespace
from typing import Any

from django.core.cache import caches
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from sillwright.web.accounts.inviting import invite
from sillwright.web.accounts.models import User, new_token
from sillwright.web.accounts.roles import Role
from sillwright.web.records.links import make_link
from sillwright.web.records.models import Key, Opening, Paper, Photo
from sillwright.web.records.papers import path_of
from sillwright.web.records.questions import Asked, ask
from sillwright.web.records.sites import make_opening, make_site, share

from .conftest import World
from .ordering import bare_catalogue, bare_order, bare_quote

PEOPLE = ("owner", "advisor", "technician", "reader", "friend", "stranger")
TOKENS = ("reading", "writing", "ended", "withdrawn")
CALLERS = (*PEOPLE, "nobody", *TOKENS)


@dataclass
class Caller:
    """A browser, or a program with its header."""

    client: Client
    headers: dict[str, str] = field(default_factory=dict)

    def ask(self, method: str, address: str, body: Any = None, **headers: str) -> HttpResponse:
        """Send a request; ``body`` goes as JSON."""
        more: dict[str, Any] = {"headers": {**self.headers, **headers}}
        if body is not None:
            more |= {"data": json.dumps(body), "content_type": "application/json"}
        return self.client.generic(method, address, **more)  # type: ignore[return-value]


def token_of(user: User, scope: str, **more: Any) -> str:
    """A token with which a program acts for somebody."""
    token = f"sw_{new_token()}"
    told = {"ends": timezone.now() + timedelta(days=1), **more}
    digest = hashlib.sha256(token.encode()).hexdigest()
    Key.objects.create(user=user, name="a program", scope=scope, digest=digest, **told)
    return token


def with_token(token: str, client: Client | None = None) -> Caller:
    """A program with a token."""
    return Caller(client or Client(), {"Authorization": f"Bearer {token}"})


def callers(world: World) -> dict[str, Caller]:
    """One of each."""
    caches["near"].clear()  # limits count from nought
    owner, yesterday = world.people["owner"], timezone.now() - timedelta(days=1)
    found = {who: Caller(world.client(who)) for who in PEOPLE}
    found["nobody"] = Caller(Client())
    found["reading"] = with_token(token_of(owner, "read"))
    found["writing"] = with_token(token_of(owner, "write"))
    found["ended"] = with_token(token_of(owner, "write", ends=yesterday))
    found["withdrawn"] = with_token(token_of(owner, "write", withdrawn=yesterday))
    return found


def paper_of(opening: Opening, by: User) -> Paper:
    """A paper that was made, of a few bytes."""
    content = b"<svg/>"
    told = {"media": "image/svg+xml", "version": "1", "units": "us", "by": by}
    digest = hashlib.sha256(content).hexdigest()
    paper = Paper(site=opening.site, opening=opening, kind="elevation", name="a.svg", digest=digest, size=6, **told)
    path_of(paper.pk).parent.mkdir(parents=True, exist_ok=True)
    path_of(paper.pk).write_bytes(content)
    paper.save(force_insert=True)
    return paper


def photo_of(opening: Opening, author: User, **more: Any) -> Photo:
    """A photo that is still on its way."""
    told = {"size": 9, "digest": "0" * 64, "taken": timezone.now(), **more}
    return Photo.objects.create(site=opening.site, opening=opening, author=author, **told)


def things(world: World) -> SimpleNamespace:
    """Keys of one thing of each kind, the first organisation's or its owner's; the other may read the site."""
    owner = world.people["owner"]
    site = make_site(world.dealer, "Quay", "US", author=owner)
    share(site, world.other, "read", author=owner)
    opening = make_opening(site, "New", author=owner)  # too little is known of it for a study: quick
    paper = paper_of(opening, owner)
    link, _token = make_link(paper, 7, by=owner)
    invitation, _token = invite(world.dealer, Role.READER, "", owner)
    key = Key.objects.create(user=owner, name="mine", scope="read", digest="0" * 64, ends=timezone.now())
    return SimpleNamespace(
        site=site.pk,
        opening=opening.pk,
        organisation=world.dealer.pk,
        other=world.other.pk,
        user=world.people["technician"].pk,
        paper=paper.pk,
        link=link.pk,
        invitation=invitation.pk,
        key=key.pk,
        photo=photo_of(opening, owner).pk,
        catalogue=bare_catalogue(world).pk,
        quote=bare_quote(world, site).pk,
        order=bare_order(world, site).pk,
        line=1,
        ending="pdf",
        question=ask(opening, Asked(fact="door.kind", words="Which?", to=world.people["reader"]), by=owner).pk,
    )
