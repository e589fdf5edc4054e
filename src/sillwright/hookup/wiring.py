"""The wiring sheet as data: from the operator's terminals to the far end of the edge, point by point."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.catalogue.parts import ConverterKind
from sillwright.hookup.answer import Joint, Point, Run, Wiring
from sillwright.hookup.findings import EDGES
from sillwright.hookup.inlets import Inlet, entries_of
from sillwright.hookup.sharing import BESIDE, chained, together
from sillwright.hookup.words import INPUT, circuit, said
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

Ends = Literal["element", "diode", "plain", "loop", "switch", "none"]
WIRES = {
    "plain": 2, "normally_closed": 2, "resistor": 2, "diode_capacitor": 2, "four_wire": 4, "pulse_two_wire": 2,
    "pulse_three_wire": 3, "optical": 3, "tested_contact": 3,
}  # fmt: skip
"""Conductors of a circuit; air has a hose in their place, radio none."""
ENDS: dict[str, Ends] = {
    "plain": "plain", "normally_closed": "switch", "resistor": "element", "diode_capacitor": "diode",
    "four_wire": "loop", "air": "switch", "optical": "none", "radio": "none",
}  # fmt: skip


def wiring(
    joint: Joint,
    joints: Sequence[Joint],
    device: Protection,
    inlet: Inlet | None,
    opening: Opening,
    catalogue: Catalogue | None,
) -> Wiring:
    """The wiring of one device; what is not known stands as a question, and is drawn as one."""
    sheet = _Sheet(joint, joints, device, inlet, opening, catalogue)
    points, runs = tuple(sheet.points()), tuple(sheet.runs())
    return Wiring(
        device=joint.device,
        title=sheet.title(),
        points=points,
        runs=runs,
        ends_in=ENDS.get(joint.circuit or "", "none") if joint.kind in EDGES else "none",
        element=joint.end_element,
        supply=sheet.supply(),
        remarks=tuple(sheet.remarks()),
        questions=tuple(sheet.questions()),
        way=joint.way,
    )


class _Sheet:
    """What the points, runs and remarks of one device are made from."""

    def __init__(
        self,
        joint: Joint,
        joints: Sequence[Joint],
        device: Protection,
        inlet: Inlet | None,
        opening: Opening,
        catalogue: Catalogue | None,
    ) -> None:
        self.joint, self.joints, self.device, self.inlet = joint, joints, device, inlet
        self.opening, self.catalogue = opening, catalogue
        self.edge = joint.kind in EDGES
        self.through = joint.way == "through"
        self.part = self._converter()

    def title(self) -> Sentence:
        """Which device, on which input."""
        if self.joint.way == "not_joinable":
            return said(N_("{device} joins no input"), device=self.joint.name)
        if self.joint.input is None:
            return said(N_("{device}, input not known"), device=self.joint.name)
        return said(N_("{device} on the input {input}"), device=self.joint.name, input=self.joint.input)

    def input_name(self) -> Sentence:
        """The input as it is called, or that it is not known."""
        name = self.joint.input
        return said("{name}", name=name) if name else said(N_("input not known"))

    def points(self) -> Iterator[Point]:
        """Operator, converter, box, edge or device, as many as there are."""
        yield self._operator()
        if self.through:
            yield self._between()
        if self.edge and self.joint.circuit != "radio":
            yield self._box()
        yield self._device()

    def runs(self) -> Iterator[Run]:
        """What goes from each point to the next."""
        mine, theirs = self._leaf_side(), WIRES.get(self.joint.input_circuit or "")
        if self.joint.circuit == "air":
            mine = 2
        if self.through:
            yield Run(kind="pair", conductors=theirs or 2, words=self._pair(theirs), known=theirs is not None)
        if self.joint.circuit == "radio":
            yield Run(kind="radio", conductors=0, words=said(N_("radio: transmitter at the leaf")))
            return
        if not self.edge:
            yield Run(kind="lead", conductors=mine or 2, words=self._lead_words(mine), known=mine is not None)
            return
        yield Run(kind="lead", conductors=mine or 2, words=self._lead_words(mine), known=mine is not None)
        yield self._cord(mine)

    def supply(self) -> tuple[str, ...]:
        """The terminals that feed what needs a supply."""
        entries = entries_of(self.opening, self.catalogue)
        named = next((each.accessory_terminals for each in entries if each.accessory_terminals), ())
        return named if self.through else ()

    def remarks(self) -> Iterator[Sentence]:
        """What to mind, in the order in which hands come to it."""
        if self.joint.way == "not_joinable" or (self.joint.way == "unknown" and self.inlet is not None):
            yield from self.joint.reasons
        if self.joint.way in {"unknown", "not_joinable"}:
            return
        yield from self._of_polarity()
        if self.edge and self.joint.circuit not in {"radio", None}:
            yield said(N_("A strain relief at both ends of the cord carries the pull, not the conductors."))
            yield said(
                N_("Crimp or screw connectors in the box, gland from below; no twisted wires, no tape alone.")
            )
        if self.joint.circuit not in {"air", "radio"}:
            yield said(
                N_(
                    "The lead is a twisted pair, 12 in from motor leads; near a drive it is shielded, the shield "
                    "joined at the operator's end only."
                )
            )
        if self.joint.circuit == "resistor" and self.edge:
            yield said(
                N_("The end element is inside the far end of the edge. None is fitted at the board or the box.")
            )
        if self.through and self.joint.circuit != "radio":
            yield self._supply_words()
        if chained(self.joint, self.joints, self.catalogue):
            names = [each.name for each in together(self.joint, self.joints)]
            words = N_("{devices} stand end to end in one loop; the last closes it.")
            if self.joint.joined in BESIDE:
                words = N_(
                    "{devices} hang side by side now; they belong end to end in one loop, closed by the last."
                )
            yield said(words, devices=names)

    def questions(self) -> Iterator[Sentence]:
        """What the sheet cannot say, and who says it."""
        if self.joint.way == "not_joinable":
            return
        if self.joint.circuit is None:
            yield said(N_("Circuit of the device?"))
        if self.inlet is None or not self.inlet.circuits:
            yield said(N_("Input of the operator? Read its terminals and its instructions."))
        elif not self._operator().terminals[0]:
            yield said(N_("Names of the terminals? The operator's instructions draw them."))
        if self.through and self.joint.converter is None:
            yield said(N_("Which converter? One that the operator's instructions list."))
        if self.joint.circuit == "resistor" and self.joint.end_element is None:
            yield said(N_("Value of the end element?"))

    def _supply_words(self) -> Sentence:
        supplied = self.part.supplied_at if self.part else ()
        named = self.supply()
        if supplied and named:
            words = N_("The supply of the converter goes from {from} of the operator to its {to}.")
            return said(words, **{"from": list(named), "to": list(supplied)})
        return said(
            N_("The converter is fed as its instructions say: from a supply, or from the terminals of the input.")
        )

    def _converter(self) -> ConverterKind | None:
        if self.catalogue is None or self.joint.converter is None:
            return None
        name = key(self.joint.converter)
        return next((each for each in self.catalogue.converters if key(each.name) == name), None)

    def _operator(self) -> Point:
        entry = self.inlet.entry if self.inlet else None
        count = WIRES.get(self.joint.input_circuit or "") or 2
        name = self.opening.operator.model.value
        terminals = entry.terminals if entry and len(entry.terminals) == count else _unnamed(count)
        notes = [said(N_("{name}"), name=name)] if name else []
        notes.append(said(N_("input {input}"), input=self.input_name()) if self.joint.input else self.input_name())
        if self.joint.input_circuit in INPUT:
            notes.append(circuit(self.joint.input_circuit, of_input=True))
        return Point(id="operator", title=said(N_("Operator")), terminals=terminals, notes=tuple(notes))

    def _between(self) -> Point:
        theirs = WIRES.get(self.joint.input_circuit or "") or 2
        radio, part = self.joint.circuit == "radio", self.part
        notes = [said(N_("{name}"), name=self.joint.converter)] if self.joint.converter else []
        if part and part.supplied_at:
            notes.append(said(N_("supply at {terminals}"), terminals=list(part.supplied_at)))
        gives = part.gives_at if part and len(part.gives_at) == theirs else _unnamed(theirs)
        takes: tuple[str, ...] = ()
        if not radio:
            mine = self._leaf_side() or 2
            takes = part.takes_at[:mine] if part and len(part.takes_at) >= mine else _unnamed(mine)
        title = said(N_("Receiver")) if radio else said(N_("Converter"))
        return Point(id="converter", title=title, terminals=gives, behind=takes, notes=tuple(notes))

    def _box(self) -> Point:
        wires, height = _unnamed(self._leaf_side()), self.opening.box.height.value
        notes = () if height is None else (said(N_("{height} above the floor"), height=Amount(height, "m")),)
        if self.joint.circuit == "air":
            return Point(id="box", title=said(N_("Air switch")), terminals=_unnamed(2), behind=("",), notes=notes)
        return Point(id="box", title=said(N_("Junction box")), terminals=wires, behind=wires, notes=notes)

    def _device(self) -> Point:
        notes = [circuit(self.joint.circuit)]
        if self.joint.model:
            notes.insert(0, said(N_("{model}"), model=self.joint.model))
        word = N_("Edge {device}") if self.edge else N_("Device {device}")
        return Point(
            id="edge" if self.edge else "device",
            title=said(word, device=self.joint.name),
            terminals=self._wires(),
            notes=tuple(notes),
        )

    def _wires(self) -> tuple[str, ...]:
        """The device's own wires: as the catalogue names their colours where the count is right, else unnamed."""
        count = self._leaf_side() or 2
        if self.joint.circuit in {"air", "radio"}:
            return ("",) if self.joint.circuit == "air" else ()
        name = key(self.joint.model or "")
        colours: dict[str, tuple[str, ...]] = {}
        if self.catalogue is not None:
            colours = {key(each.name): each.wires for each in self.catalogue.devices}
            colours |= {key(each.name): each.wires for each in self.catalogue.profiles}
        wires = colours.get(name, ())
        return wires if len(wires) == count else _unnamed(count)

    def _leaf_side(self) -> int | None:
        return WIRES.get(self.joint.circuit or "")

    def _pair(self, count: int | None) -> Sentence:
        return said(N_("from the terminals of the input, {conductors}"), conductors=_conductors(count))

    def _lead_words(self, count: int | None) -> Sentence:
        if self.joint.circuit == "air":
            return said(N_("pair from the air switch"))
        return said(N_("fixed lead, {conductors}"), conductors=_conductors(count))

    def _cord(self, count: int | None) -> Run:
        if self.joint.circuit == "air":
            return Run(kind="hose", conductors=1, words=said(N_("air hose, without a kink, falling to the edge")))
        cord = self.opening.cord
        words = said(N_("coiled cord or reel, {conductors}"), conductors=_conductors(count))
        if cord.retracted.value is not None:
            words = said(
                N_("{retracted} coiled cord, {conductors}"),
                retracted=Amount(cord.retracted.value, "m"),
                conductors=_conductors(count),
            )
        return Run(kind="cord", conductors=count or 2, words=words, known=count is not None)

    def _of_polarity(self) -> Iterator[Sentence]:
        """HOOK-2: which way round."""
        mine = self.joint.circuit
        if mine == "four_wire":
            yield said(
                N_("Find the pairs first: a strip reads a few ohms end to end, and between strips it is open.")
            )
        elif mine == "diode_capacitor":
            yield said(N_("It has a right way round; the wrong way round the input reads no element."))
        elif mine in {"pulse_two_wire", "pulse_three_wire"} or (
            self.through and self.joint.input_circuit in {"pulse_two_wire", "pulse_three_wire"}
        ):
            yield said(N_("Pulses have a right way round: keep to the colours and terminals of the instructions."))
        elif mine in {"resistor", "plain"}:
            yield said(N_("Either wire may go to either terminal."))


def _unnamed(count: int | None) -> tuple[str, ...]:
    return ("",) * (count or 2)


def _conductors(count: int | None) -> Sentence:
    if count is None:
        return Sentence(N_("conductors not known"))
    return said(N_("{count} conductors"), count=count)
