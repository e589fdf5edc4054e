"""Sharing a site with another organisation, by the code that it gives."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.web.accounts.models import Organisation
from sillwright.web.records.models import Event, Share

from .conftest import World


def sent(world: World, who: str = "owner", **fields: object) -> Any:
    fields = {"code": world.other.pk, "mode": "write", **fields}
    return world.client(who).post(f"/sites/{world.site.pk}/sharing/", fields)


def modes(world: World) -> dict[str, str]:
    return dict(Share.objects.filter(site=world.site).values_list("organisation__name", "mode"))


@pytest.mark.parametrize(
    ("who", "status"),
    [("owner", 302), ("advisor", 302), ("technician", 403), ("reader", 403), ("friend", 403), ("stranger", 404)],
)
def test_who_may_share_a_site(world: World, who: str, status: int) -> None:
    assert sent(world, who).status_code == status
    assert modes(world) == {"Pier Owners": "write" if status == 302 else "read"}
    got = world.client(who).get(f"/sites/{world.site.pk}/sharing/").status_code
    assert got == (200 if status == 302 else status)


def test_the_page_says_with_whom_and_for_what(world: World) -> None:
    page = world.client("owner").get(f"/sites/{world.site.pk}/sharing/").content.decode()
    assert "<strong>Pier Owners</strong>: may read" in page
    assert "Elsewhere" not in page


def test_an_organisation_is_found_by_its_code_alone(world: World) -> None:
    other = Organisation.objects.get(name="Elsewhere")
    answer = sent(world, code=f" {other.pk} ", mode="read")
    assert answer.status_code == 302
    assert modes(world) == {"Pier Owners": "read", "Elsewhere": "read"}
    assert world.client("stranger").get(f"/sites/{world.site.pk}/").status_code == 200
    line = Event.objects.filter(verb="shared").latest("pk")
    assert (line.what, line.site, line.request) == ("Elsewhere: read", world.site, answer.headers["Request-Id"])


@pytest.mark.parametrize(
    "code", ["", "Elsewhere", "7", "x" * 5000, "6f91c02a-178c-4efd-9f42-230831121b79", "\x00", "<script>"]
)
def test_a_code_that_no_organisation_has_is_said_so_and_kept_as_typed(world: World, code: str) -> None:
    answer = sent(world, code=code)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "No organisation has this code." in page
    assert "<script>" not in page
    assert 'value="write" checked' in page
    assert modes(world) == {"Pier Owners": "read"}


def test_an_organisation_that_is_there_and_one_that_is_not_answer_alike_to_a_wrong_name(world: World) -> None:
    pages = [sent(world, code=code).content.decode() for code in ("Elsewhere", "Nowhere")]
    assert pages[0].count("Elsewhere") == pages[1].count("Nowhere") == 1  # as typed


def test_a_site_is_not_shared_with_its_own_organisation(world: World) -> None:
    answer = sent(world, code=world.dealer.pk)
    assert answer.status_code == 422
    assert "own." in answer.content.decode()


def test_a_site_is_shared_for_reading_or_writing_and_for_nothing_else(world: World) -> None:
    assert sent(world, mode="manage").status_code == 422
    assert modes(world) == {"Pier Owners": "read"}


def test_what_its_people_may_do_can_be_changed_in_place(world: World) -> None:
    sent(world, mode="write")
    assert world.client("friend").get(f"/sites/{world.site.pk}/openings/new/").status_code == 200
    sent(world, mode="read")
    assert world.client("friend").get(f"/sites/{world.site.pk}/openings/new/").status_code == 403


def test_sharing_ends_at_once_and_can_be_taken_up_again_with_one_tap(world: World) -> None:
    sent(world, mode="write")
    answer = sent(world, mode="write", end="1")
    assert modes(world) == {}
    assert world.client("friend").get(f"/sites/{world.site.pk}/").status_code == 404
    page = world.client("owner").get(answer.headers["Location"]).content.decode()
    assert "No longer shared with Pier Owners." in page
    assert f'name="code" value="{world.other.pk}"><button name="mode" value="write">' in page
    assert Event.objects.filter(verb="shared").latest("pk").what == "Pier Owners: no longer"


def test_ending_what_was_never_shared_changes_nothing(world: World) -> None:
    other = Organisation.objects.get(name="Elsewhere")
    count = Event.objects.count()
    assert sent(world, code=other.pk, end="1").status_code == 302
    assert (modes(world), Event.objects.count()) == ({"Pier Owners": "read"}, count)


@pytest.mark.parametrize("ended", ["x", "6f91c02a-178c-4efd-9f42-230831121b79", ""])
def test_an_address_that_names_no_organisation_offers_nothing(world: World, ended: str) -> None:
    answer = world.client("owner").get(f"/sites/{world.site.pk}/sharing/?ended={ended}")
    assert "No longer shared" not in answer.content.decode()


def test_an_organisation_shows_its_code_to_its_members(world: World) -> None:
    for who in ("owner", "reader"):
        page = world.client(who).get(f"/organisations/{world.dealer.pk}/").content.decode()
        assert "Give this code to whoever shares a site with you" in page
        assert f"<code>{world.dealer.pk}</code>" in page
