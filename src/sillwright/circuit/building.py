"""From a loop and its state to netlists: wires, strips in sections with leaks between them, and every hurt."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from sillwright.base.units import Number, Ohm
from sillwright.circuit.hurting import GAP, OPERATORS_SIDE, PLACES, SHARES, TOUCH, Hurts
from sillwright.circuit.model import Hurt, HurtKind, LeadWire, Loop, Place, Press
from sillwright.circuit.netlist import Capacitor, Diode, Resistor
from sillwright.circuit.wire_table import conductor

Pair = tuple[str, str]
SECTIONS = 6  # of the strips of an edge that is alone
FEW = 2  # of each of several
ACROSS: tuple[HurtKind, ...] = ("short", "wet", "element_second", "crushed", "contact_welded")


@dataclass(frozen=True)
class Spread:
    """How far parts of a loop lie from their values, as shares; those of input and end element are in the loop."""

    wire: Number = 0.0
    strip: Number = 0.0
    contact: Number = 0.0
    insulation: Number = 0.0
    converter: Number = 0.0


@dataclass
class Bench:
    """A netlist as it grows. A part is called after its kind: ``strip.a.3`` is one of the strips."""

    loop: Loop
    hurts: Hurts
    press: Press | None
    spread: Spread = Spread()
    resistors: list[Resistor] = field(default_factory=list)
    diodes: list[Diode] = field(default_factory=list)
    capacitors: list[Capacitor] = field(default_factory=list)
    taken: dict[str, int] = field(default_factory=dict)

    def add(self, name: str, one: str, other: str, ohm: Ohm, tolerance: Number = 0.0) -> None:
        """A resistor; where the name is taken, it gets a number."""
        number = self.taken.get(name, 0)
        self.taken[name] = number + 1
        self.resistors.append(Resistor(f"{name}#{number}" if number else name, one, other, ohm, tolerance))

    def has(self, name: str) -> bool:
        """Whether a resistor of this name is there."""
        return name in self.taken

    def sound(self) -> Bench:
        """The same bench for another edge on the pair, which is sound and not pressed."""
        return replace(self, hurts=self.hurts.before_the_cord(), press=None)


Close = Callable[[Bench, Pair], None]
"""What closes the loop at its far end, or at a place before it."""


def walk(bench: Bench, start: Place, pair: Pair, close: Close) -> None:
    """Build everything from a place to the far end, what stands at that place included."""
    here = walk_to_the_box(bench, start, pair, close)
    if here is None:
        return
    loop = bench.loop
    if loop.joined == "chain" or loop.devices == 1:
        _edge(bench, start, here, close, "")
        return
    for number in range(1, loop.devices + 1):
        _edge(bench if number == 1 else bench.sound(), start, here, close, f".{number}")


def walk_to_the_box(bench: Bench, start: Place, pair: Pair, close: Close) -> Pair | None:
    """From a place to behind the box; None where nothing there is joined any more."""
    here: Pair | None = pair
    for place in PLACES[PLACES.index(start) :]:
        if place in OPERATORS_SIDE and here is not None:
            here = _stretch(bench, place, here, close)
    return here


def _edge(bench: Bench, start: Place, pair: Pair, close: Close, tag: str) -> None:
    """One edge with its cord; several in a chain are one long edge."""
    near: Pair | None = pair
    if PLACES.index(start) <= PLACES.index("cord"):
        near = _stretch(bench, "cord", pair, close, tag)
    if near is not None:
        _strips(bench, near, close, tag)


def _stretch(bench: Bench, place: Place, pair: Pair, close: Close, tag: str = "") -> Pair | None:
    """A point, or a wire with what hurts it in its middle; None where nothing behind it is joined."""
    if place not in {"lead", "cord"}:
        return hurt(bench, place, pair, close, tag)
    wire = bench.loop.lead if place == "lead" else bench.loop.cord
    if not any(each.place == place for each in bench.hurts.all):
        return _wire(bench, place, wire, 1.0, pair, f"{place}{tag}")
    half = _wire(bench, place, wire, 0.5, pair, f"{place}{tag}.half")
    middle = hurt(bench, place, half, close, tag)
    return middle and _wire(bench, place, wire, 0.5, middle, f"{place}{tag}")


def _wire(bench: Bench, name: str, wire: LeadWire, share: Number, pair: Pair, to: str) -> Pair:
    ohm = share * conductor(wire.gauge, wire.length, wire.temperature)
    far = (f"a.{to}", f"b.{to}")
    for side, near, end in zip("ab", pair, far, strict=True):
        bench.add(f"{name}.{side}", near, end, ohm, bench.spread.wire)
    return far


def hurt(bench: Bench, place: Place, pair: Pair, close: Close, tag: str = "", opened: bool = False) -> Pair | None:
    """What is wrong at a place: first what lies across the pair, then what lies in its first conductor.

    ``opened``: a contact in the conductor is open there. None where the loop ends here.
    """
    for each in bench.hurts.at(place, *ACROSS):
        _across(bench, each, pair)
    if bench.hurts.at(place, "element_before") and place != "edge_far":
        close(bench, pair)
        return None
    added = sum(each.ohm or 0.0 for each in bench.hurts.at(place, "joint"))
    if opened or bench.hurts.at(place, "cut"):
        added += GAP
    if not added:
        return pair
    behind = f"{pair[0]}.{place}{tag}"
    bench.add("joint", pair[0], behind, added)
    return behind, pair[1]


def _across(bench: Bench, each: Hurt, pair: Pair) -> None:
    """What lies across the pair. A contact that opens on a press is no longer there once it is welded."""
    if each.kind == "short":
        bench.add("short", *pair, TOUCH)
    elif each.kind in {"wet", "element_second"}:
        bench.add(each.kind, *pair, each.ohm or 0.0)
    elif bench.loop.circuit != "normally_closed":
        contact = bench.loop.strips.contact
        bench.add("contact", *pair, contact if each.ohm is None else each.ohm, bench.spread.contact)


def sections_of(loop: Loop) -> int:
    """In how many sections the strips of an edge are laid out; several in a chain are one long edge."""
    count = loop.devices if loop.joined == "chain" else 1
    return count * (SECTIONS if loop.devices == 1 else FEW)


def _strips(bench: Bench, pair: Pair, close: Close, tag: str) -> None:
    """The strips in sections, with a share of the leak at every node, the press where it is, the end at the end."""
    strips, pressed = bench.loop.strips, _pressed_at(bench)
    count = bench.loop.devices if bench.loop.joined == "chain" else 1
    sections = sections_of(bench.loop)
    spots = {number / sections for number in range(sections + 1)}
    stops = sorted(spots | ({pressed} if pressed is not None else set()))
    last = 0.0
    for at, share in enumerate(stops):
        if at:
            ohm = (share - last) * count * strips.length * strips.strip_resistance
            far = (f"a.strip{tag}.{at}", f"b.strip{tag}.{at}")
            bench.add(f"strip.a{tag}.{at}", pair[0], far[0], ohm, bench.spread.strip)
            bench.add(f"strip.b{tag}.{at}", pair[1], far[1], ohm, bench.spread.strip)
            pair = far
        reach = (stops[min(at + 1, len(stops) - 1)] - last) / 2 * count  # of the strips that this node stands for
        bench.add(f"leak.{tag}.{at}", *pair, strips.insulation / reach, bench.spread.insulation)
        last = share
        onward = _spot(bench, share, pair, close, tag, share == pressed)
        if onward is None:
            return
        pair = onward
    close(bench, pair)


def _pressed_at(bench: Bench) -> Number | None:
    """Where a press acts; None where none does: not pressed, strips dead there, or a contact that cannot open."""
    if bench.press is None or bench.hurts.dead(bench.press.at):
        return None
    stuck = bench.loop.circuit == "normally_closed" and bench.hurts.any("contact_welded")
    return None if stuck else bench.press.at


def _spot(bench: Bench, share: Number, pair: Pair, close: Close, tag: str, pressed: bool) -> Pair | None:
    """One spot along the strips: the press, and what is wrong there."""
    place = next((place for place, its in SHARES.items() if its == share), None)
    opens = bench.loop.circuit == "normally_closed"
    if pressed and not opens:
        bench.add("contact", *pair, bench.loop.strips.contact, bench.spread.contact)
    held = bool(place and bench.hurts.at(place, "crushed"))
    opened = opens and (pressed or held)
    if place is not None:
        return hurt(bench, place, pair, close, tag, opened)
    if not opened:
        return pair
    behind = f"{pair[0]}.opened"
    bench.add("joint", pair[0], behind, GAP)
    return behind, pair[1]
