"""A photo as a file: who sees it, how it is served, and that a backup has it."""

from __future__ import annotations

import shutil
import uuid
from io import BytesIO
from pathlib import Path

import pytest
from django.test import Client
from PIL import Image

from sillwright.web.records.arriving import path_of
from sillwright.web.records.images import SMALL

from .api_callers import photo_of
from .backups import Kept, parts_of, restored, rows
from .commands import sillwright
from .conftest import World
from .photographs import as_file, door
from .test_photos_sending import sent


@pytest.fixture
def key(world: World) -> uuid.UUID:
    """A photo that is kept."""
    content = as_file(door(900, 600), "JPEG")
    return uuid.UUID(sent(world.client("technician"), world, content)["id"])


def test_a_photo_is_shown_large_and_small_to_whoever_may_read(world: World, key: uuid.UUID) -> None:
    for who in ("owner", "reader", "friend"):
        large, small = (world.client(who).get(f"/photos/{key}/{more}") for more in ("", "?small"))
        assert (large.status_code, small.status_code) == (200, 200)
        assert Image.open(BytesIO(large.content)).size == (900, 600)
        assert max(Image.open(BytesIO(small.content)).size) == SMALL
    assert world.client("stranger").get(f"/photos/{key}/").status_code == 404
    assert Client().get(f"/photos/{key}/").status_code == 302


@pytest.mark.parametrize("more", ["", "?small"])
def test_a_photo_is_an_image_that_can_do_nothing_and_stays_in_this_browser(
    world: World, key: uuid.UUID, more: str
) -> None:
    answer = world.client("reader").get(f"/photos/{key}/{more}")
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"] == "default-src 'none'; style-src 'unsafe-inline'; sandbox"
    assert answer["Cache-Control"] == "private, max-age=604800, immutable"
    assert "Cookie" in answer["Vary"]
    assert answer["Content-Disposition"].startswith("inline; filename=")
    assert answer["Content-Disposition"].endswith(f'-plate-{str(key)[:8]}.jpg"')
    assert answer["Cross-Origin-Resource-Policy"] == "same-origin"


def test_a_door_of_any_name_gives_a_plain_file_name(world: World, key: uuid.UUID) -> None:
    opening = world.opening
    opening.tag = 'Tür "7"\r\nSet-Cookie: a=b 門'
    opening.save()
    answer = world.client("reader").get(f"/photos/{key}/")
    assert answer["Content-Disposition"] == f'inline; filename="tur-7-set-cookie-a-b-plate-{str(key)[:8]}.jpg"'


@pytest.mark.parametrize("state", ["coming", "refused"])
def test_a_photo_that_is_not_kept_is_not_there(world: World, state: str) -> None:
    photo = photo_of(world.opening, world.people["technician"], state=state)
    assert world.client("owner").get(f"/photos/{photo.pk}/").status_code == 404


def test_a_photo_whose_file_is_gone_is_said(world: World, key: uuid.UUID) -> None:
    path_of(key, "small.jpg").unlink()
    assert world.client("owner").get(f"/photos/{key}/").status_code == 200
    answer = world.client("owner").get(f"/photos/{key}/?small")
    assert answer.status_code == 410
    assert "Take the photo again" in answer.content.decode()


def test_nobody_else_on_the_machine_reads_a_photo(world: World, key: uuid.UUID) -> None:
    for ending in ("jpg", "small.jpg"):
        assert path_of(key, ending).stat().st_mode & 0o077 == 0


# a backup


def _photos(names: object) -> list[str]:
    return sorted(name for name in names if str(name).startswith("files/photos/"))  # type: ignore[attr-defined]


def test_a_backup_has_every_kept_photo_large_and_small(kept: Kept) -> None:
    known = {each["id"]: each["state"] for each in rows(kept.parts["data/records.photo.jsonl"])}
    assert sorted(known.values()) == ["coming", "kept"]
    (key,) = (key for key, state in known.items() if state == "kept")
    assert _photos(kept.parts) == [f"files/photos/{key[:2]}/{key}.{ending}" for ending in ("jpg", "small.jpg")]
    assert list((kept.data / "files" / "photos").rglob("*.part"))  # that of a photo on its way is left out


@pytest.mark.slow
def test_photos_are_there_again_after_a_restore_and_one_on_its_way_begins_anew(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    assert restored(kept.file, data) == ""
    for name in _photos(kept.parts):
        assert (data / name).read_bytes() == kept.parts[name] == (kept.data / name).read_bytes()
    assert not list(data.rglob("*.part"))


@pytest.mark.slow
def test_a_photo_whose_file_is_gone_is_said_and_the_rest_is_backed_up(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    shutil.copytree(kept.data, data)
    for path in (data / "files/photos").rglob("*.jpg"):
        path.unlink()
    done = sillwright("backup", tmp_path / "doors.tar", data=data)
    assert (done.returncode, _photos(parts_of(tmp_path / "doors.tar"))) == (0, [])
    assert "1 papers or photos have no file" in done.stderr
    assert "0 photos" in done.stdout
    assert restored(tmp_path / "doors.tar", tmp_path / "again") == ""
