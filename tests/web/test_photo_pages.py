"""The pages of photos without a script: shots in their order, one photo alone, pins, and who may do what."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from sillwright.base.words import Reader
from sillwright.web.photos.listed import photos_of
from sillwright.web.photos.pins import pin_map
from sillwright.web.photos.shots import SHOTS
from sillwright.web.records.answers import study_of
from sillwright.web.records.log import place_of
from sillwright.web.records.models import Opening, Photo

from .conftest import World
from .pictures import camera_jpeg

US, METRIC = Reader(units="us", country="US"), Reader(units="metric", country="US")


def photo_of(opening: Opening, author: Any, shot: str = "inside", **more: Any) -> Photo:
    """A photo that the server has."""
    about = {"site": opening.site, "opening": opening, "author": author, "shot": shot, "state": "kept"}
    told = {"taken": timezone.now(), "size": 3, "digest": "0" * 64, "width": 400, "height": 300, **about, **more}
    return Photo.objects.create(**told)


def _sent(world: World, who: str = "technician", content: bytes | None = None, **fields: str) -> Any:
    file = SimpleUploadedFile("x.jpg", camera_jpeg() if content is None else content, "image/jpeg")
    address = f"/openings/{world.opening.pk}/photos/"
    return world.client(who).post(address, {"key": str(uuid.uuid4()), "file": file, **fields})


def _page(world: World, who: str = "technician", more: str = "") -> str:
    response = world.client(who).get(f"/openings/{world.opening.pk}/photos/{more}")
    assert response.status_code == 200
    return str(response.content.decode())


def test_every_shot_is_evidence_of_a_fact_that_there_is() -> None:
    assert all(place_of(each.fact) == "fact" for each in SHOTS)
    assert len({each.name for each in SHOTS}) == len(SHOTS) == 8


def test_the_shots_stand_in_their_order_and_none_is_taken_yet(world: World) -> None:
    text = _page(world)
    places = [text.index(f'data-shot="{each.name}"') for each in SHOTS]
    assert places == sorted(places)
    assert "0 of 8 shots are taken." in text
    assert 'capture="environment"' in text


def test_a_photo_comes_by_a_plain_form_and_stands_at_its_shot(world: World) -> None:
    response = _sent(world, shot="plate")
    assert (response.status_code, response["Location"].rpartition("#")[2]) == (302, "shot-plate")
    kept = Photo.objects.get()
    assert (kept.shot, kept.fact, kept.place) == ("plate", "operator.model", "operator")
    assert (kept.state, kept.width, kept.height) == ("kept", 300, 400)  # upright
    assert kept.author == world.people["technician"]
    text = _page(world)
    assert "1 of 8 shots are taken." in text
    assert f"/photos/{kept.pk}/?small" in text


def test_the_same_form_sent_twice_brings_one_photo(world: World) -> None:
    key = str(uuid.uuid4())
    assert _sent(world, key=key, shot="floor").status_code == 302
    assert _sent(world, key=key, shot="floor").status_code == 302
    assert Photo.objects.count() == 1


def test_another_photo_is_evidence_of_what_somebody_says(world: World) -> None:
    assert _sent(world, fact="box.side").status_code == 302
    assert (Photo.objects.get().shot, Photo.objects.get().fact) == ("", "box.side")


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"These are words.", "This is no photo"), (camera_jpeg()[:2000], "damaged or cut short")],
)
def test_what_is_no_photo_is_told_so(world: World, content: bytes, words: str) -> None:
    response = _sent(world, content=content, shot="inside")
    assert response.status_code == 422
    assert words in response.content.decode()
    assert "0 of 8 shots are taken." in response.content.decode()


def test_a_form_without_a_file_is_told_so(world: World) -> None:
    response = world.client("technician").post(f"/openings/{world.opening.pk}/photos/", {"shot": "inside"})
    assert response.status_code == 422
    assert "Choose a photo first." in response.content.decode()


def test_who_may_only_read_sees_photos_and_takes_none(world: World) -> None:
    photo_of(world.opening, world.people["owner"])
    for who in ("reader", "friend"):
        text = _page(world, who)
        assert "?small" in text
        assert 'type="file"' not in text
        assert _sent(world, who, shot="plate").status_code == 403
    assert _sent(world, "stranger", shot="plate").status_code == 404
    assert Photo.objects.count() == 1


def test_an_earlier_photo_of_the_shot_stays_and_the_newest_comes_first(world: World) -> None:
    first, second = (photo_of(world.opening, world.people["owner"]) for _ in range(2))
    text = _page(world)
    assert text.index(f'data-photo="{second.pk}"') < text.index(f'data-photo="{first.pk}"')


def test_a_marked_copy_alone_does_not_take_the_shot(world: World) -> None:
    other = photo_of(world.opening, world.people["owner"], shot="")
    photo_of(world.opening, world.people["owner"], shot="plate", copy_of=other)
    assert "0 of 8 shots are taken." in _page(world)


def test_a_refused_photo_is_not_shown(world: World) -> None:
    gone = photo_of(world.opening, world.people["owner"], state="refused")
    assert str(gone.pk) not in _page(world)
    address = f"/openings/{world.opening.pk}/photos/{gone.pk}/"
    assert world.client("technician").get(address).status_code == 404


def test_a_photo_alone_says_who_when_and_what_it_shows(world: World) -> None:
    photo = photo_of(world.opening, world.people["owner"], "plate", fact="operator.model", words="Plate, cleaned")
    text = _page(world, more=f"{photo.pk}/")
    assert "Shows: class of the operator" in text
    assert "by Owner" in text
    assert "Plate, cleaned" in text
    assert 'width="400" height="300"' in text


def test_a_photo_of_another_opening_is_not_found_here(world: World) -> None:
    other = world.site.openings.exclude(pk=world.opening.pk).first()
    assert other is not None
    photo = photo_of(other, world.people["owner"])
    assert world.client("owner").get(f"/openings/{world.opening.pk}/photos/{photo.pk}/").status_code == 404


def test_a_photo_is_tied_to_another_fact_and_shows_on_its_card(world: World) -> None:
    photo = photo_of(world.opening, world.people["owner"])
    address = f"/openings/{world.opening.pk}/photos/{photo.pk}/"
    client = world.client("technician")
    assert client.post(address, {"fact": "box.side", "words": "Box"}).status_code == 302
    photo.refresh_from_db()
    assert (photo.fact, photo.words) == ("box.side", "Box")
    card = client.get(f"/openings/{world.opening.pk}/facts/box.side/").content.decode()
    assert f"/photos/{photo.pk}/?small" in card
    other = client.get(f"/openings/{world.opening.pk}/facts/box.height/").content.decode()
    assert f"/photos/{photo.pk}/?small" not in other


def test_what_is_no_fact_is_refused_and_what_was_typed_stays(world: World) -> None:
    photo = photo_of(world.opening, world.people["owner"])
    address = f"/openings/{world.opening.pk}/photos/{photo.pk}/"
    response = world.client("technician").post(address, {"fact": "no.such", "words": "Left corner"})
    assert response.status_code == 422
    assert 'value="Left corner"' in response.content.decode()
    photo.refresh_from_db()
    assert photo.words == ""


def test_marks_of_a_copy_stand_in_words(world: World) -> None:
    photo = photo_of(world.opening, world.people["owner"])
    marks = [{"kind": "measure", "typed": "10 ft 4 in"}, {"kind": "words", "words": "Crack"}, {"kind": "ring"}]
    copy = photo_of(world.opening, world.people["owner"], copy_of=photo, marks=marks)
    text = _page(world, more=f"{copy.pk}/")
    assert "Length: 10 ft 4 in, typed, not measured from the picture" in text
    assert "Words: Crack" in text
    assert f"/photos/{photo.pk}/" in text
    assert str(copy.pk) in _page(world, more=f"{photo.pk}/")


def _pins(opening: Opening, reader: Reader) -> Any:
    about = study_of(opening).facts.rebuilt.survey.openings[0]
    return pin_map(about, reader, photos_of(opening, reader))


def test_a_pin_stands_where_it_was_put_in_both_units(world: World) -> None:
    gate = world.site.openings.get(tag="G1")  # whose drawing is higher in metres, for its labels
    photo_of(gate, world.people["owner"], x=0.5, y=0.5)
    for reader in (US, METRIC):
        found = _pins(gate, reader)
        pin, frame = found.pins[0], found.frame
        assert (pin.x, pin.y) == pytest.approx((frame.x, frame.y))
        assert found.drawn.count('class="pin"') == 1


def test_a_photo_without_a_pin_stands_at_the_place_of_its_shot_the_newest_alone(world: World) -> None:
    for shot, place in (("inside", "leaf"), ("inside", "leaf"), ("plate", "operator"), ("board", "operator")):
        photo_of(world.opening, world.people["owner"], shot, place=place)
    pins = _pins(world.opening, US).pins
    assert [each.number for each in pins] == [2, 3, 4]
    assert pins[1].y == pins[2].y
    assert pins[1].x != pins[2].x  # beside each other, both legible


def test_the_study_page_leads_to_the_photos_with_their_number(world: World) -> None:
    client = world.client("technician")
    address = f"/openings/{world.opening.pk}/"
    assert "Photos</a>" in client.get(address).content.decode()
    photo_of(world.opening, world.people["owner"])
    assert "Photos (1)</a>" in client.get(address).content.decode()
