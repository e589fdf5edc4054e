"""The ohm readings of an opening, device by device: every visit reads again, and together they show a trend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from sillwright.base.units import Kelvin, Ohm
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.circuit.bands import Band, element_band, insulation_band
from sillwright.circuit.metering import MeterPlace
from sillwright.circuit.ohm_trend import DatedReading, OhmTrend, ohm_trend
from sillwright.hookup.answer import Hookup, Joint
from sillwright.hookup.inlets import entries_of, values_of
from sillwright.survey.devices import OhmReading, Protection
from sillwright.survey.interval import Interval, read_interval
from sillwright.survey.model import Opening

MOST_DEVICES = 24
MOST = 200
"""Readings of a device that are looked at; nobody visits a door as often."""
OUT_OF_HAND = 100.0
"""Times the end element; a reading above it is a break, not a step of a trend."""
PLACES: dict[MeterPlace, tuple[str, ...]] = {
    "edge": ("edge", "device", "body", "lead"),
    "box": ("box", "junction"),
    "operator": ("operator", "board", "terminal", "panel", "cabinet"),
}
"""What is written of each place; the first that is found counts."""


@dataclass(frozen=True, kw_only=True)
class ReadOhms:
    """One reading as it was taken down, and whether it counts for the trend: ``left_out`` says why not."""

    ohm: Ohm
    on: Interval | None = None
    at: MeterPlace | None = None  # None: nobody wrote it down
    written_at: str | None = None
    temperature: Kelvin | None = None
    pressed: bool | None = None
    band: Band | None = None  # of a reading at rest
    left_out: Sentence | None = None
    fact: str = ""

    @property
    def day(self) -> date | None:
        """The day; the middle one of a month or a year."""
        if self.on is None:
            return None
        return self.on.first + timedelta(days=(self.on.last - self.on.first).days // 2)


@dataclass(frozen=True, kw_only=True)
class OhmHistory:
    """The readings of one device, oldest first, and where they are heading."""

    device: str  # path
    name: str
    element: Ohm | None
    readings: tuple[ReadOhms, ...]
    trend: OhmTrend | None = None  # of a loop with an end element

    @property
    def last(self) -> ReadOhms | None:
        """The newest reading at rest that has a day, of those that the edge of today gave."""
        dated = [each for each in self.readings if each.day is not None and not each.pressed and not each.left_out]
        return dated[-1] if dated else None


def ohm_histories(opening: Opening, joined: Hookup, catalogue: Catalogue | None = None) -> tuple[OhmHistory, ...]:
    """The readings of every device of which there are some.

    A reading without a device belongs to the only one there is. What was read before the device was fitted is of
    another one; what was read at the operator behind a converter is of its output.

    Source: bands and trend of :func:`sillwright.circuit.ohm_trend.ohm_trend`.
    """
    devices = {each.path: each for each in opening.protection}
    found = (
        _history(each, devices[each.device], opening, joined, catalogue) for each in joined.joints[:MOST_DEVICES]
    )
    return tuple(each for each in found if each.readings)


def _history(
    joint: Joint, device: Protection, opening: Opening, joined: Hookup, catalogue: Catalogue | None
) -> OhmHistory:
    alone = len(opening.protection) == 1
    written = [each for each in opening.readings if _is_of(each, device, alone)]
    told = [_of_reading(each) for each in written if each.ohms.value is not None]
    told += _of_element(device) if joint.circuit == "resistor" else []
    element = _element(joint, device) if joint.circuit == "resistor" else None
    pull_up = _pull_up(joint, opening, joined, catalogue)
    judged = (_judged(each, joint, device, element, pull_up) for each in told)
    rows = tuple(sorted(judged, key=lambda each: each.day or date.min)[-MOST:])
    counting = [_dated(each, joint) for each in rows if each.left_out is None and each.day is not None]
    trend = ohm_trend(counting, element, pull_up) if element is not None and counting else None
    return OhmHistory(device=joint.device, name=joint.name, element=element, readings=rows, trend=trend)


def _is_of(reading: OhmReading, device: Protection, alone: bool) -> bool:
    named = reading.of.value
    return named == device.id.value if named is not None else alone


def _of_reading(reading: OhmReading) -> ReadOhms:
    when = reading.on.value
    if when is None and reading.ohms.reading is not None and reading.ohms.reading.on:
        when = read_interval(reading.ohms.reading.on)
    return ReadOhms(
        ohm=reading.ohms.value or 0.0,
        on=when,
        at=place_of(reading.at.value),
        written_at=reading.at.value,
        temperature=reading.temperature.value,
        pressed=reading.pressed.value,
        fact=reading.ohms.path,
    )


def _of_element(device: Protection) -> list[ReadOhms]:
    """What somebody measured of the end element itself, with its day: readings of the edge as well."""
    fact = device.resistance
    told = [each for each in fact.readings if each.origin == "measured" and each.value is not None and each.on]
    return [
        ReadOhms(ohm=each.value or 0.0, on=read_interval(each.on or ""), at="edge", pressed=False, fact=fact.path)
        for each in told
    ]


def place_of(written: str | None) -> MeterPlace | None:
    """The place that a text names.

    >>> place_of("at the operator"), place_of("junction box"), place_of(None)
    ('operator', 'box', None)
    """
    words = (written or "").lower()
    return next((place for place, signs in PLACES.items() if any(sign in words for sign in signs)), None)


def _element(joint: Joint, device: Protection) -> Ohm | None:
    """The end element that is in the edge, by plate, instructions or word before what a meter showed of it."""
    own = values_of(device.resistance)
    if len(own) > 1:
        own = tuple({each.value for each in device.resistance.readings if each.origin != "measured" and each.value})
    return own[0] if len(own) == 1 else joint.end_element


def _pull_up(joint: Joint, opening: Opening, joined: Hookup, catalogue: Catalogue | None) -> Ohm | None:
    """The pull-up of the input that a loop hangs on directly, where the catalogue tells it."""
    if joint.way != "direct" or joint.input is None:
        return None
    named = [each for each in entries_of(opening, catalogue) if each.name == joint.input]
    return named[0].pull_up if len(named) == 1 else None


def _judged(
    reading: ReadOhms, joint: Joint, device: Protection, element: Ohm | None, pull_up: Ohm | None
) -> ReadOhms:
    """A reading with its band, and why it does not count where it does not."""
    band: Band | None = None
    seen = not (joint.way == "through" and reading.at == "operator")
    if not reading.pressed and seen:
        if element is not None:
            band = element_band(reading.ohm, element, pull_up)
        elif joint.circuit in {"plain", "four_wire"}:
            band = insulation_band(reading.ohm)
    return replace(reading, band=band, left_out=_left_out(reading, device, element, seen))


def _left_out(reading: ReadOhms, device: Protection, element: Ohm | None, seen: bool) -> Sentence | None:
    fitted = device.fitted.value
    if reading.pressed:
        return Sentence(N_("while pressed"))
    if reading.on is None:
        return Sentence(N_("no day written"))
    if fitted is not None and reading.on.last < fitted.first:
        return Sentence(N_("before this one was fitted"))
    if not seen:
        return Sentence(N_("of the converter's output"))
    if element is not None and reading.ohm > OUT_OF_HAND * element:
        return Sentence(N_("a break"))
    return None


def _dated(reading: ReadOhms, joint: Joint) -> DatedReading:
    """A reading for the trend; where nobody wrote the place, the one at which that loop is usually read."""
    usual: MeterPlace = "box" if joint.way == "through" else "operator"
    day = reading.day or date.min
    return DatedReading(on=day, ohm=reading.ohm, at=reading.at or usual, temperature=reading.temperature)


def months_after(day: date, months: float) -> str:
    """The month that lies so many months after a day, as a survey writes it.

    >>> months_after(date(2026, 3, 4), 14.2)
    '2027-05'
    """
    then = day + timedelta(days=round(months * 365.25 / 12))
    return f"{then.year}-{then.month:02}"


def taken_for_granted(histories: tuple[OhmHistory, ...]) -> Iterator[Sentence]:
    """What was taken for granted of readings of which nobody wrote the place, or whether somebody pressed."""
    counting = [each for history in histories for each in history.readings if each.left_out is None]
    if any(each.at is None for each in counting):
        yield Sentence(N_("A reading without its place is taken as read where that loop is usually read."))
    if any(each.pressed is None for each in counting):
        yield Sentence(N_("A reading of which nobody wrote whether the edge was pressed is taken as one at rest."))
