"""Causes of a call that only say where to look on, taken apart into the faults that they stand for.

One network stands over the faults of all calls, so that what answers say of a fault holds for every call. Three
causes of calls are no faults ("as for the first call"), and two names mean one thing at an edge and another at an
eye or at the operator; the table says which. Every other fault keeps the name under which the calls have it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sillwright.base.words import N_, say
from sillwright.trouble.tables import Row

Causes = Mapping[str, float]


def resolved(call: str, own: Causes, calls: Mapping[str, Causes], stand_ins: Sequence[Row]) -> dict[str, float]:
    """The causes of a call with every stand-in replaced; what it had is shared out and nothing is lost."""
    found: dict[str, float] = {}
    for cause, share in own.items():
        row = next((each for each in stand_ins if _stands_for(each, call, cause)), None)
        for fault, part in _parts(cause, row, calls).items():
            found[fault] = found.get(fault, 0.0) + share * part
    return found


def _stands_for(row: Row, call: str, cause: str) -> bool:
    calls = row.texts("in")
    return row.text("cause") == cause and (not calls or call in calls)


def _parts(cause: str, row: Row | None, calls: Mapping[str, Causes]) -> dict[str, float]:
    """What one cause is made of, adding up to one."""
    if row is None:
        return {cause: 1.0}
    fault, call, without = row.maybe("fault"), row.maybe("call"), row.texts("without")
    if (fault is None) == (call is None) or (call is not None and call not in calls):
        row.wrong("", say(N_("either a fault or a call that is listed is wanted")), call or "")
        return {cause: 1.0}
    if fault is not None:
        return {fault: 1.0}
    left = {name: share for name, share in calls[str(call)].items() if name not in without}
    total = sum(left.values())
    if total <= 0.0:
        row.wrong("without", say(N_("nothing is left of that call")), without)
        return {cause: 1.0}
    return {name: share / total for name, share in left.items()}
