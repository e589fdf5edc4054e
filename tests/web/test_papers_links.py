"""Links to papers: they open one paper, for whoever holds them, until they end."""

from __future__ import annotations

import hashlib
import re
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from sillwright.web.records.links import DAYS, make_link, withdraw
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Event, Link, Paper
from sillwright.web.records.papers import content_of, path_of

from .conftest import World
from .test_answers_page import checked
from .test_papers_made import _folder, paper_of  # noqa: F401 (each test has a folder of its own)


@pytest.fixture
def paper(world: World, _folder: None) -> Paper:  # noqa: F811
    """A paper of the first opening."""
    return paper_of(world)


def shared(link: str, client: Client | None = None, **query: str) -> Any:
    """What somebody without an account gets."""
    return (client or Client()).get(f"/shared/{link}/", query)


def test_a_link_is_shown_once_and_its_secret_is_kept_nowhere(world: World, paper: Paper) -> None:
    client, address = world.client("advisor"), f"/papers/{paper.pk}/links/"
    page = client.post(address, {"days": "7"}).content.decode()
    checked(page)
    found = re.search(r"/shared/([\w-]+)/", page)
    assert found
    token = found[1]
    assert len(token) == 43
    link = Link.objects.get()
    assert link.digest == hashlib.sha256(token.encode()).hexdigest()
    assert abs(link.ends - timezone.now() - timedelta(days=7)) < timedelta(minutes=1)
    assert token not in client.get(address).content.decode()
    assert not Event.objects.filter(what__contains=token).exists()
    assert Event.objects.filter(verb="link made", after=paper.digest, who=world.people["advisor"]).count() == 1
    assert shared(token).status_code == 200


def test_whoever_holds_a_link_sees_what_the_paper_is_and_can_take_it(world: World, paper: Paper) -> None:
    link, token = make_link(paper, 1, by=world.people["owner"])
    response = shared(token)
    page = response.content.decode()
    checked(page)
    for words in ("Harbour Doors", "Lanternfield Ferry Yard", "B1", paper.digest, f"{link.ends:%Y-%m-%d}"):
        assert words in page
    assert response["X-Robots-Tag"] == "noindex, nofollow"
    assert response["Cache-Control"] == "no-store"
    assert response["Referrer-Policy"] == "no-referrer"
    file = shared(token, download="1")
    assert file.content == content_of(paper)
    assert file["Content-Disposition"].startswith("attachment; ")
    assert file["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert file["X-Robots-Tag"] == "noindex, nofollow"


def test_openings_are_counted_and_nobody_is_named(world: World, paper: Paper) -> None:
    link, token = make_link(paper, 1, by=world.people["owner"])
    before = Event.objects.count()
    shared(token)
    shared(token, world.client("friend"))
    shared(token, download="1")
    Client().head(f"/shared/{token}/")
    link.refresh_from_db()
    assert link.opened == 2
    assert Event.objects.count() == before
    page = world.client("owner").get(f"/papers/{paper.pk}/links/").content.decode()
    assert "opened 2 times" in page


def test_a_link_that_ended_or_was_withdrawn_is_like_one_that_never_was(world: World, paper: Paper) -> None:
    ended, first = make_link(paper, 1, by=world.people["owner"])
    gone, second = make_link(paper, 90, by=world.people["owner"])
    Link.objects.filter(pk=ended.pk).update(ends=timezone.now() - timedelta(seconds=1))
    withdraw(gone, by=world.people["owner"])
    number = re.compile(rb"[0-9a-f]{16}")
    never = [shared("A" * 43), shared("x"), shared(gone.digest)]
    for response in (shared(first), shared(second), shared(first, download="1"), *never):
        assert response.status_code == 404
        assert number.sub(b"", response.content) == number.sub(b"", never[0].content)
    assert {each.opened for each in Link.objects.all()} == {0}


def test_withdrawing_is_for_those_who_may_share_and_is_written_down_once(world: World, paper: Paper) -> None:
    link, token = make_link(paper, 30, by=world.people["owner"])
    address = f"/links/{link.pk}/withdraw/"
    for who, status in (("stranger", 404), ("technician", 403), ("friend", 403), (None, 302)):
        assert world.client(who).post(address).status_code == status
    assert shared(token).status_code == 200
    assert world.client("owner").get(address).status_code == 405
    for _ in range(2):
        assert world.client("owner").post(address)["Location"] == f"/papers/{paper.pk}/links/"
    assert shared(token).status_code == 404
    assert Event.objects.filter(verb="link withdrawn").count() == 1
    assert "Withdrawn" in world.client("owner").get(f"/papers/{paper.pk}/links/").content.decode()


@pytest.mark.parametrize(("who", "status"), [("stranger", 404), ("technician", 403), ("friend", 403), (None, 302)])
def test_links_are_made_and_seen_by_those_who_may_share(
    world: World, paper: Paper, who: str | None, status: int
) -> None:
    client = world.client(who)
    assert client.get(f"/papers/{paper.pk}/links/").status_code == status
    assert client.post(f"/papers/{paper.pk}/links/", {"days": "30"}).status_code == status
    assert not Link.objects.exists()


@pytest.mark.parametrize("days", ["", "0", "2", "-1", "365", "1e9", "٧", "9" * 5000])
def test_a_link_lasts_one_of_four_spans(world: World, paper: Paper, days: str) -> None:
    response = world.client("owner").post(f"/papers/{paper.pk}/links/", {"days": days})
    assert response.status_code == (200 if days == "٧" else 422)
    assert Link.objects.count() == (1 if days == "٧" else 0)


def test_a_paper_has_at_most_a_hundred_good_links(world: World, paper: Paper) -> None:
    ends = timezone.now() + timedelta(days=1)
    by = world.people["owner"]
    Link.objects.bulk_create(Link(paper=paper, digest=f"{n:064d}", by=by, ends=ends) for n in range(100))
    with pytest.raises(Refused, match="withdraw one first"):
        make_link(paper, DAYS[0], by=by)


def test_a_damaged_paper_is_not_handed_out_through_a_link_either(world: World, paper: Paper) -> None:
    _link, token = make_link(paper, 1, by=world.people["owner"])
    path_of(paper.pk).write_bytes(b"<svg>something else</svg>")
    assert shared(token, download="1").status_code == 409


def test_a_link_opens_only_its_own_paper(world: World, paper: Paper) -> None:
    other = paper_of(world, tag="G1")
    _link, token = make_link(paper, 1, by=world.people["owner"])
    client = Client()
    shared(token, client)
    assert client.get(f"/papers/{other.pk}/").status_code == 302
    assert client.get(f"/openings/{paper.opening_id}/").status_code == 302
