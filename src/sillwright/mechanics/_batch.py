"""Many contacts at once, on the compiled solution."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, say

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


def contact_batch(
    numbers: Sequence[Sequence[float]] | NDArray[np.float64],
    travel: Sequence[Sequence[float]] | NDArray[np.float64],
    force: Sequence[Sequence[float]] | NDArray[np.float64],
) -> NDArray[np.float64]:
    """Many contacts, one a row, on all cores.

    Parameters: ``numbers`` with the sixteen columns of ``NUMBERS`` (SI; inf = no limit or rigid, NaN = the edge
    never answers), ``travel`` and ``force`` with the points of each row's curve (no columns = no edge; a shorter
    curve is filled up with NaN). Returns the ten columns of ``OUTCOMES``, NaN where there is no such time.

    Model, validity and source as for :func:`contact`; the rows are not checked for range. Raises ValueError where
    the shapes do not fit, OutOfRange where a row's motion changes too often to follow.
    """
    import numpy as np

    from sillwright.mechanics import kernel
    from sillwright.mechanics._row import NUMBERS, UNFOLLOWED

    rows = np.ascontiguousarray(numbers, dtype=np.float64)
    count = rows.shape[0]
    travels = np.ascontiguousarray(travel, dtype=np.float64).reshape(count, -1)
    forces = np.ascontiguousarray(force, dtype=np.float64).reshape(count, -1)
    if rows.ndim != 2 or rows.shape[1] != len(NUMBERS) or travels.shape != forces.shape:
        raise ValueError(
            f"{rows.shape}, {travels.shape}, {forces.shape}: rows of {len(NUMBERS)} numbers are wanted"
        )
    points = np.sum(np.isfinite(travels), axis=1)
    found = kernel.run(rows, travels, forces, points)
    lost = np.flatnonzero(np.isnan(found[:, 0]))
    if lost.size:
        raise OutOfRange(say(N_("row {row}: {why}"), row=int(lost[0]), why=UNFOLLOWED))
    return found
