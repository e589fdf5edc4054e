"""What the input reads of several edges that each hold an end element, as `circuit` computes it from their loop."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from sillwright.base.units import Ohm
from sillwright.catalogue.model import Catalogue
from sillwright.circuit.metering import meter
from sillwright.circuit.model import Hurt, Place, State
from sillwright.hookup.answer import Joint
from sillwright.hookup.inlets import Inlet, values_of
from sillwright.hookup.loops import loop_of
from sillwright.survey.devices import Protection


class SharedOhms(NamedTuple):
    """What is read of all of them, and what is left once one is cut off."""

    both: Ohm
    left: Ohm


def shared_ohms(
    joints: Sequence[Joint], devices: Sequence[Protection], inlet: Inlet | None, catalogue: Catalogue | None
) -> SharedOhms | None:
    """What edges on one input read where more than one holds an end element; None where at most one does.

    Side by side the others lie across the terminals, and the first is cut off; end to end they lie across the
    middle of the loop, and what stands behind is cut off. Source: computed from the loop.
    """
    holding = [(joint, each) for joint, each in zip(joints, devices, strict=True) if values_of(each.resistance)]
    if joints[0].circuit != "resistor" or len(holding) < 2:
        return None
    in_line = joints[0].joined == "end_to_end"
    joint, device = holding[-1 if in_line else 0]
    kept = [values_of(each.resistance)[0] for _, each in (holding[:-1] if in_line else holding[1:])]
    loop = loop_of("resistor", joint, device, inlet, catalogue)
    place: Place = "edge_middle" if in_line else "box"
    behind: Place = "edge_middle" if in_line else "edge_near"
    beside = Hurt(kind="element_second", place=place, ohm=1 / sum(1 / each for each in kept))
    cut = Hurt(kind="cut", place=behind)
    return SharedOhms(meter(loop, State(hurts=(beside,))), meter(loop, State(hurts=(beside, cut))))
