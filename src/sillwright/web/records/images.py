"""What is made of the bytes of a photo: pixels and nothing else, or a word for why they are no photo.

Nothing of the file goes on but its pixels: they are turned upright, taken to sRGB, laid on white, written anew.
Where it was taken, with what, by whom, and whatever hangs on its end stays behind; the time is read beforehand.
"""

from __future__ import annotations

import struct
import warnings
import zlib
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any, Literal, TypeVar

import pi_heif  # type: ignore[import-untyped]
from PIL import Image, ImageCms

MOST_BYTES = 16_000_000
MOST_PIXELS = 70_000_000  # the largest phones take 64 million
LONGEST = 4096  # pixels of the longer side; what is larger is made smaller
SMALL = 320
QUALITY, SMALL_QUALITY = 85, 80

Why = Literal["large", "kind", "pixels", "broken", "heavy"]
T = TypeVar("T")


class NotAPhoto(Exception):
    """Bytes that cannot be kept as a photo; ``why`` says it in a word."""

    def __init__(self, why: Why) -> None:
        super().__init__(why)
        self.why: Why = why


@dataclass(frozen=True)
class Picture:
    """A photo as it is kept: two JPEG files, and the time that the camera wrote into it."""

    content: bytes
    small: bytes
    width: int
    height: int
    taken: datetime | None = None  # without a zone where the camera wrote none


_HEIF = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"hevm", b"hevs", b"mif1", b"msf1")
# What libraries raise over bytes that somebody made to trip them. A fault of ours is none of these on sound bytes.
_ODD = (
    OSError, ValueError, LookupError, ArithmeticError, SyntaxError, TypeError, AttributeError, RuntimeError,
    AssertionError, EOFError, struct.error, zlib.error, ImageCms.PyCMSError,
)  # fmt: skip


def kind_of(content: bytes) -> str:
    """Which of the four kinds of files these bytes begin as. Raises :class:`NotAPhoto` for all else."""
    if content[:3] == b"\xff\xd8\xff":
        return "JPEG"
    if content[:8] == b"\x89PNG\r\n\x1a\n":
        return "PNG"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "WEBP"
    if content[4:8] == b"ftyp" and content[8:12] in _HEIF:
        return "HEIF"
    raise NotAPhoto("kind")


def picture_of(content: bytes) -> Picture:
    """The photo in these bytes, upright; of several pictures in one file the first. The same bytes give the same.

    Raises :class:`NotAPhoto`.
    """
    if len(content) > MOST_BYTES:
        raise NotAPhoto("large")
    kind = kind_of(content)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            return _made(_opened(content, kind), kind)
        except Image.DecompressionBombError:
            raise NotAPhoto("pixels") from None
        except MemoryError:
            raise NotAPhoto("heavy") from None
        except _ODD:
            raise NotAPhoto("broken") from None


def _opened(content: bytes, kind: str) -> Any:
    """The picture, not larger than can be kept; its size is looked at before any pixel is."""
    if kind == "HEIF":
        pi_heif.options.DECODE_THREADS = 1
        found = pi_heif.open_heif(content)
        _check(found.size)
        image = found.to_pillow()
        _check(image.size)  # a file may say one size of itself and hold another one
    else:
        image = Image.open(BytesIO(content), formats=(kind,))
        _check(image.size)
    image.thumbnail((LONGEST, LONGEST), Image.Resampling.LANCZOS)  # a JPEG is not even unpacked in full
    image.load()
    return image


def _check(size: tuple[int, int]) -> None:
    if size[0] * size[1] > MOST_PIXELS:
        raise NotAPhoto("pixels")


def _made(image: Any, kind: str) -> Picture:
    exif = _or_none(image.getexif)
    upright = _plain(image)
    turn = None if kind == "HEIF" else _turn(exif)  # a HEIF was turned when it was unpacked
    if turn is not None:
        upright = upright.transpose(turn)
    small = upright.copy()
    small.thumbnail((SMALL, SMALL), Image.Resampling.LANCZOS)
    return Picture(
        content=_jpeg(upright, QUALITY),
        small=_jpeg(small, SMALL_QUALITY),
        width=upright.width,
        height=upright.height,
        taken=_or_none(lambda: _time(exif)),
    )


def _jpeg(image: Any, quality: int) -> bytes:
    out = BytesIO()
    image.save(out, "JPEG", quality=quality)
    return out.getvalue()


def _or_none(read: Callable[[], T]) -> T | None:
    """What is read out of what a file says of itself; None where it is made to trip its reader."""
    with suppress(*_ODD):
        return read()
    return None


# pixels


def _plain(image: Any) -> Any:
    """The pixels as sRGB on white, with nothing attached."""
    profile = image.info.get("icc_profile")
    if image.mode.startswith("I;16") or image.mode == "I":
        image = image.point(lambda value: value / 257).convert("L")
    if image.mode in {"P", "PA", "LA", "La", "RGBa"} or "transparency" in image.info:
        image = image.convert("RGBA")
    if image.mode == "RGBA":
        white = Image.new("RGB", image.size, "white")
        white.paste(image, mask=image.getchannel("A"))
        image = white
    plain = _in_srgb(image, profile) if profile else image
    plain = plain.convert("RGB")
    plain.info = {}
    return plain


def _in_srgb(image: Any, profile: bytes) -> Any:
    """The colours as they were meant; as they are, where the profile cannot be used."""
    with suppress(*_ODD):
        meant = ImageCms.ImageCmsProfile(BytesIO(profile))
        return ImageCms.profileToProfile(image, meant, ImageCms.createProfile("sRGB"), outputMode="RGB")
    return image


# what a camera writes beside them

_ORIENTATION, _DETAILS, _ORIGINAL, _OFFSET = 0x0112, 0x8769, 0x9003, 0x9011
_FORM = "%Y:%m:%d %H:%M:%S"
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def _turn(exif: Any) -> Any:
    said = _or_none(lambda: exif.get(_ORIENTATION))
    return _TURNS.get(said) if isinstance(said, int) else None


def _time(exif: Any) -> datetime | None:
    told = exif.get_ifd(_DETAILS)
    day, offset = (str(told.get(name, "")).strip("\0 ") for name in (_ORIGINAL, _OFFSET))
    if not day:
        return None
    plain = datetime.strptime(day, _FORM)
    try:
        return datetime.strptime(f"{day} {offset}", f"{_FORM} %z") if offset else plain
    except ValueError:
        return plain
