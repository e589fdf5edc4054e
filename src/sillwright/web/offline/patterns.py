"""Patterns of this program as a script writes them, so that both read the same texts."""

from __future__ import annotations

import re

SPACE = r"\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000"
"""What counts as white space in a text; a script's own idea of it differs."""

_ASCII = {"s": r"\t-\r\x20", "w": "A-Za-z0-9_", "d": "0-9"}
_ANY = {"s": SPACE, "w": r"\p{L}\p{N}_", "d": r"\p{Nd}"}
_EDGE = "(?:(?<=[{w}])(?![{w}])|(?<![{w}])(?=[{w}]))"
"""The edge of a word as our own patterns have it; a script's own goes by the letters a to z alone."""


def as_script(pattern: re.Pattern[str]) -> tuple[str, str]:
    """A pattern's source and flags for a script.

    >>> as_script(re.compile(r"(?P<day>\\d+)\\s?[\\w-]", re.ASCII))
    ('(?<day>[0-9]+)[\\\\t-\\\\r\\\\x20]?[A-Za-z0-9_-]', '')
    """
    classes = _ASCII if pattern.flags & re.ASCII else _ANY
    edge = _EDGE.replace("{w}", classes["w"])
    source, inside, at = "", False, 0
    text = pattern.pattern.replace("(?P<", "(?<")
    while at < len(text):
        sign = text[at : at + 2] if text[at] == "\\" else text[at]
        inside = sign == "[" or (inside and sign != "]")
        known = classes.get(sign[1:]) if len(sign) == 2 else None
        if sign in {r"\b", "."} and not inside:
            source += edge if sign == r"\b" else r"[^\n]"
        else:
            source += sign if known is None else known if inside else f"[{known}]"
        at += len(sign)
    flags = ("i" if pattern.flags & re.IGNORECASE else "") + ("" if pattern.flags & re.ASCII else "u")
    return source, flags
