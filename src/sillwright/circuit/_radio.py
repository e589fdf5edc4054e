"""A radio link between a leaf and its operator: what it loses, what is left, and how long its battery lasts."""

from __future__ import annotations

from collections.abc import Iterator
from math import log, log10, pi
from typing import Any

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.units import Decibel, Metre, Number
from sillwright.base.words import N_, Amount, say
from sillwright.circuit.radio_model import LinkWord, RadioCase, RadioResult

__all__ = ["radio"]

LIGHT = 299_792_458.0  # m/s
HOURS_A_YEAR = 8760.0
INDOOR_CONSTANT: Decibel = -28.0  # for MHz and metres
PLACES = 5  # of the leaf at which the margin is read
SOURCES = (
    Source(document="ITU-R P.525", clause="20 lg (4 π d f / c)", sure="memory", id="free-space"),
    Source(document="ITU-R P.1238", clause="20 lg f + N lg d + L_f − 28", sure="second-hand", id="indoor-loss"),
    Source(document=N_("trade rules of thumb"), clause="RADIO-1 … RADIO-7", sure="memory", id="radio-rules"),
)


def radio(case: RadioCase) -> RadioResult:
    r"""What a radio link loses on its way, what margin is left with the leaf open, and how long its battery lasts.

    .. math:: L = 20 \lg \frac{4 \pi d f}{c} \quad \text{or} \quad L = 20 \lg f_{MHz} + N \lg d + L_f - 28

    .. math:: \text{years} = \frac{0.8\,C}{8760\,(I + s C / 8760)}

    Parameters: frequency (Hz), distance (m), which of the two formulas, power and sensitivity (dBm), gains and
    losses (dB), margins read on site (dB), capacity (A h), mean current (A), self-discharge (a share a year), the
    coldest (K). Returns the loss and the margins (dB), a word for the worst of them, the distance (m) up to which
    it stays good, and years.

    Model: free space, or the form for the inside of buildings; what the leaf costs is added. Margins read on site
    count before computed ones. Below 0 °F half of the years are left. Valid for one wavelength and more in free
    space, indoors for 1 m and 300 MHz and more; single links differ by 10 dB and more, so that a survey decides.

    Raises :class:`OutOfRange` where a formula is not valid.

    Source: ITU-R P.525 and P.1238; what margin is good, and the battery, from memory.

    >>> found = radio(RadioCase(frequency=915e6, distance=20, transmit_power=10, sensitivity=-100))
    >>> round(found.path_loss, 2), round(found.link_margin_open, 1), found.link
    (74.16, 10.8, 'narrow')
    """
    loss = path_loss(case)
    computed = _margins(case, loss)
    least = min(case.margins, default=None)
    closed, opened = computed or (None, None)
    worst = least if least is not None else min(computed, default=None)
    return RadioResult(
        path_loss=loss,
        link_margin=closed,
        link_margin_open=opened,
        least_margin=least,
        link=_link(case, worst),
        distance_good=_distance_good(case),
        battery_years=battery_years(case),
        case=case,
        notes=tuple(_notes(case, worst)),
        assumptions=tuple(_assumptions(case)),
        sources=SOURCES,
    )


def path_loss(case: RadioCase) -> Decibel:
    """The loss over the distance. Raises :class:`OutOfRange` where its formula is not valid.

    >>> round(path_loss(RadioCase(frequency=2.4e9, distance=1000, model="free_space")), 2)
    100.05
    """
    wave = LIGHT / case.frequency
    if case.model == "free_space":
        if case.distance < wave:
            told = {"distance": Amount(case.distance, "m"), "least": Amount(wave, "m")}
            raise OutOfRange(say(N_("distance: {distance} is less than a wavelength, {least}; give more"), **told))
        return 20 * log10(4 * pi * case.distance / wave)
    least = _table("indoor")["least_frequency"]
    if case.distance < 1:
        raise OutOfRange(say(N_("distance: the loss indoors is known from 1 m on; use free space nearer by")))
    if case.frequency < least:
        told = {"frequency": Amount(case.frequency, "Hz"), "least": Amount(least, "Hz")}
        raise OutOfRange(say(N_("frequency: {frequency}; the loss indoors is known from {least} on"), **told))
    return _at_a_metre(case) + distance_loss(case) * log10(case.distance)


def distance_loss(case: RadioCase) -> Decibel:
    """Indoors, the loss for every tenfold distance: as told, of an open hall, or of the nearest frequency.

    >>> distance_loss(RadioCase(frequency=433e6, distance=5))
    33.0
    """
    if case.distance_loss is not None:
        return case.distance_loss
    table = _table("indoor")
    if case.surroundings == "hall":
        return float(table["hall"])
    nearest = min(table["office"], key=lambda row: abs(log(case.frequency / 1e6 / row[0])))
    return float(nearest[1])


def battery_years(case: RadioCase) -> Number | None:
    """The years that a battery lasts; None where its capacity or its current is not known.

    >>> round(battery_years(RadioCase(frequency=915e6, distance=20, capacity=1.2, mean_current=60e-6)), 1)
    1.8
    """
    if case.capacity is None or case.mean_current is None:
        return None
    lost = case.capacity * case.self_discharge / HOURS_A_YEAR
    years = case.usable * case.capacity / (HOURS_A_YEAR * (case.mean_current + lost))
    return years / 2 if _freezes(case) else years


def _link(case: RadioCase, worst: Decibel | None) -> LinkWord:
    """What the link is called; good is nobody's to say before all five places were read, or none."""
    found = word(worst)
    return "not known" if found == "good" and 0 < len(case.margins) < PLACES else found


def word(margin: Decibel | None) -> LinkWord:
    """What a margin is called.

    >>> word(15.0), word(10.0), word(9.9), word(None)
    ('good', 'narrow', 'poor', 'not known')
    """
    if margin is None:
        return "not known"
    limits = _table("margin")
    return "good" if margin >= limits["good"] else "narrow" if margin >= limits["narrow"] else "poor"


def _table(name: str) -> dict[str, Any]:
    found: dict[str, Any] = data.table("sillwright.circuit", "radio")[name]
    return found


def _at_a_metre(case: RadioCase) -> Decibel:
    return 20 * log10(case.frequency / 1e6) + INDOOR_CONSTANT + case.floor_loss


def _margins(case: RadioCase, loss: Decibel) -> tuple[Decibel, ...]:
    """With the leaf closed and open; none where the power or the receiver is not known."""
    budget = _budget(case)
    return () if budget is None else (budget - loss - case.closed_loss, budget - loss - _open_loss(case))


def _budget(case: RadioCase) -> Decibel | None:
    """What the link may lose in all."""
    if case.transmit_power is None or case.sensitivity is None:
        return None
    return case.transmit_power + case.antenna_gain - case.sensitivity


def _open_loss(case: RadioCase) -> Decibel:
    return float(_table("leaf")["most"]) if case.open_loss is None else case.open_loss


def _distance_good(case: RadioCase) -> Metre | None:
    """Up to where the margin stays good with the leaf open; None where it is not even next to the receiver."""
    budget = _budget(case)
    if budget is None:
        return None
    left = budget - _open_loss(case) - _table("margin")["good"]
    if case.model == "free_space":
        wave, powers = LIGHT / case.frequency, left / 20
        reach = wave / (4 * pi) * 10**powers
        return reach if reach >= wave else None
    reach = float(10 ** ((left - _at_a_metre(case)) / distance_loss(case)))
    return reach if reach >= 1 else None


def _freezes(case: RadioCase) -> bool:
    return case.coldest is not None and case.coldest < _table("battery")["cold"]


def _notes(case: RadioCase, worst: Decibel | None) -> Iterator[str]:
    if word(worst) in {"narrow", "poor"}:
        metal, motor = (Amount(each, "m") for each in (0.3048, 3.048))
        words = N_(
            "Move the antenna: {metal} from metal, {motor} from a drive's motor lead, outside a steel cabinet."
        )
        yield say(words, metal=metal, motor=motor)
    if not case.margins:
        yield say(
            N_("Read the margin closed, a quarter, half, three quarters and fully open, the worst vehicle parked.")
        )
    if 0 < len(case.margins) < PLACES:
        read = len(case.margins)
        yield say(N_("{read} of five places are read; the worst is mostly fully open, beside the coil."), read=read)
    if case.systems is None or case.systems > _table("neighbours")["most"]:
        yield say(N_("Neighbours can be paired by mistake: write down each channel; press one: one door answers."))
    if battery_years(case) is not None:
        yield say(N_("Replace the battery on a date, not on its alarm; write the date on it."))
    yield say(
        N_("It counts as monitored only if the operator's instructions list body, transmitter, receiver and input.")
    )
    yield say(
        N_("Lift the battery: within the listed time the operator has to close only while somebody holds it.")
    )


def _assumptions(case: RadioCase) -> Iterator[str]:
    if case.model == "indoor" and case.distance_loss is None:
        yield say(N_("{loss} for a tenfold distance indoors"), loss=Amount(distance_loss(case), "dB"))
    if case.open_loss is None:
        low, high = (Amount(_table("leaf")[each], "dB") for each in ("least", "most"))
        yield say(
            N_("Beside a coil or in a hood {low} to {high} are lost; the greater is used."), low=low, high=high
        )
    if case.coldest is None and battery_years(case) is not None:
        cold = Amount(_table("battery")["cold"], "K")
        yield say(N_("The battery never gets below {cold}; there it lasts half as long."), cold=cold)
    elif _freezes(case):
        cold = Amount(_table("battery")["cold"], "K")
        yield say(N_("Below {cold} a battery lasts half as long."), cold=cold)
