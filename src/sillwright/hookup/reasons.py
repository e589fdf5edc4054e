"""Why a device is joined so, which facts are still to be asked, and what was taken for granted."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from sillwright.base.words import N_, Amount, Sentence
from sillwright.circuit.watching import LEAST_ELEMENT, MOST_ELEMENT, can_be_element, element_read, element_seen
from sillwright.hookup.answer import Way
from sillwright.hookup.fit import Fit
from sillwright.hookup.inlets import Inlet, Inlets, alike, values_of
from sillwright.hookup.told import Told
from sillwright.hookup.words import ONLY_LISTED, because, circuit, said
from sillwright.survey.devices import Protection


def reasons(
    device: Protection, inlet: Inlet, best: Fit | None, told: Told, countable: bool | None
) -> Iterator[Sentence]:
    """Why, in a few sentences; where nothing can be said yet, what is open."""
    yield from _open_reasons(told, inlet)
    if best is None:
        return
    yield because(best.because)
    if best.way == "through":
        yield _converter_reason(told.circuits[0], inlet, best)
    if best.way == "direct" and inlet.circuit == "resistor" == told.circuits[0]:
        yield from _value(device, inlet)
    if best.way != "no" and element_seen(device).value is None:
        yield said(
            N_("Where its end element sits is not told for certain; it watches the edge from the far end only.")
        )
    if best.way != "no" and countable:
        yield Sentence(ONLY_LISTED)


def _open_reasons(told: Told, inlet: Inlet) -> Iterator[Sentence]:
    if not told.circuits:
        yield said(N_("The circuit of the device is not known."))
    elif len(told.circuits) > 1:
        words = N_("The circuit of the device may be one of several: {circuits}.")
        yield said(words, circuits=[circuit(each) for each in told.circuits])
    if not inlet.circuits:
        yield said(N_("What this input reads is not known."))
    elif len(inlet.circuits) > 1:
        words = N_("This input may be one of several: {circuits}.")
        yield said(words, circuits=[circuit(each, of_input=True) for each in inlet.circuits])


def _converter_reason(mine: str, inlet: Inlet, best: Fit) -> Sentence:
    values = {"from": circuit(mine), "to": circuit(inlet.circuit, of_input=True)}
    if best.converter is None:
        return said(N_("Wanted: a converter from {from} to {to}; the catalogue names none."), **values)
    template = {
        "catalogue": N_("By the catalogue: {name}, from {from} to {to}."),
        "survey": N_("Taken down between them: {name}."),
        "practice": N_("{name}, from {from} to {to}."),
    }[best.standing]
    used = {"name": best.converter} if best.standing == "survey" else {"name": best.converter, **values}
    return said(template, **used)


def _value(device: Protection, inlet: Inlet) -> Iterator[Sentence]:
    own, wanted = values_of(device.resistance), inlet.ohms
    for ohm in dict.fromkeys(each for each in (*own, *wanted) if not can_be_element(each)):
        words = N_("{ohm} is no end element: below {least} it is a press, above {most} it is damp.")
        most, least = Amount(MOST_ELEMENT, "ohm"), Amount(LEAST_ELEMENT, "ohm")
        yield said(words, ohm=Amount(ohm, "ohm"), least=least, most=most)
    if wanted and own and not all(alike(*each) for each in product(own, wanted)):
        words = N_("Its end element is {own}; this input expects {wanted}.")
        told = {name: [Amount(each, "ohm") for each in some] for name, some in (("own", own), ("wanted", wanted))}
        yield said(words, **told)
    elif wanted and not own:
        words = N_("The value of its end element was not taken down; this input expects {wanted}.")
        yield said(words, wanted=[Amount(each, "ohm") for each in wanted])


def asks(device: Protection, inlet: Inlet, told: Told, way: Way) -> tuple[str, ...]:
    """The facts that would settle how this device is joined."""
    found = [*told.asks, *inlet.asks]
    if told.circuits == ("resistor",) and way in {"direct", "through"} and not device.resistance.known:
        found.append(device.resistance.path)
    if way == "through" and not device.through.known:
        found.append(device.through.path)
    if way in {"direct", "through"}:
        found += [*element_seen(device).open, *element_read(device).open]
        found += [f"{inlet.path}.resistance"] if inlet.path and not all(map(can_be_element, inlet.ohms)) else []
    return tuple(dict.fromkeys(found))


def open_asks(device: Protection, inputs: Inlets) -> tuple[str, ...]:
    """The facts that would settle it where the inputs of the operator are not known."""
    own = (device.circuit.path,) if not device.circuit.known and device.kind.value != "air_edge" else ()
    return (*inputs.asks, *own)


def assumptions(told: Told, inlet: Inlet, best: Fit | None) -> Iterator[Sentence]:
    """What was taken for granted in saying how it is joined."""
    if told.of_catalogue and len(told.circuits) == 1:
        yield said(N_("The circuit of the device is the one that the catalogue offers it with."))
    if inlet.standing == "catalogue":
        yield said(
            N_("The input is as the catalogue has it for this class of operator; nobody read its terminals.")
        )
    if best is not None and best.standing == "practice":
        yield said(N_("How they join is common practice, without a source; the instructions of both decide."))
