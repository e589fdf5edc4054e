"""What people typed, as far as the papers' own letters can print it.

A tagged PDF is refused as a whole where one character has no letter in any font, and direction marks turn print
round. So every text passes here on its way to paper.
"""

from __future__ import annotations

import unicodedata
from functools import cache

from sillwright.base.data import text

REPLACEMENT = "\u25a1"
"""Stands for a character that the papers have no letter for."""
_DROPPED = {"Cc", "Cf", "Cs", "Co", "Cn"}
_SPACES = set("\n\r\t\v\f\x85\u2028\u2029")
ZERO_WIDTH_SPACE = "\u200b"


@cache
def letters() -> frozenset[int]:
    """The code points for which a shipped font has a letter; a test holds this list to the fonts."""
    found: set[int] = set()
    for part in text("sillwright.paper", "characters.txt").split():
        first, _, last = part.partition("-")
        found.update(range(int(first, 16), int(last or first, 16) + 1))
    return frozenset(found)


def legible(words: str) -> str:
    """A text as it can be printed: one line, no control or direction marks, signs without a letter replaced.

    >>> legible("Bay\\u202e 2\\n\\x00north"), legible("\\u5927 door")
    ('Bay 2 north', '\u25a1 door')
    """
    if words.isascii() and words.isprintable():
        return words
    return "".join(_printed(sign) for sign in unicodedata.normalize("NFC", words))


def _printed(sign: str) -> str:
    if sign in _SPACES or unicodedata.category(sign) in {"Zs", "Zl", "Zp"}:
        return " " if sign != "\u00a0" else sign
    if unicodedata.category(sign) in _DROPPED:
        return "" if unicodedata.category(sign) in {"Cc", "Cf"} else REPLACEMENT
    return sign if ord(sign) in letters() else REPLACEMENT


def breakable(words: str, longest: int = 24, every: int = 6) -> str:
    """A text in which a longer run without a space may be broken, so that no page cuts it off.

    >>> breakable("short words"), len(breakable("x" * 60))
    ('short words', 69)
    """
    if len(words) <= longest:
        return words
    return " ".join(_broken(run, longest, every) for run in words.split(" "))


def _broken(run: str, longest: int, every: int) -> str:
    if len(run) <= longest:
        return run
    return ZERO_WIDTH_SPACE.join(run[at : at + every] for at in range(0, len(run), every))
