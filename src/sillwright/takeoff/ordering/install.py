"""What the crew reads before it fits an edge: bring, rest, fix, way, connections in order, never, tests."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import TakeOff
from sillwright.takeoff.floors.floor_fit import bottom_of
from sillwright.takeoff.ordering.fields import shown
from sillwright.takeoff.ordering.goods_in import rest_time
from sillwright.takeoff.ordering.line import OrderLine, lead_of, length_of

SectionId = Literal["cautions", "bring", "rest", "fix", "way", "connect", "never", "tests"]
SECTIONS: dict[SectionId, str] = {
    "cautions": N_("Before anybody touches it"),
    "bring": N_("Bring"),
    "rest": N_("Let it rest"),
    "fix": N_("Fix it"),
    "way": N_("Cord, box, way to the operator"),
    "connect": N_("Connect, in this order"),
    "never": N_("Never"),
    "tests": N_("Tests afterwards, two people, in this order"),
}
MATERIALS = {
    "wood": N_("wood"),
    "steel": N_("steel"),
    "aluminium": N_("aluminium"),
    "insulated": N_("insulated, metal over foam"),
}
IN_ORDER = ("connect", "tests")
"""Sections whose sentences are steps, one after the other."""


def resting(*, straight: bool = False) -> Iterator[Sentence]:
    """How an edge comes to rest before it is fitted; ``straight`` where it does not come coiled.

    Source: common practice (acclimatise); the time from the cold from memory.
    """
    minutes = round(rest_time(None, None) / 60)
    if straight:
        yield _s(N_("It comes straight: let it reach the temperature of the room before it is fitted."))
        return
    yield _s(
        N_("Unroll a coiled edge in the room, at least {minutes} minutes before it is fitted."), minutes=minutes
    )
    yield _s(N_("From the cold: {minutes} minutes for every 20 °F (11 °C) below the room."), minutes=minutes)
    yield _s(N_("It is ready when it lies flat within {off}."), off=Amount(0.00635, "m"))


@dataclass(frozen=True, kw_only=True)
class Section:
    """A part of the install sheet: what it is called and its sentences, numbered where they are steps."""

    id: SectionId
    title: Sentence
    sentences: tuple[Sentence, ...]
    numbered: bool


def install(
    opening: Opening, take_off: TakeOff, profile: Profile | None, lines: tuple[OrderLine, ...] = ()
) -> tuple[Section, ...]:
    """The sections of the install sheet of an opening; with its order lines also circuit, lead and lengths.

    What is not known is said as such: the crew finds it out before it starts.

    Source: trade rules of thumb, from memory (LEN-16 to LEN-18, CORD, TEST-1 to TEST-11, TEST-25, TEST-27); common
    practice (acclimatise, junction box, sealed bodies, two people).
    """
    sheet = _Sheet(opening, take_off, profile, lines)
    parts: tuple[tuple[SectionId, Callable[[], Iterator[Sentence]]], ...] = (
        ("cautions", sheet.cautions),
        ("bring", sheet.bring),
        ("rest", sheet.rest),
        ("fix", sheet.fix),
        ("way", sheet.way),
        ("connect", sheet.connect),
        ("never", sheet.never),
        ("tests", sheet.tests),
    )
    return tuple(
        Section(id=name, title=Sentence(SECTIONS[name]), sentences=tuple(said()), numbered=name in IN_ORDER)
        for name, said in parts
    )


def _s(template: str, **values: Any) -> Sentence:
    return Sentence(template, values)


@dataclass(frozen=True)
class _Sheet:
    """What the sentences of one opening are made from."""

    opening: Opening
    take_off: TakeOff
    profile: Profile | None
    lines: tuple[OrderLine, ...]

    @property
    def circuits(self) -> set[str | None]:
        return {line.circuit for line in self.lines}

    @property
    def sealed(self) -> bool | None:
        return None if self.profile is None else self.profile.construction == "factory_sealed"

    @property
    def gate(self) -> bool:
        return bool(self.opening.door.is_gate)

    def cautions(self) -> Iterator[Sentence]:
        yield _s(N_("Power is locked out and tagged while hands are at the leaf or in wiring."))
        yield _s(N_("Two people, agreed words, the area closed. Nobody is ever under the leaf."))
        yield _s(N_("The leaf is blocked at working height before anybody works at its edge."))
        yield _s(N_("Springs, cables and bottom brackets are for a trained door technician, spring unwound."))
        if self.opening.door.kind.value == "rolling_fire":
            yield _s(N_("Fire door: only what its maker supplies goes onto it, and only by a qualified person."))
        if any(line.blocked for line in self.lines):
            yield _s(N_("A question of the order still stands: see the order sheet, and settle it first."))

    def bring(self) -> Iterator[Sentence]:
        for line in self.lines:
            name = line.profile or _s(N_("edge, no profile chosen"))
            yield _s(N_("{label}: {profile}, {length}."), label=line.label, profile=name, length=length_of(line))
            if line.channel:
                pieces = [Amount(each, "m") for each in line.channel_pieces] or _s(N_("length not known"))
                yield _s(N_("Channel {part}: {pieces}."), part=line.channel, pieces=pieces)
            parts = [each for each in (line.cord, line.reel, line.radio, line.box, line.converter) if each]
            if parts:
                yield _s(N_("With it: {parts}."), parts=parts)
        if not self.lines:
            yield _s(N_("What was ordered is not on this sheet: bring the order sheet."))
        yield _s(
            N_("Tape, screws of the leaf's material, drill, meter with clips, connectors, glands, cable ties.")
        )
        yield self._bottom()
        yield _s(N_("Lock and tag, props or clamps for the leaf, cones; a 2x4 and a stopwatch for the tests."))
        if self.sealed is False:
            yield _s(
                N_("For each piece: two plugs, one lead, its end element, the adhesive of the profile, a knife.")
            )

    def _bottom(self) -> Sentence:
        """What the screws go into, as far as somebody looked."""
        fact = self.opening.door.bottom.material
        if fact.value is None or fact.standing == "assumed":
            return _s(N_("What the bottom of the leaf is made of is not known: look before you choose the screws."))
        return _s(N_("The bottom of the leaf: {material}."), material=_s(MATERIALS[fact.value]))

    def rest(self) -> Iterator[Sentence]:
        yield from resting(straight=bool(self.lines) and all(line.ship == "straight" for line in self.lines))

    def fix(self) -> Iterator[Sentence]:
        channel = self.take_off.channel
        yield _s(N_("Channel: {why}"), why=channel.why)
        if channel.kind != "existing":
            yield _s(
                N_("Rigid channel: pieces up to {long}, {gap} between them; first screw {first} from each end."),
                long=Amount(3.6576, "m"),
                gap=Amount(0.003175, "m"),
                first=Amount(0.0508, "m"),
            )
            yield _s(N_("Then a screw every {near} to {far}."), near=Amount(0.3048, "m"), far=Amount(0.4064, "m"))
            yield _s(
                N_("Outdoors: weep holes of {hole} every {step}."),
                hole=Amount(0.00635, "m"),
                step=Amount(1.2192, "m"),
            )
        yield _s(
            N_("Push the body into the channel, never pull it: a pulled body creeps back and leaves a dead end.")
        )
        yield _s(
            N_("Hold it with one screw or clip at the lead end only, through the foot, never through the tube.")
        )
        for line in self.lines:
            where = lead_of(line)
            yield _s(N_("{label}, lead: {where}."), label=line.label, where=list(where))
        if self.profile is not None and self.profile.fin_side != "none":
            cut = Amount(0.00635, "m")
            yield _s(N_("The fin points toward the weather. It may be trimmed {cut} back at each end."), cut=cut)
        yield from self._heights()

    def _heights(self) -> Iterator[Sentence]:
        if self.gate:
            return
        added = self.take_off.changes.added_height
        if added:
            yield _s(
                N_("The edge stands {added} lower than before: set the closed limit and the cut-out anew."),
                added=Amount(added, "m"),
            )
        else:
            yield _s(N_("Set the closed limit and the cut-out near the floor to the new edge."))

    def way(self) -> Iterator[Sentence]:
        way = self.take_off.way
        yield way.why
        if way.kind == "cord":
            yield _s(N_("Box on the wall near half the travel; the cord never hangs from the operator."))
            if way.box_height is not None:
                side = shown("end", way.box_side) if way.box_side else _s(N_("side not known"))
                yield _s(N_("Box at {height}, {side}."), height=Amount(way.box_height, "m"), side=side)
            yield _s(N_("Strain relief at both ends carries the pull, not the conductors."))
            yield _s(N_("The cord crosses neither the opening, nor an eye's beam, nor the chain."))
        elif way.kind == "reel":
            yield _s(N_("The outlet lies in the plane of its cable; two or three turns stay wound."))
        elif way.kind == "radio":
            yield _s(N_("Antenna away from steel; note channel and address; date the battery."))
        elif way.kind == "unknown":
            yield _s(N_("How the signal reaches the operator is not known: settle it before the visit."))
        yield _s(N_("Glands from below, a drip loop in front of each; the box closed and dry."))

    def connect(self) -> Iterator[Sentence]:
        yield _s(N_("Lock out power. Lift the old lead at the operator; photograph the terminals first."))
        yield _s(N_("Read the new edge alone with the meter, at rest and pressed; write both down."))
        yield _s(
            N_("Join lead and cord in the box with crimp or screw connectors; no twisted wires, no tape alone.")
        )
        if "four_wire" in self.circuits:
            yield _s(
                N_("Four wires: find the two strips first; a strip reads a few ohms, between strips it is open.")
            )
        if self.circuits & {"diode_capacitor", "optical"}:
            yield _s(N_("Mind the polarity: it is on the edge's own sheet."))
        if any(line.pieces > 1 for line in self.lines):
            yield _s(N_("Several pieces: in series, the end element in the far end of the last one only."))
        if "resistor" in self.circuits:
            yield _s(N_("The end element is in the far end of the edge, never at the operator."))
        if any(line.converter for line in self.lines):
            yield _s(N_("The converter goes beside the operator, on the supply that its sheet names."))
        yield _s(N_("Read again at the box, then at the operator with the lead lifted: the same number."))
        yield _s(
            N_("Last, the lead to the input that the operator's instructions name; set and learn as they say.")
        )

    def never(self) -> Iterator[Sentence]:
        yield _s(N_("Never stand, kneel or reach under the leaf."))
        if self.sealed is not False:
            yield _s(N_("Never cut, glue or trim a body that its maker sealed; too long or too short goes back."))
        else:
            yield _s(N_("Never let it count before the adhesive has cured as its sheet says."))
        yield _s(N_("Never screw, staple or rivet through the tube."))
        yield _s(N_("Never take off bottom panel, brackets or cables to gain room."))
        yield _s(
            N_("Never leave a substitute part, a jumper or an open input behind; what is booked in is booked out.")
        )
        if not self.gate and bottom_of(self.opening) != "wood":
            yield _s(N_("Sections and bars of metal are never cut to fit the floor; a tapered filler does that."))
        if not self.gate:
            yield _s(N_("Never take up an uneven floor by driving the closed limit lower."))
        else:
            yield _s(N_("Never let a cord lie on the ground where a gate or a vehicle passes."))

    def tests(self) -> Iterator[Sentence]:
        for name, said in (*TESTS, *AT_THE_END):
            if name == "TEST-11" and self.opening.door.occupancy.value not in {"residential", None}:
                continue
            if name in (ON_A_FLOOR if self.gate else ON_A_GATE):
                continue
            yield _s(N_("{name}: {said}"), name=name, said=Sentence(said, _MEASURES))
        yield _s(N_("Write down: met, not met, or not tested and why. Not tested never counts as met."))


_MEASURES = {"step": Amount(0.3048, "m"), "end": Amount(0.0508, "m"), "contact": Amount(3.0, "s")}
TESTS = (
    ("TEST-1", N_("plates and marks read, instructions on hand, the pair of operator and edge named in them.")),
    ("TEST-2", N_("balance by hand, cables, rollers, guides, fasteners, by a door technician.")),
    ("TEST-3", N_("closed limit and compression at the highest point of the floor; height of the cut-out.")),
    (
        "TEST-4",
        N_("leaf blocked, power locked out, meter on: press every {step}, and {end} from each end; all answer."),
    ),
    ("TEST-5", N_("ohms at the operator with the lead lifted; number and temperature written down.")),
    ("TEST-6", N_("edge lead lifted at the leaf's side of the cord: the operator refuses to close by a touch.")),
    ("TEST-7", N_("the edge's wiring shorted, as the operator's instructions describe: it does not close.")),
    ("TEST-8", N_("the same for every other device by itself.")),
    ("TEST-9", N_("the closing leaf caught by hand at chest height, from the side: it stops and reverses.")),
    (
        "TEST-10",
        N_("a 2x4 laid flat, left, middle and right: contact at most {contact}, reversal to full open; timed."),
    ),
    ("TEST-11", N_("where people live: a 2x4 laid flat in the middle of the floor: it reverses.")),
)
"""Names and what is met, in the order in which they are made; from memory, to be confirmed by the instructions."""
AT_THE_END = (
    (
        "TEST-25",
        N_(
            "every zone in each direction, by touch and without: it stops and reverses; at a second touch it stays "
            "until a fresh command."
        ),
    ),
    (
        "TEST-27",
        N_("as left: settings, limits, learned devices; no temporary part left in. A second person confirms it."),
    ),
)
ON_A_FLOOR = {"TEST-3", "TEST-10", "TEST-11"}
"""Tests of a leaf that comes down onto a floor; a gate has none of them."""
ON_A_GATE = {"TEST-25"}
