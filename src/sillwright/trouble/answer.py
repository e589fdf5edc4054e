"""What a call tells, and what is answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.base.words import Sentence
from sillwright.trouble.model import Who

StepKind = Literal["make_safe", "test", "repair", "stop"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Call:
    """A call as far as it has come. Everything may be missing; answers keep their order."""

    who: Who | None = None
    symptom: str | None = None  # CALL-01; None: not said, or none of these
    harm: tuple[tuple[str, str], ...] = ()  # answers to the make-safe questions, by id: yes | no | unknown
    answers: tuple[tuple[str, str | None], ...] = ()  # test and outcome; None: "don't know"
    facts: tuple[tuple[str, str], ...] = ()  # name and value, as in the model's list of facts
    repaired: tuple[str, ...] = ()  # repairs made that did not help, in their order
    after: tuple[tuple[str, int], ...] = ()  # tests answered after repairs: after how many; all others before them
    booked_in: tuple[str, ...] = ()  # substitute parts that are still in


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """What to do next, what it costs, and why this and not another."""

    kind: StepKind
    id: str
    minutes: float
    expected_minutes: float  # to the right repair, when going on from here
    why: tuple[Sentence, ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Suspect:
    """A fault, or two that are there at once, and how likely."""

    faults: tuple[str, ...]
    probability: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Advice:
    """The answer to a call as far as it has come."""

    suspects: tuple[Suspect, ...]  # the most likely first; together 1 over all of them
    shares: tuple[tuple[str, float], ...]  # probability that the fault is there, alone or with another
    next: Step | None  # None: stop, see `stop`
    others: tuple[Step, ...] = ()  # what comes close
    stop: Sentence | None = None  # a danger: nobody goes on
    because: tuple[Sentence, ...] = ()  # what the last answers changed, in words
    surprises: tuple[str, ...] = ()  # answers that no longer fit together, by test
    bring: tuple[str, ...] = ()
    do: tuple[str, ...] = ()
    prove: tuple[str, ...] = ()
    cautions: tuple[Sentence, ...] = ()
    blocked_by: tuple[str, ...] = ()  # substitute parts that hold up closing the visit and every paper
