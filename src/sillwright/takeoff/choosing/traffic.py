"""Traffic over the sill that tears a body that hangs low: it is kept out of its way, not made harder."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sillwright.base.finding import Finding
from sillwright.base.words import N_
from sillwright.survey.model import Opening
from sillwright.takeoff.found import found

DRAGS = re.compile(
    r"fork|pallet|steel|track|chain|crawler|excavator|bulldozer|tractor|rail|train|plough|plow|sled", re.IGNORECASE
)
"""Words for what passes on forks, steel wheels, tracks or chains."""


def traffic(opening: Opening) -> tuple[Finding, ...]:
    """PRO-12: forks, steel wheels, tracks and chains that pass under the leaf, once for all of them.

    Source: trade rules of thumb, from memory.
    """
    return tuple(_traffic(opening))


def _traffic(opening: Opening) -> Iterator[Finding]:
    if opening.door.is_gate:
        return
    passing = [each.who for each in opening.use.traffic if each.who.value and DRAGS.search(each.who.value)]
    if passing:
        yield found(
            "traffic",
            "note",
            N_("What passes under this leaf may drag over the sill: {who}. It tears a body that hangs low."),
            {"who": [str(each.value).replace("_", " ") for each in passing]},
            do=N_(
                "Protect the body by the closed limit and by how high the leaf stops open, not by a harder body."
            ),
            facts=tuple(each.path for each in passing),
            place="bottom",
        )
