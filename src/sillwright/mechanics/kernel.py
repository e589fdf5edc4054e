"""The exact motion compiled, for batches: arrays in, arrays out, knows no models.

The functions of :mod:`sillwright.mechanics._exact` are compiled as they stand; there is no second copy. The
compiled batch is kept on disk beside this file, in the home folder, or in NUMBA_CACHE_DIR; where none of them
can be written it is made again in each process. Its key holds the functions it was made of.
"""

from __future__ import annotations

from types import FunctionType
from typing import Any
from zlib import crc32

import numba
import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import OPTIONS, compiled
from sillwright.mechanics import _exact, _law, _march, _piece

BLOCK = 32
NAMES = (
    "place",
    "depth_at",
    "force_at",
    "lay_out",
    "begin",
    "motion",
    "root",
    "trend",
    "stays",
    "leaving",
    "march",
    "phase",
    "rigid",
    "hold",
    "note",
    "parting",
    "solve",
    "outcome",
)  # each after those it calls


def _world() -> tuple[dict[str, Any], int]:
    """The plain functions, compiled in order, each seeing the ones before it compiled; and their stamp."""
    world = {**vars(_law), **vars(_piece), **vars(_march), **vars(_exact)}
    stamp = 0
    for name in NAMES:
        code = world[name].__code__
        stamp = crc32(repr((code.co_code, code.co_consts, code.co_names)).encode(), stamp)
        world[name] = numba.njit(FunctionType(code, world, name), **OPTIONS)
    constants = {key: value for key, value in world.items() if isinstance(value, (int, float))}
    return world, crc32(repr(sorted(constants.items())).encode(), stamp)


def _batch_of(stamp: int) -> Any:
    """The loop over cases. ``stamp`` is in its closure, hence in the key under which it is kept."""

    def batch(numbers, travel, force, points, out):  # type: ignore[no-untyped-def]
        rows, room = numbers.shape[0], travel.shape[1] + 4
        blocks = (rows + BLOCK - 1) // BLOCK
        if stamp < 0:
            return
        for block in numba.prange(blocks):
            depths, forces, slopes, log = np.empty(room), np.empty(room), np.empty(room), np.empty(0)
            for row in range(block * BLOCK, min(rows, (block + 1) * BLOCK)):
                found = _outcome(numbers[row], travel[row], force[row], points[row], depths, forces, slopes, log)
                for column in range(10):
                    out[row, column] = found[column]

    return batch


_functions, _stamp = _world()
_outcome = _functions["outcome"]
batch = compiled(_batch_of(_stamp), parallel=True)


def run(
    numbers: NDArray[np.float64],
    travel: NDArray[np.float64],
    force: NDArray[np.float64],
    points: NDArray[np.int64],
) -> NDArray[np.float64]:
    """All rows at once, on all cores: the outcomes in the order of ``_row.OUTCOMES``."""
    out = np.empty((numbers.shape[0], 10))
    batch(numbers, travel, force, points, out)
    return out
