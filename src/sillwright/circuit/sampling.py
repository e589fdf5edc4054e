"""Monte Carlo over tolerances: the voltages of a node in many loops whose parts lie anywhere within theirs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from sillwright.circuit.netlist import GROUND, Netlist
from sillwright.circuit.signs import Edge, directions

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

AT_ONCE = 10_000  # samples that are held at once


@dataclass(frozen=True)
class Program:
    """A loop laid out for the kernel: its nodes in an order in which ties stay near, the asked one last."""

    edges: tuple[Edge, ...]
    ends: NDArray[np.int64]
    nodes: int
    width: int


def sample(netlist: Netlist, node: str, count: int, seed: int) -> NDArray[np.float64]:
    """The node's voltage in ``count`` loops, each part uniform within its tolerance and independent of the others.

    Loops of resistors on one source run compiled; the others side by side. The same seed gives the same loops.
    Raises :class:`OutOfRange` where a netlist cannot be solved.
    """
    import numpy as np

    dice = np.random.default_rng(seed)
    plain = None if netlist.diodes else program(netlist, node)
    parts = [min(AT_ONCE, count - start) for start in range(0, count, AT_ONCE)]
    return np.concatenate([_some(netlist, node, plain, each, dice) for each in parts])


def _some(
    netlist: Netlist, node: str, plain: Program | None, count: int, dice: np.random.Generator
) -> NDArray[np.float64]:
    import numpy as np

    from sillwright.circuit.many import solve_many

    if plain is None:
        return solve_many(netlist, node, _factors(netlist, count, dice), count)
    source = netlist.sources[0]
    ohm = np.array([each[3] for each in plain.edges])
    tolerance = np.array([each[4] for each in plain.edges])
    factors = 1 + tolerance[:, None] * dice.uniform(-1, 1, (ohm.size, count))
    volts = source.volt * (1 + source.tolerance * dice.uniform(-1, 1, count))
    found: NDArray[np.float64] = volts * ratios(plain, ohm[:, None] * factors)
    return found


def program(netlist: Netlist, node: str) -> Program | None:
    """The loop laid out for the kernel; None where it is not resistors on one source, or the node hangs on that."""
    import numpy as np

    found = directions(netlist, node)
    if found is None or found.node in (GROUND, found.hot):
        return None
    order = _order(found.edges, found.node, found.hot)
    place = {each: at for at, each in enumerate(reversed(order))}
    place |= {GROUND: -1, found.hot: -2}
    edges = tuple(each for each in found.edges if max(place.get(each[1], -9), place.get(each[2], -9)) >= 0)
    edges = tuple(each for each in edges if each[1] in place and each[2] in place)
    ends = np.array([sorted((place[one], place[other])) for _, one, other, *_ in edges], dtype=np.int64)
    inner = [int(other - one) for one, other in ends if one >= 0]
    return Program(edges, ends, len(order), max(inner, default=1))


def ratios(plain: Program, ohms: NDArray[np.float64]) -> NDArray[np.float64]:
    """The node's voltage as a share of the source, a row of resistances for each of the program's edges."""
    from sillwright.circuit import kernel

    return kernel.run(1 / ohms, plain.ends, plain.nodes, plain.width)


def _order(edges: tuple[Edge, ...], node: str, hot: str) -> list[str]:
    """The nodes by how many parts lie between them and the node asked for (Cuthill and McKee, from memory)."""
    near: dict[str, list[str]] = {}
    for _, one, other, *_ in edges:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    found, seen = [node, GROUND], {node, hot, GROUND}  # a pair starts at both of its conductors
    for each in found:
        onward = sorted(set(near.get(each, ())) - seen, key=lambda far: (len(near[far]), far))
        seen.update(onward)
        found += onward
    return [each for each in found if each != GROUND]


def _factors(netlist: Netlist, count: int, dice: np.random.Generator) -> dict[str, NDArray[np.float64]]:
    """Random multiples of every part that has a tolerance."""
    return {name: 1 + each * dice.uniform(-1, 1, count) for name, each in netlist.tolerances.items()}
