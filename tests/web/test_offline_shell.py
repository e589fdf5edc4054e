"""The worker's script, the manifest of the application, and the page that stands in for others."""

from __future__ import annotations

import re

import pytest

from sillwright.web.offline import worker

from .conftest import World


def test_the_worker_is_there_for_everybody_and_is_asked_for_anew_each_time(world: World) -> None:
    response = world.client(None).get("/sw.js")
    assert response.status_code == 200
    assert response["Content-Type"].startswith("text/javascript")
    assert response["Cache-Control"] == "no-cache"
    again = world.client("owner").get("/sw.js", headers={"If-None-Match": response["ETag"]})
    assert again.status_code == 304


def test_the_worker_knows_every_script_and_style_sheet(world: World) -> None:
    script = world.client(None).get("/sw.js").content.decode()
    for name in ("page.css", "taking.js", "offline/outbox.js", "third/idb.js", "mark.svg"):
        assert f'"/static/{name}"' in script
    assert len(script.splitlines()) - len(worker.files()) < 230


def test_another_program_version_is_another_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    before = worker.version()
    worker.version.cache_clear()
    monkeypatch.setattr(worker, "program", lambda: "another")
    try:
        assert worker.version() != before
    finally:
        worker.version.cache_clear()


def test_another_style_sheet_is_another_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    before = worker.version()
    worker.version.cache_clear()
    monkeypatch.setattr(worker, "files", lambda: ("/static/page.another.css",))
    try:
        assert worker.version() != before
    finally:
        worker.version.cache_clear()


def test_the_manifest_names_icons_that_are_there(world: World) -> None:
    response = world.client(None).get("/manifest.webmanifest")
    assert response["Content-Type"] == "application/manifest+json"
    told = response.json()
    assert told["name"] == "Sillwright"
    assert told["start_url"] == "/"
    assert told["display"] == "standalone"
    assert "orientation" not in told
    for icon in told["icons"]:
        file = worker.STATIC / icon["src"].removeprefix("/static/")
        size = int.from_bytes(file.read_bytes()[16:20], "big")
        assert icon["sizes"] == f"{size}x{size}"
    assert {"any", "maskable"} == {icon["purpose"] for icon in told["icons"]}


def test_the_page_in_place_of_others_is_the_same_for_everybody(world: World) -> None:
    bodies = {world.client(who).get("/offline/").content for who in ("owner", "stranger", None)}
    assert len(bodies) == 1
    body = bodies.pop().decode()
    assert 'name="person"' not in body
    assert 'name="csrf"' not in body


def test_pages_say_which_site_they_belong_to(world: World) -> None:
    meta = f'<meta name="site" content="{world.site.pk}">'
    opening = f"/openings/{world.opening.pk}/"
    client = world.client("technician")
    addresses = [opening, f"{opening}facts/", f"{opening}facts/door.kind/", f"/sites/{world.site.pk}/"]
    for address in addresses:
        assert meta in client.get(address).content.decode(), address
    assert 'name="site"' not in client.get("/").content.decode()


def test_every_page_starts_the_worker_and_tells_where_it_is(world: World) -> None:
    for who, address in (("owner", "/"), (None, "/accounts/login/"), (None, "/workbench/"), (None, "/offline/")):
        body = world.client(who).get(address).content.decode()
        assert "offline/shell.js" in body
        assert re.search(r'data-worker="/sw\.js"', body)
        assert 'rel="manifest"' in body
