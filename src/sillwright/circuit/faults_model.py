"""Case and result of the table of faults: what of each the operator sees, and what the leaf still feels."""

from __future__ import annotations

from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Number, Ohm, Volt
from sillwright.base.words import N_, say
from sillwright.circuit.circuits import check_loop
from sillwright.circuit.model import Circuit, HurtKind, Loop, Place, Read

Seen = Literal["at_once", "next_close", "never", "uncertain"]
"""When the operator sees it: it reads open; it reads as a press, so that the leaf does not close; it reads rest; or
that hangs on the part in hand."""

Still = Literal["all", "near_side", "far_side", "part", "nothing", "stands"]
"""Where a press is still felt. ``stands``: the input reads pressed all the time, and the leaf stays."""


class FaultsCase(Case):
    """Which circuits to look at."""

    circuit: Circuit | None = field(default=None, title="Circuit; null = every one")
    loop: Loop | None = field(default=None, title="The loop; null = a typical one of its kind")
    devices: int = field(default=1, at_least=1, at_most=8, title="Edges on this input, of typical loops")
    joined: Literal["chain", "parallel"] = field(default="chain", title="How several edges are joined")
    trainer: bool = field(default=False, title="With parts that stand at the board, for trainers")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.loop is None:
            return
        check_loop(self.loop)
        if self.circuit not in (None, self.loop.circuit):
            told = {"circuit": self.circuit, "own": self.loop.circuit}
            raise OutOfRange(say(N_("circuit: {circuit}, but the loop is {own}; give one of them"), **told))


class FaultRow(Model):
    """One thing wrong at one place of one circuit."""

    circuit: Circuit = field(title="Circuit")
    kind: HurtKind = field(title="What is wrong")
    place: Place = field(title="Where")
    ohm: Ohm | None = field(default=None, title="Resistance, where the kind has one")
    seen: Seen = field(title="When the operator sees it")
    still: Still = field(title="Where a press is still felt")
    answers_share: Number = field(title="Share of the edge that still answers")


class CircuitCoverage(Model):
    """What the operator sees of all that can be wrong with a circuit; each hurt and place counted alike."""

    circuit: Circuit = field(title="Circuit")
    coverage: Number | None = field(title="Share of what takes feeling away that the operator sees")
    seen: int = field(title="Takes feeling away or stops the leaf, and is seen")
    unseen: int = field(title="Takes feeling away, and nobody is told")
    uncertain: int = field(title="Takes feeling away, and hangs on the part in hand")
    harmless: int = field(title="The whole edge still answers")
    words: str = field(title="In words")


class Arrangement(Model):
    """Several edges on one input."""

    circuit: Circuit = field(title="Circuit")
    devices: int = field(title="Edges on this input")
    joined: Literal["chain", "parallel"] = field(title="How they are joined")
    reads: Read = field(title="The input reads at rest")
    voltage: Volt = field(title="Voltage at the input's terminals")
    ohm: Ohm | None = field(default=None, title="A meter shows at the operator; null = OL")
    cuts_seen: bool = field(title="Whether a broken wire to an edge is seen wherever it is")


class FaultsResult(Result):
    """The table of faults."""

    answer: str = field(title="What the operator sees")
    rows: tuple[FaultRow, ...] = field(title="Faults")
    circuits: tuple[CircuitCoverage, ...] = field(title="Circuits")
    notes: tuple[str, ...] = field(default=(), title="What nobody is told, in sentences")
    arrangements: tuple[Arrangement, ...] = field(default=(), title="Several edges on one input")
    case: FaultsCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
