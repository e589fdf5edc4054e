"""The whole table of faults, and its presses side by side beside one by one. Run: .venv/bin/python bench/faults.py

The peer solves every press as a circuit of its own, on every twentieth row, the two interleaved in one run. Exits with
1 where a budget is missed by more than a factor of two.
"""

from __future__ import annotations

import sys
from time import perf_counter
from typing import get_args

from sillwright.circuit import FaultsCase, faults
from sillwright.circuit.fault_rows import along, hurts_of
from sillwright.circuit.loops import reads, typical
from sillwright.circuit.model import Circuit, Hurt, Loop, Press, Read, State
from sillwright.circuit.pressing import SPOTS, forget, pressed_reads

ROUNDS = 7
BUDGET = 0.5  # s for every circuit, fault and place
AGAIN = 0.05  # s for the same table once more
FASTER = 3.0  # times one press after the other


def one_by_one(loop: Loop, hurt: Hurt) -> tuple[Read, ...]:
    """At rest and pressed at every spot, each as a circuit of its own."""
    presses = (None, *(Press(at=each) for each in SPOTS))
    return tuple(reads(loop, State(hurts=(hurt,), press=each)) for each in presses)


def main() -> int:
    """Measure, print and judge."""
    whole, again, beside, alone = [], [], [], []
    rows = [(loop, hurt) for loop in map(typical, get_args(Circuit)) for hurt in hurts_of(loop)]
    for _ in range(ROUNDS):
        forget()
        along.cache_clear()
        start = perf_counter()
        found = faults(FaultsCase())
        whole.append(perf_counter() - start)
        start = perf_counter()
        faults(FaultsCase())
        again.append(perf_counter() - start)
        forget()
        start = perf_counter()
        fast = [pressed_reads(loop, (hurt,)) for loop, hurt in rows[::20]]
        beside.append(perf_counter() - start)
        start = perf_counter()
        slow = [one_by_one(loop, hurt) for loop, hurt in rows[::20]]
        alone.append(perf_counter() - start)
        if fast != slow:
            print("the two ways differ")
            return 1
    ratio = min(alone) / min(beside)
    print(f"{len(found.rows)} faults: {min(whole):.3f} s (budget {BUDGET} s), again {1000 * min(again):.0f} ms")
    print(f"ten presses side by side: {ratio:.1f} times one by one (budget {FASTER})")
    late = min(whole) > 2 * BUDGET or min(again) > 2 * AGAIN
    return 1 if late or ratio < FASTER / 2 else 0


if __name__ == "__main__":
    sys.exit(main())
