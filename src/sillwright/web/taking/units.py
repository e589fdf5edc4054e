"""What somebody typed, read back in both systems of units before it is kept."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base.display import feet_and_inches, rounded, show
from sillwright.base.errors import Mistake, UnknownName
from sillwright.base.quantity import inches_after_the_point, is_decimal_feet, parse
from sillwright.base.scale import SIXTEENTH
from sillwright.base.words import Reader, Units, retold
from sillwright.survey.questions import mistake_in, spec_at

KEYS: dict[str, dict[Units, tuple[str, ...]]] = {
    "m/s": {"us": ("in/s", "ft/s", "m/s"), "metric": ("m/s", "mm/s", "in/s")},
    "m/s^2": {"us": ("ft/s²", "m/s²"), "metric": ("m/s²", "ft/s²")},
    "kg": {"us": ("lb", "kg"), "metric": ("kg", "lb")},
    "s": {"us": ("s", "ms"), "metric": ("s", "ms")},
    "K": {"us": ("°F", "°C"), "metric": ("°C", "°F")},
    "ohm": {"us": ("ohm", "kohm", "Mohm"), "metric": ("ohm", "kohm", "Mohm")},
    "N": {"us": ("lbf", "N"), "metric": ("N", "lbf")},
}
"""Units that are written by one key, the reader's own first. Lengths have a pad of their own."""

_TYPED: dict[str, dict[Units, tuple[str, float, float]]] = {  # unit, factor to SI, offset
    "m/s": {"us": ("in/s", 0.0254, 0.0), "metric": ("m/s", 1.0, 0.0)},
    "m/s^2": {"us": ("ft/s^2", 0.3048, 0.0), "metric": ("m/s^2", 1.0, 0.0)},
    "kg": {"us": ("lb", 0.45359237, 0.0), "metric": ("kg", 1.0, 0.0)},
    "K": {"us": ("°F", 5 / 9, 459.67), "metric": ("°C", 1.0, 273.15)},
    "N": {"us": ("lbf", 4.4482216152605, 0.0), "metric": ("N", 1.0, 0.0)},
}
LONGEST = 200  # of what is read back while somebody types


@dataclass(frozen=True, kw_only=True)
class ReadBack:
    """What a text comes to. ``us`` and ``metric`` are the same value as one would type it."""

    words_us: str = ""
    words_metric: str = ""
    us: str = ""
    metric: str = ""
    mistake: str = ""
    doubtful: str = ""


def read_back(path: str, typed: str, reader: Reader) -> ReadBack:
    """What a typed answer to the fact at a path comes to, or what is wrong with it.

    Raises :class:`UnknownName` where there is no such fact.
    """
    spec, words = spec_at(path), typed.strip()[:LONGEST]
    if not words:
        return ReadBack()
    if wrong := mistake_words(path, words, reader):
        return ReadBack(mistake=wrong)
    if spec.kind != "quantity":
        return ReadBack()
    value = parse(words, spec.unit)
    return ReadBack(
        words_us=show(value, spec.unit, "us"),
        words_metric=show(value, spec.unit, "metric"),
        us=typed_as(value, spec.unit, "us"),
        metric=typed_as(value, spec.unit, "metric"),
        doubtful=doubt_in(words) if spec.unit == "m" else "",
    )


def mistake_words(path: str, typed: str, reader: Reader) -> str:
    """What is wrong with an answer and what would be right; empty where it can be used."""
    found = mistake_in(path, typed)
    if found is None:
        return ""
    bare = spec_at(path).kind == "quantity" and typed.strip().replace(".", "", 1).isdigit()
    return in_short(found, reader, _("a number without its unit") if bare else "")


def in_short(found: Mistake, reader: Reader, said: str = "") -> str:
    """A mistake in one line: what is wrong, and what would be right."""
    words = said or retold(found.message, reader)
    accepted = accepted_in(found, reader)
    return f"{words}; {accepted}" if accepted else words


def accepted_in(found: Mistake, reader: Reader) -> str:
    """What would be right on a page: yes or no, and the range of a quantity in the reader's units."""
    try:
        spec = spec_at(found.path)
    except UnknownName:
        return retold(found.accepted, reader)
    if spec.kind == "flag":
        return _("write yes or no")
    low, high = spec.limits.at_least, spec.limits.at_most
    if spec.kind != "quantity" or low is None or high is None or found.accepted != spec.limits.accepted(spec.unit):
        return retold(found.accepted, reader)
    ends = {"low": show(low, spec.unit, reader.units), "high": show(high, spec.unit, reader.units)}
    return _("at least %(low)s and at most %(high)s is accepted") % ends


def doubt_in(typed: str) -> str:
    """How feet with a decimal point can be read; empty where a text can be read one way only."""
    if not is_decimal_feet(typed):
        return ""
    ways = " / ".join(ways_to_read(typed))
    return _("Feet with a decimal point can be read two ways: %(ways)s. Write feet and inches.") % {"ways": ways}


def ways_to_read(typed: str) -> tuple[str, ...]:
    """Feet with a decimal point, read both ways in feet and inches.

    >>> ways_to_read("10.6 ft")
    ('10 ft 6 in', '10 ft 7-3/16 in')
    """
    if not is_decimal_feet(typed):
        return ()
    inches = inches_after_the_point(typed)
    ways = [feet_and_inches(float(inches))] if inches is not None else []
    return tuple(dict.fromkeys((*ways, feet_and_inches(parse(typed, "m")))))


def typed_as(value: float, unit: str, units: Units) -> str:
    """A value as one would type it in a system of units; reading it again gives what is shown.

    >>> typed_as(3.2131, "m", "us"), typed_as(3.2131, "m", "metric"), typed_as(600.0, "kg", "us")
    ('10 ft 6-1/2 in', '3.213 m', '1320 lb')
    """
    if unit == "m":
        below = units == "us" and abs(value) < SIXTEENTH / 2
        return show(value, unit, "metric" if below else units).replace(",", "")
    name, factor, offset = _TYPED.get(unit, {}).get(units, (unit, 1.0, 0.0))
    number = value / factor - offset
    digits = 4 if unit == "K" else 3
    return f"{rounded(number, digits).replace(',', '')} {name}"
