"""What text may come in: any writing, but nothing that a database or a paper cannot hold."""

from __future__ import annotations

import re
from unicodedata import category, normalize

_NOT_KEPT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")

_UNSEEN = re.compile(r"[\u00ad\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff]")
_BLANK = {"\u115f", "\u1160", "\u2800", "\u3164", "\uffa0"}  # letters and symbols by their class, without a stroke
_UNDRAWN = {"Cc", "Cf", "Mn", "Me", "Zs", "Zl", "Zp"}


def as_seen(name: str) -> str:
    """A name as an eye reads it: spaces in order, without signs that turn its direction or show nothing.

    Two names that look alike are one, and a name turns no sentence round that it stands in.

    A name of which nothing at all is seen is empty.

    >>> as_seen(" Bay\u200b  1"), as_seen("\u202egate"), as_seen("e\u0301") == "\xe9", as_seen("\u3164\u200d")
    ('Bay 1', 'gate', True, '')
    """
    seen = " ".join(_UNSEEN.sub("", normalize("NFC", name)).split())
    return seen if seen.isascii() or any(map(_shows, seen)) else ""


def _shows(sign: str) -> bool:
    return sign not in _BLANK and category(sign) not in _UNDRAWN


def unkept(text: str) -> str:
    """The first sign that cannot be kept, as its number in words; empty where all can.

    >>> unkept("10 ft"), unkept("10\\x00")
    ('', 'U+0000')
    """
    found = _NOT_KEPT.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""
