"""The divider of a loop for many samples of its parts: banded elimination, compiled; arrays in, an array out.

The compiled code is kept on disk beside this file, in the home folder, or in NUMBA_CACHE_DIR; where none of them
can be written it is made again in each process.
"""

from __future__ import annotations

import numba
import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled as compile_

LANES = 64  # samples side by side
TO_GROUND = -1
TO_SOURCE = -2


def batch(siemens, ends, nodes, width, out):  # type: ignore[no-untyped-def]
    """Take nodes out from the first to the last but one; the last one's ties then make a divider.

    ``siemens`` has a row for each part and a column for each sample. ``ends`` holds the two nodes of each part, the
    smaller first, or ``TO_GROUND``, ``TO_SOURCE`` and the node. Nothing is subtracted, so that no digits cancel.
    """
    parts, samples = siemens.shape
    for block in numba.prange((samples + LANES - 1) // LANES):
        start = block * LANES
        count = min(LANES, samples - start)
        band = np.zeros((nodes, width + 1, LANES))
        ground, source = np.zeros((nodes, LANES)), np.zeros((nodes, LANES))
        total, share = np.empty(LANES), np.empty(LANES)
        for part in range(parts):
            one, other = ends[part, 0], ends[part, 1]
            into = (
                ground[other] if one == TO_GROUND else source[other] if one == TO_SOURCE else band[one, other - one]
            )
            for at in range(count):
                into[at] += siemens[part, start + at]
        for node in range(nodes - 1):
            last = min(width, nodes - 1 - node)
            for at in range(count):
                total[at] = ground[node, at] + source[node, at]
            for near in range(1, last + 1):
                for at in range(count):
                    total[at] += band[node, near, at]
            for at in range(count):
                total[at] = 1.0 / total[at]
            for near in range(1, last + 1):
                for at in range(count):
                    share[at] = band[node, near, at] * total[at]
                    ground[node + near, at] += share[at] * ground[node, at]
                    source[node + near, at] += share[at] * source[node, at]
                for far in range(near + 1, last + 1):
                    for at in range(count):
                        band[node + near, far - near, at] += share[at] * band[node, far, at]
        for at in range(count):
            out[start + at] = source[nodes - 1, at] / (source[nodes - 1, at] + ground[nodes - 1, at])


compiled = compile_(batch, parallel=True)


def run(siemens: NDArray[np.float64], ends: NDArray[np.int64], nodes: int, width: int) -> NDArray[np.float64]:
    """The last node's voltage as a share of the source, for every column of conductances."""
    out = np.empty(siemens.shape[1])
    compiled(np.ascontiguousarray(siemens), ends, nodes, width, out)
    return out
