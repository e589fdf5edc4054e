"""Text with a unit in, SI floats inside, both unit systems out.

Lengths in feet, inches and fractions are read exactly (as fractions, then once to a float) and are read
back to the nearest sixteenth of an inch. Every other conversion comes from a general units library; the
units met every day stand in ``data/units.toml``, written from that library, so that it is only loaded
for a rare one.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import isfinite

from sillwright.base import data
from sillwright.base.errors import QuantityError
from sillwright.base.scale import FOOT, INCH, Scale
from sillwright.base.words import N_, Phrase, say

EXAMPLES: dict[str, str] = {
    "m": '"10 ft 6 in", "10\' 6-1/2\\"", "3.71 m"',
    "m/s": '"8 in/s", "0.2 m/s"',
    "m/s^2": '"2 m/s^2"',
    "kg": '"310 kg", "680 lb"',
    "N": '"700 N", "157 lbf"',
    "N/m": '"500 N/mm", "25e3 N/m"',
    "N s/m": '"150 N s/m"',
    "s": '"80 ms", "0.5 s"',
    "K": '"5 degF", "-31 degC", "300 K"',
    "ohm": '"10 kohm", "500 ohm"',
    "J": '"4 J"',
    "A": '"30 mA", "0.5 A"',
    "A h": '"1200 mAh", "1.2 A h"',
    "Hz": '"915 MHz", "2.4 GHz"',
    "dB": '"15 dB"',
    "dBm": '"-97 dBm"',
    "1": say(N_("a plain number")),
}

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?"
_UNIT = r"[A-Za-zµμΩ°]+(?:\^-?[1-4]|[²³])?"
WITH_UNIT = re.compile(rf"({_NUMBER})\s*({_UNIT}(?:\s?[*/· ]\s?{_UNIT}){{0,4}}|%)", re.ASCII)
LEVELS = ("dB", "dBm")  # twice the number is not twice the quantity: nothing else turns into one
LONGEST = 60  # signs of a quantity; no honest one is longer
BARE = re.compile(rf"{_NUMBER}|[+-]?\d+[ -]\d+/\d+|[+-]?\d+/\d+", re.ASCII)

_WHOLE_OR_FRACTION = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d+\.\d*|\.\d+|\d+)"
_FEET = r"(?:ft|feet|foot|')"
_INCHES = r'(?:inches|inch|in|")'
FEET_INCHES = re.compile(
    rf"(?P<sign>[+-]?)(?:(?P<feet>{_WHOLE_OR_FRACTION})\s*{_FEET}\.?)?"
    rf"[\s-]*(?:(?P<inches>{_WHOLE_OR_FRACTION})\s*{_INCHES}\.?)?",
    re.IGNORECASE | re.ASCII,
)
SIGNS = str.maketrans({"′": "'", "’": "'", "″": '"', "”": '"', "“": '"', "−": "-", "–": "-", "\u00a0": " "})
VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}


def parse(text: str, unit: str) -> float:
    """The SI value of a text with a unit.

    Parameters: ``text`` as typed, ``unit`` the SI unit wanted (``"m"``, ``"m/s"``, ``"ohm"`` …).
    Returns the value in that unit. Raises :class:`QuantityError` where the unit is missing, unknown or of
    another dimension, and where the number is not finite.

    >>> parse("10' 6-1/2\\"", "m")
    3.2131
    >>> round(parse("-31 degF", "K"), 3)
    238.15
    >>> parse("10 kohm", "ohm")
    10000.0

    Source: exact definition of the inch (25.4 mm, international yard and pound agreement of 1959).
    """
    if len(text) > LONGEST:
        raise QuantityError(say(N_("too long for a quantity")), accepted(unit))
    plain = _tidy(text)
    if unit == "m" and (length := _feet_and_inches(plain)) is not None:
        return _finite(float(length), text, unit)
    if BARE.fullmatch(plain):
        if unit == "1":
            return _finite(float(_fraction(plain) if "/" in plain else float(plain)), text, unit)
        raise QuantityError(say(N_("a number in quotes has no unit")), accepted(unit))
    if re.search(r"\d,\d", plain):
        said = say(N_("a comma in a number can be read two ways"))
        raise QuantityError(said, say(N_("write a decimal point, no separators")))
    match = WITH_UNIT.fullmatch(plain)
    if not match:
        raise QuantityError(say(N_("not a quantity")), accepted(unit))
    if unit in LEVELS and match[2] == unit:
        return _finite(float(match[1]), text, unit)
    scale = _scale(match[2])
    if scale is None:
        raise QuantityError(say(N_("unknown unit “{unit}”"), unit=match[2]), accepted(unit))
    wanted = _scale(unit)
    if wanted is None or scale.dimension != wanted.dimension:
        said = say(N_("“{unit}” does not measure what is asked here"), unit=match[2])
        raise QuantityError(said, accepted(unit))
    return _finite((float(match[1]) * scale.factor + scale.offset) / wanted.factor, text, unit)


def accepted(unit: str) -> Phrase:
    """What would be accepted where ``unit`` is asked for, as the end of a message.

    >>> accepted("m/s")
    'write for example "8 in/s", "0.2 m/s"'
    """
    examples = EXAMPLES.get(unit) or say(N_("a number with a unit like {unit}"), unit=unit)
    return say(N_("write for example {examples}"), examples=examples)


def is_decimal_feet(text: str) -> bool:
    """Whether a length was typed as feet with a decimal point, which can be read two ways.

    >>> is_decimal_feet("10.6 ft"), is_decimal_feet("10 ft 6 in"), is_decimal_feet("10.0 ft")
    (True, False, True)
    """
    match = _matched(text)
    return bool(match and match["feet"] and "." in match["feet"])


def inches_after_the_point(text: str) -> Fraction | None:
    """The other reading of decimal feet: the digits after the point taken as inches, in metres.

    >>> float(inches_after_the_point("10.6 ft") / FOOT)
    10.5
    >>> inches_after_the_point("10.75 ft") is None
    True
    """
    match = _matched(text)
    if not match or not match["feet"] or "." not in match["feet"]:
        return None
    feet, inches = match["feet"].split(".")
    if not inches or int(inches) > 11:
        return None
    return int(feet or "0") * FOOT + int(inches) * INCH


def _tidy(text: str) -> str:
    plain = text.translate(SIGNS).strip().replace("''", '"')  # two single marks are inches
    for sign, words in VULGAR.items():
        plain = re.sub(rf"(?<=\d)\s?{sign}", f" {words}", plain).replace(sign, words)
    return plain


def _matched(text: str) -> re.Match[str] | None:
    return FEET_INCHES.fullmatch(_tidy(text)) if len(text) <= LONGEST else None


def _feet_and_inches(plain: str) -> Fraction | None:
    match = FEET_INCHES.fullmatch(plain)
    if not match or (match["feet"] is None and match["inches"] is None):
        return None
    feet, inches = (_fraction(match[part]) for part in ("feet", "inches"))
    if any(_is_run_together(match[part]) for part in ("feet", "inches")):
        said = say(N_("a fraction of one or more can be read two ways"))
        raise QuantityError(said, say(N_("write for example {examples}"), examples='"1-1/2 in"'))
    if match["feet"] is not None and match["inches"] is not None:
        if inches >= 12:
            said = say(N_("12 inches or more after feet"))
            raise QuantityError(said, say(N_("write them as feet, or inches alone")))
        if feet.denominator != 1:
            said = say(N_("part of a foot and inches together"))
            raise QuantityError(said, say(N_("write for example {examples}"), examples='"10 ft 6 in"'))
    length = feet * FOOT + inches * INCH
    return -length if match["sign"] == "-" else length


def _fraction(text: str | None) -> Fraction:
    if text is None:
        return Fraction(0)
    sign = -1 if text.startswith("-") else 1
    whole, _, part = text.lstrip("+-").replace("-", " ").rpartition(" ")
    if "/" in part and int(part.split("/")[1]) == 0:
        said = say(N_("a fraction with nothing below the line"))
        raise QuantityError(said, say(N_("write for example {examples}"), examples='"6-1/2 in"'))
    return sign * (Fraction(whole or 0) + Fraction(part))


def _is_run_together(text: str | None) -> bool:
    """Whether a fraction may be a whole number and a fraction run together: ``11/2`` for ``1 1/2``."""
    above, slash, below = (text or "").rpartition("/")
    return bool(slash) and int(re.split("[ +-]", above)[-1]) >= int(below)


def _finite(value: float, text: str, unit: str) -> float:
    if not isfinite(value):
        raise QuantityError(say(N_("“{text}” is not a finite number"), text=text), accepted(unit))
    return value


def _scale(symbol: str) -> Scale | None:
    row = data.table("sillwright.base", "units")["unit"].get(symbol)
    if row is not None:
        return Scale(row["factor"], row.get("offset", 0.0), tuple(row["dimension"]))
    from sillwright.base.rare_units import scale_of  # the units library is heavy: loaded for a rare unit only

    return scale_of(symbol)
