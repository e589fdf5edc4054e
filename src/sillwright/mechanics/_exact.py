"""The exact motion of a closing leaf that meets something: piece by piece, every event to round-off.

This file is written in the part of Python that also compiles: :mod:`sillwright.mechanics.kernel` compiles
these same functions for batches. Numbers in, numbers out; no models. A *piece* is a stretch of time in which
nothing changes: one phase of the drive, one slope of the edge, one state of the drive's limits. Inside it

    y(t) = A + B t + C t² + e^(-αt) (P cos ωt + ((V + αP)/ω) sin ωt).

No event can be missed. The homogeneous part w of any derivative keeps |w'| and ω₀|w| below
√(w'² + ω₀² w²), which never grows; so a cubic through the ends of a step is wrong by at most
h⁴/384 times a bound that is known, and a step is accepted only where that proves what happens inside it.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import inf, nan, sqrt

from sillwright.mechanics._law import force_at, lay_out
from sillwright.mechanics._piece import Box, Piece, Watch, ahead, begin, motion, near, root, stays, trend

DYNAMIC = 0.75  # length of its dynamic period, s (EN 12453)
NOTHING, DEEPER, BACK, MORE, LESS, TURN = 0, 1, 2, 3, 4, 5  # how a step or a piece ends
LOG_WIDTH = 12
CLOSE = 5e-4  # how near a goal, in steps, the rest of the way is a short series
STEP = 2.0  # a step's length in units of 1 / (ω₀ + 2α); decides the speed, never the answer


def march(
    piece: Piece, watch: Watch, box: Box, y: float, v: float, span: float, need: float
) -> tuple[float, int, float, float, float, float]:  # a hot loop, in one function for its speed
    """Follow a piece from (y, v) to its first event, or to ``span``.

    ``box`` = least and greatest y, least and greatest ``watch``. Returns the time, how it ended, y, y', and
    the greatest y on the way with its time (looked for only where it can exceed ``need``).
    """
    _, b, c, p, w, decay, _, square, _ = piece
    low, high, less, more = box
    w0, w1, w2, wy, wv = watch
    pace = 2.0 * decay + sqrt(square)
    longest = STEP / pace if pace > 0.0 else span
    least, close = 1e-10 * longest, CLOSE * longest
    push = abs(wy) + abs(wv) * pace
    cap, t, a = longest, 0.0, 2.0 * c - 2.0 * decay * w - square * p
    g, d = w0 + wy * y + wv * v, w1 + wy * v + wv * a
    top, top_time, quiet = y, 0.0, min(high, need)
    while t < span:
        rest = span - t
        if cap < rest and (t == 0.0 or low == -inf):
            if stays(piece, watch, (low, quiet, less, more), t, span, y, v):
                y, v, a = motion(piece, span)
                return span, NOTHING, y, v, top, top_time
        way, sway = a - 2.0 * c, v - b - 2.0 * c * t  # the homogeneous part at the start of the step
        jerk = -2.0 * decay * way - square * sway
        bend = 2.0 * w2 + wy * a + wv * jerk
        goal, h = NOTHING, min(cap, rest)
        aim = high - y if v > 0.0 else low - y
        guess = near(aim, v, a, h)
        if guess < h:
            goal, h = (DEEPER if v > 0.0 else BACK), guess
        elif v > 0.0 and -v > a * h:
            goal, h = TURN, -v / a
        gap = more - g if d > 0.0 else less - g
        guess = near(gap, d, bend, h)
        if guess < h:
            goal, h = (MORE if d > 0.0 else LESS), guess
        if goal != NOTHING and h * pace < 1.0:
            snap = -2.0 * decay * jerk - square * way
            if goal <= BACK:
                guess = ahead(aim, v, a, jerk, snap, h)
            elif goal == TURN:
                guess = ahead(-v, a, jerk, snap, 0.0, h)
            else:
                guess = ahead(gap, d, bend, wy * jerk + wv * snap, 0.0, h)
            h = guess if 0.0 < guess < min(cap, rest) else h
        if h < least:
            goal, h = NOTHING, min(least, rest)
        end = span if h == rest else t + h
        y1, v1, a1 = motion(piece, end)
        sway1 = v1 - b - 2.0 * c * end
        jerk1 = -2.0 * decay * (a1 - 2.0 * c) - square * sway1
        g1, d1 = w0 + end * (w1 + end * w2) + wy * y1 + wv * v1, w1 + 2.0 * w2 * end + wy * v1 + wv * a1
        if goal != NOTHING:  # on to the goal itself, if it is in sight
            snap = -2.0 * decay * jerk1 - square * (a1 - 2.0 * c)
            if goal <= BACK:
                miss, slope, curl = (high if goal == DEEPER else low) - y1, v1, a1
            elif goal == TURN:
                miss, slope, curl = -v1, a1, jerk1
            else:
                miss, slope = (more if goal == MORE else less) - g1, d1
                curl = 2.0 * w2 + wy * a1 + wv * jerk1
            if abs(miss) <= close * abs(slope) and abs(miss * curl) <= 1e-4 * slope * slope:
                step = miss / slope
                step -= 0.5 * step * step * curl / slope
                if goal <= BACK:
                    step = ahead(miss, v1, a1, jerk1, snap, step)
                elif goal == TURN:
                    step = ahead(miss, a1, jerk1, snap, 0.0, step)
                else:
                    step = ahead(miss, d1, curl, wy * jerk1 + wv * snap, 0.0, step)
                if t < end + step < span:
                    end += step
                    h = end - t
                    y1 += step * (v1 + step * (0.5 * a1 + step * (jerk1 / 6.0 + step * snap / 24.0)))
                    v1 += step * (a1 + step * (0.5 * jerk1 + step * snap / 6.0))
                    a1 += step * (jerk1 + 0.5 * step * snap)
                    if goal <= BACK:
                        y1 = high if goal == DEEPER else low
                    elif goal == TURN:
                        v1 = 0.0
                    jerk1 = -2.0 * decay * (a1 - 2.0 * c) - square * (v1 - b - 2.0 * c * end)
                    g1 = w0 + end * (w1 + end * w2) + wy * y1 + wv * v1
                    d1 = w1 + 2.0 * w2 * end + wy * v1 + wv * a1
                else:
                    goal = NOTHING
            else:
                goal = NOTHING
        slack = pace * pace * sqrt(way * way + square * sway * sway) * h * h * h * h / 384.0
        third = h / 3.0
        x, z = y + third * v, y1 - third * v1
        most = max(y, x, z, y1) + slack
        inside = most < high and min(y, x, z, y1) - slack > low
        wanted = most > need and most > top
        moves = 1 if y1 > y else -1
        if wanted or not inside:
            found = trend(v, a, jerk, v1, a1, jerk1, h, slack * pace, slack * pace * pace)
            if found == 0 and h > least:
                cap = 0.5 * h
                continue
            if found > 1 and h > least:
                turn, _, _ = root(piece, (0.0, 0.0, 0.0, 0.0, 1.0), 5e-6 * longest, t, end, v, v1, a, a1)
                cap = turn - t if t < turn < end else 0.5 * h
                cap = cap if cap < 0.999 * h else 0.5 * h
                continue
            moves = found if abs(found) == 1 else moves
        x, z = g + third * d, g1 - third * d1
        swing = slack * push
        goes = 0
        if not (max(g, x, z, g1) + swing < more and min(g, x, z, g1) - swing > less):
            bend1 = 2.0 * w2 + wy * a1 + wv * jerk1
            twist = wy * jerk - wv * (2.0 * decay * jerk + square * way)
            twist1 = wy * jerk1 - wv * (2.0 * decay * jerk1 + square * (a1 - 2.0 * c))
            goes = trend(d, bend, twist, d1, bend1, twist1, h, swing * pace, swing * pace * pace)
            if (goes == 0 or goes > 1) and h > least:
                cap = 0.5 * h
                if goes > 1 and d != d1:
                    cap = min(max(0.1, 0.97 * d / (d - d1)), 0.9) * h
                continue
            if goes == 0 or goes > 1:
                goes = 1 if g1 > g else -1
        event, te, ye, ve = NOTHING, end, y1, v1
        if not inside:
            if goal == DEEPER or goal == BACK:
                event = goal
            elif moves == 1 and y1 > high:
                event = DEEPER
                te, ye, ve = root(piece, (-high, 0.0, 0.0, 1.0, 0.0), 5e-6 * longest, t, end, y - high, y1 - high, v, v1)
                ye = high
            elif moves == -1 and y1 < low:
                event = BACK
                te, ye, ve = root(piece, (-low, 0.0, 0.0, 1.0, 0.0), 5e-6 * longest, t, end, y - low, y1 - low, v, v1)
                ye = low
        if goes != 0:
            ge = g1 if te == end else w0 + te * (w1 + te * w2) + wy * ye + wv * ve
            level = more if goes == 1 else less
            if (goal == MORE or goal == LESS) and te == end:
                event = goal
            elif (goes == 1 and ge > more) or (goes == -1 and ge < less):
                event = MORE if goes == 1 else LESS
                te, ye, ve = root(
                    piece, (w0 - level, w1, w2, wy, wv), 5e-6 * longest, t, end, g - level, g1 - level, d, d1
                )
        if wanted and moves == 1 and ye > top:
            top, top_time = ye, te
        if event != NOTHING:
            return te, event, ye, ve, top, top_time
        t, y, v, a, g, d = end, y1, v1, a1, g1, d1
        cap = min(2.0 * cap, longest)
    return span, NOTHING, y, v, top, top_time


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


def balance(
    mass: float,
    stiffness: float,
    damping: float,
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
    """The motion, and what decides when the drive's state changes (with its least and greatest).

    ``cap`` 0 neither limit is met, 1 the drive pushes with all it has, -1 it lifts with all it has. The contact
    force is ``rest + slope y``. A stiffness of inf is a rigid drive.
    """
    force = push if cap > 0 else -lift
    if stiffness < inf:
        r0, r1, r2 = stiffness * u + damping * u1, stiffness * u1 + damping * u2, 0.5 * stiffness * u2
        watch = r0, r1, r2, -stiffness, -damping
        if cap == 0:
            piece = begin(mass, damping, stiffness + slope, r0 - rest, r1, r2, y, v)
            return piece, watch, -lift, push
        piece = begin(mass, 0.0, slope, force - rest, 0.0, 0.0, y, v)
        return (piece, watch, push, inf) if cap > 0 else (piece, watch, -inf, -lift)
    if cap == 0:  # the leaf goes with the drive; watched is the force that needs
        piece = y, u1, 0.5 * u2, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
        return piece, (mass * u2 + rest, 0.0, 0.0, slope, 0.0), -lift, push
    piece = begin(mass, 0.0, slope, force - rest, 0.0, 0.0, y, v)
    watch = u1, u2, 0.0, 0.0, -1.0  # watched is how much faster the drive is
    return (piece, watch, 0.0, inf) if cap > 0 else (piece, watch, -inf, 0.0)


def solve(
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
    """
    t = y = u_start = t_start = deepest = deepest_time = above_long = above_short = 0.0
    v = speed
    number = at = cap = stalled = pieces = 0
    actuation = separation = nan
    last, last_from, slips = -1.0, inf, 0.0
    u1, u2, length = phase(0, speed, deceleration, dwell, opening_acceleration, opening_speed)
    while t < duration:
        since = t - t_start
        u, du = u_start + since * (u1 + 0.5 * since * u2), u1 + since * u2
        rest, slope, low, high = 0.0, 0.0, -inf, 0.0
        if at >= 0:
            slope, low = slopes[at], depths[at]
            rest = forces[at] - slope * low
            high = depths[at + 1] if at + 1 < count else inf
        piece, watch, less, more = balance(mass, stiffness, damping, push, lift, cap, u, du, u2, rest, slope, y, v)
        until = min(t_start + length, duration, last_from if last_from > t else inf)
        span = until - t
        if stalled > 12:  # two states that hand over to each other in no time: go on for a nanosecond
            low = less = -inf
            high = more = inf
            span = min(span, 1e-9)
        need = deepest if last_from > t or last > deepest else last
        step, event, y, v, top, top_time = march(piece, watch, (low, high, less, more), y, v, span, need)
        pieces = note(log, pieces, t, step, at, piece)
        if top > deepest:
            deepest, deepest_time = top, t + top_time
        if last_from <= t and top > last:
            last = top
        above_long += step if at >= long else 0.0
        above_short += step if at >= short else 0.0
        t = until if event == NOTHING and stalled <= 12 else t + step
        stalled = stalled + 1 if step < 1e-12 else 0
        if event == DEEPER:
            at += 1
            if at == answers and actuation != actuation:
                actuation = t
                length = t + delay
            if at == long and last_from == inf:
                last_from = t + DYNAMIC
        elif event == BACK:
            at -= 1
            if at < 0:
                separation = t
        elif event != NOTHING:
            if cap == 0:
                cap = 1 if event == MORE else -1
                slips += 1.0
            elif stiffness < inf:
                cap = 0
            else:
                v = du + step * u2
                cap = hold(mass * u2 + rest + slope * y, push, lift)
        else:
            if t >= last_from and last < 0.0:
                last = max(y, 0.0)
            if t >= t_start + length:
                u_start += length * (u1 + 0.5 * length * u2)
                t_start += length
                number += 1
                u1, u2, length = phase(number, speed, deceleration, dwell, opening_acceleration, opening_speed)
                if stiffness == inf and cap == 0:
                    cap = hold(mass * u2 + rest + slope * y, push, lift)
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
    """What a contact comes to, in the order of ``_row.OUTCOMES`` (``numbers`` in that of NUMBERS); then the counts of pieces and of points."""
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


def note(log: MutableSequence[float], pieces: int, t: float, step: float, at: int, piece: Piece) -> int:
    """Write a piece down where there is room for it; the count of pieces."""
    start = pieces * LOG_WIDTH
    if start + LOG_WIDTH <= len(log):
        log[start], log[start + 1], log[start + 2] = t, step, at
        log[start + 3], log[start + 4], log[start + 5] = piece[0], piece[1], piece[2]
        log[start + 6], log[start + 7], log[start + 8] = piece[3], piece[4], piece[5]
        log[start + 9], log[start + 10], log[start + 11] = piece[6], piece[7], piece[8]
    return pieces + 1
