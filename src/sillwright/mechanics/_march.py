"""From the start of a piece to the first thing that happens in it.

No event can be missed. The homogeneous part w of any derivative of the motion keeps |w'| and ω₀|w| below
√(w'² + ω₀² w²), which never grows; so a cubic through the ends of a step is wrong by at most h⁴/384 times a bound
that is known, and a step is accepted only where that proves what happens inside it.

Written in the part of Python that also compiles (:mod:`sillwright.mechanics.kernel`).
"""

from __future__ import annotations

from math import inf, sqrt

from sillwright.mechanics._piece import Box, Piece, Watch, ahead, motion, near, root, stays, trend

NOTHING, DEEPER, BACK, MORE, LESS, TURN = 0, 1, 2, 3, 4, 5  # how a step or a piece ends
TINY = 1e-300  # which side of a root a bow begins that starts on it
CLOSE = 5e-4  # how near a goal, in steps, the rest of the way is a short series
STEP = 2.0  # a step's length in units of 1 / (ω₀ + 2α); decides the speed, never the answer


def march(  # noqa: C901 - the hot loop, in one function for its speed in plain Python
    piece: Piece, watch: Watch, box: Box, start: float, y: float, v: float, span: float, need: float
) -> tuple[float, int, float, float, float, float]:
    """Follow a piece from (y, v) at ``start`` to its first event, or to ``span``.

    ``box`` = least and greatest y, least and greatest ``watch``. Returns the time, how it ended, y, y', and
    the greatest y on the way with its time (looked for only where it can exceed ``need``).
    """
    base, b, c, _, _, decay, _, square, _ = piece
    low, high, less, more = box
    w0, w1, w2, wy, wv = watch
    pace = 2.0 * decay + sqrt(square)
    longest = STEP / pace if pace > 0.0 else span - start + 1e-300
    least, close = 1e-10 * longest, CLOSE * longest
    push = abs(wy) + abs(wv) * pace
    cap, t = longest, start
    a = 2.0 * c - 2.0 * decay * (v - b - 2.0 * c * t) - square * (y - base - t * (b + t * c))
    g, d = w0 + t * (w1 + t * w2) + wy * y + wv * v, w1 + 2.0 * w2 * t + wy * v + wv * a
    top, top_time, quiet = y, t, high if high < need else need
    while t < span:
        rest = span - t
        far = longest < rest and (t == start or low == -inf)
        if far and stays(piece, watch, (low, quiet, less, more), t, span, y, v):
            y, v, a = motion(piece, span)
            return span, NOTHING, y, v, top, top_time
        way, sway = a - 2.0 * c, v - b - 2.0 * c * t  # the homogeneous part at the start of the step
        jerk = -2.0 * decay * way - square * sway
        bend = 2.0 * w2 + wy * a + wv * jerk
        goal, h = NOTHING, min(cap, rest)
        aim = high - y if v > 0.0 else low - y
        guess = near(aim, v, a, h) if abs(aim) < abs(v) * h else h
        if guess < h:
            goal, h = (DEEPER if v > 0.0 else BACK), guess
        elif v > 0.0 and -v > a * h:
            goal, h = TURN, -v / a
        gap = more - g if d > 0.0 else less - g
        guess = near(gap, d, bend, h) if abs(gap) < abs(d) * h else h
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
        inside, wanted, most, fewest, arch, bowl = False, False, inf, -inf, False, False
        if goal == NOTHING or goal > BACK:
            x, z = y + third * v, y1 - third * v1
            lower, upper = (y, y1) if y < y1 else (y1, y)
            most = (x if x > z else z) if x > upper or z > upper else upper
            fewest = (x if x < z else z) if x < lower or z < lower else lower
            most += slack
            fewest -= slack
            inside = most < high and fewest > low
            wanted = most > need and most > top
        elif goal == DEEPER:
            wanted = y1 > need
        moves = 1 if y1 > y else -1
        if wanted or not inside:
            found = trend(v, a, jerk, v1, a1, jerk1, h, slack * pace, slack * pace * pace)
            if found == 3 and fewest > low:  # a bowl above its lower bound: highest at its ends, crosses once
                bowl, found = True, 1
            elif found == 2 and not wanted and most < high:  # and an arch the other way round
                arch, found = True, -1
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
        hump = False
        goes, hump = 0, False
        upper, lower = more - swing, less + swing
        if not (lower < g < upper and lower < g1 < upper and lower < x < upper and lower < z < upper):
            bend1 = 2.0 * w2 + wy * a1 + wv * jerk1
            twist = wy * jerk - wv * (2.0 * decay * jerk + square * way)
            twist1 = wy * jerk1 - wv * (2.0 * decay * jerk1 + square * (a1 - 2.0 * c))
            goes = trend(d, bend, twist, d1, bend1, twist1, h, swing * pace, swing * pace * pace)
            if goes == 2 and g < upper and g1 < upper and x < upper and z < upper:
                hump, goes = True, -1
            elif goes == 3 and g > lower and g1 > lower and x > lower and z > lower:
                hump, goes = True, 1
            if (goes == 0 or goes > 1) and h > least:
                cap = 0.5 * h
                if goes > 1 and d != d1:
                    cap = min(max(0.1, 0.97 * d / (d - d1)), 0.9) * h
                continue
            if goes == 0 or goes > 1:
                goes = 1 if g1 > g else -1
        event, te, ye, ve = NOTHING, end, y1, v1
        if not inside:
            if NOTHING < goal <= BACK:
                event = goal
            elif moves == 1 and y1 > high:
                event = DEEPER
                te, ye, ve = root(
                    piece,
                    (-high, 0.0, 0.0, 1.0, 0.0),
                    5e-6 * longest,
                    t,
                    end,
                    -TINY if bowl else y - high,
                    y1 - high,
                    v,
                    v1,
                )
                ye = high
            elif moves == -1 and y1 < low:
                event = BACK
                te, ye, ve = root(
                    piece,
                    (-low, 0.0, 0.0, 1.0, 0.0),
                    5e-6 * longest,
                    t,
                    end,
                    TINY if arch else y - low,
                    y1 - low,
                    v,
                    v1,
                )
                ye = low
        if goes != 0:
            ge = g1 if te == end else w0 + te * (w1 + te * w2) + wy * ye + wv * ve
            level = more if goes == 1 else less
            if BACK < goal <= LESS and te == end:
                event = goal
            elif (goes == 1 and ge > more) or (goes == -1 and ge < less):
                event = MORE if goes == 1 else LESS
                g0 = g - level if not hump else (-TINY if goes == 1 else TINY)
                te, ye, ve = root(
                    piece, (w0 - level, w1, w2, wy, wv), 5e-6 * longest, t, end, g0, g1 - level, d, d1
                )
        if wanted and moves == 1 and ye > top:
            top, top_time = ye, te
        if event != NOTHING:
            return te, event, ye, ve, top, top_time
        t, y, v, a, g, d = end, y1, v1, a1, g1, d1
        cap = min(2.0 * cap, longest)
    return span, NOTHING, y, v, top, top_time
