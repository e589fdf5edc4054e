"""What is said of a photo: what it shows, where its pin stands, what was drawn on a copy; and who may say it."""

from __future__ import annotations

import json
import uuid
from typing import Any

import pytest
from django.core.cache import caches
from django.test import Client

from sillwright.web.records import photos
from sillwright.web.records.models import Event, Observation, Photo
from sillwright.web.records.photos import CHANGED, photo_in

from .api_callers import photo_of
from .conftest import World
from .photographs import jpeg
from .test_photos_sending import about, sent, told_of

MARK = {"kind": "line", "x1": 0.1, "y1": 0.2, "x2": 0.3, "y2": 1}


@pytest.fixture
def client(world: World) -> Client:
    """The technician's phone."""
    caches["near"].clear()
    return world.client("technician")


def refused(answer: Any) -> str:
    """Why something was not taken."""
    assert answer.status_code == 422, answer.content
    (mistake,) = answer.json()["mistakes"]
    return f"{mistake['path']} {mistake['message']} {mistake['accepted']}"


def changed(client: Client, photo: Photo, **changes: Any) -> Any:
    """Say otherwise of a photo."""
    return client.patch(f"/api/photos/{photo.pk}", json.dumps(changes), content_type="application/json")


def test_a_photo_told_of_twice_is_one(world: World, client: Client) -> None:
    key, told = uuid.uuid4(), about(world, jpeg())
    answers = [told_of(client, key, {**told, "id": str(key)}).json() for _ in range(3)]
    assert answers == [{"id": str(key), "state": "coming", "arrived": 0, "why": ""}] * 3
    assert Photo.objects.filter(opening=world.opening).count() == 1


def test_the_id_of_a_photo_is_nobody_elses(world: World, client: Client) -> None:
    key, told = uuid.uuid4(), about(world, jpeg())
    told_of(client, key, told)
    other = world.site.openings.order_by("position")[1]
    for changes in ({"digest": "b" * 64}, {"size": 7}, {"opening": str(other.pk)}):
        assert "Another photo has this id" in refused(told_of(client, key, {**told, **changes}))
    assert "Another photo has this id" in refused(told_of(world.client("owner"), key, told))
    assert told_of(client, key, {**told, "words": "said again"}).status_code == 200


def test_a_photo_of_a_door_that_has_not_arrived_is_told_of_later(world: World, client: Client) -> None:
    assert told_of(client, uuid.uuid4(), about(world, jpeg(), opening=str(uuid.uuid4()))).status_code == 404
    assert told_of(client, uuid.uuid4(), about(world, jpeg(), copy_of=str(uuid.uuid4()))).status_code == 404


@pytest.mark.parametrize(("who", "status"), [("reader", 403), ("friend", 403), ("stranger", 404)])
def test_only_whoever_may_write_of_a_door_adds_photos(world: World, who: str, status: int) -> None:
    caches["near"].clear()
    assert told_of(world.client(who), uuid.uuid4(), about(world, jpeg())).status_code == status
    assert not Photo.objects.exists()


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"shot": "roof"}, "inside, bottom_left, bottom_right, plate"),
        ({"fact": "colour"}, "no fact"),
        ({"fact": "door.kind\0"}, "U+0000"),
        ({"x": 0.5}, "x and y"),
        ({"y": 0.5}, "x and y"),
        ({"x": 1.5, "y": 0.5}, "at most 1"),
        ({"x": -0.1, "y": 0.5}, "at least 0"),
        ({"size": 0}, "16 MB"),
        ({"size": 16_000_001}, "16 MB"),
        ({"size": -5}, "16 MB"),
        ({"digest": "A" * 64}, "64 digits"),
        ({"digest": "../../etc"}, "64 digits"),
        ({"words": "x" * 1001}, "1000 signs"),
        ({"words": "\ud800"}, "U+D800"),
        ({"place": "x" * 61}, "60 signs"),
        ({"device": "x" * 101}, "100 signs"),
        ({"taken": "noon"}, "a time such as"),
        ({"marks": [MARK]}, "drawn on a copy"),
        ({"colour": "red"}, "not known here"),
    ],
)
def test_what_cannot_be_kept_of_a_photo_is_named_with_what_would_be_right(
    world: World, client: Client, wrong: dict[str, Any], words: str
) -> None:
    assert words in refused(told_of(client, uuid.uuid4(), about(world, jpeg(), **wrong)))
    assert not Photo.objects.exists()


@pytest.mark.parametrize("taken", ["9999-12-31T23:59:59Z", "2999-01-01T00:00:00+14:00"])
def test_a_clock_that_runs_ahead_is_set_to_ours(world: World, client: Client, taken: str) -> None:
    key = uuid.uuid4()
    assert told_of(client, key, about(world, jpeg(), taken=taken)).status_code == 200
    photo = Photo.objects.get(pk=key)
    assert abs((photo.taken - photo.received).total_seconds()) < 60 or photo.taken.year == 1970


def test_an_opening_holds_so_many_photos_and_refused_ones_do_not_count(
    world: World, client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photos, "MOST", 2)
    photo_of(world.opening, world.people["technician"], state="refused")
    for _ in range(2):
        assert told_of(client, uuid.uuid4(), about(world, jpeg())).status_code == 200
    assert "at most 2 photos" in refused(told_of(client, uuid.uuid4(), about(world, jpeg())))
    other = world.site.openings.order_by("position")[1]
    assert told_of(client, uuid.uuid4(), about(world, jpeg(), opening=str(other.pk))).status_code == 200


# marked copies


@pytest.fixture
def original(world: World) -> Photo:
    """A photo that marks can be drawn on."""
    return photo_of(world.opening, world.people["technician"])


def test_marks_are_kept_on_a_copy_as_they_were_drawn(world: World, client: Client, original: Photo) -> None:
    marks = [
        MARK,
        {**MARK, "kind": "ring"},
        {**MARK, "kind": "arrow"},
        {**MARK, "kind": "words", "words": "<b>frayed</b> 門"},
        {**MARK, "kind": "measure", "typed": "4 1/2 in"},
    ]
    key = uuid.uuid4()
    answer = told_of(client, key, about(world, jpeg(), copy_of=str(original.pk), marks=marks))
    assert answer.status_code == 200
    assert client.get(f"/api/photos/{key}").json()["marks"] == marks
    assert Photo.objects.get(pk=key).copy_of == original


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ([MARK] * 201, "at most 200"),
        ([MARK, {**MARK, "kind": "skull"}], "Mark 2: “kind” is one of line"),
        ([{**MARK, "kind": None}], "Mark 1"),
        ([None], "Mark 1"),
        (["line"], "Mark 1"),
        ([[MARK]], "Mark 1"),
        ([{**MARK, "x1": 1.01}], "from 0 to 1"),
        ([{**MARK, "x1": "0.5"}], "from 0 to 1"),
        ([{**MARK, "x1": True}], "from 0 to 1"),
        ([{**MARK, "x1": None}], "from 0 to 1"),
        ([{"kind": "line", "x1": 0, "y1": 0, "x2": 0}], "from 0 to 1"),
        ([{**MARK, "x1": 10**400}], "from 0 to 1"),
        ([{**MARK, "colour": "red"}], "no mark says"),
        ([{**MARK, "words": "x" * 201}], "at most 200 signs"),
        ([{**MARK, "typed": "x" * 61}], "at most 60 signs"),
        ([{**MARK, "words": "\0"}], "“words” is text"),
        ([{**MARK, "words": {"a": 1}}], "“words” is text"),
    ],
)
def test_a_mark_that_cannot_be_drawn_is_named(
    world: World, client: Client, original: Photo, marks: list[Any], words: str
) -> None:
    told = about(world, jpeg(), copy_of=str(original.pk), marks=marks)
    assert words in refused(told_of(client, uuid.uuid4(), told))


def test_a_copy_is_of_a_photo_of_the_same_door(world: World, client: Client, original: Photo) -> None:
    other = world.site.openings.order_by("position")[1]
    told = about(world, jpeg(), copy_of=str(original.pk), opening=str(other.pk))
    assert "same opening" in refused(told_of(client, uuid.uuid4(), told))


# said otherwise later


def test_what_a_photo_shows_is_said_otherwise_with_a_line_in_the_trail(
    world: World, client: Client, original: Photo
) -> None:
    said = {
        "shot": "board",
        "fact": "operator.board_made",
        "place": "operator",
        "x": 0.25,
        "y": 0.75,
        "words": "Open",
    }
    answer = changed(client, original, **said)
    assert {name: answer.json()[name] for name in CHANGED} == said
    event = Event.objects.get(verb="photo changed")
    assert (event.who, event.opening) == (world.people["technician"], world.opening)
    assert event.before != event.after
    assert changed(client, original, **said).status_code == 200  # the same again changes nothing
    assert changed(client, original, words="").json()["words"] == ""
    moved = changed(client, original, x=None, y=None).json()
    assert (moved["x"], moved["y"], moved["shot"]) == (None, None, "board")
    assert Event.objects.filter(verb="photo changed").count() == 3


def test_another_writer_may_say_otherwise_and_a_reader_may_not(world: World, original: Photo) -> None:
    for who, status in (("owner", 200), ("reader", 403), ("friend", 403), ("stranger", 404)):
        caches["near"].clear()
        assert changed(world.client(who), original, words="Cable frayed").status_code == status


@pytest.mark.parametrize(
    "changes",
    [{"shot": "roof"}, {"fact": "colour"}, {"x": 0.5}, {"x": 2, "y": 0}, {"state": "kept"}, {"digest": "0"}],
)
def test_a_change_that_cannot_be_leaves_all_as_it_was(
    world: World, client: Client, original: Photo, changes: dict[str, Any]
) -> None:
    assert refused(changed(client, original, **changes))
    again = Photo.objects.get(pk=original.pk)
    assert {name: getattr(again, name) for name in CHANGED} == {name: getattr(original, name) for name in CHANGED}
    assert not Event.objects.filter(verb="photo changed").exists()


# a photo as evidence, and in lists


def test_a_photo_is_evidence_where_an_observation_names_it(world: World, client: Client) -> None:
    before = Observation.objects.count()
    told = sent(client, world, jpeg(), fact="operator.model")
    assert Observation.objects.count() == before  # a photo alone changes no fact
    assert photo_in(f"photo {told['id']}") == uuid.UUID(told["id"])
    for words in (
        "",
        "photo",
        "photo of the plate",
        f"Photo {told['id']}",
        f"photo {told['id']} ",
        "photo " + "0" * 32,
    ):
        assert photo_in(words) is None


def test_the_photos_of_a_door_come_in_pages_in_the_order_in_which_they_came(world: World, client: Client) -> None:
    made = [str(photo_of(world.opening, world.people["technician"]).pk) for _ in range(5)]
    photo_of(world.site.openings.order_by("position")[1], world.people["technician"])
    address, seen = f"/api/openings/{world.opening.pk}/photos?limit=2", list[str]()
    while address:
        page = client.get(address).json()
        seen += [each["id"] for each in page["items"]]
        address = page["next"]
    assert seen == made


def test_markup_in_words_of_a_photo_is_only_ever_text(world: World, client: Client) -> None:
    key, words = uuid.uuid4(), "<script>alert(1)</script>&amp;\"'"
    told_of(client, key, about(world, jpeg(), words=words, device=words[:100], place=words[:60]))
    answer = client.get(f"/api/photos/{key}")
    assert answer.json()["words"] == words
    assert answer["Content-Type"].startswith("application/json")
    assert answer["X-Content-Type-Options"] == "nosniff"
