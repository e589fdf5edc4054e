"""Photos as tests make them: invented doors of four colours, so that it is seen which way up they are."""

from __future__ import annotations

import hashlib
import struct
import zlib
from io import BytesIO
from pathlib import Path
from typing import Any

from PIL import Image

# door.heic and door-turned.heic hold the same invented picture, 64 × 48. They were written by heif-enc of Debian's
# libheif-examples from a JPEG that says “orientation 6”, which a HEIF does not heed; the second one carries a
# quarter turn of its own (an irot box, added by hand), which it does.
HEIC = Path(__file__).parent / "data" / "door.heic"
TURNED = Path(__file__).parent / "data" / "door-turned.heic"

RED, GREEN, BLUE, YELLOW = (200, 30, 30), (30, 160, 30), (30, 30, 200), (220, 220, 40)
CORNERS = {("top", "left"): RED, ("top", "right"): GREEN, ("bottom", "left"): BLUE, ("bottom", "right"): YELLOW}


def door(width: int = 64, height: int = 48, mode: str = "RGB") -> Any:
    """The invented picture: red and green above blue and yellow."""
    image = Image.new("RGB", (width, height))
    for (upper, side), colour in CORNERS.items():
        x, y = (0 if side == "left" else width // 2), (0 if upper == "top" else height // 2)
        image.paste(colour, (x, y, x + width // 2, y + height // 2))
    return image.convert(mode)


def as_file(image: Any, kind: str, **more: Any) -> bytes:
    """A picture as a file that loses little."""
    little = {"JPEG": {"quality": 95, "subsampling": 0}, "WEBP": {"lossless": True}}.get(kind, {})
    out = BytesIO()
    image.save(out, kind, **{**little, **more})
    return out.getvalue()


def jpeg(**more: Any) -> bytes:
    """The invented picture as a JPEG."""
    return as_file(door(), "JPEG", **more)


def noise(kind: str = "JPEG", width: int = 400, height: int = 300) -> bytes:
    """A picture of many bytes, always the same."""
    seen = hashlib.shake_256(b"a door").digest(width * height * 3)
    return as_file(Image.frombytes("RGB", (width, height), seen), kind)


def colours_of(content: bytes) -> dict[tuple[str, str], tuple[int, ...]]:
    """Which of the four colours stands in which corner."""
    image = Image.open(BytesIO(content)).convert("RGB")
    places = {"left": 4, "right": image.width - 5, "top": 4, "bottom": image.height - 5}
    return {each: _nearest(image.getpixel((places[each[1]], places[each[0]]))) for each in CORNERS}


def _nearest(pixel: Any) -> tuple[int, ...]:
    return min(CORNERS.values(), key=lambda each: sum(abs(a - b) for a, b in zip(each, pixel, strict=True)))


def exif(orientation: Any = None, day: str = "", offset: str = "", place: bool = False) -> Any:
    """What a camera writes beside the pixels."""
    made = Image.Exif()
    if orientation is not None:
        made[0x0112] = orientation
    told = made.get_ifd(0x8769)
    if day:
        told[0x9003] = day
    if offset:
        told[0x9011] = offset
    if place:
        made[0x010F] = "SECRET-MAKER"
        made.get_ifd(0x8825).update({1: "N", 2: (12.0, 34.0, 56.0), 3: "E", 4: (1.0, 2.0, 3.0)})
        told[0x9286] = b"ASCII\0\0\0SECRET-COMMENT"
    return made


def changed(content: bytes, changes: list[tuple[float, bytes]]) -> bytes:
    """Some bytes with pieces of others in them, at shares of their length."""
    made = bytearray(content)
    for share, piece in changes:
        at = int(share * (len(made) - len(piece)))
        made[at : at + len(piece)] = piece
    return bytes(made)


def png_of(width: int, height: int, *chunks: tuple[bytes, bytes], pixels: bytes = b"\0" * 64) -> bytes:
    """A PNG that says a size of itself, whatever it holds."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = [(b"IHDR", head), *chunks, (b"IDAT", zlib.compress(pixels, 9)), (b"IEND", b"")]
    told = (struct.pack(">I", len(b)) + a + b + struct.pack(">I", zlib.crc32(a + b)) for a, b in parts)
    return b"\x89PNG\r\n\x1a\n" + b"".join(told)
