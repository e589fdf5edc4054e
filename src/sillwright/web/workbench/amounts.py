"""Numbers and their ranges in the reader's units: under a field, beside it, along the axis of a chart."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from sillwright.base import quantity
from sillwright.base.errors import QuantityError
from sillwright.base.model import Limits
from sillwright.base.words import Amount, Reader, in_words

ASKED = {
    "m": ("in", "mm"),
    "m/s": ("in/s", "m/s"),
    "m/s^2": ("ft/s²", "m/s²"),
    "kg": ("lb", "kg"),
    "N": ("lbf", "N"),
    "N/m": ("lbf/in", "N/mm"),
    "s": ("ms", "s"),
    "K": ("degF", "degC"),
}
"""The units that are offered where one is missing."""

INCH, FOOT, POUND, POUND_FORCE = 0.0254, 0.3048, 0.45359237, 4.4482216152605


@dataclass(frozen=True)
class Scale:
    """The unit that an axis is written in, what one of it is in SI, and where its zero lies there."""

    unit: str
    factor: float
    zero: float = 0.0


AXES = {
    "m": (Scale("in", INCH), Scale("mm", 1e-3)),
    "m/s": (Scale("in/s", INCH), Scale("m/s", 1.0)),
    "m/s^2": (Scale("ft/s²", FOOT), Scale("m/s²", 1.0)),
    "kg": (Scale("lb", POUND), Scale("kg", 1.0)),
    "N/m": (Scale("lbf/in", POUND_FORCE / INCH), Scale("N/mm", 1e3)),
    "K": (Scale("°F", 5 / 9, 459.67 * 5 / 9), Scale("°C", 1.0, 273.15)),
    "1": (Scale("", 1.0), Scale("", 1.0)),
}
FAR = 1e5
FARTHEST = {"m": 10.0}
LONG = {"us": (Scale("ft", FOOT), 120 * INCH), "metric": (Scale("m", 1.0), 2.0)}


def axis_scale(unit: str, most: float, reader: Reader) -> Scale:
    """The scale of an axis that reaches up to ``most``, SI.

    >>> axis_scale("m", 0.3, Reader(units="metric")), axis_scale("s", 2.0, Reader())
    (Scale(unit='mm', factor=0.001, zero=0.0), Scale(unit='s', factor=1.0, zero=0.0))
    """
    if unit == "m" and most > LONG[reader.units][1]:
        return LONG[reader.units][0]
    if unit == "s" and most < 0.5:
        return Scale("ms", 1e-3)
    us, metric = AXES.get(unit, (Scale(unit, 1.0), Scale(unit, 1.0)))
    return us if reader.units == "us" else metric


def shown(value: float, unit: str, reader: Reader) -> str:
    """A number with its unit; nought of whatever unit is 0."""
    return "0" if value == 0 else in_words(Amount(value, unit), reader)


def range_in_words(limits: Limits, unit: str, reader: Reader) -> str:
    """What a field accepts.

    >>> range_in_words(Limits(above=0, at_most=5), "m/s", Reader(units="metric"))
    'above 0, at most 5 m/s'
    """
    low, high = (
        None if value is None else shown(value, unit, reader)
        for value in (
            limits.at_least if limits.above is None else limits.above,
            limits.at_most if limits.below is None else limits.below,
        )
    )
    if low is not None and high is not None:
        told = {"low": low, "high": high}
        return (_("{low} to {high}") if limits.above is None else _("above {low}, at most {high}")).format(**told)
    if low is not None:
        return (_("at least {low}") if limits.above is None else _("above {low}")).format(low=low)
    return _("at most {high}").format(high=high) if high is not None else ""


def hint_in_words(limits: Limits, unit: str, reader: Reader) -> str:
    """The same in short, under a field: an end that nobody reaches is left to the message that it would give.

    >>> hint_in_words(Limits(at_least=0, at_most=1e9), "N/m", Reader())
    'at least 0'
    >>> hint_in_words(Limits(at_least=1, at_most=1e9), "N/m", Reader())
    ''
    """
    if unit == "K":
        return ""
    if limits.at_most is not None and limits.at_most >= FARTHEST.get(unit, FAR):
        tiny = limits.at_least is not None and 0 < limits.at_least <= 1
        limits = replace(limits, at_most=None, at_least=None if tiny else limits.at_least)
    return range_in_words(limits, unit, reader)


def unit_missing(typed: str, unit: str) -> str:
    """What would be right where only a number was typed.

    >>> unit_missing("8", "m/s")
    'The unit is missing. Write 8 in/s or 8 m/s.'
    """
    first, second = ASKED.get(unit, (unit, unit))
    if first == second:
        return _("The unit is missing. Write {one}.").format(one=f"{typed} {first}")
    both = {"one": f"{typed} {first}", "other": f"{typed} {second}"}
    return _("The unit is missing. Write {one} or {other}.").format(**both)


def read_back(typed: str, unit: str, reader: Reader) -> str:
    """What was typed, in the reader's units; nothing where it reads the same or cannot be read.

    >>> read_back("8 in/s", "m/s", Reader(units="metric")), read_back("8 in/s", "m/s", Reader(units="us"))
    ('0.203 m/s', '')
    """
    if unit == "1":
        return ""
    try:
        said = in_words(Amount(quantity.parse(typed, unit), unit), reader)
    except QuantityError:
        return ""
    return "" if _bare(said) == _bare(typed) else said


def _bare(text: str) -> str:
    return text.partition("(")[0].replace(" ", "").replace(",", "")
