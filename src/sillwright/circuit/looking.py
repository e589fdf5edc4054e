"""One state of a loop, looked at: its voltages with all parts at their values, at their worst, and at random."""

from __future__ import annotations

from dataclasses import dataclass
from math import isinf

from sillwright.base.units import Volt
from sillwright.circuit.building import Spread
from sillwright.circuit.circuits import netlists
from sillwright.circuit.inlet import INPUT
from sillwright.circuit.loops import outputs, reads
from sillwright.circuit.margin_model import MarginCase, Part, PartShare, StateMargin, StateName
from sillwright.circuit.model import Loop, Read, State
from sillwright.circuit.netlist import Netlist
from sillwright.circuit.regions import Region, clear_of, may_read, region, wanted
from sillwright.circuit.solving import solve
from sillwright.circuit.worst import Worst, at_corner, worst

PARTS: dict[str, Part] = {
    "supply": "supply",
    "pull_up": "pull_up",
    "lead": "lead",
    "cord": "cord",
    "strip": "strips",
    "contact": "contact",
    "leak": "insulation",
    "end": "end_element",
    "converter": "converter",
}
"""Kinds of parts, by the first word of their names in a netlist."""
NOTHING: Volt = 1e-9
MOST_WITH_DIODES = 5_000  # random loops; each has to settle


@dataclass(frozen=True)
class Look:
    """A state at one of the netlists that the input sees."""

    loop: Loop
    state: StateName
    probe: int
    netlist: Netlist
    worst: Worst
    want: Read | None
    region: Region | None
    reads: Read
    reads_worst: Read

    @property
    def extremes(self) -> tuple[Volt, Volt]:
        """Least and greatest voltage."""
        return self.worst.least, self.worst.greatest

    @property
    def margin(self) -> Volt | None:
        """What is left before it may read something else; None where nothing is asked of the state."""
        found = None if self.region is None else self.region.margin(self.extremes)
        return None if found is None or isinf(found) else found

    def shown(self, case: MarginCase) -> StateMargin:
        """The row of the result, with its random loops."""
        import numpy as np

        from sillwright.circuit.sampling import sample

        count = min(case.samples, MOST_WITH_DIODES) if self.netlist.diodes else case.samples
        volts = sample(self.netlist, INPUT, count, case.seed)
        p5, p50, p95 = (float(each) for each in np.quantile(volts, (0.05, 0.5, 0.95)))
        given = self.loop.input
        return StateMargin(
            state=self.state,
            probe=self.probe,
            voltage=solve(self.netlist)[INPUT],
            least_voltage=self.worst.least,
            greatest_voltage=self.worst.greatest,
            certified=self.worst.certified,
            voltage_p5=p5,
            voltage_p50=p50,
            voltage_p95=p95,
            reads=self.reads,
            reads_worst=self.reads_worst,
            to_pressed=clear_of(given.pressed, self.extremes),
            to_open=None if given.open is None else clear_of(given.open, self.extremes),
            wanted=self.want,
            margin=self.margin,
            misread_share=None if self.region is None else misread(self.region, volts, case.seed),
        )


def look(loop: Loop, name: StateName, state: State, spread: Spread) -> tuple[Look, ...]:
    """A state at each netlist that the input sees."""
    shown = outputs(loop, state)
    seen = netlists(loop, state, spread, shown[0])
    extremes = [worst(each, INPUT) for each in seen]
    made = reads(loop, state)
    certain = may_read(loop, [(each.least, each.greatest) for each in extremes]) if len(shown) == 1 else "between"
    want = wanted(loop, name)
    return tuple(
        Look(
            loop=loop,
            state=name,
            probe=at,
            netlist=net,
            worst=found,
            want=want,
            region=None if want is None else region(loop, want, at),
            reads=made,
            reads_worst=certain,
        )
        for at, (net, found) in enumerate(zip(seen, extremes, strict=True), start=1)
    )


def misread(area: Region, volts: object, seed: int) -> float:
    """The share of voltages that a random input, its thresholds within their windows, takes for something else."""
    import numpy as np

    found = np.asarray(volts)
    dice = np.random.default_rng([seed, 1])
    wrong = np.zeros(found.shape, dtype=bool)
    if area.above is not None:
        low, high = area.above.least_voltage + area.back, area.above.greatest_voltage + area.back
        wrong |= found <= dice.uniform(low, high, found.size)
    if area.below is not None:
        low, high = area.below.least_voltage - area.back, area.below.greatest_voltage - area.back
        wrong |= found >= dice.uniform(low, high, found.size)
    return float(np.mean(wrong))


def shares(looked: Look) -> tuple[PartShare, ...]:
    """What each kind of part costs at the voltage that comes nearest to a threshold, most first."""
    if looked.region is None:
        return ()
    low = looked.region.by_the_low_side(looked.extremes)
    corner = looked.worst.least_at if low else looked.worst.greatest_at
    there = solve(at_corner(looked.netlist, corner))[INPUT]
    found = []
    for part in sorted({kind(name) for name in corner}):
        rest = {name: factor for name, factor in corner.items() if kind(name) != part}
        moved = solve(at_corner(looked.netlist, rest))[INPUT] - there
        if abs(moved) > NOTHING:
            found.append(PartShare(part=part, costs=moved if low else -moved))
    return tuple(sorted(found, key=lambda each: (-each.costs, each.part)))


def kind(name: str) -> Part:
    """The kind of a part of a netlist."""
    return PARTS[name.partition(".")[0].partition("#")[0]]
