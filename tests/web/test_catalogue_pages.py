"""The catalogue of an organisation: brought in versions, read by its members, counted for every site."""

from __future__ import annotations

import html
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import Error, connection, transaction

from sillwright.web.orders.catalogues import catalogue_for
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.records.answers import state_of, study_of
from sillwright.web.records.models import Event

from .conftest import World
from .ordering import CATALOGUE, bare_catalogue, with_catalogue


def _post(world: World, told: dict[str, Any], who: str = "owner") -> Any:
    return world.client(who).post(f"/organisations/{world.dealer.pk}/catalogue/", told)


def _file(text: str, name: str = "ours.yaml") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, text.encode())


def _page(world: World, who: str = "reader") -> str:
    response = world.client(who).get(f"/organisations/{world.dealer.pk}/catalogue/")
    assert response.status_code == 200
    return html.unescape(response.content.decode())


def test_before_there_is_one_the_page_says_what_is_told_without_it(world: World) -> None:
    assert "There is no catalogue yet." in _page(world)
    assert catalogue_for(world.site) is None


def test_the_newest_version_counts_and_older_ones_stay(world: World) -> None:
    assert _post(world, {"file": _file(CATALOGUE)}).status_code == 302
    assert _post(world, {"file": _file(CATALOGUE.replace("a few", "other"))}, "advisor").status_code == 302
    text = _page(world)
    assert "Invented in other lines, version 2, counts" in text
    assert "Invented in a few lines" in text
    first = world.client("reader").get(f"/organisations/{world.dealer.pk}/catalogue/1.yaml")
    assert "Invented in a few lines" in first.content.decode()
    assert world.client("reader").get(f"/organisations/{world.dealer.pk}/catalogue/3.yaml").status_code == 404


def test_the_same_catalogue_again_changes_nothing_and_says_so(world: World) -> None:
    _post(world, {"file": _file(CATALOGUE)})
    response = _post(world, {"file": _file("\n# other words, the same entries\n" + CATALOGUE)})
    assert response.status_code == 422
    assert "counts already" in response.content.decode()
    assert CatalogueVersion.objects.count() == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (CATALOGUE.replace("currency: USD", "currency: dollars"), "currency"),
        (CATALOGUE + "colour: red\n", "Line 7"),
        ("<script>alert(1)</script>: 2\n", "nothing was changed"),
        ("", "nothing was changed"),
    ],
)
def test_a_file_with_mistakes_is_refused_line_by_line(world: World, text: str, says: str) -> None:
    response = _post(world, {"file": _file(text)})
    body = response.content.decode()
    assert response.status_code == 422
    assert says in html.unescape(body)
    assert "<script>alert" not in body
    assert not CatalogueVersion.objects.exists()
    assert _post(world, {}).status_code == 422


def test_members_read_it_and_who_manages_brings_it(world: World) -> None:
    for who, status in (("technician", 403), ("reader", 403), ("friend", 404), ("stranger", 404)):
        assert _post(world, {"file": _file(CATALOGUE)}, who).status_code == status
    assert "Take it in" not in _page(world, "technician")
    assert world.client("friend").get(f"/organisations/{world.dealer.pk}/catalogue/").status_code == 404


def test_the_invented_one_is_taken_by_one_press_and_says_that_it_is_invented(world: World) -> None:
    assert _post(world, {"take": "demo"}).status_code == 302
    text = _page(world)
    assert "It is invented, for trying out" in text
    assert "edge profiles" in text


def test_every_study_is_made_anew_with_the_catalogue_that_counts(world: World) -> None:
    before, door = state_of(world.opening), world.opening
    assert not study_of(door).study.takeoff.profiles  # type: ignore[union-attr]
    with_catalogue(world)
    door = world.site.openings.select_related("site").get(pk=door.pk)
    assert state_of(door) != before
    assert study_of(door).study.takeoff.profiles  # type: ignore[union-attr]


def test_a_version_is_never_changed_and_its_coming_stands_in_the_trail(world: World) -> None:
    bare_catalogue(world)
    for deed in ("UPDATE orders_catalogueversion SET name = 'x'", "DELETE FROM orders_catalogueversion"):
        with pytest.raises(Error, match="only added to"), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(deed)
    assert Event.objects.get(verb="catalogue brought").what == "Invented in a few lines, version 1"
