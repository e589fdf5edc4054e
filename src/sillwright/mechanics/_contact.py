"""A closing leaf meets someone: how hard, how long."""

from __future__ import annotations

from math import isnan

from sillwright.base.source import Source
from sillwright.base.words import N_, say
from sillwright.mechanics._exact import LOG_WIDTH
from sillwright.mechanics._law import force_at
from sillwright.mechanics._piece import Piece, motion
from sillwright.mechanics._row import OUTCOMES, curve_of, numbers_of, solved
from sillwright.mechanics.model import ContactCase, ContactResult, ContactTrace

__all__ = ["contact"]

SOURCES = (
    Source(document=N_("Equation of motion of a driven mass, solved piece by piece"), sure="computed"),
    Source(document="EN 12453", clause=N_("150 N, 25 N and 0.75 s"), sure="second-hand", id="td"),
)
ROOM = 4096  # pieces that a trace can hold; a contact has about 25
SAMPLE = 1e-3  # s between the points of a trace


def contact(case: ContactCase) -> ContactResult:
    r"""How hard and how long a closing leaf presses on what it meets.

    .. math:: m y'' = N - F(y), \qquad
              N = \mathrm{clip}(k_d (u - y) + c_d (u' - y'), -L, P)

    Parameters: the case, SI units: leaf (m/s, kg), drive (N/m, N s/m, N), stop (s, m/s², m/s), edge (m, N, s,
    N/m), obstruction (N/m), duration (s). Returns forces in N, times in s from the touch, travel in m.

    Model: a leaf of one mass closes steadily until the touch, so that the drive's net push is nought there.
    F is the edge's curve in series with the obstruction's spring and never pulls. Once the edge has answered,
    the drive brakes, rests and opens; only its first answer counts. Solved exactly, piece by piece, with every
    event to round-off. A rigid drive holds the leaf at its own speed until that takes more than a limit; then
    the limit acts alone until the leaf is back where it was left.

    Valid for one degree of freedom, edges whose force does not depend on speed, closing speeds up to 5 m/s.
    Raises :class:`OutOfRange` where the case leaves its ranges (when the case is made), or where the motion changes
    too often to follow: thousands of swings, or a light leaf on a drive damped tens of times more than critically.

    Source: Newton's second law; forces and times that are asked for: EN 12453 (second-hand).

    >>> from sillwright.mechanics import Drive, Edge, Obstruction, Stop
    >>> case = ContactCase(
    ...     closing_speed=0.2, moving_mass=150, obstruction=Obstruction(stiffness=25e3),
    ...     drive=Drive(stiffness=60e3, damping=200, push_limit=400),
    ...     stop=Stop(reaction=0.08, deceleration=2, dwell=0.3, opening_acceleration=1, opening_speed=0.2),
    ...     edge=Edge(curve=((0, 0), (0.01, 40), (0.03, 150)), actuation_travel=0.008, response=0.03,
    ...               end_stiffness=200e3))
    >>> found = contact(case)
    >>> round(found.peak_force, 3), round(found.contact_duration, 4)
    (329.187, 0.8725)
    """
    found, _ = solved(numbers_of(case), *curve_of(case), [])
    values = dict(zip(OUTCOMES, (None if isnan(each) else each for each in found), strict=False))
    values["drive_slips"] = int(found[9])
    return ContactResult(
        **values,  # type: ignore[arg-type]
        trace=_traced(case, found[1]) if case.trace else None,
        case=case,
        assumptions=_assumptions(case, int(found[9])),
        sources=SOURCES,
    )


def _traced(case: ContactCase, peak_time: float) -> ContactTrace:
    """The record, followed to the end of the duration; the results do not depend on whether it is wanted."""
    log = [0.0] * (ROOM * LOG_WIDTH)
    found, law = solved(numbers_of(case), *curve_of(case), log)
    return _trace(log, int(found[10]), law, peak_time)


def _assumptions(case: ContactCase, slips: int) -> tuple[str, ...]:
    said = [say(N_("The leaf closes steadily before the touch; the drive's net push is then nought."))]
    if case.drive.push_limit is None:
        said.append(say(N_("The drive's push has no limit.")))
    if case.drive.lift_limit is None:
        said.append(say(N_("The drive can lift without limit.")))
    if case.drive.stiffness is None:
        said.append(say(N_("The drive is rigid and undamped.")))
        if slips:
            caught = N_(
                "A rigid drive that has given way gives its limit until the leaf is back where it was left; there "
                "it catches the leaf at once, or brakes it with its other limit where it has one."
            )
            said.append(say(caught))
    if case.edge is None or case.edge.actuation_travel is None:
        said.append(say(N_("No edge answers: the drive never stops by itself.")))
    return tuple(said)


def _trace(
    log: list[float],
    pieces: int,
    law: tuple[list[float], list[float], list[float], int],
    peak_time: float,
) -> ContactTrace:
    """Every millisecond, every event and the peak."""
    times, forces, places = [0.0], [0.0], [0.0]
    for number in range(min(pieces, ROOM)):
        start, step, _, *numbers = log[number * LOG_WIDTH : (number + 1) * LOG_WIDTH]
        piece: Piece = tuple(numbers)  # type: ignore[assignment]
        inner = int(start / SAMPLE) + 1
        wanted = [each * SAMPLE for each in range(inner, int((start + step) / SAMPLE) + 1)]
        wanted += [start + step, *([peak_time] if start < peak_time < start + step else [])]
        for time in sorted(each for each in set(wanted) if times[-1] < each <= start + step):
            place, _, _ = motion(piece, time - start)
            times.append(time)
            places.append(place)
            forces.append(force_at(*law, place))
    return ContactTrace(time=tuple(times), force=tuple(forces), position=tuple(places))
