"""A photo comes piece by piece over bad networks: it goes on where it broke off, and is judged when it is whole."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import uuid
from pathlib import Path
from typing import Any

import pytest
from django.core.cache import caches
from django.test import Client

from sillwright.base.errors import OutputError
from sillwright.web.api import limits
from sillwright.web.api.limits import PIECES
from sillwright.web.records import arriving
from sillwright.web.records.arriving import PIECE, arrived_of, path_of
from sillwright.web.records.images import MOST_BYTES
from sillwright.web.records.models import Event, Photo

from .conftest import World
from .photographs import CORNERS, HEIC, colours_of, exif, jpeg, noise

ROOT = Path(__file__).parents[2]


def about(world: World, content: bytes, **more: Any) -> dict[str, Any]:
    """A photo as a phone tells of it."""
    told = {"opening": str(world.opening.pk), "site": str(world.site.pk), "taken": "2026-03-04T10:15:00.000Z"}
    seen = {"size": len(content), "digest": hashlib.sha256(content).hexdigest(), "media": "image/jpeg"}
    return {**told, **seen, "shot": "plate", "fact": "operator.model", **more}


def told_of(client: Client, key: uuid.UUID, body: dict[str, Any]) -> Any:
    """Tell the server of a photo."""
    return client.put(f"/api/photos/{key}", json.dumps(body), content_type="application/json")


def piece(client: Client, key: uuid.UUID, offset: int, content: bytes, **more: Any) -> Any:
    """Send a piece of it."""
    headers = {"Upload-Offset": str(offset)}
    told = {"content_type": "application/octet-stream", "headers": headers, **more}
    return client.patch(f"/api/photos/{key}/bytes", content, **told)


def sent(client: Client, world: World, content: bytes, step: int = PIECE, **more: Any) -> dict[str, Any]:
    """A photo sent as a phone sends it: ask how much is there, then go on from there until it is judged."""
    key = more.pop("key", None) or uuid.uuid4()
    answer = told_of(client, key, about(world, content, **more))
    assert answer.status_code == 200, answer.content
    told: dict[str, Any] = answer.json()
    while told["state"] == "coming":
        answer = piece(client, key, told["arrived"], content[told["arrived"] : told["arrived"] + step])
        assert answer.status_code in {200, 409}, answer.content
        told = answer.json()
    return told


@pytest.fixture
def client(world: World) -> Client:
    """The technician's phone."""
    caches["near"].clear()
    return world.client("technician")


def test_a_photo_is_kept_upright_with_its_time_and_a_line_in_the_trail(world: World, client: Client) -> None:
    content = jpeg(exif=exif(6, "2026:03:04 10:20:30", "-05:00", place=True))
    told = sent(client, world, content, step=500)
    photo = Photo.objects.get(pk=told["id"])
    assert (told["state"], told["arrived"], told["why"]) == ("kept", len(content), "")
    assert (photo.width, photo.height, photo.author.name) == (48, 64, "Technician")
    assert photo.taken.isoformat() == "2026-03-04T15:20:30+00:00"
    assert path_of(photo.pk, "jpg").read_bytes()[:3] == b"\xff\xd8\xff"
    assert [path.name for path in path_of(photo.pk, "part").parent.glob(f"*{photo.pk}*part*")] == []
    event = Event.objects.get(verb="photo kept")
    assert (event.what, event.after, event.opening) == ("plate operator.model", photo.digest, world.opening)


def test_a_heic_is_kept(world: World, client: Client) -> None:
    told = sent(client, world, HEIC.read_bytes(), media="image/heic")
    assert told["state"] == "kept"
    assert colours_of(path_of(uuid.UUID(told["id"]), "jpg").read_bytes()) == CORNERS


def test_a_photo_that_was_kept_is_not_sent_again(world: World, client: Client) -> None:
    key, content = uuid.uuid4(), jpeg()
    first = sent(client, world, content, key=key)
    before = path_of(key, "jpg").stat().st_mtime_ns
    assert sent(client, world, content, key=key) == first
    assert piece(client, key, 0, content).json() == first
    assert piece(client, key, len(content), b"").json() == first
    assert path_of(key, "jpg").stat().st_mtime_ns == before
    assert not path_of(key, "part").exists()
    assert Event.objects.filter(verb="photo kept").count() == 1


def test_it_goes_on_wherever_it_broke_off(world: World, client: Client) -> None:
    key, content = uuid.uuid4(), jpeg()
    arrived, step = 0, len(content) // 9
    while arrived < len(content):
        told = told_of(client, key, about(world, content)).json()  # the phone was shut off in between
        assert (told["state"], told["arrived"]) == ("coming", arrived)
        assert piece(client, key, arrived, content[arrived : arrived + step]).status_code == 200
        arrived += step
    assert Photo.objects.get(pk=key).state == "kept"


def test_a_piece_at_another_place_is_told_where_to_go_on(world: World, client: Client) -> None:
    key, content = uuid.uuid4(), noise()
    told_of(client, key, about(world, content))
    assert piece(client, key, 0, content[:1000]).status_code == 200
    for offset in (0, 999, 1001, len(content), 10**15):
        answer = piece(client, key, offset, content[:1000])
        assert answer.status_code == 409
        assert answer.json() == {"id": str(key), "state": "coming", "arrived": 1000, "why": ""}
    assert sent(client, world, content, key=key)["state"] == "kept"


@pytest.mark.parametrize("there", ["more", "less", "nothing", "far too much"])
def test_after_a_server_was_killed_the_file_tells_how_much_is_there(
    world: World, client: Client, there: str
) -> None:
    key, content = uuid.uuid4(), noise()
    told_of(client, key, about(world, content))
    piece(client, key, 0, content[:4000])
    part = path_of(key, "part")
    length = {"more": 6000, "less": 1500, "nothing": 0, "far too much": 0}[there]
    part.write_bytes(content[:length] if there != "far too much" else content * 2)
    if there == "nothing":
        part.unlink()
    assert told_of(client, key, about(world, content)).json()["arrived"] == length
    assert piece(client, key, 4000, content[4000:]).status_code == 409
    assert sent(client, world, content, key=key)["state"] == "kept"


@pytest.mark.parametrize("at", ["picture_apart", "put", "_keep"])
def test_a_server_that_ends_while_it_judges_a_photo_judges_it_the_next_time(
    world: World, client: Client, monkeypatch: pytest.MonkeyPatch, at: str
) -> None:
    key, content = uuid.uuid4(), jpeg()
    told_of(client, key, about(world, content))

    def killed(*_things: Any, **_more: Any) -> None:
        raise OutputError("the power went")

    with monkeypatch.context() as changed:
        changed.setattr(arriving, at, killed)
        assert piece(client, key, 0, content).status_code == 503
    assert Photo.objects.get(pk=key).state == "coming"
    assert told_of(client, key, about(world, content)).json()["arrived"] == len(content)
    assert piece(client, key, len(content), b"").json()["state"] == "kept"


def test_a_full_disk_costs_nothing_that_was_acknowledged(
    world: World, client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    key, content = uuid.uuid4(), noise()
    told_of(client, key, about(world, content))
    assert piece(client, key, 0, content[:1000]).status_code == 200

    def full(*_things: Any) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as changed:
        changed.setattr(arriving.os, "write", full)
        assert piece(client, key, 1000, content[1000:2000]).status_code == 503
    assert arrived_of(Photo.objects.get(pk=key)) == 1000
    assert sent(client, world, content, key=key)["state"] == "kept"


# what is not kept


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>', "This is no photo"),
        (b"\xff\xd8\xff\xe0<script>alert(1)</script>", "damaged or cut short"),
        (jpeg()[:400], "damaged or cut short"),
    ],
)
def test_what_is_no_photo_is_refused_with_what_would_be_right(
    world: World, client: Client, content: bytes, words: str
) -> None:
    told = sent(client, world, content)
    assert told["state"] == "refused"
    assert words in told["why"]
    key = uuid.UUID(told["id"])
    assert not list(path_of(key, "part").parent.glob(f"{key}*"))
    assert Event.objects.get(verb="photo refused").what == "plate operator.model"
    assert sent(client, world, content, key=key) == told  # it stays so
    assert client.get(f"/photos/{key}/").status_code == 404


def test_bytes_that_are_not_those_that_were_told_of_are_refused(world: World, client: Client) -> None:
    content = jpeg()
    told = sent(client, world, content, digest="a" * 64)
    assert told["state"] == "refused"
    assert "not those that were sent" in told["why"]
    assert not path_of(uuid.UUID(told["id"]), "part").exists()


def test_more_or_fewer_bytes_than_were_told_of_are_refused_and_what_is_there_stays(
    world: World, client: Client
) -> None:
    key, content = uuid.uuid4(), jpeg()
    told_of(client, key, about(world, content))
    assert piece(client, key, 0, content + b"x").status_code == 422
    assert piece(client, key, 0, b"").status_code == 422
    assert sent(client, world, content, key=key)["state"] == "kept"


def test_fifty_megabytes_are_refused_before_they_are_sent(world: World, client: Client) -> None:
    key = uuid.uuid4()
    answer = told_of(client, key, about(world, b"x", size=50_000_000))
    assert answer.status_code == 422
    assert f"{MOST_BYTES // 1_000_000} MB" in answer.json()["mistakes"][0]["message"]
    assert not Photo.objects.filter(pk=key).exists()
    told_of(client, key, about(world, jpeg()))
    answer = piece(client, key, 0, b"", CONTENT_LENGTH="50000000")
    assert answer.status_code == 413


def test_a_piece_of_more_than_a_megabyte_is_refused(world: World, client: Client) -> None:
    key = uuid.uuid4()
    told_of(client, key, about(world, b"x" * (PIECE + 2)))
    assert piece(client, key, 0, b"x" * (PIECE + 1)).status_code == 413
    assert piece(client, key, 0, b"x" * PIECE).json()["arrived"] == PIECE


def test_bytes_come_as_bytes_with_the_place_where_they_begin(world: World, client: Client) -> None:
    key = uuid.uuid4()
    told_of(client, key, about(world, jpeg()))
    assert piece(client, key, 0, b"{}", content_type="application/json").status_code == 415
    for offset in ("", "-1", "one", "1.5"):
        assert piece(client, key, 0, b"x", headers={"Upload-Offset": offset}).status_code == 422
    assert piece(client, key, 0, b"x", headers={}).status_code == 422
    assert arrived_of(Photo.objects.get(pk=key)) == 0


def test_a_photos_bytes_come_from_whoever_took_it(world: World, client: Client) -> None:
    key, content = uuid.uuid4(), jpeg()
    told_of(client, key, about(world, content))
    for who, status in (("owner", 403), ("reader", 403), ("stranger", 404)):
        assert piece(world.client(who), key, 0, content).status_code == status
    assert sent(client, world, content, key=key)["state"] == "kept"


def test_pieces_are_counted_apart_so_that_photos_hold_up_nothing_else(
    world: World, client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    key = uuid.uuid4()
    told_of(client, key, about(world, jpeg()))
    monkeypatch.setattr(limits, "PIECES", 3)
    assert PIECES > limits.SIGNED_IN
    statuses = [piece(client, key, 9, b"x").status_code for _ in range(4)]
    assert statuses == [409, 409, 409, 429]
    assert client.get(f"/api/photos/{key}").status_code == 200


@pytest.mark.slow
def test_of_two_who_send_one_photo_at_once_it_comes_whole(tmp_path: Path) -> None:
    """On a database of its own: one in memory, as other tests have, lets nobody wait."""
    env = {**os.environ, "SILLWRIGHT_TEST_DATA": str(tmp_path)}
    env["DJANGO_SETTINGS_MODULE"] = "tests.web.settings_for_tests"
    command = [sys.executable, "-m", "tests.web.photo_twins"]
    ran = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, timeout=120)
    assert ran.stdout, ran.stderr
    for found in json.loads(ran.stdout):
        assert found == {"states": ["kept", "kept"], "lines": 1, "parts": 0, "whole": True}
