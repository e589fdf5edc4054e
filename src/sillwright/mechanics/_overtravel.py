"""How far a leaf goes on after its edge has answered, and whether the edge gives that much."""

from __future__ import annotations

from sillwright.base.source import Source
from sillwright.base.units import Metre
from sillwright.base.words import N_, say
from sillwright.mechanics.simple_model import OvertravelCase, OvertravelResult

__all__ = ["overtravel"]

ROUND_OFF: Metre = 1e-12  # what is exactly enough is enough, whatever its last bit in binary
SOURCES = (
    Source(document="ISO 13856-2", clause=N_("safety factor 1.2 on the stopping distance"), sure="second-hand"),
    Source(document="ISO 13856-2", clause="s = 0.5 v (t1 + t2)", sure="memory", id="overtravel-simple"),
    Source(document=N_("Constant deceleration after the response"), sure="computed", id="overtravel-physical"),
)


def overtravel(case: OvertravelCase) -> OvertravelResult:
    r"""How much overtravel an edge has to have, and whether it has it.

    .. math:: s = v t_1 + v^2 / (2 a), \qquad s_{printed} = v (t_1 + t_2) / 2, \qquad required = factor \cdot s

    Parameters: closing speed (m/s), response t1 (s), deceleration a (m/s²) or stopping time t2 (s), factor of at
    least 1.2; to compare, the edge's curve (m, N), the travel at which it answers (m) and the force up to which
    travel counts (N), and how many times stiffer the edge is at the site's coldest. Returns distances in m.

    Model: full speed until the response is over, then constant deceleration. The printed form, half the speed over
    the whole time, understates wherever the response is spent at full speed; the required overtravel uses the
    physical one. Valid up to the speeds and times of the case's ranges. Raises :class:`OutOfRange` when the case
    is made.

    Source: ISO 13856-2 (EN 1760-2) for the factor, second-hand; the printed form from memory.

    >>> found = overtravel(OvertravelCase(closing_speed=0.2, response=0.02, stopping_time=0.1))
    >>> [round(each, 5) for each in (found.stopping_distance, found.stopping_distance_printed)]
    [0.014, 0.012]
    >>> round(found.required_overtravel, 5)
    0.0168
    """
    speed = case.closing_speed
    stopping = case.stopping_time if case.stopping_time is not None else speed / (case.deceleration or 1.0)
    distance = speed * case.response + 0.5 * speed * stopping
    required = case.factor * distance
    warm, cold = _available(case, 1.0), _available(case, case.cold_factor)
    return OvertravelResult(
        stopping_distance=distance,
        stopping_distance_printed=0.5 * speed * (case.response + stopping),
        stopping_time=stopping,
        required_overtravel=required,
        required_overtravel_printed=0.5 * case.factor * speed * (case.response + stopping),
        available_overtravel=warm,
        available_overtravel_cold=cold,
        enough=None if warm is None else warm >= required - ROUND_OFF,
        enough_cold=None if cold is None else cold >= required - ROUND_OFF,
        case=case,
        assumptions=(say(N_("The leaf keeps its speed until the response is over, then slows evenly.")),),
        sources=SOURCES,
    )


def _available(case: OvertravelCase, stiffer: float | None) -> float | None:
    """The travel after the answer up to the force; None where a fact is missing or the curve ends before."""
    if case.curve is None or case.actuation_travel is None or case.force is None or stiffer is None:
        return None
    before = (0.0, 0.0)
    for travel, force in case.curve[1:]:
        harder = force * stiffer
        if harder >= case.force:
            share = (case.force - before[1]) / (harder - before[1])
            return max(0.0, before[0] + share * (travel - before[0]) - case.actuation_travel)
        before = travel, harder
    return max(0.0, case.curve[-1][0] - case.actuation_travel)
