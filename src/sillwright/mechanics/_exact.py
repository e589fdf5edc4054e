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
from math import cos, exp, expm1, inf, nan, sin, sqrt

Piece = tuple[float, float, float, float, float, float, float, float, float]
Watch = tuple[float, float, float, float, float]
Box = tuple[float, float, float, float]

SHORT, LONG = 25.0, 150.0  # forces whose durations the force standard asks for, N (EN 12453)
DYNAMIC = 0.75  # length of its dynamic period, s (EN 12453)
NOTHING, DEEPER, BACK, MORE, LESS = 0, 1, 2, 3, 4  # how a piece ends
LOG_WIDTH = 12
STEP = 2.0  # a step's length in units of 1 / (ω₀ + 2α); decides the speed, never the answer


def place(
    depths: MutableSequence[float],
    forces: MutableSequence[float],
    slopes: MutableSequence[float],
    count: int,
    depth: float,
) -> tuple[int, int]:
    """Make ``depth`` a break point of the law of contact; its index and the new count of points."""
    index = 0
    while index < count and depths[index] < depth * (1.0 - 1e-12):
        index += 1
    if index < count and depths[index] <= depth * (1.0 + 1e-12):
        return index, count  # it is one already
    for at in range(count, index, -1):
        depths[at], forces[at], slopes[at] = depths[at - 1], forces[at - 1], slopes[at - 1]
    before = index - 1
    depths[index] = depth
    slopes[index] = slopes[before]
    forces[index] = forces[before] + slopes[before] * (depth - depths[before])
    return index, count + 1


def depth_at(
    depths: Sequence[float], forces: Sequence[float], slopes: Sequence[float], count: int, force: float
) -> float:
    """How deep the leaf is when the contact carries ``force``."""
    at = count - 1
    while forces[at] > force:
        at -= 1
    return depths[at] + (force - forces[at]) / slopes[at]


def force_at(
    depths: Sequence[float], forces: Sequence[float], slopes: Sequence[float], count: int, depth: float
) -> float:
    """The contact force with the leaf at ``depth``."""
    if depth <= 0.0:
        return 0.0
    at = count - 1
    while depths[at] > depth:
        at -= 1
    return forces[at] + slopes[at] * (depth - depths[at])


def lay_out(
    travel: Sequence[float],
    force: Sequence[float],
    points: int,
    end_stiffness: float,
    obstruction: float,
    actuation: float,
    depths: MutableSequence[float],
    forces: MutableSequence[float],
    slopes: MutableSequence[float],
) -> tuple[int, int, int, int]:
    """Edge and obstruction in series, with actuation, 25 N and 150 N as break points.

    ``points`` 0 means no edge. Fills ``depths``, ``forces``, ``slopes`` (room for ``points`` + 3, at least 4);
    returns their count and the indices of actuation (-1 where the edge never answers), 25 N and 150 N.
    """
    give = 1.0 / obstruction  # m/N; 0 where the obstruction is rigid (inf)
    count = 1 if points == 0 else points
    depths[0] = forces[0] = 0.0
    slopes[0] = obstruction
    for at in range(points):
        depths[at] = travel[at] + force[at] * give
        forces[at] = force[at]
    for at in range(points):
        soft = 1.0 / end_stiffness
        if at + 1 < points:
            soft = (travel[at + 1] - travel[at]) / (force[at + 1] - force[at])
        slopes[at] = 1.0 / (soft + give)
    short, count = place(depths, forces, slopes, count, depth_at(depths, forces, slopes, count, SHORT))
    long, count = place(depths, forces, slopes, count, depth_at(depths, forces, slopes, count, LONG))
    if points == 0 or not actuation > 0.0:
        return count, -1, short, long
    at = points - 1
    while travel[at] > actuation:
        at -= 1
    stiff = end_stiffness
    if at + 1 < points:
        stiff = (force[at + 1] - force[at]) / (travel[at + 1] - travel[at])
    answering = actuation + give * (force[at] + stiff * (actuation - travel[at]))
    more = count
    index, count = place(depths, forces, slopes, count, answering)
    if count > more:
        short += 1 if index <= short else 0
        long += 1 if index <= long else 0
    return count, index, short, long


def begin(
    mass: float, damping: float, stiffness: float, r0: float, r1: float, r2: float, y: float, v: float
) -> Piece:
    """The motion from (y, v) under  m y'' + c y' + k y = r0 + r1 t + r2 t²."""
    if stiffness == 0.0:
        return y, v, 0.5 * r0 / mass, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    c = r2 / stiffness
    b = (r1 - 2.0 * damping * c) / stiffness
    a = (r0 - damping * b - 2.0 * mass * c) / stiffness
    decay = 0.5 * damping / mass
    square = stiffness / mass
    inside = square - decay * decay
    kind = 1.0
    if inside < -1e-12 * square:
        kind = 2.0
        omega = sqrt(-inside)
    elif inside > 1e-12 * square:
        omega = sqrt(inside)
    else:
        omega = 1e-6 * sqrt(square)
    return a, b, c, y - a, v - b, decay, omega, square, kind


def motion(piece: Piece, t: float) -> tuple[float, float, float]:
    """Position, speed and acceleration of the leaf at ``t`` within a piece."""
    a, b, c, p, w, decay, omega, square, kind = piece
    if kind == 0.0:
        return a + t * (b + t * c), b + 2.0 * c * t, 2.0 * c
    if kind == 1.0:
        fade = 1.0 if decay == 0.0 else exp(-decay * t)
        swing = fade * cos(omega * t)
        push = fade * sin(omega * t) / omega
    else:
        slow = exp(-square / (decay + omega) * t)  # decay - omega without the cancellation
        gap = expm1(-2.0 * omega * t)
        swing = slow * (1.0 + 0.5 * gap)
        push = -0.5 * slow * gap / omega
    y = p * swing + (w + decay * p) * push
    v = w * swing - (decay * w + square * p) * push
    return a + t * (b + t * c) + y, b + 2.0 * c * t + v, 2.0 * c - 2.0 * decay * v - square * y


def root(
    piece: Piece, watch: Watch, near: float, h0: float, h1: float, g0: float, g1: float, d0: float, d1: float
) -> tuple[float, float, float]:
    """Where ``watch`` (g = w0 + w1 t + w2 t² + wy y + wv y') is nought between h0 and h1, with y and y' there."""
    w0, w1, w2, wy, wv = watch
    if g0 == 0.0 or (g0 > 0.0) == (g1 > 0.0):
        y, v, _ = motion(piece, h0)
        return h0, y, v
    decay, square = piece[5], piece[7]
    rising = g1 > 0.0
    width = h1 - h0
    low, high = h0, h1
    t = h0 + width * g0 / (g0 - g1)
    if d0 * d1 > 0.0:  # cubic through the inverse function
        s = g0 / (g0 - g1)
        guess = s * s * (3.0 - 2.0 * s) * width + s * (1.0 - s) * (g1 - g0) * ((1.0 - s) / d0 - s / d1)
        if 0.0 < guess < width:
            t = h0 + guess
    y = v = 0.0
    for _ in range(80):
        y, v, a = motion(piece, t)
        jerk = -2.0 * decay * (a - 2.0 * piece[2]) - square * (v - piece[1] - 2.0 * piece[2] * t)
        g = w0 + t * (w1 + t * w2) + wy * y + wv * v
        d = w1 + 2.0 * w2 * t + wy * v + wv * a
        dd = 2.0 * w2 + wy * a + wv * jerk
        if (g > 0.0) == rising:
            high = t
        else:
            low = t
        step = 0.0
        if d != 0.0:
            step = g / d
            bend = 0.5 * step * dd / d
            if abs(bend) < 0.5:
                step /= 1.0 - bend
            size = abs(step)
            if size <= 1e-15 * h1 or (size <= near and abs(bend) <= 1e-5):
                return t - step, y - step * (v - 0.5 * step * a), v - step * (a - 0.5 * step * jerk)
        new = t - step
        if not low < new < high or step == 0.0:
            new = 0.5 * (low + high)
            if not low < new < high:
                break
        t = new
    return t, y, v


def trend(
    d0: float, dd0: float, ddd0: float, d1: float, dd1: float, ddd1: float, h: float, slack: float, wider: float
) -> int:
    """How a function moves over a step, by its first three derivatives at the ends.

    1 it rises, -1 it falls, 2 one greatest value inside, 3 one least value inside, 0 not proven.
    ``slack`` and ``wider`` bound the error of the cubic through the first and the second derivative.
    """
    third = h / 3.0
    x, y = d0 + third * dd0, d1 - third * dd1
    if d0 >= slack and d1 >= slack and x >= slack and y >= slack:
        return 1
    if d0 <= -slack and d1 <= -slack and x <= -slack and y <= -slack:
        return -1
    x, y = dd0 + third * ddd0, dd1 - third * ddd1
    up = dd0 > wider and dd1 > wider and x > wider and y > wider
    if not up and not (dd0 < -wider and dd1 < -wider and x < -wider and y < -wider):
        return 0
    near = 1e-12 * h * abs(dd0)  # a greatest or least value this close to an end is at that end
    if d0 >= -near and d1 >= -near:
        return 1
    if d0 <= near and d1 <= near:
        return -1
    return 3 if up else 2


def stays(piece: Piece, watch: Watch, box: Box, t: float, span: float, y: float, v: float) -> bool:
    """Whether the rest of the piece is proven to stay inside its box; cheap, and never wrongly true."""
    a, b, c, _, _, decay, _, square, _ = piece
    rest = span - t
    base, later = a + t * (b + t * c), a + span * (b + span * c)
    sway = 0.25 * abs(c) * rest * rest
    speed, late = b + 2.0 * c * t, b + 2.0 * c * span
    swing = 0.0
    if square > 0.0:
        swing = sqrt((v - speed) * (v - speed) / square + (y - base) * (y - base))
    if not (max(base, later) + sway + swing < box[1] and min(base, later) - sway - swing > box[0]):
        return False
    w0, w1, w2, wy, wv = watch
    g0 = w0 + t * (w1 + t * w2) + wy * base + wv * speed
    g1 = w0 + span * (w1 + span * w2) + wy * later + wv * late
    room = 0.25 * abs(w2 + wy * c) * rest * rest + (abs(wy) + abs(wv) * sqrt(square)) * swing
    return max(g0, g1) + room < box[3] and min(g0, g1) - room > box[2]


def march(
    piece: Piece, watch: Watch, box: Box, y: float, v: float, span: float, need: float
) -> tuple[float, int, float, float, float, float]:
    """Follow a piece from (y, v) to its first event, or to ``span``.

    ``box`` = least and greatest y, least and greatest ``watch``. Returns the time, how it ended, y, y', and
    the greatest y on the way with its time (looked for only where it can exceed ``need``).
    """
    _, b, c, p, w, decay, _, square, _ = piece
    low, high, less, more = box
    w0, w1, w2, wy, wv = watch
    pace = 2.0 * decay + sqrt(square)
    longest = STEP / pace if pace > 0.0 else span
    least, near = 1e-10 * longest, 5e-6 * longest
    push = abs(wy) + abs(wv) * pace
    h = longest
    t = 0.0
    a = 2.0 * c - 2.0 * decay * w - square * p
    g = w0 + wy * y + wv * v
    d = w1 + wy * v + wv * a
    top, top_time, turn = y, 0.0, -1.0
    quiet = low, min(high, need), less, more
    while t < span:
        if turn <= t:
            aim = high - y if v > 0.0 else low - y
            if abs(aim) < abs(v) * h:
                reach = v * v + 2.0 * a * aim
                if reach > 0.0:
                    guess = 2.0 * abs(aim) / (abs(v) + sqrt(reach))
                    if guess * pace < 0.7:
                        h = min(h, guess * (1.01 + 0.3 * pace * pace * guess * guess) + least)
        if h < span - t and (t == 0.0 or low == -inf) and stays(piece, watch, quiet, t, span, y, v):
            y, v, a = motion(piece, span)
            return span, NOTHING, y, v, top, top_time
        end = span if t + h > span else t + h
        h = end - t
        y1, v1, a1 = motion(piece, end)
        if end == turn:
            v1 = 0.0
        g1 = w0 + end * (w1 + end * w2) + wy * y1 + wv * v1
        d1 = w1 + 2.0 * w2 * end + wy * v1 + wv * a1
        way, sway = a - 2.0 * c, v - b - 2.0 * c * t  # the homogeneous part at the start of the step
        slack = pace * pace * sqrt(way * way + square * sway * sway) * h * h * h * h / 384.0
        third = h / 3.0
        x, z = y + third * v, y1 - third * v1
        most = max(y, x, z, y1) + slack
        inside = most < high and min(y, x, z, y1) - slack > low
        moves = 1 if v1 > 0.0 else -1
        jerk = jerk1 = 0.0
        wanted = most > need and most > top
        if wanted or not inside:
            jerk = -2.0 * decay * way - square * sway
            jerk1 = -2.0 * decay * (a1 - 2.0 * c) - square * (v1 - b - 2.0 * c * end)
            moves = trend(v, a, jerk, v1, a1, jerk1, h, slack * pace, slack * pace * pace)
            if moves == 0 and h > least:
                h *= 0.5
                continue
            if moves > 1 and h > least:
                turn, _, _ = root(piece, (0.0, 0.0, 0.0, 0.0, 1.0), near, t, end, v, v1, a, a1)
                if t < turn < end:
                    h = turn - t
                    turn = t + h
                    continue
            if moves == 0 or moves > 1:
                moves = 1 if y1 > y else -1
        x, z = g + third * d, g1 - third * d1
        swing = slack * push
        calm = max(g, x, z, g1) + swing < more and min(g, x, z, g1) - swing > less
        goes = 0
        if not calm:
            if jerk == 0.0 and jerk1 == 0.0:
                jerk = -2.0 * decay * way - square * sway
                jerk1 = -2.0 * decay * (a1 - 2.0 * c) - square * (v1 - b - 2.0 * c * end)
            bend, bend1 = 2.0 * w2 + wy * a + wv * jerk, 2.0 * w2 + wy * a1 + wv * jerk1
            twist = wy * jerk - wv * (2.0 * decay * jerk + square * way)
            twist1 = wy * jerk1 - wv * (2.0 * decay * jerk1 + square * (a1 - 2.0 * c))
            goes = trend(d, bend, twist, d1, bend1, twist1, h, swing * pace, swing * pace * pace)
            if (goes == 0 or goes > 1) and h > least:
                h *= 0.5
                continue
            if goes == 0 or goes > 1:
                goes = 1 if g1 > g else -1
        event, te, ye, ve = NOTHING, end, y1, v1
        if not inside and moves == 1 and y1 > high:
            event = DEEPER
            te, ye, ve = root(piece, (-high, 0.0, 0.0, 1.0, 0.0), near, t, end, y - high, y1 - high, v, v1)
            ye = high
        elif not inside and moves == -1 and y1 < low:
            event = BACK
            te, ye, ve = root(piece, (-low, 0.0, 0.0, 1.0, 0.0), near, t, end, y - low, y1 - low, v, v1)
            ye = low
        if not calm:
            ge = g1 if event == NOTHING else w0 + te * (w1 + te * w2) + wy * ye + wv * ve
            level = more if goes == 1 else less
            if (goes == 1 and ge > more) or (goes == -1 and ge < less):
                event = MORE if goes == 1 else LESS
                te, ye, ve = root(piece, (w0 - level, w1, w2, wy, wv), near, t, end, g - level, g1 - level, d, d1)
        if wanted and moves == 1 and ye > top:
            top, top_time = ye, te
        if event != NOTHING:
            return te, event, ye, ve, top, top_time
        t, y, v, a, g, d = end, y1, v1, a1, g1, d1
        h = min(2.0 * h, longest)
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
