"""Any number of faults, compiled: arrays in, arrays out, knows no models; kept on disk where that is possible."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled

Floats = NDArray[np.float64]


def _chances(
    absent: Floats, present: Floats, upper: Floats, lower: Floats, leak_upper: Floats, leak_lower: Floats
) -> tuple[Floats, float]:
    """Chance of each fault together with all that was shown, and that of the latter. Nothing is subtracted."""
    count, faults = upper.shape
    size = 1 << count
    before = np.ones((faults + 1, size))  # bit set: what was seen has been shown by the faults so far
    for at in range(count):
        bit = 1 << at
        for state in range(size):
            before[0, state] *= leak_upper[at] - leak_lower[at] if state & bit else leak_lower[at]
    work = np.zeros(size)
    for i in range(faults):
        work[:] = before[i]
        for at in range(count):
            up, low, bit = upper[at, i], lower[at, i], 1 << at
            if up < 1.0 or low < 1.0:
                for base in range(0, size, 2 * bit):
                    for state in range(base, base + bit):
                        work[state + bit] = work[state + bit] * up + work[state] * (up - low)
                        work[state] *= low
        for state in range(size):
            before[i + 1, state] = absent[i] * before[i, state] + present[i] * work[state]
    rest, shares = np.zeros(size), np.zeros(faults)
    rest[size - 1] = 1.0  # in the end all of it has been shown
    for i in range(faults - 1, -1, -1):
        work[:] = rest
        for at in range(count):
            up, low, bit = upper[at, i], lower[at, i], 1 << at
            if up < 1.0 or low < 1.0:
                for base in range(0, size, 2 * bit):
                    for state in range(base, base + bit):
                        work[state] = work[state] * low + work[state + bit] * (up - low)
                        work[state + bit] *= up
        for state in range(size):
            shares[i] += present[i] * before[i, state] * work[state]
            rest[state] = absent[i] * rest[state] + present[i] * work[state]
    return shares, before[faults, size - 1]


chances = compiled(_chances)
