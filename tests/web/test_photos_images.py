"""What is made of the bytes of a photo: upright pixels and nothing else, or a word for why they are none."""

from __future__ import annotations

import struct
from datetime import UTC, datetime, timedelta, timezone
from io import BytesIO

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some
from PIL import Image, ImageCms, PngImagePlugin

from sillwright.web.records.images import LONGEST, MOST_BYTES, SMALL, NotAPhoto, Picture, picture_of

from .photographs import (
    BLUE,
    CORNERS,
    GREEN,
    HEIC,
    RED,
    TURNED,
    YELLOW,
    as_file,
    changed,
    colours_of,
    door,
    exif,
    jpeg,
    noise,
    png_of,
)

OPPOSITE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
# Where the first row and the first column of the stored pixels are seen: Exif 2.32 (CIPA DC-008), 4.6.5.1.
SIDES = {
    1: ("top", "left"), 2: ("top", "right"), 3: ("bottom", "right"), 4: ("bottom", "left"),
    5: ("left", "top"), 6: ("right", "top"), 7: ("right", "bottom"), 8: ("left", "bottom"),
}  # fmt: skip


def why(content: bytes) -> str:
    """Why these bytes are no photo."""
    with pytest.raises(NotAPhoto) as caught:
        picture_of(content)
    return caught.value.why


def files() -> dict[str, bytes]:
    """The invented picture as each of the four kinds of files."""
    told = {kind: as_file(door(), kind) for kind in ("JPEG", "PNG", "WEBP")}
    return {**told, "HEIF": HEIC.read_bytes()}


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("orientation", SIDES)
def test_a_photo_stands_upright_whichever_way_the_camera_was_held(kind: str, orientation: int) -> None:
    row, column = SIDES[orientation]
    seen = {
        frozenset({row, column}): RED,
        frozenset({row, OPPOSITE[column]}): GREEN,
        frozenset({OPPOSITE[row], column}): BLUE,
        frozenset({OPPOSITE[row], OPPOSITE[column]}): YELLOW,
    }
    picture = picture_of(as_file(door(), kind, exif=exif(orientation)))
    for content in (picture.content, picture.small):
        assert colours_of(content) == {corner: seen[frozenset(corner)] for corner in CORNERS}
    assert (picture.width, picture.height) == ((64, 48) if orientation < 5 else (48, 64))
    assert not Image.open(BytesIO(picture.content)).getexif()


def test_a_heic_is_read_and_turned_as_it_says_itself() -> None:
    assert colours_of(picture_of(HEIC.read_bytes()).content) == CORNERS
    turned = picture_of(TURNED.read_bytes())
    assert (turned.width, turned.height) == (48, 64)
    assert colours_of(turned.content)[("top", "right")] == RED
    assert turned.taken == datetime(2026, 3, 4, 8, 20, 30, tzinfo=UTC)


def _with_everything() -> bytes:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    told = as_file(
        door(), "JPEG", exif=exif(1, "2026:03:04 10:20:30", place=True), icc_profile=profile, comment=b"SECRET-NOTE"
    )
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>SECRET-XMP</x:xmpmeta>"
    iptc = b"Photoshop 3.0\x008BIM\x04\x04\0\0\0\0\0\x0fSECRET-IPTC\0"
    more = b"".join(mark + struct.pack(">H", len(body) + 2) + body for mark, body in
                    ((b"\xff\xe1", xmp), (b"\xff\xed", iptc)))  # fmt: skip
    return told[:2] + more + told[2:] + b"SECRET-TAIL<script>alert(1)</script>"


def test_nothing_goes_on_but_the_pixels() -> None:
    given = _with_everything()
    assert given.count(b"SECRET") == 6
    picture = picture_of(given)
    for content in (picture.content, picture.small):
        for word in (b"SECRET", b"Exif", b"xmpmeta", b"8BIM", b"ICC_PROFILE", b"script"):
            assert word not in content
        assert _segments(content) <= {0xD8, 0xE0, 0xDB, 0xC0, 0xC4, 0xDA, 0xD9}
        assert content.endswith(b"\xff\xd9")


def _segments(content: bytes) -> set[int]:
    found, at = {content[1]}, 2
    while content[at + 1] != 0xDA:
        found.add(content[at + 1])
        at += 2 + int.from_bytes(content[at + 2 : at + 4])
    return found


def test_words_in_a_png_and_a_webp_stay_behind() -> None:
    words = PngImagePlugin.PngInfo()
    words.add_text("Comment", "SECRET")
    words.add_itxt("XML:com.adobe.xmp", "<x>SECRET</x>")
    for content in (as_file(door(), "PNG", pnginfo=words), as_file(door(), "WEBP", xmp=b"<x>SECRET</x>")):
        assert b"SECRET" in content
        assert b"SECRET" not in picture_of(content).content


@pytest.mark.parametrize(
    ("day", "offset", "taken"),
    [
        ("2026:03:04 10:20:30", "-05:00", datetime(2026, 3, 4, 10, 20, 30, tzinfo=timezone(timedelta(hours=-5)))),
        ("2026:03:04 10:20:30", "", datetime(2026, 3, 4, 10, 20, 30)),
        ("2026:03:04 10:20:30", "noon", datetime(2026, 3, 4, 10, 20, 30)),
        ("0000:00:00 00:00:00", "", None),
        ("yesterday", "+01:00", None),
        ("", "", None),
    ],
)
def test_the_time_that_the_camera_wrote_is_told(day: str, offset: str, taken: datetime | None) -> None:
    assert picture_of(jpeg(exif=exif(None, day, offset))).taken == taken


@pytest.mark.parametrize(
    ("form", "count", "value"),
    [
        (3, 1, b"\0\0\0\0"), (3, 1, b"\0\x09\0\0"), (3, 1, b"\xff\xff\0\0"), (3, 0, b"\0\x06\0\0"),
        (2, 2, b"6\0\0\0"), (11, 1, b"\x40\xc0\0\0"), (5, 1, b"\0\0\0\x08"), (3, 0xFFFFFFFF, b"\0\0\0\x08"),
        (99, 1, b"\0\x06\0\0"),
    ],
)  # fmt: skip
def test_an_orientation_that_is_none_turns_nothing(form: int, count: int, value: bytes) -> None:
    told = b"Exif\0\0MM\0*\0\0\0\x08" + struct.pack(">HHHI", 1, 0x0112, form, count) + value + b"\0\0\0\0"
    assert colours_of(picture_of(jpeg(exif=told)).content) == CORNERS


def test_the_same_bytes_make_the_same_photo() -> None:
    for content in files().values():
        assert picture_of(content) == picture_of(content)


def test_a_large_photo_is_made_smaller_and_a_small_one_is_left() -> None:
    picture = picture_of(as_file(door(5000, 1000), "JPEG"))
    assert (picture.width, picture.height) == (LONGEST, 819)
    small = Image.open(BytesIO(picture.small))
    assert max(small.size) == SMALL
    assert (picture_of(jpeg()).width, picture_of(jpeg()).height) == (64, 48)


# colours


def test_colours_are_taken_to_srgb_as_their_profile_means_them() -> None:
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = int.from_bytes(profile[128:132])
    names = {bytes(profile[132 + 12 * n : 136 + 12 * n]): 132 + 12 * n for n in range(count)}
    for name, other in ((b"rXYZ", b"bXYZ"), (b"bXYZ", b"rXYZ")):  # a profile in which red means blue
        profile[names[name] : names[name] + 4] = other
    content = as_file(Image.new("RGB", (40, 40), (250, 0, 0)), "PNG", icc_profile=bytes(profile))
    red, _green, blue = Image.open(BytesIO(picture_of(content).content)).getpixel((20, 20))  # type: ignore[misc]
    assert blue > 200 > 60 > red


def test_a_profile_that_is_none_changes_no_colour() -> None:
    for profile in (b"x", b"\0" * 200, bytes(range(256)) * 8):
        assert colours_of(picture_of(jpeg(icc_profile=profile)).content) == CORNERS


@pytest.mark.parametrize("mode", ["L", "LA", "P", "RGBA", "1", "I;16", "CMYK"])
def test_pictures_of_every_mode_are_kept_as_they_are_seen(mode: str) -> None:
    half = Image.new("L", (40, 20), 255)
    half.paste(0, (0, 0, 20, 20))
    if mode == "I;16":
        image = Image.new("I;16", (40, 20), 40_000)
        image.paste(0, (0, 0, 20, 20))
        wanted = 155
    else:
        image, wanted = half.convert("RGB").convert(mode), 255
    content = as_file(image, "JPEG" if mode == "CMYK" else "PNG")
    found = Image.open(BytesIO(picture_of(content).content)).convert("L")
    assert found.getpixel((5, 10)) < 12
    assert abs(found.getpixel((35, 10)) - wanted) < 12  # type: ignore[operator]


def test_what_is_clear_becomes_white() -> None:
    image = Image.new("RGBA", (40, 20), (0, 0, 0, 0))
    for kind in ("PNG", "WEBP"):
        found = Image.open(BytesIO(picture_of(as_file(image, kind)).content))
        assert found.getpixel((20, 10)) == (255, 255, 255)


def test_of_several_pictures_in_a_file_the_first_is_kept() -> None:
    other = Image.new("RGB", (64, 48), "white")
    for kind in ("PNG", "WEBP"):
        content = as_file(door(), kind, save_all=True, append_images=[other])
        assert colours_of(picture_of(content).content) == CORNERS


# what is no photo


NONE = {
    "nothing": b"",
    "words": b"a door",
    "a page": b"<!doctype html><script>alert(1)</script>",
    "a drawing": b'<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>',
    "a paper": b"%PDF-1.7\n",
    "an archive": b"PK\x03\x04" + b"\0" * 60,
    "a program": b"\x7fELF" + b"\0" * 60,
    "postscript": b"%!PS-Adobe-3.0 EPSF-3.0\n",
    "gif": as_file(door(), "GIF"),
    "bmp": as_file(door(), "BMP"),
    "tiff": as_file(door(), "TIFF"),
    "ico": as_file(door(), "ICO"),
    "avif": as_file(door(), "AVIF"),
    "jpeg 2000": as_file(door(), "JPEG2000"),
}


@pytest.mark.parametrize("name", NONE)
def test_what_is_no_photo_is_refused_whatever_it_is_called(name: str) -> None:
    assert why(NONE[name]) == "kind"


@pytest.mark.parametrize("tail", [b"<script>alert(1)</script>", b"#!/bin/sh\nexit", b"\0" * 4000, b"\xff\xd9"])
@pytest.mark.parametrize(
    "head", [b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"RIFF\x40\0\0\0WEBPVP8 ", b"\0\0\0\x18ftypheic\0\0\0\0"]
)
def test_a_script_behind_the_head_of_a_photo_is_refused(head: bytes, tail: bytes) -> None:
    assert why(head + tail) == "broken"


@pytest.mark.parametrize("tail", [b"<html><script>alert(1)</script>", b"PK\x03\x04SECRET.class PK\x05\x06"])
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_what_hangs_on_a_photo_is_cut_off(kind: str, tail: bytes) -> None:
    picture = picture_of(files()[kind] + tail)
    assert colours_of(picture.content) == CORNERS
    assert tail not in picture.content + picture.small


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_a_photo_that_is_cut_short_anywhere_is_refused(kind: str) -> None:
    whole = HEIC.read_bytes() if kind == "HEIF" else noise(kind, 64, 48)
    for twentieth in range(20):
        assert why(whole[: len(whole) * twentieth // 20]) in {"kind", "broken"}, twentieth


def test_too_many_bytes_are_not_looked_at() -> None:
    assert why(jpeg() + b"\0" * MOST_BYTES) == "large"


def _sized(content: bytes, mark: bytes, skip: int, form: str, *size: int) -> bytes:
    """A file that says another size of itself."""
    found = bytearray(content)
    at = found.find(mark)
    while at >= 0:
        struct.pack_into(form, found, at + skip, *size)
        at = found.find(mark, at + 1)
    return bytes(found)


BOMBS = {
    "a png of 3600 million": png_of(60_000, 60_000),
    "a png of 100 million": png_of(10_000, 10_000),
    "a jpeg of 4000 million": _sized(jpeg(), b"\xff\xc0", 5, ">HH", 65_000, 65_000),
    "a heic of 400 million": _sized(HEIC.read_bytes(), b"ispe", 8, ">II", 20_000, 20_000),
    "a webp of 256 million": b"RIFF\x2a\0\0\0WEBPVP8L\x1d\0\0\0\x2f"
    + struct.pack("<I", 16382 | 16382 << 14)
    + b"\0" * 24,
}


@pytest.mark.parametrize("name", BOMBS)
def test_more_pixels_than_a_camera_has_are_refused_before_they_are_unpacked(name: str) -> None:
    assert why(BOMBS[name]) == "pixels"


# bytes by chance: what a HEIF is made of is left to a process of its own (test_photos_apart)


def _picture_or_not(content: bytes) -> None:
    try:
        found = picture_of(content)
    except NotAPhoto:
        return
    assert isinstance(found, Picture)
    assert found.content[:3] == found.small[:3] == b"\xff\xd8\xff"


HEADS = (b"", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\xff\0\0\0WEBP")
CHANGES = some.lists(some.tuples(some.floats(0, 1), some.binary(min_size=1, max_size=6)), min_size=1)
BY_CHANCE = settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@BY_CHANCE
@given(some.sampled_from(HEADS), some.binary(max_size=600))
def test_bytes_by_chance_are_a_photo_or_are_refused(head: bytes, rest: bytes) -> None:
    _picture_or_not(head + rest)


@BY_CHANCE
@given(some.sampled_from(["JPEG", "PNG", "WEBP"]), CHANGES)
def test_a_photo_with_bytes_changed_by_chance_is_a_photo_or_is_refused(
    kind: str, changes: list[tuple[float, bytes]]
) -> None:
    _picture_or_not(changed(files()[kind], changes))


@BY_CHANCE
@given(CHANGES)
def test_what_a_camera_writes_changed_by_chance_never_costs_the_photo(changes: list[tuple[float, bytes]]) -> None:
    told = exif(6, "2026:03:04 10:20:30", "+02:00", place=True).tobytes()
    picture = picture_of(jpeg(exif=told[:6] + changed(told[6:], changes)))
    assert {picture.width, picture.height} == {64, 48}
