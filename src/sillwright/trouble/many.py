"""Any number of faults at once: each is there or not for itself, and of what several show the latest is seen.

That is noisy-or for a test of two outcomes and noisy-max for more. The sum over all sets of faults is taken over
the sets of answers instead that are not the first outcome of their test, as Quickscore does (Heckerman 1989). That
takes differences of products, which cancel: with a dozen such answers nothing may be left of fifteen digits. Here
the faults are gone through one by one, and each set of answers carries the chance that just they have been shown so
far. That only adds, and costs no more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, say
from sillwright.trouble.answer import Call
from sillwright.trouble.compiled import Floats, compiled, facts_that_move
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine
from sillwright.trouble.posterior import last_answers, marginals

MOST_SHOWN = 16
"""Answers that are not the first outcome of their test; the work doubles with each."""


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Links:
    """What links faults (across) to what was shown (down).

    ``absent`` and ``present`` weigh a fault that is not there, and one that is together with all first outcomes.
    ``upper`` and ``lower`` are how likely a fault shows at most what was seen, and less than that; ``leak_upper``
    and ``leak_lower`` the same of a door without any of the faults.
    """

    absent: Floats
    present: Floats
    upper: Floats
    lower: Floats
    leak_upper: Floats
    leak_lower: Floats
    scale: float = 1.0  # what the first outcomes of a door without any fault take off


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Many:
    """How likely each fault is there, whatever else is, and how likely it was that all this was told."""

    shares: Floats
    evidence: float


def links_of(model: FaultModel, call: Call) -> Links:
    """The links of a call: its symptom and its answers. Repairs are left out."""
    given = compiled(model, facts_that_move(model, call.symptom, call.facts))
    frame = given.frame
    rate = marginals(frame, np.exp(given.log_prior))
    present, scale = rate.copy(), 1.0
    shown: list[tuple[Floats, Floats, float, float]] = []
    if call.symptom is not None:
        at = frame.symptoms[call.symptom]
        shows = np.exp(given.log_symptom[at, 1 : 1 + len(rate)])
        leak = model.unlisted * float(np.exp(given.log_symptom[at, 0]))
        shown.append((np.ones(len(rate)), 1.0 - shows, 1.0, 1.0 - leak))
    for test, outcome in last_answers(call).items():
        if outcome is None:
            continue
        rows = frame.outcomes(frame.tests[test])
        at = frame.outcome(test, outcome) - rows.start
        door = np.cumsum(frame.otherwise[rows])
        shares = _shares(np.cumsum(frame.rows[rows, 1 : 1 + len(rate)], axis=0), door)
        if at == 0:
            present, scale = present * shares[0], scale * float(door[0])
        else:
            shown.append((shares[at], shares[at - 1], float(door[at]), float(door[at - 1])))
    return Links(
        absent=1.0 - rate,
        present=present,
        upper=np.array([each[0] for each in shown]).reshape(-1, len(rate)),
        lower=np.array([each[1] for each in shown]).reshape(-1, len(rate)),
        leak_upper=np.array([each[2] for each in shown]),
        leak_lower=np.array([each[3] for each in shown]),
        scale=scale,
    )


def _shares(fault: Floats, door: Floats) -> Floats:
    """How likely a fault alone, without the door's own noise, shows at most an outcome.

    A row that is more often sound than that of all others cannot be said this way; its fault then shows nothing.
    """
    ratio = np.divide(fault, door[:, np.newaxis], out=np.ones_like(fault), where=door[:, np.newaxis] > 0)
    found: Floats = np.maximum.accumulate(np.minimum(ratio, 1.0), axis=0)
    found[-1] = 1.0
    return found


def any_number(links: Links, *, engine: Engine = "plain") -> Many:
    """How likely each fault is there when any number of them may be. All shares are 0 where nothing explains it.

    Raises :class:`OutOfRange` where too many answers show something.
    """
    count = len(links.upper)
    if count > MOST_SHOWN:
        said = N_("{count} answers show something; at most {most} are weighed with any number of faults")
        raise OutOfRange(say(said, count=count, most=MOST_SHOWN))
    if engine == "kernel":
        from sillwright.trouble.many_kernel import chances

        given = (links.absent, links.present, links.upper, links.lower, links.leak_upper, links.leak_lower)
        there, total = chances(*given)
    else:
        there, total = _chances(links)
    return Many(shares=there / total if total > 0 else np.zeros_like(there), evidence=total * links.scale)


def _chances(links: Links) -> tuple[Floats, float]:
    count = len(links.upper)
    state = np.ones((1,) * count)
    for at in range(count):  # the second place of an axis: what was seen has been shown
        low, high = links.leak_lower[at], links.leak_upper[at] - links.leak_lower[at]
        state = np.concatenate([state * low, state * high], axis=at)
    before = []
    for fault in range(len(links.absent)):
        before.append(state)
        state = links.absent[fault] * state + links.present[fault] * _shown(links, fault, state)
    rest = np.zeros((2,) * count)
    rest.flat[-1] = 1.0  # in the end all of it has been shown
    there = np.zeros(len(links.absent))
    for fault in reversed(range(len(links.absent))):
        back = _shown_back(links, fault, rest)
        there[fault] = links.present[fault] * float((before[fault] * back).sum())
        rest = links.absent[fault] * rest + links.present[fault] * back
    return there, float(state.flat[-1])


def _telling(links: Links, fault: int) -> list[int]:
    """The answers that a fault has something to do with."""
    return [int(at) for at in np.flatnonzero((links.upper[:, fault] < 1) | (links.lower[:, fault] < 1))]


def _shown(links: Links, fault: int, state: Floats) -> Floats:
    """What has been shown when this fault has shown its part too."""
    found = state
    for at in _telling(links, fault):
        upper, lower = links.upper[at, fault], links.lower[at, fault]
        unset, done = np.split(found, 2, axis=at)
        found = np.concatenate([unset * lower, done * upper + unset * (upper - lower)], axis=at)
    return found


def _shown_back(links: Links, fault: int, rest: Floats) -> Floats:
    """How likely everything is shown in the end, from what had been shown before this fault."""
    found = rest
    for at in _telling(links, fault):
        upper, lower = links.upper[at, fault], links.lower[at, fault]
        unset, done = np.split(found, 2, axis=at)
        found = np.concatenate([unset * lower + done * (upper - lower), done * upper], axis=at)
    return found
