"""What suppliers write, turned into what we call it: headings, lengths, ends, words and values of parts."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.errors import QuantityError
from sillwright.base.quantity import is_decimal_feet, parse
from sillwright.base.scale import SIXTEENTH

_ROUND_OFF = 1e-9
_MOST_METRES = 200.0
_UNIT_IN_HEADING = re.compile(r"^(.*?)[\s,]*[(\[]\s*([^)\]]{1,12}?)\s*[)\]]$")
_NUMBER = re.compile(r"\d+(?:\.\d+)?|\.\d+", re.ASCII)
_IN_BRACKETS = re.compile(r"[(\[]([^)\]]*)[)\]]")
_TURNED = re.compile(r"\b(no|not|without|never|except|instead|non)\b")
_FROM_OUTSIDE = re.compile(r"\b(?:(?<!looking )(?:outside|exterior|street)|looking in(?:side|wards?)?)\b")
_FROM_INSIDE = re.compile(r"\b(?:(?<!looking )(?:inside|interior)|looking out(?:side|wards?)?)\b")
_SPELT = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_COUNT = re.compile(
    r"(?:qty\.?\s*)?(\d{1,4})\s*(?:x|pcs?\.?|pieces?|ea\.?|each|off|nos?\.?|-?\s*wires?|-?\s*conductors?)?"
)
_OHMS = re.compile(r"(\d+(?:\.\d+)?)\s*(k|m)?\s*(?:ohms?|ω|r)?")
_K_AS_POINT = re.compile(r"(\d+)k(\d+)")
LONGEST_HEADING = 60
_NEVER_NOTHING = {"length", "body", "sensing", "channel_length"}
NOTHING = {"none", "no", "n/a", "na", "-", "–", "—", "nil", "without"}


@dataclass(frozen=True)
class Read:
    """A value as it was read; ``value`` None says *none there*. ``word`` is what a length was said to mean."""

    value: Any
    typed: str
    doubtful: bool = False  # can be read two ways
    word: str | None = None


class NotRead(ValueError):
    """A text that cannot be read as what its heading says."""


@cache
def headings() -> dict[str, str]:
    """Our name of a column by every heading that suppliers give it."""
    table = data.table("sillwright.takeoff.ordering", "ordering")["headings"]
    return {name: key for key, names in table.items() for name in [*names, key.replace("_", " ")]}


def heading(text: str) -> tuple[str, str] | None:
    """What a heading calls, and the unit that it names; None where it is not known.

    >>> heading("Overall Body Length (in)"), heading("colour")
    (('body', 'in'), None)
    """
    if len(text) > LONGEST_HEADING:
        return None
    match = _UNIT_IN_HEADING.match(text.strip())
    name, unit = (match[1], match[2]) if match else (text, "")
    key = headings().get(_plain(name))
    return (key, unit) if key else None


def _plain(text: str) -> str:
    return " ".join(re.sub(r"[_\-./:]+", " ", text.casefold()).split())


def read_value(key: str, text: str, unit: str = "") -> Read:
    """A cell under one of our names. Raises :class:`NotRead` where it says something else.

    >>> read_value("wires", "4-wire").value, read_value("end", "right (from outside)").value
    (4, 'left')
    """
    typed = " ".join(text.split())
    readers: dict[str, Callable[[str, str], Read]] = {
        "quantity": _count,
        "pieces": _count,
        "wires": _count,
        "end": _end,
        "end_element": _ohms,
        "tag": _as_typed,
        "number": _as_typed,
        "profile": _name,
        "channel": _name,
    }
    if key in {"word", "exit", "fin", "circuit", "ship"}:
        return Read(_choice(key, typed), typed)
    found = readers.get(key, _length)(typed, unit)
    if key in _NEVER_NOTHING and found.value == 0:
        raise NotRead(text)
    return found


def _as_typed(text: str, unit: str) -> Read:
    return Read(text, text)


def _name(text: str, unit: str) -> Read:
    return Read(None if text.casefold() in NOTHING else text, text)


def _count(text: str, unit: str) -> Read:
    plain = text.casefold()
    for word, number in _SPELT.items():
        plain = re.sub(rf"^{word}\b", str(number), plain)
    match = _COUNT.fullmatch(plain.strip())
    if match is None:
        raise NotRead(text)
    return Read(int(match[1]), text)


def _ohms(text: str, unit: str) -> Read:
    if text.casefold() in NOTHING:
        return Read(None, text)
    plain = _K_AS_POINT.sub(r"\1.\2k", text.casefold().replace("Ω".casefold(), "ω"))
    match = _OHMS.fullmatch(plain if not unit or not _NUMBER.fullmatch(plain) else f"{plain} {unit.casefold()}")
    if match is None:
        raise NotRead(text)
    return Read(float(match[1]) * {"k": 1e3, "m": 1e6, None: 1.0}[match[2]], text)


def _end(text: str, unit: str) -> Read:
    """The end inside looking out; said from outside it is mirrored, said from both sides it is not read."""
    plain = f"{text} {unit}".casefold()
    sides = set(re.findall(r"\b(left|right|both|universal|lh|rh|l|r)\b", plain))
    names = {"l": "left", "lh": "left", "r": "right", "rh": "right", "universal": "both"}
    found = {names.get(each, each) for each in sides}
    outside, inside = bool(_FROM_OUTSIDE.search(plain)), bool(_FROM_INSIDE.search(plain))
    if len(found) != 1 or (outside and inside and found != {"both"}) or _TURNED.search(plain):
        raise NotRead(text)
    (side,) = found
    return Read({"left": "right", "right": "left"}.get(side, side) if outside else side, text)


def _choice(key: str, text: str) -> str:
    """The one word of a list that a text says, whole; a text that turns it round is not read."""
    plain = _plain(text)
    words = data.table("sillwright.takeoff.ordering", "ordering")["words"][key]
    for value, names in words.items():
        if plain in {*names, value.replace("_", " ")}:
            return str(value)
    said = {value for value, names in words.items() if any(re.search(rf"\b{name}\b", plain) for name in names)}
    if len(said) != 1 or _TURNED.search(plain):
        raise NotRead(text)
    return str(said.pop())


def _length(text: str, unit: str) -> Read:
    """A length, said once or twice in two units, with or without the word that says what it means."""
    if text.casefold() in NOTHING:
        return Read(None, text)
    bare, word = _without_word(text)
    parts = [_IN_BRACKETS.sub(" ", bare), *_IN_BRACKETS.findall(bare)]
    found = [(part, metres) for part in parts if (metres := _metres(part.strip(), unit)) is not None]
    if not found or max(m for _, m in found) - min(m for _, m in found) > SIXTEENTH + _ROUND_OFF:
        raise NotRead(text)
    doubtful = any(is_decimal_feet(_with(part, unit)) for part, _ in found) and len(found) == 1
    return Read(found[0][1], text, doubtful, word)


def _without_word(text: str) -> tuple[str, str | None]:
    words = data.table("sillwright.takeoff.ordering", "ordering")["words"]["word"]
    for value, names in words.items():
        for name in sorted(names, key=len, reverse=True):
            shorter, count = re.subn(rf"\b{name}\b", " ", text, flags=re.IGNORECASE)
            if count:
                return " ".join(shorter.split()).strip(" ,:"), str(value)
    return text, None


def _metres(text: str, unit: str) -> float | None:
    try:
        metres = parse(_with(text, unit), "m")
    except QuantityError:
        return None
    return metres if 0 <= metres <= _MOST_METRES else None


def _with(text: str, unit: str) -> str:
    plain = text.strip()
    return f"{plain} {unit}" if unit and re.fullmatch(r"[\d.\s/-]+", plain, re.ASCII) else plain
