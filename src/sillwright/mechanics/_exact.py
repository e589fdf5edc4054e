"""The exact motion of a closing leaf that meets something: piece by piece, every event to round-off.

Numbers in, numbers out; no models. Written in the part of Python that also compiles:
:mod:`sillwright.mechanics.kernel` compiles these same functions for batches.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import floor, inf, nan, sqrt

from sillwright.mechanics._law import force_at, lay_out
from sillwright.mechanics._march import BACK, DEEPER, MORE, MOST_STEPS, NOTHING, SAME, march
from sillwright.mechanics._piece import Piece, Watch, begin

DYNAMIC = 0.75  # length of the dynamic period, s (EN 12453)
LOG_WIDTH = 12


def phase(
    number: int, speed: float, deceleration: float, dwell: float, opening_acceleration: float, opening_speed: float
) -> tuple[float, float, float]:
    """Speed and acceleration of the drive at the start of a phase, and how long it lasts."""
    if number == 0:
        return speed, 0.0, inf
    if number == 1:
        return speed, -deceleration, speed / deceleration
    if number == 2:
        return 0.0, 0.0, dwell
    if number == 3:
        return 0.0, -opening_acceleration, opening_speed / opening_acceleration
    return -opening_speed, 0.0, inf


def rigid(
    mass: float,
    push: float,
    lift: float,
    cap: int,
    u: float,
    u1: float,
    u2: float,
    rest: float,
    slope: float,
    y: float,
    v: float,
) -> tuple[Piece, Watch, float, float]:
    """The motion under a rigid drive, and what decides when its state changes (with its least and greatest).

    ``cap`` 0 it holds the leaf; ±1 it has given way and gives its limit until the leaf is back where it was left.
    ``u`` is the drive's place, less how far the leaf was behind it when it was last held.
    """
    if cap == 0:  # the leaf goes with the drive; watched is the force that needs
        piece = y, u1, 0.5 * u2, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        return piece, (mass * u2 + rest, 0.0, 0.0, slope, 0.0), -lift, push
    force = push if cap > 0 else -lift
    piece = begin(mass, 0.0, slope, force - rest, 0.0, 0.0, y, v)
    watch = u, u1, 0.5 * u2, -1.0, 0.0  # watched is how far the drive is ahead
    return (piece, watch, 0.0, inf) if cap > 0 else (piece, watch, -inf, 0.0)


def solve(  # noqa: C901 - one loop over the pieces, kept in one for its speed in plain Python
    speed: float,
    mass: float,
    stiffness: float,
    damping: float,
    push: float,
    lift: float,
    delay: float,
    deceleration: float,
    dwell: float,
    opening_acceleration: float,
    opening_speed: float,
    duration: float,
    depths: Sequence[float],
    forces: Sequence[float],
    slopes: Sequence[float],
    count: int,
    answers: int,
    short: int,
    long: int,
    log: MutableSequence[float],
) -> tuple[float, float, float, float, float, float, float, float, float, int]:
    """From the touch to the end: deepest place and its time, actuation, last separation, time above 150 N and
    above 25 N, deepest place after the dynamic period, last place, times the drive slipped, pieces.

    Not a number where there is none; -1 for the deepest place after a dynamic period that never began.
    -1 pieces: the motion changes too often to be followed, and nothing else holds.
    ``cap`` 0 neither limit of the drive is met, 1 it pushes with all it has, -1 it lifts with all it has. The
    contact force is ``rest + slope y``. A stiffness of inf is a rigid drive.
    """
    t = y = u_start = t_start = deepest = deepest_time = above_long = above_short = 0.0
    v = speed
    number = at = cap = stalled = pieces = steps = 0
    actuation = separation = nan
    last, last_from, slips = -1.0, inf, 0.0
    u1, u2, length = phase(0, speed, deceleration, dwell, opening_acceleration, opening_speed)
    born = rest = slope = u = du = step = 0.0
    low, high = 0.0, 0.0
    bottom = count - 1
    section, round_from, round_slips, round_long, round_short = count, 0.0, 0.0, 0.0, 0.0
    apart = 0.0  # how far the leaf was behind a rigid drive when it was last held
    piece, watch, less, more = rigid(mass, push, lift, 0, u, u1, u2, rest, slope, y, v)
    fresh, firm, logging = True, stiffness == inf, len(log) > 0
    horizon = duration  # the next thing that time alone brings
    while t < duration:
        if at >= 0:
            low = depths[at]
            high = inf if at == bottom else depths[at + 1]
        else:
            low, high = -inf, 0.0
        if fresh:  # another piece begins; crossing a mere break point goes on with the old one
            born, step, since = t, 0.0, t - t_start
            u, du = u_start + since * (u1 + 0.5 * since * u2), u1 + since * u2
            slope, rest = 0.0, 0.0
            if at >= 0:
                slope = slopes[at]
                rest = forces[at] - slope * low
            if firm:
                piece, watch, less, more = rigid(mass, push, lift, cap, u - apart, du, u2, rest, slope, y, v)
            else:
                r0, r1, r2 = stiffness * u + damping * du, stiffness * du + damping * u2, 0.5 * stiffness * u2
                watch = r0, r1, r2, -stiffness, -damping
                if cap == 0:
                    less, more = -lift, push
                    piece = begin(mass, damping, stiffness + slope, r0 - rest, r1, r2, y, v)
                elif cap > 0:
                    less, more = push, inf
                    piece = begin(mass, 0.0, slope, push - rest, 0.0, 0.0, y, v)
                else:
                    less, more = -inf, -lift
                    piece = begin(mass, 0.0, slope, -lift - rest, 0.0, 0.0, y, v)
        until = horizon
        if at < 0 and number == 4 and not (firm or logging):
            wait = parting(mass, stiffness, lift, opening_speed, u, u - y, du - v)
            if wait <= 0.0:
                break
            until = min(until, t + 1.000001 * wait + 1e-9)
        start, span = step, until - born
        if stalled <= 12:
            box = low, high, less, more
        else:  # two states that hand over to each other in no time: go on for a nanosecond
            box = -inf, inf, -inf, inf
            span = min(span, start + 1e-9)
        need = deepest if last_from > t or last > deepest else last
        step, event, y, v, top, top_time, tries = march(piece, watch, box, start, y, v, span, need)
        steps += tries
        if steps >= MOST_STEPS:  # LOST, or too many in all
            pieces = -1
            break
        pieces = note(log, pieces, born, step, at, piece) if logging else pieces + 1
        if top > deepest:
            if top > deepest * SAME:
                deepest_time = born + top_time
            deepest = top
        if last_from <= t and top > last:
            last = top
        took = step - start
        if at >= short:
            above_short += took
            if at >= long:
                above_long += took
        t = until if event == NOTHING and stalled <= 12 else born + step
        stalled = stalled + 1 if took < 1e-12 else 0
        fresh = True
        if event == DEEPER:
            at += 1
            if at == answers and actuation != actuation:
                actuation = t
                length = t + delay
                horizon = min(horizon, length)
            if at == long and last_from == inf:
                last_from = t + DYNAMIC
                horizon = min(horizon, last_from)
            fresh = slopes[at] != slope or at == 0
        elif event == BACK:
            at -= 1
            if at < 0:
                separation = t
            else:
                fresh = slopes[at] != slope
            if cap > 0 and number == 0 and length == inf and not logging:
                if at < section or slips != round_slips:
                    section, round_slips, round_from = at, slips, t
                    round_long, round_short = above_long, above_short
                elif at == section:
                    # A constant push and a law without losses: one whole swing is like the other, and the drive is
                    # further ahead with each of them.
                    whole = t - round_from
                    ends = last_from if last_from > t and last_from < duration else duration
                    if last_from > t or last_from <= round_from:
                        swings = floor((ends - t) / whole) - 1.0 if whole > 0.0 else 0.0
                        if swings > 0.0:
                            above_long += swings * (above_long - round_long)
                            above_short += swings * (above_short - round_short)
                            t += swings * whole
                            fresh = True
                            separation = t if at < 0 else separation + swings * whole
                    round_from, round_long, round_short = t, above_long, above_short
        elif event != NOTHING:
            if cap == 0:
                cap = 1 if event == MORE else -1
                slips += 1.0
                apart = u + step * (du + 0.5 * step * u2) - y
            elif not firm:
                cap = 0
            else:  # back where it was left: caught at once, or braked with what the drive can give
                pace = du + step * u2
                stops = lift if cap > 0 else push
                if stops < inf and abs(v - pace) > 1e-12 * (abs(v) + abs(pace)):
                    cap = -cap
                else:
                    v = pace
                    cap = hold(mass * u2 + rest + slope * y, push, lift)
                    apart = u + step * (du + 0.5 * step * u2) - y
        else:
            if t >= last_from and last < 0.0:
                last = max(y, 0.0)
            if t >= t_start + length:
                u_start += length * (u1 + 0.5 * length * u2)
                t_start += length
                number += 1
                u1, u2, length = phase(number, speed, deceleration, dwell, opening_acceleration, opening_speed)
                if firm and cap == 0:
                    cap = hold(mass * u2 + rest + slope * y, push, lift)
                    slips += abs(cap)
                    apart = u_start - y
            horizon = min(duration, t_start + length, last_from if last_from > t else inf)
    if at >= 0:
        separation = nan
    return deepest, deepest_time, actuation, separation, above_long, above_short, last, y, slips, pieces


def outcome(
    numbers: Sequence[float],
    travel: Sequence[float],
    force: Sequence[float],
    points: int,
    depths: MutableSequence[float],
    forces: MutableSequence[float],
    slopes: MutableSequence[float],
    log: MutableSequence[float],
) -> tuple[float, float, float, float, float, float, float, float, float, float, float, float]:
    """What a contact comes to, in the order of ``_row.OUTCOMES``; then the counts of pieces and of points.

    ``numbers`` are those of ``_row.NUMBERS``, in that order.
    """
    count, answers, short, long = lay_out(
        travel, force, points, numbers[13], numbers[14], numbers[12], depths, forces, slopes
    )
    deepest, when, pressed, apart, above_long, above_short, last, final, slips, pieces = solve(
        numbers[0],
        numbers[1],
        numbers[2],
        numbers[3],
        numbers[4],
        numbers[5],
        numbers[11] + numbers[6],
        numbers[7],
        numbers[8],
        numbers[9],
        numbers[10],
        numbers[15],
        depths,
        forces,
        slopes,
        count,
        answers,
        short,
        long,
        log,
    )
    if pieces < 0:
        return nan, nan, nan, nan, nan, nan, nan, nan, nan, nan, -1.0, float(count)
    peak = force_at(depths, forces, slopes, count, deepest)
    edge = deepest - peak / numbers[14] if points > 0 else 0.0
    lasting = force_at(depths, forces, slopes, count, last)
    ending = force_at(depths, forces, slopes, count, final)
    return (
        peak,
        when,
        pressed,
        apart,
        above_long,
        above_short,
        lasting,
        edge,
        ending,
        slips,
        float(pieces),
        float(count),
    )


def hold(needed: float, push: float, lift: float) -> int:
    """The state of a rigid drive that has to give ``needed``."""
    return 1 if needed > push else (-1 if needed < -lift else 0)


def parting(
    mass: float, stiffness: float, lift: float, opening_speed: float, u: float, stretch: float, slip: float
) -> float:
    """How long until a leaf that is apart from what it met is proven never to touch it again.

    Seen from the drive, which opens steadily, the energy of the leaf and of the drive's give never grows, whatever
    the limits do; so the leaf never gets further ahead of the drive than that energy carries it.
    """
    swing = abs(stretch)
    energy = 0.5 * (mass * slip * slip + stiffness * swing * swing)  # at most: a limit only takes from it
    ahead_by = sqrt(2.0 * energy / stiffness)
    if stiffness * ahead_by > lift:
        ahead_by = energy / lift + 0.5 * lift / stiffness if lift > 0.0 else inf
    return (u + ahead_by) / opening_speed


def note(log: MutableSequence[float], pieces: int, t: float, step: float, at: int, piece: Piece) -> int:
    """Write a piece down where there is room for it; the count of pieces."""
    start = pieces * LOG_WIDTH
    if start + LOG_WIDTH <= len(log):
        log[start], log[start + 1], log[start + 2] = t, step, at
        log[start + 3], log[start + 4], log[start + 5] = piece[0], piece[1], piece[2]
        log[start + 6], log[start + 7], log[start + 8] = piece[3], piece[4], piece[5]
        log[start + 9], log[start + 10], log[start + 11] = piece[6], piece[7], piece[8]
    return pieces + 1
