"""A study page that is put together once is never older than what it shows."""

from __future__ import annotations

import re
import uuid

from django.test import Client

from sillwright.web.accounts.models import Membership, User
from sillwright.web.records.log import Said, write
from sillwright.web.records.sites import rename, share

from .conftest import World

TOKEN = re.compile(r'name="csrf" content="([^"]+)"')


def page(client: Client, world: World) -> str:
    """The study page of the first opening."""
    answer = client.get(f"/openings/{world.opening.pk}/")
    assert answer.status_code == 200
    return answer.content.decode()


def test_a_fact_written_by_somebody_else_shows_on_the_next_look(world: World) -> None:
    client = world.client("reader")
    before = page(client, world)
    said = Said(fact="door.kind", typed="slide_gate", id=uuid.uuid4())
    write(world.site, world.opening, said, author=world.people["owner"])
    assert page(client, world) != before


def test_another_name_of_the_opening_or_the_site_shows_on_the_next_look(world: World) -> None:
    client = world.client("reader")
    page(client, world)
    rename(world.opening, "Wicket 77", author=world.people["owner"])
    assert "Wicket 77" in page(client, world)
    rename(world.site, "Lower Yard", author=world.people["owner"])
    assert "Lower Yard" in page(client, world)


def test_each_person_sees_the_own_name_and_the_own_rights(world: World) -> None:
    writes, reads = page(world.client("technician"), world), page(world.client("reader"), world)
    assert "may-write" in writes
    assert "may-read" in reads
    assert world.people["technician"].name not in reads
    Membership.objects.filter(user=world.people["reader"]).update(role="technician")
    assert "may-write" in page(world.client("reader"), world)
    User.objects.filter(pk=world.people["reader"].pk).update(name="Ann Other")
    assert "Ann Other" in page(world.client("reader"), world)


def test_whoever_may_not_look_any_more_sees_nothing_of_a_page_that_was_kept(world: World) -> None:
    client = world.client("friend")
    page(client, world)
    share(world.site, world.other, None, author=world.people["owner"])
    assert client.get(f"/openings/{world.opening.pk}/").status_code == 404


def test_the_units_of_the_reader_show_on_the_next_look(world: World) -> None:
    client = world.client("technician")
    before = page(client, world)
    client.post("/units/", {"units": "metric", "next": "/"})
    assert page(client, world) != before


def test_every_look_has_a_token_of_its_own_that_forms_are_taken_with(world: World) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.people["technician"])
    tokens = [TOKEN.findall(page(client, world))[0] for _ in range(3)]
    assert len(set(tokens)) == 3
    for token in tokens:
        sent = {"units": "us", "next": "/", "csrfmiddlewaretoken": token}
        assert client.post("/units/", sent).status_code == 302
    assert client.post("/units/", {**sent, "csrfmiddlewaretoken": "a" * 64}).status_code == 403


def test_two_browsers_never_get_the_token_of_the_other(world: World) -> None:
    first, second = (Client(enforce_csrf_checks=True) for _ in "ab")
    for client in (first, second):
        client.force_login(world.people["technician"])
    page(first, world)
    token = TOKEN.findall(page(second, world))[0]
    sent = {"units": "us", "next": "/", "csrfmiddlewaretoken": token}
    assert (first.post("/units/", sent).status_code, second.post("/units/", sent).status_code) == (403, 302)


def test_what_is_told_once_is_not_told_again(world: World) -> None:
    client = world.client("technician")
    page(client, world)
    client.post("/me/", {"name": "Ann Other", "units": "site", "language": "en"})
    assert client.cookies["messages"].value
    told, again = (page(client, world).partition('id="study"')[0] for _ in "ab")
    assert 'class="notice" role="status">' in told
    assert 'class="notice" role="status">' not in again
