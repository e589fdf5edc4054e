"""Which input of the operator takes a device, and how."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import product

from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.circuit.watching import alike, can_be_element, element_seen
from sillwright.hookup import reasons
from sillwright.hookup.answer import Joint, Way
from sillwright.hookup.fit import WATCHABLE, Fit, fit
from sillwright.hookup.inlets import Inlet, Inlets, values_of
from sillwright.hookup.told import Told, between, end_place, told_of
from sillwright.hookup.words import said
from sillwright.survey.devices import Protection
from sillwright.survey.element_place import ENDED

_RANKS = {
    ("direct", "yes"): 0, ("through", "yes"): 1, ("through", "ask"): 2, ("direct", "ask"): 3,
    ("direct", "no"): 4, ("through", "no"): 5, ("no", "no"): 9,
}  # fmt: skip
UNKNOWN_RANK = 8
STOP_PENALTY = 2.5  # a terminal that reverses, even unwatched, before one that stops and watches


def join(device: Protection, inputs: Inlets, catalogue: Catalogue | None = None) -> Joint:
    """How a device is joined to the operator: on the input it was told to be on, else on the one that fits best.

    Directly where the input takes its circuit; through a converter where the catalogue or practice knows one; not
    at all where neither does. ``watched`` is None while a fact that decides it is not known: an unknown never
    counts as good, and a plain circuit is never watched.

    Source: trade practice; the catalogue's own words on an input go before it.
    """
    if inputs.state == "none there":
        return _bare(device, catalogue, "not_joinable", said(N_("The operator has no input for a device.")))
    if inputs.state == "unknown":
        words = N_("What inputs the operator has is not known; read its terminals, or its instructions.")
        bare = _bare(device, catalogue, "unknown", said(words))
        countable = bare.monitored_if_listed
        if inputs.unasked and set(told_of(device, catalogue).possible()) <= WATCHABLE:
            countable = True  # instructions that list it as it is wired have an input for it
        return replace(bare, monitored_if_listed=countable, asks=reasons.open_asks(device, inputs))
    named = device.input.value if device.input.known else None
    if named is not None:
        there = next((each for each in inputs.items if each.name and key(each.name) == key(named)), None)
        if there is None:
            words = N_("“{name}” is not among the inputs of the operator that were taken down.")
            found = _bare(device, catalogue, "unknown", said(words, name=named))
            return replace(found, input=named, asks=(device.input.path,))
        return joint_on(device, there, catalogue)
    return nearest_fit(device, inputs.items, catalogue)


def nearest_fit(device: Protection, inlets: Sequence[Inlet], catalogue: Catalogue | None) -> Joint:
    """How a device is joined to the input that fits it best; where none does, why not to each."""
    best = joint_on(device, min(inlets, key=lambda each: rank(device, each, catalogue)), catalogue)
    if best.way != "not_joinable" or len(inlets) == 1:
        return best
    each = [(inlet.name or "?", joint_on(device, inlet, catalogue)) for inlet in inlets]
    why = tuple(
        said(N_("{input}: {why}"), input=name, why=found.reasons[0]) for name, found in each if found.reasons
    )
    return replace(best, input=None, input_circuit=None, reasons=why)


def rank(device: Protection, inlet: Inlet, catalogue: Catalogue | None) -> float:
    """How well an input takes a device; less is better."""
    penalty = STOP_PENALTY if inlet.stops_only else 0.0
    fits = _fits(device, inlet, catalogue)
    if not fits:
        return UNKNOWN_RANK + penalty
    return max(_RANKS[each.way, each.watched] for each in fits) + penalty


def joint_on(device: Protection, inlet: Inlet, catalogue: Catalogue | None = None) -> Joint:
    """How a device is joined to this input."""
    told, fits = told_of(device, catalogue), _fits(device, inlet, catalogue)
    ways = {each.way for each in fits}
    way: Way = "unknown"
    if len(ways) == 1:
        only = ways.pop()
        way = "not_joinable" if only == "no" else only
    best = fits[0] if way != "unknown" else None
    watched, countable = _watched(device, inlet, catalogue, told)
    return replace(
        _named(device, told),
        way=way,
        input=inlet.name,
        input_circuit=inlet.circuit,
        converter=best.converter if best else None,
        gives=best.gives if best else None,
        standing=best.standing if best else inlet.standing,
        end_element=_element(device, inlet, best),
        end_element_place=end_place(device) if told.circuits and set(told.circuits) <= set(ENDED) else None,
        watched=watched,
        monitored_if_listed=countable,
        reverses=False if inlet.stops_only else None,
        reasons=tuple(reasons.reasons(device, inlet, best, told, countable)),
        asks=reasons.asks(device, inlet, told, way),
        assumptions=tuple(reasons.assumptions(told, inlet, best)),
    )


def _fits(device: Protection, inlet: Inlet, catalogue: Catalogue | None) -> list[Fit]:
    """What the values that were told come to, each once."""
    cases = product(told_of(device, catalogue).circuits, inlet.circuits)
    found = (
        fit(mine, theirs, entry=inlet.entry, catalogue=catalogue, between=between(device)) for mine, theirs in cases
    )
    return list(dict.fromkeys(found))


def _watched(
    device: Protection, inlet: Inlet, catalogue: Catalogue | None, told: Told
) -> tuple[bool | None, bool | None]:
    """Whether the operator can watch it as it stands, and whether it could count once all is right and listed."""
    as_it_is, at_best = set(), set()
    for mine, theirs in product(told.possible(), inlet.possible()):
        found = fit(mine, theirs, entry=inlet.entry, catalogue=catalogue, between=between(device))
        at_best.add(found.watched != "no")
        as_it_is |= _as_it_is(device, inlet, found, mine, theirs)
    return _one(as_it_is), _one(at_best)


def _as_it_is(device: Protection, inlet: Inlet, found: Fit, mine: str, theirs: str) -> set[bool | None]:
    value = {"yes": True, "no": False, "ask": None}[found.watched]
    if value is False:
        return {False}
    if mine in ENDED and not (seen := element_seen(device).value):
        return {seen}
    if found.way == "through":
        return {_handed_on(value, mine, between(device))}
    if mine == theirs == "resistor":
        if not all(map(can_be_element, (*values_of(device.resistance), *inlet.ohms))):
            return {None}
        pairs = list(product(values_of(device.resistance), inlet.ohms))
        return {value if alike(*each) else False for each in pairs} or {value}
    return {value}


def _handed_on(value: bool | None, mine: str, parts: tuple[str, ...] | None) -> bool | None:
    """Whether it is watched through the parts that are there: with none it is not, unnamed ones leave it open."""
    if parts is not None and not parts and mine != "radio":
        return False
    return value if parts else None


def _one(values: Collection[bool | None]) -> bool | None:
    return next(iter(values)) if len(values) == 1 else None


def _element(device: Protection, inlet: Inlet, best: Fit | None) -> float | None:
    """The end element that belongs at the far end: the one that the input expects, else the device's own."""
    if best is not None and best.way == "direct" and inlet.circuit == "resistor":
        return inlet.resistance
    own = values_of(device.resistance)
    return own[0] if len(own) == 1 else None


def _bare(device: Protection, catalogue: Catalogue | None, way: Way, why: Sentence) -> Joint:
    told = told_of(device, catalogue)
    never = {each in {"plain", "normally_closed", "air"} for each in told.possible()} == {True}
    watched = False if never or way == "not_joinable" else None
    return replace(
        _named(device, told),
        way=way,
        watched=watched,
        monitored_if_listed=False if watched is False else None,
        reasons=(why,),
        asks=told.asks,
    )


def _named(device: Protection, told: Told) -> Joint:
    """A device before anything is said of how it is joined."""
    return Joint(
        device=device.path,
        name=device.id.value or device.path,
        kind=device.kind.value,
        circuit=told.circuits[0] if len(told.circuits) == 1 else None,
        model=device.model.value,
        way="unknown",
    )
