"""A file of entries that a phone saved is handed over by whoever is signed in; each entry is judged alone."""

from __future__ import annotations

import base64
import hashlib
import json
import uuid
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from sillwright.web.records.models import Observation, Opening, Photo

from .conftest import World
from .pictures import camera_jpeg
from .taking import words

AT = "2026-03-04T10:15:00.000Z"


def entry(world: World, **more: Any) -> dict[str, Any]:
    """An observation as a phone saves it."""
    about = {"kind": "observation", "id": str(uuid.uuid4()), "site": str(world.site.pk), "at": AT}
    said = {"opening": str(world.opening.pk), "fact": "door.headroom", "says": "value", "typed": "1 ft 6 in"}
    return {**about, **said, "from": "measured", "replaces": [], **more}


def saved(world: World, *entries: Any, who: str = "technician", photos: Any = (), **more: Any) -> bytes:
    """A file of entries."""
    person = world.people[who]
    told = {"format": "sillwright-entries/1", "person": {"id": str(person.pk), "name": person.name}}
    return json.dumps(
        {**told, "device": "phone", "saved": AT, "entries": entries, "photos": list(photos), **more}
    ).encode()


def handed_over(world: World, content: bytes, who: str = "technician") -> Any:
    """The page that tells what became of a file."""
    file = SimpleUploadedFile("entries.json", content)
    return world.client(who).post("/here/take-in/", {"file": file})


def test_the_page_on_this_phone_opens_and_knows_nothing_of_anybody(world: World) -> None:
    response = world.client("reader").get("/here/")
    assert response.status_code == 200
    assert "On this phone" in words(response)


def test_what_a_phone_could_not_send_is_kept_once_however_often_it_is_handed_over(world: World) -> None:
    one = entry(world)
    for _ in range(2):
        response = handed_over(world, saved(world, one))
        assert "1 entry is kept." in words(response)
    kept = Observation.objects.get(pk=one["id"])
    assert (kept.typed, kept.author, kept.by) == ("1 ft 6 in", world.people["technician"], "")


def test_entries_of_somebody_else_are_kept_with_who_wrote_them(world: World) -> None:
    one, named = entry(world), entry(world, by="Sam at the gate")
    response = handed_over(world, saved(world, one, named), who="owner")
    assert "Written by Technician, on: phone" in words(response)
    assert Observation.objects.get(pk=one["id"]).author == world.people["owner"]
    assert Observation.objects.get(pk=one["id"]).by == "Technician"
    assert Observation.objects.get(pk=named["id"]).by == "Sam at the gate"


def test_a_wrong_entry_holds_up_no_other_and_is_named_with_its_reason(world: World) -> None:
    good, late = entry(world), entry(world, opening=str(uuid.uuid4()))
    bad = [entry(world, typed="x\x00"), entry(world, fact="no.such.fact"), "words", None, {"kind": "spell"}]
    response = handed_over(world, saved(world, *bad, late, good))
    said = words(response)
    assert "1 entry is kept." in said
    assert "the sign U+0000 cannot be kept" in said
    assert said.index("Not taken") < said.index("To hand over again later") < said.index("has not arrived")
    assert Observation.objects.filter(pk=good["id"]).exists()


def test_a_door_of_the_file_comes_before_what_is_written_of_it(world: World) -> None:
    door = str(uuid.uuid4())
    made = {"kind": "opening", "id": door, "site": str(world.site.pk), "tag": "B9", "at": AT}
    assert "2 entries are kept." in words(handed_over(world, saved(world, entry(world, opening=door), made)))
    assert Opening.objects.get(pk=door).facts.count() == 1


@pytest.mark.parametrize("who", ["reader", "stranger"])
def test_nobody_writes_by_a_file_what_they_may_not_write(world: World, who: str) -> None:
    one = entry(world)
    response = handed_over(world, saved(world, one), who=who)
    assert "0 entries are kept." in words(response)
    assert not Observation.objects.filter(pk=one["id"]).exists()


@pytest.mark.parametrize(
    "content",
    [
        b"", b"no json", b"[]", b"null", b'{"format": "other/1"}', b"\xff\xfe", b"[" * 100_000,
        b'{"format": "sillwright-entries/1"}', b'{"format": "sillwright-entries/1", "entries": {}, "photos": []}',
        b'{"format": "sillwright-entries/1", "entries": [], "photos": 3}',
    ],
)  # fmt: skip
def test_what_is_no_file_of_entries_is_told_apart(world: World, content: bytes) -> None:
    response = handed_over(world, content)
    assert response.status_code == 422
    assert 'role="alert"' in response.content.decode()


def test_without_a_file_the_page_asks_for_one(world: World) -> None:
    response = world.client("technician").post("/here/take-in/")
    assert response.status_code == 422
    assert "Choose a file of entries first" in words(response)


@pytest.mark.parametrize("name", ["person", "device", "saved"])
@pytest.mark.parametrize("value", [None, 3, [], {"name": ["x"]}, "x\x00<b>"])
def test_what_a_file_says_of_itself_may_be_anything(world: World, name: str, value: Any) -> None:
    one = entry(world)
    response = handed_over(world, saved(world, one, **{name: value}))
    assert "1 entry is kept." in words(response)
    assert "<b>" not in response.content.decode()


def photo(world: World, content: bytes, **more: Any) -> dict[str, Any]:
    """A photo as a phone saves it."""
    about = {
        "id": str(uuid.uuid4()), "opening": str(world.opening.pk), "site": str(world.site.pk), "taken": AT,
        "size": len(content), "digest": hashlib.sha256(content).hexdigest(), "words": "Left jamb", "at": AT,
    }  # fmt: skip
    return {"about": {**about, **more}, "bytes": base64.b64encode(content).decode()}


def test_photos_of_a_file_are_kept_with_their_bytes(world: World) -> None:
    one = photo(world, camera_jpeg())
    for _ in range(2):
        assert "1 photo is kept." in words(handed_over(world, saved(world, photos=[one])))
    kept = Photo.objects.get(pk=one["about"]["id"])
    assert (kept.state, kept.words, kept.opening) == ("kept", "Left jamb", world.opening)


def test_a_photo_that_is_none_is_named_and_holds_up_no_other(world: World) -> None:
    good = photo(world, camera_jpeg())
    bad = [
        photo(world, b"no picture"), photo(world, camera_jpeg(), size=3),
        photo(world, camera_jpeg(), digest="0" * 64),
        {**good, "bytes": "%%"}, {"about": 3}, None, photo(world, camera_jpeg(), opening=str(uuid.uuid4())),
    ]  # fmt: skip
    said = words(handed_over(world, saved(world, photos=[*bad, good])))
    assert "1 photo is kept." in said
    assert said.count("cannot be read") == 3
    assert "cut short" in said
    assert "This is no photo." in said
    assert "has not arrived" in said
    assert Photo.objects.filter(state="kept").count() == 1
