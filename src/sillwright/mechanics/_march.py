"""From the start of a piece to the first thing that happens in it.

No event can be missed. The homogeneous part w of any derivative of the motion keeps |w'| and ω₀|w| below
√(w'² + ω₀² w²), which never grows, and each further derivative at most α + √(α² + ω₀²) times that; so a chord and a
cubic through the ends of a step are wrong by at most a bound that is known, and a step is accepted only where that
proves what happens inside it. A step aims at the first event in sight, so that most pieces need one evaluation.

Written in the part of Python that also compiles (:mod:`sillwright.mechanics.kernel`).
"""

from __future__ import annotations

from math import cos, exp, inf, sin, sqrt

from sillwright.mechanics._piece import Box, Piece, Watch, motion, root, stays, trend

NOTHING, DEEPER, BACK, MORE, LESS, TURN, LOST = 0, 1, 2, 3, 4, 5, 6  # how a step or a piece ends
TINY = 1e-300  # which side of a root a bow begins that starts on it
LONGEST = 2.5  # a step's length in units of 1 / (α + √(α² + ω₀²)), unless the leaf hardly swings; never the answer
CLOSE = 0.0005  # how far from a goal, in the same units, the inverse of the series is exact to round-off
NEAR = 0.004  # how far from a goal, in the same units, the series for the rest of the way is exact to round-off
MOST_STEPS = 50_000  # of one contact, which has about 30; then it is LOST: it changes too often to be followed
SAME = 1.0 + 1e-12  # a later swing that is deeper only by round-off is not deeper
THIRD, SIXTH, TWENTYFOURTH = 1.0 / 3.0, 1.0 / 6.0, 1.0 / 24.0


def march(  # noqa: C901 - the hot loop: one function without calls, because plain Python pays for each of them
    piece: Piece, watch: Watch, box: Box, start: float, y: float, v: float, span: float, need: float
) -> tuple[float, int, float, float, float, float, int]:
    """Follow a piece from (y, v) at ``start`` to its first event, or to ``span``.

    ``box`` = least and greatest y, least and greatest ``watch``. Returns the time, how it ended, y, y', and
    the greatest y on the way with its time (looked for only where it can exceed ``need``), and the steps it took.
    """
    base, b, c, p, w, decay, omega, square, kind = piece
    low, high, less, more = box
    w0, w1, w2, wy, wv = watch
    t, c2, fading = start, 2.0 * c, 2.0 * decay
    pace = decay + sqrt(decay * decay + square)  # no derivative grows faster than by this
    g = w0 + wy * y + wv * v
    if t > 0.0:
        g += t * (w1 + t * w2)
        sway = v - b - c2 * t
        way = -fading * sway - square * (y - base - t * (b + t * c))
    else:
        sway = w
        way = -fading * w - square * p
    a = c2 + way
    steady, stir = 2.0 * w2 + wy * c2, wy + wv * pace  # both bound the watched's second derivative
    if steady < 0.0:
        steady = -steady
    if stir < 0.0:  # wy and wv never have opposite signs
        stir = -stir
    goal, tries, ready = NOTHING, 0, False  # ready: the loop may begin from the step that is evaluated here
    if kind == 1.0:
        w2nd, v2nd = (w + decay * p) / omega, (decay * w + square * p) / omega
        # Two pieces of three are plain: the leaf goes one way to the next break point or until the time is up, and
        # no limit is met. This is a shorter way for them; whatever it does not prove is left to the loop below.
        h = rest = span - t
        aim = high if v > 0.0 else low
        gap = aim - y
        reach = v * v + 2.0 * a * gap
        jerk = -fading * way - square * sway
        if 0.0 < reach < inf:
            reach = sqrt(reach) if v > 0.0 else -sqrt(reach)
            guess = 2.0 * gap / (v + reach)
            if guess < h:
                goal, h = (DEEPER if v > 0.0 else BACK), guess
                snap = -fading * jerk - square * way
                slope = reach + h * h * (0.5 * jerk + h * snap * SIXTH)
                if slope * v > 0.0:
                    h -= h * h * h * (jerk * SIXTH + h * snap * TWENTYFOURTH) / slope
                    if h >= rest:
                        goal, h = NOTHING, rest
        if 0.0 < h * pace < LONGEST and (goal != NOTHING or v * (v + h * (a + 0.5 * h * jerk)) > 0.0):
            end = t + h if goal != NOTHING else span
            while True:
                swing, push = cos(omega * end), sin(omega * end)
                if decay > 0.0:
                    fade = exp(-decay * end)
                    swing *= fade
                    push *= fade
                far, sway1 = p * swing + w2nd * push, w * swing - v2nd * push
                y1, v1 = base + end * (b + end * c) + far, b + c2 * end + sway1
                way1 = -fading * sway1 - square * far
                a1 = c2 + way1
                if goal == NOTHING or not v * v1 > 0.0:
                    break
                jerk1 = -fading * way1 - square * sway1
                snap1 = -fading * jerk1 - square * way1
                near, skew, curl = (aim - y1) / v1, 0.5 * a1 / v1, SIXTH * jerk1 / v1
                turn = near * skew
                rate = near * near  # then the series of y inverted
                step = near - near * (
                    turn
                    - rate * (2.0 * skew * skew - curl)
                    - rate * near * (5.0 * skew * (curl - skew * skew) - TWENTYFOURTH * snap1 / v1)
                )
                end += step
                if turn * turn + rate * pace * pace < CLOSE * CLOSE:
                    y1, h = aim, end - t
                    v1 = v1 + step * (a1 + step * (0.5 * jerk1 + step * snap1 * SIXTH)) if 0.0 < h < rest else 0.0
                    a1 += step * jerk1
                    break
                tries += 1
                if tries > 2 or not t < end < span:
                    v1 = 0.0
                    break
            g1 = w0 + end * (w1 + end * w2) + wy * y1 + wv * v1
            amount = sqrt(way * way + square * sway * sway)
            sag = 0.125 * h * h
            swing, slack = (steady + stir * amount) * sag, pace * amount * sag
            upper, lower = more - swing, less + swing
            proven = lower < g < upper and lower < g1 < upper
            if not proven:  # by a cubic instead of a chord
                d, d1 = w1 + 2.0 * w2 * t + wy * v + wv * a, w1 + 2.0 * w2 * end + wy * v1 + wv * a1
                swing = slack * pace * stir * h * h / 48.0
                x, z = g + THIRD * h * d, g1 - THIRD * h * d1
                upper, lower = more - swing, less + swing
                proven = lower < g < upper and lower < g1 < upper and lower < x < upper and lower < z < upper
            if proven:
                if v > 0.0:
                    if not (v > slack and v1 > slack):
                        slack *= pace * pace * h * h / 48.0
                        x, z = v + THIRD * h * a, v1 - THIRD * h * a1
                        proven = v > slack and v1 > slack and x > slack and z > slack
                    if proven and (goal != NOTHING or y1 < high):
                        return end, goal, y1, v1, y1, end, 1
                else:
                    if not (v < -slack and v1 < -slack):
                        slack *= pace * pace * h * h / 48.0
                        x, z = v + THIRD * h * a, v1 - THIRD * h * a1
                        proven = v < -slack and v1 < -slack and x < -slack and z < -slack
                    if proven and (goal != NOTHING or y1 > low):
                        return end, goal, y1, v1, y, t, 1
            ready = v * v1 > 0.0 and less < g < more and less < g1 < more
        if not ready:
            goal = NOTHING
    else:
        w2nd = v2nd = h = end = y1 = v1 = aim = 0.0
    steps = 0
    limit, hint, least = inf, 0.0, 1e-14 * span  # no step beyond; where a goal was last seen; the shortest step
    top, top_time = y, t
    seek = not less < g < more  # a piece that begins at a limit often ends there
    while steps < MOST_STEPS:
        steps += 1
        amount = sqrt(way * way + square * sway * sway)  # w'' and, times the pace, w''' never exceed it again
        jerk = -fading * way - square * sway
        snap = -fading * jerk - square * way
        if ready:
            ready = False
        else:
            h = rest = span - t
            if h * pace > LONGEST:
                h = LONGEST / pace
                calm = 2.0 * abs(v)  # a leaf that hardly swings may go on as long as its speed keeps its sign
                if calm > h * 2.0 * amount:
                    h = sqrt(calm / (pace * amount)) if amount > 0.0 else rest
                    if h > rest:
                        h = rest
            if limit < h:
                h = limit
            cap = h
            if hint > 0.0:
                h = hint if hint < cap else cap
            else:
                goal = NOTHING
                upward = v > 0.0 or (v == 0.0 and a > 0.0)
                gap = (high if upward else low) - y
                reach = v * v + 2.0 * a * gap
                if reach > 0.0:
                    guess = 2.0 * gap / (v + (sqrt(reach) if upward else -sqrt(reach)))
                    if guess < h:
                        goal, h = (DEEPER if upward else BACK), guess
                        if h * pace < 1.5:  # a better guess by two more derivatives
                            slope = v + h * (a + h * (0.5 * jerk + h * snap * SIXTH))
                            if slope * v > 0.0:
                                miss = h * (v + h * (0.5 * a + h * (jerk * SIXTH + h * snap * TWENTYFOURTH))) - gap
                                h -= miss / slope
                elif upward:
                    if v < -a * h and (y - 0.6 * v * v / a > need or y + THIRD * h * v > need):
                        goal, h = TURN, -v / a
                        slope = a + h * (jerk + 0.5 * h * snap)
                        if slope < 0.0:
                            h -= (v + h * (a + h * (0.5 * jerk + h * snap * SIXTH))) / slope
                elif a > 0.0:  # down and up again
                    guess = (sqrt(v * v + 2.0 * a * (high - y)) - v) / a
                    if guess < h:
                        goal, h = DEEPER, guess
                d, bend = w1 + 2.0 * w2 * t + wy * v + wv * a, 2.0 * w2 + wy * a + wv * jerk
                apex = -d / bend if d * (d + h * bend) < 0.0 else h  # where the parabola turns
                if seek or not less < g + apex * (d + 0.5 * apex * bend) < more:
                    guess, which = leaving(g, d, bend, less, more)
                    if guess < h:
                        twist, curl = wy * jerk + wv * snap, wy * snap - wv * (fading * snap + square * jerk)
                        slope = d + guess * (bend + guess * (0.5 * twist + guess * curl * SIXTH))
                        if guess * pace < 1.5 and (slope > 0.0 if which == MORE else slope < 0.0):
                            miss = (less if which == LESS else more) - g
                            miss -= guess * (
                                d + guess * (0.5 * bend + guess * (twist * SIXTH + guess * curl * TWENTYFOURTH))
                            )
                            guess += miss / slope
                        elif goal != NOTHING:
                            guess = inf
                        if guess < h:
                            goal, h = which, guess
            if goal == NOTHING:
                if (t == start or low == -inf or v == 0.0 or steps % 3 == 0) and h < rest and limit == inf:
                    quiet = (need if need > top else top) * SAME  # no later swing reaches further than this one
                    if stays(piece, watch, (low, quiet if quiet < high else high, less, more), t, span, y, v):
                        y, v, a = motion(piece, span)
                        return span, NOTHING, y, v, top, top_time, steps
            elif not least < h < cap:
                goal, h = NOTHING, (cap if h >= cap else (least if least < rest else rest))
            tries = 0
            while True:
                end = span if h == rest else t + h
                if kind == 1.0:
                    swing, push = cos(omega * end), sin(omega * end)
                    if decay > 0.0:
                        fade = exp(-decay * end)
                        swing *= fade
                        push *= fade
                    far, sway1 = p * swing + w2nd * push, w * swing - v2nd * push
                    y1, v1 = base + end * (b + end * c) + far, b + c2 * end + sway1
                else:
                    y1, v1, _ = motion(piece, end)
                    far, sway1 = y1 - base - end * (b + end * c), v1 - b - c2 * end
                if goal == NOTHING:
                    break
                way1 = -fading * sway1 - square * far
                a1, jerk1 = c2 + way1, -fading * way1 - square * sway1
                snap1 = -fading * jerk1 - square * way1
                # how far the goal is from here, and the derivatives of what it is a value of
                if goal <= BACK:
                    aim = high if goal == DEEPER else low
                    miss, f1, f2 = aim - y1, v1, a1
                    f3, f4 = jerk1, snap1
                    right = v1 > 0.0 if goal == DEEPER else v1 < 0.0
                elif goal == TURN:
                    miss, f1, f2 = -v1, a1, jerk1
                    f3, f4 = snap1, 0.0
                    right = a1 < 0.0 if v > 0.0 else a1 > 0.0
                else:
                    aim = more if goal == MORE else less
                    miss = aim - w0 - end * (w1 + end * w2) - wy * y1 - wv * v1
                    f1, f2 = w1 + 2.0 * w2 * end + wy * v1 + wv * a1, 2.0 * w2 + wy * a1 + wv * jerk1
                    f3, f4 = wy * jerk1 + wv * snap1, wy * snap1 - wv * (fading * snap1 + square * jerk1)
                    right = f1 > 0.0 if goal == MORE else f1 < 0.0
                if not right:
                    goal = NOTHING
                    break
                step = miss / f1
                skew = step * f2 / f1
                if -0.3 < skew < 0.3:
                    step -= 0.5 * step * skew
                    if -0.01 < skew < 0.01 and -NEAR < step * pace < NEAR:
                        f2, f3, f4 = 0.5 * f2, f3 * SIXTH, f4 * TWENTYFOURTH
                        step -= (step * (f1 + step * (f2 + step * (f3 + step * f4))) - miss) / (
                            f1 + step * (2.0 * f2 + step * 3.0 * f3)
                        )
                        if not -1e-5 < skew < 1e-5:
                            step -= (step * (f1 + step * (f2 + step * (f3 + step * f4))) - miss) / (
                                f1 + step * (2.0 * f2 + step * 3.0 * f3)
                            )
                        if not t < end + step < span:
                            goal = NOTHING
                            break
                        end += step
                        h = end - t
                        if goal <= BACK:
                            y1 = aim
                        else:
                            y1 += step * (
                                v1 + step * (0.5 * a1 + step * (jerk1 * SIXTH + step * snap1 * TWENTYFOURTH))
                            )
                        if goal == TURN:
                            v1 = 0.0
                        else:
                            crack1 = -fading * snap1 - square * jerk1
                            v1 += step * (
                                a1 + step * (0.5 * jerk1 + step * (snap1 * SIXTH + step * crack1 * TWENTYFOURTH))
                            )
                        break
                tries += 1
                if tries > 5 or not 0.0 < h + step < cap:
                    goal = NOTHING
                    break
                h += step
        # what is proven of the way there: first y …
        sag = 0.125 * h * h
        event = NOTHING
        te, ye, ve = end, y1, v1
        slack = pace * amount * sag
        if (v > slack and v1 > slack) or (v < -slack and v1 < -slack):
            if NOTHING < goal <= BACK:
                event = goal
            elif y1 > high if v > 0.0 else y1 < low:
                event = DEEPER if v > 0.0 else BACK
                ye = high if v > 0.0 else low
                te, _, ve = root(piece, (-ye, 0.0, 0.0, 1.0, 0.0), 3e5 * least, t, end, y - ye, y1 - ye, v, v1)
        else:
            upper, lower = (y, y1) if y > y1 else (y1, y)
            slack = (amount + abs(c2)) * sag
            fits = goal != DEEPER and goal != BACK and upper + slack < high and lower - slack > low
            if not fits or (upper + slack > need and upper + slack > top):
                slack = pace * pace * amount * h * h * h * h / 384.0
                bow, moves, x, z = 0, 0, y + THIRD * h * v, y1 - THIRD * h * v1
                if goal != DEEPER and goal != BACK:
                    # the cubic stays between the four; at an end where it rests it is wrong by 16 s² (1 - s)² slack
                    rim = (x if x > z else z) if x > upper or z > upper else upper
                    floor = (x if x < z else z) if x < lower or z < lower else lower
                    if floor - slack > low and upper < high:
                        if v == 0.0 and y == upper:
                            proven = y - z > 16.0 * THIRD * slack
                        elif v1 == 0.0 and y1 == upper:
                            proven = y1 - x > 16.0 * THIRD * slack
                        else:
                            proven = rim + slack < high and (rim + slack <= need or rim + slack <= top)
                        if proven:
                            bow = moves = 1
                if bow == 0:
                    sway1 = v1 - b - c2 * end
                    way1 = -fading * sway1 - square * (y1 - base - end * (b + end * c))
                    a1, jerk1 = c2 + way1, -fading * way1 - square * sway1
                    moves = trend(v, a, jerk, v1, a1, jerk1, h, slack * pace, slack * pace * pace)
                    if moves == 2:
                        x = x if x > z else z
                        x = (x if x > upper else upper) + slack
                        if x < high and (x <= need or x <= top):
                            bow, moves = -1, -1  # an arch below its upper bound: lowest at its ends
                    elif moves == 3:
                        x = x if x < z else z
                        x = (x if x < lower else lower) - slack
                        if x > low:
                            bow, moves = 1, 1  # and a bowl the other way round
                if moves != 1 and moves != -1:
                    if h > least:
                        sought, hint, limit = hint > 0.0, 0.0, 0.5 * h
                        if moves != 0 and v * v1 < 0.0 and not sought:
                            goal, hint, limit = TURN, h * v / (v - v1), h  # limit keeps the next try from growing
                        continue
                    moves = 1 if y1 > y else -1
                fits = bow != 0 and low < y1 < high
            if not fits:
                if NOTHING < goal <= BACK:
                    event = goal
                elif (moves == 1 and y1 > high) or (moves == -1 and y1 < low):
                    event = DEEPER if moves == 1 else BACK
                    ye = high if moves == 1 else low
                    gap = -moves * TINY if bow != 0 else y - ye
                    te, _, ve = root(piece, (-ye, 0.0, 0.0, 1.0, 0.0), 3e5 * least, t, end, gap, y1 - ye, v, v1)
        # … then what is watched
        g1 = w0 + end * (w1 + end * w2) + wy * y1 + wv * v1
        if BACK < goal <= LESS:
            g1 = aim
        swing = (steady + stir * amount) * sag
        if not (g + swing < more and g1 + swing < more and g - swing > less and g1 - swing > less):
            sway1 = v1 - b - c2 * end
            way1 = -fading * sway1 - square * (y1 - base - end * (b + end * c))
            a1, jerk1 = c2 + way1, -fading * way1 - square * sway1
            d, d1 = w1 + 2.0 * w2 * t + wy * v + wv * a, w1 + 2.0 * w2 * end + wy * v1 + wv * a1
            swing = pace * pace * amount * h * h * h * h / 384.0 * stir
            x, z = g + THIRD * h * d, g1 - THIRD * h * d1
            upper, lower = more - swing, less + swing
            if not (lower < g < upper and lower < g1 < upper and lower < x < upper and lower < z < upper):
                bend, bend1 = 2.0 * w2 + wy * a + wv * jerk, 2.0 * w2 + wy * a1 + wv * jerk1
                twist = wy * jerk - wv * (fading * jerk + square * way)
                twist1 = wy * jerk1 - wv * (fading * jerk1 + square * way1)
                goes = trend(d, bend, twist, d1, bend1, twist1, h, swing * pace, swing * pace * pace)
                hump = False
                if goes == 2 and g < upper and g1 < upper and x < upper and z < upper:
                    hump, goes = True, -1
                elif goes == 3 and g > lower and g1 > lower and x > lower and z > lower:
                    hump, goes = True, 1
                if goes == 0 or goes > 1:
                    if h > least:
                        sought, hint, limit = hint > 0.0, 0.0, 0.5 * h
                        if goes > 1 and d != d1:
                            limit = min(max(0.1, 0.97 * d / (d - d1)), 0.9) * h
                        elif not sought and not less < g1 < more and g1 != g:
                            guess = ((more if g1 >= more else less) - g) / (g1 - g)
                            if 0.01 < guess < 1.0:
                                goal, hint, limit = (MORE if g1 >= more else LESS), guess * h, h
                        continue
                    goes = 1 if g1 > g else -1
                ge = g1 if te == end else w0 + te * (w1 + te * w2) + wy * ye + wv * ve
                if BACK < goal <= LESS and te == end:
                    event = goal
                elif (goes == 1 and ge > more) or (goes == -1 and ge < less):
                    event = MORE if goes == 1 else LESS
                    level = more if goes == 1 else less
                    gap = g - level if not hump else (-TINY if goes == 1 else TINY)
                    te, ye, ve = root(
                        piece, (w0 - level, w1, w2, wy, wv), 3e5 * least, t, end, gap, g1 - level, d, d1
                    )
        if ye > top * SAME:
            top, top_time = ye, te
        if event != NOTHING or end >= span:
            return te, event, ye, ve, top, top_time, steps
        t, y, v, g = end, y1, v1, g1
        sway = v - b - c2 * t
        way = -fading * sway - square * (y - base - t * (b + t * c))
        a = c2 + way
        limit, hint, seek = 4.0 * limit, 0.0, False
    return t, LOST, y, v, top, top_time, steps


def leaving(g: float, d: float, bend: float, less: float, more: float) -> tuple[float, int]:
    """About when a parabola leaves its limits, from inside or from one of them, and where; inf if it does not."""
    gap = more - g if d > 0.0 else less - g
    reach = d * d + 2.0 * bend * gap
    if gap != 0.0 and reach > 0.0 and abs(gap) < inf:
        return 2.0 * abs(gap) / (abs(d) + sqrt(reach)), (MORE if d > 0.0 else LESS)
    gap = less - g if d > 0.0 else more - g  # there and back again
    reach = d * d + 2.0 * bend * gap
    if d * bend < 0.0 and reach > 0.0 and abs(gap) < inf:
        return (abs(d) + sqrt(reach)) / abs(bend), (LESS if d > 0.0 else MORE)
    return inf, NOTHING
