"""What hangs behind a few wires, from what a meter shows at them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from math import inf

from sillwright.base.source import Source
from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.circuit import bands
from sillwright.circuit.bands import element_band, insulation_band, table
from sillwright.circuit.guess_words import asked, deed, named
from sillwright.circuit.guesses import BY_WIRES, OF_CIRCUIT, Guess, behind_the_element, guesses, look_of
from sillwright.circuit.loop_reading_model import (
    BandFound,
    Candidate,
    LoopReadingCase,
    LoopReadingResult,
    MeterReading,
)
from sillwright.circuit.settling import as_reading, groups, next_look, outcomes, where_of
from sillwright.circuit.watching import alike
from sillwright.circuit.weighing import shares

__all__ = ["loop_reading"]

SOURCES = (
    *bands.SOURCES,
    Source(
        document=N_("what a circuit shows sound and hurt is told apart by overlap"), sure="computed", id="overlap"
    ),
)
NAMED = 4
SAME = 1.1
"""Readings up to this many times each other are the same one."""


def loop_reading(case: LoopReadingCase) -> LoopReadingResult:
    """What hangs there: the circuits that fit the readings of a meter, what is still open, and what settles it.

    Parameters: readings at rest and pressed, at operator, box and edge (ohm; V on diode test; or OL), the count of
    wires, the end element that there should be and the input's pull-up (ohm), where they are known. Returns what it
    can be, the most usual first, the band of every reading at rest, and the reading that tells most of it apart.

    Model: every circuit, sound and with one thing wrong in lead, cord or edge, shows a stretch of readings; those
    remain whose stretches hold every reading, weighed by how usual they are and how near they lie; what is met less
    than once in a hundred is left out. The next reading is the one by which most of them cannot be taken for each
    other. Valid for power locked out and one wire lifted; two faults at once are not told apart, and eyes,
    converters and receivers show readings of their own.

    Raises :class:`OutOfRange` for readings that are none.

    Source: bands of readings from memory; the meter from common practice.

    >>> one = MeterReading(at="operator", ohm=8e3)
    >>> found = loop_reading(LoopReadingCase(wires=2, element=10e3, readings=(one,)))
    >>> found.answer
    'It is an edge with an end element of 10 kΩ, damp.'
    """
    left = shares(guesses(case), case)
    candidates = tuple(_candidates(left))
    look = next_look(left, [look_of(each) for each in case.readings]) if len(candidates) > 1 else None
    return LoopReadingResult(
        answer=_answer(case, candidates),
        settled=len(candidates) == 1 and bool(case.readings) and not any(_unlike(case)) and not any(_others(case)),
        next_step=None if look is None else asked(look),
        candidates=candidates,
        meanings=tuple(_meanings(case, next(iter(left), None))),
        next_reading=None if look is None else as_reading(look),
        outcomes=() if look is None else outcomes(look, list(left)),
        notes=tuple(_notes(case, candidates)),
        case=case,
        assumptions=(
            say(N_("Power was locked out, and one wire lifted where the meter was.")),
            say(N_("One thing at a time is wrong.")),
        ),
        sources=SOURCES,
    )


def _candidates(left: Mapping[Guess, Number]) -> Iterator[Candidate]:
    for group in groups(list(left)):
        first, where = group[0], where_of(group)
        yield Candidate(
            circuit=first.circuit,
            element=first.element,
            condition=first.condition,
            where=where,
            share=sum(left[each] for each in group),
            words=named(first, where),
            do=deed(first),
        )


def _answer(case: LoopReadingCase, candidates: Sequence[Candidate]) -> Phrase:
    if case.circuit is not None and case.circuit not in OF_CIRCUIT:
        return say(N_("Ohms tell nothing of a device that pulses, or of a receiver: look at its lamp."))
    if case.wires is not None and case.wires not in BY_WIRES:
        return say(N_("{wires} wires belong to no circuit that ohms tell; find the pairs first."), wires=case.wires)
    if not candidates:
        return say(N_("No circuit shows these readings together. Read again, without fingers at the probes."))
    if not case.readings:
        return say(N_("Nothing is read yet."))
    if len(candidates) == 1:
        return say(N_("It is {one}."), one=candidates[0].words)
    named_here = tuple(each.words for each in candidates[:NAMED])
    more = len(candidates) - NAMED
    if more <= 0:
        return say(N_("It can be: {ways}."), ways=named_here)
    return say(N_("It can be: {ways}; and {more} more."), ways=named_here, more=more)


def _meanings(case: LoopReadingCase, likely: Guess | None) -> Iterator[BandFound]:
    """The bands of readings at rest between a pair, by what it most likely is."""
    for number, each in enumerate(case.readings, start=1):
        if each.pressed or each.diode_test or each.between != "pair" or likely is None:
            continue
        element = case.element if likely.element is None else likely.element
        if behind_the_element(likely, look_of(each)):
            band = insulation_band(each.shown, case.pull_up)
        elif likely.circuit == "resistor" and element is not None:
            band = element_band(each.shown, element, case.pull_up)
        elif likely.circuit in {"plain", "four_wire"}:
            band = insulation_band(each.shown, case.pull_up)
        else:
            continue
        yield BandFound(reading=number, band=band, words=say(bands.WORDS[band]), do=say(bands.DEEDS[band]))


def _notes(case: LoopReadingCase, candidates: Sequence[Candidate]) -> Iterator[Phrase]:
    shown = [each for each in case.readings if not each.diode_test and each.between == "pair"]
    fingers, beeper = table("fingers"), table("beeper")["most"]
    if any(fingers["least"] <= each.shown <= fingers["most"] for each in shown):
        low, high = (Amount(fingers[each], "ohm") for each in ("least", "most"))
        yield say(N_("Fingers on both probes show {low} to {high}: hold the wires with clips."), low=low, high=high)
    if any(beeper < each.shown <= table("apart")["trips"] and not each.pressed for each in shown):
        least = Amount(beeper, "ohm")
        yield say(
            N_("The beeper stays silent above some {least}, and still the door stops: read ohms."), least=least
        )
    can = {(each.circuit, each.condition) for each in candidates}
    for one, other in _unlike(case):
        told = {"one": one.shown_in_words, "other": other.shown_in_words}
        yield say(
            N_("Read twice the same way: {one} and {other}; water and bad joints wander. Read again."), **told
        )
    for ohm, element in _others(case):
        told = {"ohm": Amount(ohm, "ohm"), "element": Amount(element, "ohm")}
        yield say(
            N_("{ohm} is also what a sound end element of {element} shows: find out which one is fitted."), **told
        )
    if {("plain", "sound"), ("plain", "dead")} <= can:
        yield say(N_("OL at rest is the same for a good and a dead plain edge: press to know."))
    if any(condition == "before" for _, condition in can) and _unfelt(shown):
        yield say(
            N_("The right value, and a press does nothing: the element stands before the edge, or that is dead.")
        )
    if any(condition == "second" for _, condition in can):
        yield say(N_("Half of the end element, and steady, is two of them side by side; water makes it wander."))
    if len(candidates) == 1 and candidates[0].condition == "sound" and any(each.pressed for each in shown):
        yield say(N_("One press shows one place: press along the whole length before you call it in order."))
    if case.wires == 4 and ("four_wire", "sound") in can:
        yield say(N_("Find the pairs first: along a strip a few ohms, between strips open."))
    if all(each.at != "edge" for each in shown):
        yield say(
            N_("An eye, converter or receiver on the way shows readings of its own; look for a box with a lamp.")
        )


def _others(case: LoopReadingCase) -> Iterator[tuple[Ohm, Ohm]]:
    """Readings at rest that a usual end element of another value than the one told would show as well."""
    edges = table("element")
    low, high = edges["good"]
    for each in case.readings:
        if case.element is None or each.pressed or each.diode_test or each.between != "pair":
            continue
        for other in edges["met"]:
            if not alike(other, case.element) and low <= each.shown / other <= high:
                yield each.shown, other


def _unlike(case: LoopReadingCase) -> Iterator[tuple[MeterReading, MeterReading]]:
    """Readings that were taken the same way and still differ."""
    for one, other in combinations(case.readings, 2):
        low, high = sorted((one.shown, other.shown))
        if look_of(one) == look_of(other) and high > SAME * low + table("meter")["ohm"]:
            yield one, other


def _unfelt(shown: Sequence[MeterReading]) -> bool:
    """Whether some reading was taken while somebody pressed, and no press came through."""
    pressed = [each.shown for each in shown if each.pressed]
    return bool(pressed) and min(pressed, default=inf) > table("apart")["pressed"]
