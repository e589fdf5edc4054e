"""What devices and converters draw from the operator's accessory supply, and what the far eye is left with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sillwright.base.units import Ampere, Metre, Volt
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.circuit.wire_table import conductor
from sillwright.hookup.answer import Draw, Enough, Joint, Power
from sillwright.hookup.inlets import entries_of, values_of
from sillwright.hookup.table import number
from sillwright.hookup.words import said
from sillwright.survey.model import Opening

FED = {"photo_eye", "light_curtain", "presence", "motion", "loop"}
UNSEEN = N_("Which devices are there is not known, nor what hangs on the accessory supply of the operator.")
ACROSS = {"photo_eye", "light_curtain"}
"""Devices with a part on the other side of the opening, at the end of the longest run."""


def power(opening: Opening, joints: Sequence[Joint], catalogue: Catalogue | None) -> Power:
    """The accessory supply against everything that hangs on it.

    What is not known is never taken for nothing: where a current or the supply is missing the answer is *not
    known*, or *too little* where what is known is too much already.
    """
    entries = entries_of(opening, catalogue)
    most = min((each.accessory_current for each in entries if each.accessory_current), default=None)
    voltage = min((each.accessory_voltage for each in entries if each.accessory_voltage), default=None)
    draws = tuple(_draws(joints, catalogue))
    taken = tuple(_taken(draws))
    needs = sum(each.current or 0.0 for each in draws)
    looked = opening.protection.standing == "known"
    enough = _enough(draws, needs, most) if draws or looked else "not known"
    run = _run(opening)
    seen = tuple(_at_far_end(each, voltage, run) for each in draws)
    return Power(
        enough=enough,
        needs=needs,
        most=most,
        voltage=voltage,
        draws=seen,
        why=_why(enough, draws, needs, most) if draws or looked else said(UNSEEN),
        asks=tuple(dict.fromkeys(_asks(opening, joints, draws, most))),
        assumptions=(*taken, *_of_run(seen, run)),
    )


def far_voltage(supply: Volt, current: Ampere, run: Metre, gauge: float) -> Volt:
    """What is left of a supply at the end of a pair of wires, under load.

    >>> round(far_voltage(24.0, 0.1, 30.48, 18), 2)
    23.87
    """
    return supply - current * 2 * conductor(gauge, run)


def _draws(joints: Sequence[Joint], catalogue: Catalogue | None) -> Iterator[Draw]:
    seen = {key(each.name): each for each in catalogue.devices} if catalogue else {}
    between: dict[str, float | None] = {}
    if catalogue:
        between = {key(each.name): each.current for each in catalogue.converters}
        between |= {key(each.name): each.current for each in catalogue.radios}
    counted: set[tuple[str, str | None]] = set()
    for joint in joints:
        if joint.kind in FED:
            part = seen.get(key(joint.model or ""))
            current = part.current if part else None
            yield Draw(name=joint.model or joint.name, current=current, eye=joint.kind in ACROSS)
        if joint.way != "through" or (joint.converter or "", joint.input) in counted:
            continue
        if joint.shared_with and joint.converter:
            counted.add((joint.converter, joint.input))
        most = number("supply", "converter")[1] if joint.converter is None else None
        yield Draw(name=joint.converter or "", current=between.get(key(joint.converter or ""), most))


def _taken(draws: Sequence[Draw]) -> Iterator[Sentence]:
    if any(not each.name for each in draws):
        low, high = number("supply", "converter")
        words = N_("A converter that is not named is taken to draw {high}; {low} to {high} is usual.")
        yield said(words, low=Amount(low, "A"), high=Amount(high, "A"))


def _enough(draws: Sequence[Draw], needs: Ampere, most: Ampere | None) -> Enough:
    if not draws:
        return "enough"
    if most is not None and needs > most:
        return "too little"
    if most is None or any(each.current is None for each in draws):
        return "not known"
    return "nearly all" if needs > number("supply", "spare") * most else "enough"


def _why(enough: Enough, draws: Sequence[Draw], needs: Ampere, most: Ampere | None) -> Sentence:
    if not draws:
        return said(N_("Nothing here draws from the accessory supply of the operator."))
    drawn = {"needs": Amount(needs, "A")}
    unknown = [each.name for each in draws if each.current is None]
    if most is None and unknown:
        return said(
            N_("Neither the accessory supply of the operator nor what {parts} draw is known."), parts=unknown
        )
    if most is None:
        words = N_("Together they draw {needs}; what the operator's accessory supply gives is not known.")
        return said(words, **drawn)
    both = {**drawn, "most": Amount(most, "A")}
    if enough == "too little":
        return said(N_("Together they draw {needs}; the accessory supply gives {most}."), **both)
    if unknown:
        words = N_("What {parts} draw is not known; the others draw {needs} of {most}.")
        return said(words, parts=unknown, **both)
    return said(N_("Together they draw {needs} of the {most} that the accessory supply gives."), **both)


def _asks(opening: Opening, joints: Sequence[Joint], draws: Sequence[Draw], most: Ampere | None) -> Iterator[str]:
    if draws and most is None:
        yield opening.operator.model.path
    unknown = {each.name for each in draws if each.current is None}
    for each in joints:
        if each.kind in FED and (each.model or each.name) in unknown:
            yield f"{each.device}.model"
        elif each.way == "through" and each.converter in unknown:
            yield "converters"


def _run(opening: Opening) -> Metre | None:
    """The wire from the operator to an eye on the other side: up, over and down again; None without both sizes."""
    door = opening.door
    heights, widths = values_of(door.clear_height), values_of(door.clear_width)
    if not heights or not widths or opening.door.is_gate:
        return None
    return float(max(widths) + 2 * max(heights))


def _at_far_end(draw: Draw, voltage: Volt | None, run: Metre | None) -> Draw:
    if not draw.eye or voltage is None or run is None or draw.current is None:
        return draw
    gauge = float(number("lead", "supply_gauge"))
    return replace(draw, far_voltage=far_voltage(voltage, draw.current, run, gauge))


def _of_run(draws: Sequence[Draw], run: Metre | None) -> Iterator[Sentence]:
    if run is not None and any(each.far_voltage is not None for each in draws):
        words = N_("The wire to the far eye is taken to be {run} of {gauge} gauge: up, over the opening and down.")
        yield said(words, run=Amount(run, "m"), gauge=number("lead", "supply_gauge"))
