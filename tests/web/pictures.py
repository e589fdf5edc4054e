"""Pictures for tests: as phones and cameras write them, and such as somebody makes to trip a server."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from typing import Any

from PIL import Image, ImageDraw


def camera_jpeg(width: int = 400, height: int = 300, *, turn: int = 6, taken: str = "2026:05:04 09:10:11") -> bytes:
    """A JPEG with a red left half, turned by its EXIF, with a place and a time in it."""
    image: Any = Image.new("RGB", (width, height), "#2060c0")
    ImageDraw.Draw(image).rectangle((0, 0, width // 2, height), fill="#c02020")
    exif = Image.Exif()
    exif[0x0112] = turn
    exif.get_ifd(0x8769)[0x9003] = taken
    place = exif.get_ifd(0x8825)
    place[1], place[2] = "N", (47.0, 36.0, 22.0)
    place[3], place[4] = "W", (122.0, 20.0, 1.0)
    out = BytesIO()
    image.save(out, "JPEG", quality=90, exif=exif)
    return out.getvalue()


def grainy_jpeg(width: int, height: int) -> bytes:
    """A JPEG as large as that of a phone's camera: grain all over it."""
    grain: Any = Image.effect_noise((width // 2, height // 2), 60).convert("RGB").resize((width, height))
    out = BytesIO()
    grain.save(out, "JPEG", quality=90)
    return out.getvalue()


def png_claiming(width: int, height: int) -> bytes:
    """A few bytes of PNG that say they are a picture of this size."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", head)
        + _chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + _chunk(b"IEND", b"")
    )


def _chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
