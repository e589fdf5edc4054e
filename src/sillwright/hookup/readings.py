"""What a meter shows at operator, box and edge in each state, and what the input reads: to compare at the door."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import inf
from typing import Literal

from sillwright.base.units import Metre, Ohm
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.circuit.bands import table
from sillwright.circuit.metering import meter
from sillwright.circuit.model import Hurt, Loop, Press, State
from sillwright.hookup.allot import Allotted
from sillwright.hookup.answer import At, Between, Expected, Joint
from sillwright.hookup.findings import EDGES, GONE
from sillwright.hookup.loops import Metered, corner, input_side, loop_of, volts
from sillwright.hookup.table import number
from sillwright.hookup.words import said
from sillwright.survey.devices import Protection

Place = Literal["operator", "box", "edge"]
PLACES: tuple[Place, ...] = ("operator", "box", "edge")
MOST_READ = 24
"""Devices whose readings are told; no opening has as many, and each takes a while to compute."""
ANYWHERE: tuple[At, ...] = ("anywhere",)
"""What is wrong in the edge shows at every place alike, but for the few ohms of the wires."""
METERED: dict[str, Metered] = {
    "plain": "plain", "normally_closed": "normally_closed", "resistor": "resistor",
    "diode_capacitor": "diode_capacitor", "four_wire": "four_wire",
}  # fmt: skip
STATES: dict[str, str] = {
    "rest": N_("at rest"),
    "pressed": N_("pressed, anywhere along it"),
    "open": N_("a wire or strip broken"),
    "joint": N_("a bad joint"),
    "damp": N_("damp, not yet wet"),
    "wet": N_("wet"),
    "short": N_("shorted, or something lies on it"),
    "second": N_("two end elements side by side"),
    "strip": N_("each strip from end to end"),
    "seen": N_("seen"),
    "supply": N_("supply, under load"),
    "squeezed": N_("squeezed"),
    "gone": N_("blocked, or not there"),
    "leak": N_("never closes"),
    "stuck": N_("stays closed"),
}
"""By id; the same in every language."""


@dataclass(frozen=True, kw_only=True)
class Case:
    """A state of a loop between two corners of what its parts may be."""

    id: str
    low: State
    high: State
    good: bool = False


def readings(
    devices: Sequence[Protection],
    allotted: Allotted,
    catalogue: Catalogue | None,
    *,
    lead_run: Metre | None = None,
    cord: Metre | None = None,
) -> tuple[Expected, ...]:
    """The expected readings of every device that is there, by its circuit.

    With power locked out and one conductor lifted where the meter is; voltages wired up and powered, at the
    operator's input, where its supply and pull-up are in the catalogue and the device is joined directly. Bands
    hold the tolerance of the end element and of the meter.

    Source: computed from the loop; bands of damp, wet and bad joints from memory.
    """
    by_path = {each.path: each for each in devices}
    found: list[Expected] = []
    for joint in allotted.joints[:MOST_READ]:
        device = by_path[joint.device]
        if device.state.value in GONE or joint.circuit is None:
            continue
        if joint.kind in EDGES and joint.circuit in METERED:
            inlet = allotted.on.get(joint.device)
            loop = loop_of(METERED[joint.circuit], joint, device, inlet, catalogue, lead_run=lead_run, cord=cord)
            powered = joint.way == "direct" and inlet is not None and input_side(inlet.entry) is not None
            found += _of_loop(joint, loop, powered and joint.input_circuit == joint.circuit)
        else:
            found += _in_words(joint)
    return tuple(found)


def _of_loop(joint: Joint, loop: Loop, powered: bool) -> Iterator[Expected]:
    if loop.circuit == "diode_capacitor":
        yield from _of_diode(joint)
        return
    for each in _computed(loop, powered):
        yield replace(each, device=joint.device)


@lru_cache(maxsize=256)
def _computed(loop: Loop, powered: bool) -> tuple[Expected, ...]:
    """The readings of a loop, of whatever device: many openings of a site have the same."""
    found = []
    for case in _cases(loop):
        for at in PLACES if case.good else ANYWHERE:
            low, high = _band(loop, case, "operator" if at == "anywhere" else at)
            found.append(
                Expected(
                    device="",
                    at=at,
                    id=case.id,
                    state=said(STATES[case.id]),
                    between="strips" if loop.circuit == "four_wire" else "pair",
                    low=low,
                    high=high,
                    volts=_volts(loop, case) if powered and at in {"operator", "anywhere"} else None,
                    good=case.good,
                )
            )
    return (*found, *_strips(loop)) if loop.circuit == "four_wire" else tuple(found)


def _cases(loop: Loop) -> Iterator[Case]:
    """The states that a meter tells apart on this circuit."""
    rest = State()
    yield Case(id="rest", low=rest, high=rest, good=True)
    yield Case(id="pressed", low=State(press=Press(at=0.0)), high=State(press=Press(at=1.0)), good=True)
    cut = State(hurts=(Hurt(kind="cut", place="edge_near"),))
    if loop.circuit == "resistor":
        yield Case(id="open", low=cut, high=cut)
        yield from _of_element(loop)
    elif loop.circuit in {"plain", "four_wire"}:
        low, high = number("states", "plain_damp")
        yield Case(id="damp", low=_wet(low), high=_wet(high))
        yield Case(id="wet", low=_wet(number("press", "most")), high=_wet(number("states", "plain_wet")))
    if loop.circuit != "normally_closed":
        far = State(hurts=(Hurt(kind="short", place="edge_far"),))
        yield Case(id="short", low=State(hurts=(Hurt(kind="short", place="edge_near"),)), high=far)


def _of_element(loop: Loop) -> Iterator[Case]:
    """What lies beside or before an end element."""
    element = loop.end.resistance if loop.end else 0.0
    low, high = (each * element for each in number("states", "joint"))
    yield Case(id="joint", low=_joint(low), high=_joint(high))
    for name in ("damp", "wet"):
        low, high = (each * element for each in number("states", name))
        yield Case(id=name, low=_wet(low), high=_wet(high))
    second = State(hurts=(Hurt(kind="element_second", place="edge_middle", ohm=element),))
    yield Case(id="second", low=second, high=second)


def _wet(ohm: Ohm) -> State:
    return State(hurts=(Hurt(kind="wet", place="edge_middle", ohm=ohm),))


def _joint(ohm: Ohm) -> State:
    return State(hurts=(Hurt(kind="joint", place="edge_near", ohm=ohm),))


def _band(loop: Loop, case: Case, at: Place) -> tuple[Ohm, Ohm | None]:
    """Between which values a meter shows it; None: up to open."""
    if case.id == "pressed":
        if loop.circuit == "normally_closed":
            return _no_more()
        return 0.0, max(_press(loop), meter(loop, case.high, at))
    if case.id == "rest" and loop.circuit in {"plain", "four_wire"}:
        return float(number("strips", "insulation")), None
    if case.id == "open":
        return float(number("states", "open")) * (loop.end.resistance if loop.end else 0.0), None
    low = meter(corner(loop, -1), case.low, at)
    if low == inf:
        return _no_more()
    high = low if loop.end is None and case.low == case.high else meter(corner(loop, 1), case.high, at)
    share, least = number("meter", "share"), number("meter", "ohm")
    return max(0.0, low * (1 - share) - least), None if high == inf else high * (1 + share) + least


def _press(loop: Loop) -> Ohm:
    """The most that a press may show: less at a small end element, which the input takes for a press only below."""
    most = float(number("press", "most"))
    trips = float(table("element")["trips"])
    return most if loop.circuit != "resistor" or loop.end is None else min(most, trips * loop.end.resistance)


def _no_more() -> tuple[Ohm, Ohm | None]:
    """Open: a meter shows more than any sound insulation."""
    return float(number("strips", "insulation")), None


def _volts(loop: Loop, case: Case) -> tuple[float, float] | None:
    """The band of the input's voltage, with the tolerances of its parts; a press may have up to 500 ohm."""
    weak = loop
    if case.id == "pressed":
        weak = replace(loop, strips=replace(loop.strips, contact=float(number("press", "most"))))
    low, high = volts(corner(loop, -1), case.low), volts(corner(weak, 1), case.high)
    return None if low is None or high is None else (min(low, high), max(low, high))


def _strips(loop: Loop) -> Iterator[Expected]:
    """Each strip of a four-wire edge, out and back."""
    for at in PLACES:
        least, most = number("strips", "resistance")
        thin = replace(loop, strips=replace(loop.strips, strip_resistance=least))
        thick = replace(loop, strips=replace(loop.strips, strip_resistance=most))
        yield Expected(
            device="",
            at=at,
            id="strip",
            state=said(STATES["strip"]),
            between="strip",
            low=meter(thin, State(), at, probes="first_strip"),
            high=meter(thick, State(), at, probes="first_strip"),
            words=said(N_("OL: that strip is cut")),
        )


def _of_diode(joint: Joint) -> Iterator[Expected]:
    """A diode, or a capacitor: no ohms, but a diode test and a rise."""
    rows: tuple[tuple[str, Between, str, bool], ...] = (
        ("rest", "pair", N_("diode test 0.5 to 0.7 V one way; with a capacitor it rises to OL in seconds"), True),
        ("rest", "reversed", N_("diode test OL the other way"), True),
        ("pressed", "pair", N_("below 500 Ω both ways"), True),
        ("wet", "pair", N_("the same both ways: wet or shorted"), False),
        ("open", "pair", N_("OL both ways: a wire is broken"), False),
    )
    yield from _worded(joint, rows)


def _in_words(joint: Joint) -> Iterator[Expected]:
    """Devices at which ohms say nothing."""
    if joint.circuit == "air":
        rows: tuple[tuple[str, Between, str, bool], ...] = (
            (
                "squeezed",
                "pair",
                N_("the contact of the air switch closes for 0.3 to 1 s, then opens by itself"),
                True,
            ),
            ("leak", "pair", N_("a leak, or the hose is off"), False),
            ("stuck", "pair", N_("the bleed is shut"), False),
        )
    elif joint.circuit in {"pulse_two_wire", "pulse_three_wire"}:
        low, high = (Amount(each, "V") for each in number("supply", "eye"))
        yield _row(joint, "supply", "pair", said(N_("{low} to {high} at the far eye"), low=low, high=high), True)
        rows = (
            ("seen", "pair", N_("average of the signal between 1/3 and 2/3 of the supply"), True),
            (
                "gone",
                "pair",
                N_("near the one or the other end of the supply; the lamp on the receiver tells which"),
                False,
            ),
        )
    elif joint.circuit == "normally_closed":
        rows = (
            ("rest", "pair", N_("contact closed: a few ohms"), True),
            ("pressed", "pair", N_("beam broken, or somebody seen: open"), True),
        )
    else:
        return
    yield from _worded(joint, rows)


def _worded(joint: Joint, rows: Sequence[tuple[str, Between, str, bool]]) -> Iterator[Expected]:
    for id, between, words, good in rows:
        yield _row(joint, id, between, Sentence(words), good)


def _row(joint: Joint, id: str, between: Between, words: Sentence, good: bool) -> Expected:
    return Expected(
        device=joint.device,
        at="operator",
        id=id,
        state=said(STATES[id]),
        between=between,
        words=words,
        good=good,
    )
