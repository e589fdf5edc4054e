"""Every address of the pages × every method × everybody. A new address without a line here fails.

The API has its own table (``test_api_roles``).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.core.cache import caches
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver
from django.utils import timezone

from sillwright.web.accounts.models import Invitation, Membership
from sillwright.web.records.audit import digest
from sillwright.web.records.models import Key, Link, Opening, Paper, Question, Site
from sillwright.web.walk import evening

from .api_callers import photo_of
from .conftest import World
from .ordering import bare_quote, bare_released
from .teaching import bare_lesson
from .troubled import bare_call, bare_substitute

PEOPLE = ("owner", "advisor", "technician", "reader", "friend", "stranger", None)
LEVELS = {"owner": 3, "advisor": 3, "technician": 2, "reader": 1, "friend": 1, "stranger": 0}  # at the site
NEEDED = {"read": 1, "write": 2, "manage": 3}
MEMBERS = {"owner": 2, "advisor": 1, "technician": 1, "reader": 1}  # of the organisation
BELONGING = {"member": 1, "owner": 2}
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE")
DONE = {200, 201, 204, 302, 400, 409, 415, 422}

# Who may: public; anybody signed in (mine); at the site: read, write, manage; of the organisation: member, owner.
# “maker”: who may make sites somewhere; “bringer”: who may bring its catalogue; “trainer”: who manages there;
# “own”: the thing is one person's; “asker”: who asked the question.
TABLE: dict[str, dict[str, str]] = {
    "": {"GET": "mine"},
    "survey-template.xlsx": {"GET": "mine"},
    "sites/new/": {"GET": "maker", "POST": "maker"},
    "sites/take-in/": {"GET": "maker", "POST": "maker"},
    "sites/{site}/": {"GET": "read"},
    "sites/{site}/openings/new/": {"GET": "write", "POST": "write"},
    "sites/{site}/take-in/": {"GET": "write", "POST": "write"},
    "sites/{site}/survey.yaml": {"GET": "read"},
    "sites/{site}/kept.json": {"GET": "read"},
    "sites/{site}/survey.xlsx": {"GET": "read"},
    "sites/{site}/sharing/": {"GET": "manage", "POST": "manage"},
    "sites/{site}/name/": {"GET": "manage", "POST": "manage"},
    "sites/{site}/put-away/": {"POST": "manage"},
    "sites/{site}/facts/": {"GET": "read"},
    "sites/{site}/facts/site.coldest/": {"GET": "read"},
    "sites/{site}/say/": {"POST": "write"},
    "sites/{site}/read/": {"POST": "read"},
    "sites/{site}/drawn/": {"GET": "read"},
    "sites/{site}/cut-list/": {"GET": "read"},
    "cut-list/": {"GET": "mine"},
    "sites/{site}/papers/": {"GET": "read", "POST": "write"},
    "sites/{site}/walk/": {"GET": "write"},
    "sites/{site}/evening/": {"GET": "read"},
    "sites/{site}/quotes/": {"GET": "read", "POST": "write"},
    "sites/{site}/orders/": {"GET": "read", "POST": "write"},
    "quotes/": {"GET": "mine"},
    "quotes/{quote}/": {"GET": "read"},
    "quotes/{quote}/change/": {"GET": "write", "POST": "write"},
    "quotes/{quote}/alternatives/1/": {"GET": "write", "POST": "write"},
    "quotes/{quote}/step/": {"POST": "manage"},
    "quotes/{quote}/ask/": {"POST": "write"},
    "quotes/{quote}/prices/": {"POST": "write"},
    "quotes/{quote}/copy/": {"POST": "write"},
    "quotes/{quote}/order/": {"POST": "write"},
    "quotes/{quote}/quote.json": {"GET": "read"},
    "orders/{order}/": {"GET": "read"},
    "orders/{order}/change/": {"GET": "write", "POST": "write"},
    "orders/{order}/release/": {"POST": "manage"},
    "orders/{order}/split/": {"POST": "write"},
    "orders/{order}/catalogue/": {"POST": "write"},
    "orders/{order}/acknowledgement/": {"POST": "write"},
    "orders/{order}/answers/": {"POST": "write"},
    "orders/{order}/lines/1/goods-in/": {"GET": "write", "POST": "write"},
    "orders/{order}/lines/1/claim/": {"GET": "write", "POST": "write"},
    "orders/{order}/lines/1/install.pdf": {"GET": "read"},
    "orders/{order}/agreed.pdf": {"GET": "read"},
    "orders/{order}/order.json": {"GET": "read"},
    "openings/{opening}/": {"GET": "read"},
    "openings/{opening}/headline.json": {"GET": "read"},
    "openings/{opening}/name/": {"GET": "write", "POST": "write"},
    "openings/{opening}/put-away/": {"POST": "write"},
    "openings/{opening}/facts/": {"GET": "read"},
    "openings/{opening}/facts/group/door/": {"GET": "read"},
    "openings/{opening}/facts/door.kind/": {"GET": "read"},
    "openings/{opening}/say/": {"POST": "write"},
    "openings/{opening}/read/": {"POST": "read"},
    "openings/{opening}/drawn/": {"GET": "read"},
    "openings/{opening}/list/protection/": {"GET": "read", "POST": "write"},
    "openings/{opening}/replace/": {"GET": "read"},
    "openings/{opening}/what-if/": {"GET": "read", "POST": "read"},
    "openings/{opening}/drawing.svg": {"GET": "read"},
    "openings/{opening}/wiring.svg": {"GET": "read"},
    "openings/{opening}/papers/": {"GET": "read", "POST": "write"},
    "openings/{opening}/photos/": {"GET": "read", "POST": "write"},
    "openings/{opening}/photos/{photo}/": {"GET": "read", "POST": "write"},
    "papers/{paper}/": {"GET": "read"},
    "photos/{photo}/": {"GET": "read"},
    "papers/{paper}/links/": {"GET": "manage", "POST": "manage"},
    "links/{link}/withdraw/": {"POST": "manage"},
    "shared/{token}/": {"GET": "public"},
    "openings/{opening}/ask/door.kind/": {"GET": "write", "POST": "write"},
    "questions/": {"GET": "mine"},
    "questions/{question}/": {"GET": "read", "POST": "write"},
    "questions/{question}/link/": {"POST": "asker"},
    "questions/{question}/withdraw/": {"POST": "write"},
    "asked/{asked}/": {"GET": "public", "POST": "public"},
    "asked/{asked}/photo/": {"GET": "public"},
    "units/": {"POST": "public"},
    "organisations/": {"GET": "mine"},
    "organisations/new/": {"GET": "mine", "POST": "mine"},
    "organisations/{organisation}/": {"GET": "member"},
    "organisations/{organisation}/name/": {"POST": "owner"},
    "organisations/{organisation}/members/{member}/role/": {"POST": "owner"},
    "organisations/{organisation}/members/{member}/remove/": {"POST": "leave"},
    "organisations/{organisation}/invitations/": {"POST": "owner"},
    "organisations/{organisation}/invitations/{invitation}/withdraw/": {"POST": "owner"},
    "organisations/{organisation}/trail/": {"GET": "owner"},
    "organisations/{organisation}/trail.csv": {"GET": "owner"},
    "organisations/{organisation}/catalogue/": {"GET": "member", "POST": "bringer"},
    "organisations/{organisation}/catalogue/1.yaml": {"GET": "member"},
    "invitations/{invited}/": {"GET": "public", "POST": "public"},
    "me/": {"GET": "mine", "POST": "mine"},
    "me/sign-out-everywhere/": {"POST": "mine"},
    "me/keys/": {"GET": "mine", "POST": "mine"},
    "me/keys/{key}/withdraw/": {"POST": "own"},
    "trouble/": {"GET": "public"},
    "trouble/first/": {"GET": "public"},
    "trouble/keep/": {"GET": "mine", "POST": "mine"},
    "openings/{opening}/calls/": {"GET": "read"},
    "organisations/{organisation}/calls/": {"GET": "member"},
    "calls/{call}/": {"GET": "read", "POST": "write"},
    "openings/{opening}/substitutes/": {"GET": "read", "POST": "write"},
    "substitutes/{substitute}/out/": {"GET": "write", "POST": "write"},
    "lessons/": {"GET": "mine"},
    "lessons/new/": {"GET": "maker", "POST": "maker"},
    "lessons/{lesson}/": {"GET": "trainer"},
    "lessons/{lesson}/attendance/": {"GET": "trainer", "POST": "trainer"},
    "lessons/{lesson}/handout/": {"GET": "trainer"},
    "lessons/{lesson}/handout.pdf": {"GET": "trainer"},
    "class/{class}/": {"GET": "public", "POST": "public"},
    "workbench/": {"GET": "public"},
    "workbench/approach/": {"GET": "public"},
    "workbench/fault-bench/": {"GET": "public"},
    "workbench/fault-bench/kept/": {"GET": "public"},
    "workbench/fault-bench/book.json": {"GET": "public"},
    "sw.js": {"GET": "public"},
    "manifest.webmanifest": {"GET": "public"},
    "offline/": {"GET": "public"},
    "here/": {"GET": "mine"},
    "offline/book.json": {"GET": "mine"},
    "here/take-in/": {"GET": "mine", "POST": "mine"},
}
# Pages of the sign-in library: which of them strangers reach is pinned in the tests of signing in.
SIGNING_IN = ("accounts/",)
API = ("api/",)
EXAMPLES = {
    "<uuid:who>": "{member}",
    "<uuid:photo>": "{photo}",
    "<uuid:invitation>": "{invitation}",
    "group/<str:name>": "group/door",
    "list/<str:name>": "list/protection",
    "workbench/<str:name>": "workbench/approach",
    "<int:number>": "1",
    "<int:place>": "1",
    "<int:line>": "1",
    "<str:ending>": "json",
}


def _patterns(resolver: Any, prefix: str = "") -> Iterator[str]:
    for each in resolver.url_patterns:
        if isinstance(each, URLResolver):
            yield from _patterns(each, prefix + str(each.pattern))
        elif isinstance(each, URLPattern):
            yield prefix + str(each.pattern)


TOKENS = {"shared": "{token}", "invitations": "{invited}", "asked": "{asked}", "class": "{class}"}
THINGS = {
    "sites": "site",
    "openings": "opening",
    "papers": "paper",
    "photos": "photo",
    "links": "link",
    "questions": "question",
    "quotes": "quote",
    "orders": "order",
    "calls": "call",
    "substitutes": "substitute",
    "lessons": "lesson",
    "organisations": "organisation",
}


def _as_in_table(pattern: str) -> str:
    first = pattern.partition("/")[0]
    for wanted, example in EXAMPLES.items():
        pattern = pattern.replace(wanted, example)
    pattern = pattern.replace("<uuid:id>", "{key}" if first == "me" else "{" + THINGS.get(first, first) + "}")
    pattern = pattern.replace("<str:token>", TOKENS[first]) if "<str:token>" in pattern else pattern
    return pattern.replace("<path:fact>", "site.coldest" if first == "sites" else "door.kind")


def test_every_address_of_the_pages_stands_in_the_table() -> None:
    there = {_as_in_table(each) for each in _patterns(get_resolver()) if not each.startswith((*SIGNING_IN, *API))}
    assert there == set(TABLE)


@pytest.fixture
def things(world: World, monkeypatch: pytest.MonkeyPatch) -> dict[str, str]:
    """An id for every kind of thing in an address."""
    monkeypatch.setattr(evening, "LONGEST", 0.0)  # who may look is asked here, not what the studies come to
    caches["near"].clear()
    caches["default"].clear()
    owner = world.people["owner"]
    bare = Opening.objects.create(site=world.site, tag="bare", position=99)  # too little is known to be studied
    of_paper = {"site": world.site, "opening": bare, "by": owner, "kind": "report", "name": "x.pdf"}
    paper = Paper.objects.create(
        digest="0" * 64, media="application/pdf", size=1, version="0", units="us", **of_paper
    )
    ends = timezone.now() + timedelta(days=1)
    link = Link.objects.create(paper=paper, digest=digest("a token"), by=owner, ends=ends)
    invitation = Invitation.objects.create(
        organisation=world.dealer, role="reader", digest=digest("b token"), by=owner
    )
    key = Key.objects.create(user=owner, name="x", digest=digest("c token"), scope="read", ends=ends)
    photo = photo_of(bare, owner, state="kept")
    question = Question.objects.create(
        site=world.site, opening=bare, fact="door.kind", words="Which?", by=owner, name="Somebody",
        at=timezone.now(), digest=digest("d token"), ends=ends,
    )  # fmt: skip
    return {
        "site": str(world.site.pk), "opening": str(bare.pk), "paper": str(paper.pk), "link": str(link.pk),
        "token": "a token", "invited": "b token", "invitation": str(invitation.pk), "key": str(key.pk),
        "organisation": str(world.dealer.pk), "member": str(world.people["reader"].pk),
        "quote": str(bare_quote(world, world.site).pk), "order": str(bare_released(world, bare).pk),
        "photo": str(photo.pk), "question": str(question.pk), "asked": "d token",
        "call": str(bare_call(bare, owner).pk), "substitute": str(bare_substitute(bare, owner).pk),
        "lesson": str(bare_lesson(world.dealer, owner).pk), "class": "ABC234",
    }  # fmt: skip


def _expected(kind: str | None, who: str | None) -> set[int]:
    """The statuses that somebody may get; None is for a method that is not there."""
    if kind == "public":
        return DONE | {404}
    if who is None:
        return {302, 405}
    if kind is None:
        return {405}
    if kind == "mine":
        return DONE
    if kind == "maker":
        return DONE if who in {"owner", "advisor", "friend", "stranger"} else {403}
    if kind == "leave":
        return DONE if who in {"owner", "reader"} else _expected("owner", who)
    if kind == "asker":
        return DONE if who == "owner" else _expected("write", "reader" if who != "stranger" else who)
    if kind in {"bringer", "trainer"}:
        return DONE if who in {"owner", "advisor"} else _expected("owner", who)
    if kind == "own":
        return DONE if who == "owner" else {404}
    levels, needed = (LEVELS, NEEDED[kind]) if kind in NEEDED else (MEMBERS, BELONGING[kind])
    level = levels.get(who, 0)
    return DONE | {410} if level >= needed else {403} if level else {404}


@pytest.mark.parametrize("address", TABLE)
def test_everybody_gets_what_the_role_allows_and_no_more(
    world: World, things: dict[str, str], address: str
) -> None:
    wrong = []
    for who in PEOPLE:
        for method in METHODS:
            kind = TABLE[address].get("GET" if method == "HEAD" else method)
            if kind is None and who not in {"owner", None}:
                continue  # a method that is not there is there for nobody
            with transaction.atomic():
                client = world.client(who)
                response = client.generic(method, "/" + address.format(**things))
                transaction.set_rollback(True)
            status = response.status_code
            fits = status in _expected(kind, who)
            if who is None and status == 302 and kind != "public":
                fits = fits and response["Location"].startswith("/accounts/login/")
            if kind == "public" and who is not None and method not in {"GET", "HEAD", "POST"}:
                fits = status == 405
            wrong += [] if fits else [(who, method, status)]
    assert not wrong


def _unmarked(response: Any) -> bytes:
    """A page without what differs from request to request: its id, and the token of its forms."""
    body = response.content.replace(response["Request-Id"].encode(), b"")
    return re.sub(rb'(csrf" content|csrfmiddlewaretoken" value)="[^"]*"', b"", body)


def test_what_is_not_yours_and_what_does_not_exist_look_the_same(world: World, things: dict[str, str]) -> None:
    client = world.client("stranger")
    other = dict.fromkeys(things, "00000000-0000-4000-8000-000000000000")
    for address, methods in TABLE.items():
        if "{" not in address or not set(methods.values()) & {*NEEDED, *BELONGING, "leave", "asker", "trainer"}:
            continue
        for method in methods:
            answers = [client.generic(method, "/" + address.format(**keys)) for keys in (things, other)]
            bodies = [_unmarked(each) for each in answers]
            assert [each.status_code for each in answers] == [404, 404], address
            assert bodies[0] == bodies[1], address


def test_no_form_is_taken_without_its_token(world: World, things: dict[str, str]) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.people["owner"])
    for address, methods in TABLE.items():
        if "POST" in methods:
            response = client.post("/" + address.format(**things))
            assert response.status_code == 403, address


@pytest.mark.parametrize(
    "address",
    ["", "sites/{site}/", "openings/{opening}/", "workbench/", "shared/{token}/", "nowhere/", "accounts/login/"],
)
def test_every_page_carries_its_protecting_headers(world: World, things: dict[str, str], address: str) -> None:
    response = world.client("owner").get("/" + address.format(**things))
    policy = response["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "script-src 'self'" in policy
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Referrer-Policy"] in {"same-origin", "no-referrer"}
    assert response["Cross-Origin-Opener-Policy"] == "same-origin"
    assert "camera=(self)" in response["Permissions-Policy"]
    assert "no-store" in response["Cache-Control"] or address == "accounts/login/"
    assert response["X-Frame-Options"] == "DENY"


def test_somebody_who_was_taken_out_of_the_organisation_is_out_at_once(world: World) -> None:
    client = world.client("technician")
    assert client.get(f"/sites/{world.site.pk}/").status_code == 200
    Membership.objects.filter(user=world.people["technician"]).delete()
    assert client.get(f"/sites/{world.site.pk}/").status_code == 404


def test_nothing_is_changed_by_looking(world: World, things: dict[str, str]) -> None:
    before = (Site.objects.get().revision, Opening.objects.count())
    client = world.client("owner")
    for address, methods in TABLE.items():
        if "GET" in methods:
            client.get("/" + address.format(**things))
    assert (Site.objects.get().revision, Opening.objects.count()) == before
