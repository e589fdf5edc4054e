"""The fault model: faults, what shows them, what mends them. It is data, read from the package and checked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Who = Literal["owner", "shift_lead", "technician"]
"""Who stands at the door. Everybody may look and tell; only a technician opens a box or lifts a lead."""

Stage = Literal["harm", "ask", "look", "move", "measure", "substitute"]
"""What kind of step a test is. ``harm`` comes first whatever its probability; ``move`` runs the leaf."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """A fact of the opening or of the call that moves the share of a fault."""

    fact: str  # a name in the model's list of facts, such as "rain" or "circuit"
    value: str
    factor: float  # 0: impossible; 1: nothing changes


@dataclass(frozen=True, kw_only=True, slots=True)
class Repair:
    """What puts a fault right."""

    id: str
    words: str
    minutes: float
    success: float  # share of times that it does
    who: Who
    parts: tuple[str, ...] = ()
    proof: tuple[str, ...] = ()  # what to test afterwards, in words
    cautions: tuple[str, ...] = ()
    outside: bool = False  # somebody else comes: a door technician, the access trade; nobody else does it


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """Something that can be wrong. Its share of calls is the sum of what it causes over the symptoms."""

    id: str  # LEAD_OPEN
    words: str  # "the lead or the cord is broken"
    remedy: str  # id of a repair
    danger: bool = False  # a mechanical danger: nobody runs the leaf
    unseen: bool = False  # while it lasts, the leaf may close on somebody without the operator knowing
    hurt: str | None = None  # the electrical hurt of `circuit` that it stands for, by name in the data
    moves: tuple[Move, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Symptom:
    """What a caller complains of: the share of calls, and the causes in shares that add to one."""

    id: str  # CALL-01
    words: str
    share: float
    causes: tuple[tuple[str, float], ...]
    harm: bool = False  # take out of service before anything else
    tells: tuple[tuple[str, str], ...] = ()  # facts that it says already: its causes are shares where they hold
    where: tuple[tuple[str, Move], ...] = ()  # facts under which one of its causes seldom makes anybody complain so


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """An answer to a test."""

    id: str
    words: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Test:
    """A step that tells faults apart.

    ``likelihood`` has a row for the faults that matter to it, over the outcomes in their order; every other fault
    has the row ``otherwise``. The outcomes run from what a sound door shows to what a hurt one shows: where two
    faults are present at once, the later outcome of the two is seen (noisy-max).
    """

    id: str
    question: str
    how: str
    minutes: float
    who: Who  # the least that somebody must be
    stage: Stage
    outcomes: tuple[Outcome, ...]
    otherwise: tuple[float, ...]
    likelihood: tuple[tuple[str, tuple[float, ...]], ...] = ()
    reading: str | None = None  # an ohm reading: its rows are computed by `circuit`, by name of where it is taken
    cautions: tuple[str, ...] = ()
    needs: tuple[Move, ...] = ()  # asked only where these facts do not rule it out (factor 0)


@dataclass(frozen=True, kw_only=True, slots=True)
class FaultModel:
    """One network over all symptoms and all faults."""

    faults: tuple[Fault, ...]
    symptoms: tuple[Symptom, ...]
    tests: tuple[Test, ...]
    repairs: tuple[Repair, ...]
    pairs: tuple[tuple[str, str, float], ...]  # faults that go together, and the share of calls that has both
    facts: tuple[tuple[str, tuple[str, ...]], ...]  # names and values of the facts that move shares
    checklist: tuple[tuple[str, tuple[str, ...]], ...]  # by symptom, tests in the order of a fixed list
    unlisted: float = 0.02  # share of calls whose fault is none of these
    referral: float = 180.0  # minutes where no repair here helps: somebody else has to come
