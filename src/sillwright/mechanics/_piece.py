"""One piece of the motion: a stretch of time in which nothing changes.

In it the drive is in one phase, the edge on one slope and the drive's limits in one state, and

    y(t) = A + B t + C t² + e^(-αt) (P cos ωt + ((V + αP)/ω) sin ωt).

Written in the part of Python that also compiles (:mod:`sillwright.mechanics.kernel`).
"""

from __future__ import annotations

from math import cos, exp, expm1, sin, sqrt

Piece = tuple[float, float, float, float, float, float, float, float, float]  # A B C P V α ω ω₀² kind
Watch = tuple[float, float, float, float, float]  # g = w0 + w1 t + w2 t² + wy y + wv y'
Box = tuple[float, float, float, float]  # least and greatest y, least and greatest g


def begin(
    mass: float, damping: float, stiffness: float, r0: float, r1: float, r2: float, y: float, v: float
) -> Piece:
    """The motion from (y, v) under  m y'' + c y' + k y = r0 + r1 t + r2 t²."""
    if stiffness == 0.0:
        return y, v, 0.5 * r0 / mass, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0
    give, lightness = 1.0 / stiffness, 1.0 / mass
    c = r2 * give
    b = (r1 - 2.0 * damping * c) * give
    a = (r0 - damping * b - 2.0 * mass * c) * give
    decay = 0.5 * damping * lightness
    square = stiffness * lightness
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
    elif d0 * d1 < 0.0:  # a bow: the far side of the parabola
        guess = 2.0 * width * d0 / (d0 - d1)
        t = h0 + (guess if 0.0 < guess < width else 0.9 * width)
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
    a, b, c, _, _, _, _, square, _ = piece
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
