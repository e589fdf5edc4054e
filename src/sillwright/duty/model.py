"""What the rules ask of an opening, and what that rests on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import Sentence

Answer = Literal["yes", "no", "unknown"]
Verdict = Literal["holds", "fails", "unknown", "not applicable"]


@dataclass(frozen=True, kw_only=True)
class RuleVerdict:
    """One rule at one opening."""

    id: str
    asks: Sentence
    verdict: Verdict
    source: Source
    remedy: Sentence | None = None
    facts: tuple[str, ...] = ()  # the unknown facts it waits for
    rests_on: tuple[str, ...] = ()  # where it fails: the facts that make it apply and fail
    place: str | None = None  # on the drawing, of what it is about


@dataclass(frozen=True, kw_only=True)
class Link:
    """One link of the chain between a device and the operator."""

    name: str  # as the survey names it: device, converter, transmitter
    listed: Answer  # read in the operator's instructions
    evidence: Sentence


@dataclass(frozen=True, kw_only=True)
class DeviceStanding:
    """What a protective device counts for with this operator."""

    path: str  # protection.e1
    name: str  # e1
    kind: str
    works: Answer
    watched: Answer  # the circuit lets the operator check it
    listed: Answer  # the whole chain is read in the instructions
    monitored: Answer  # both, with its state
    links: tuple[Link, ...]


@dataclass(frozen=True, kw_only=True)
class Enforced:
    """Who enforces which text at this place, in words for the owner."""

    who: Sentence
    what: Sentence
    source: Source


@dataclass(frozen=True, kw_only=True)
class Duty:
    """The answer of this chapter for one opening.

    ``powered_closing`` says whether the leaf may close under power without someone holding the control, as it
    stands today. ``deciding_facts`` are the unknown facts of which knowing all would settle it.
    """

    powered_closing: Answer
    regime: str | None  # us_commercial, us_residential, us_gate, europe; None where no rules are known
    deciding_facts: tuple[str, ...]
    deciding_sets: tuple[tuple[str, ...], ...]
    no_rules: bool
    rules: tuple[RuleVerdict, ...]
    devices: tuple[DeviceStanding, ...]
    enforced: tuple[Enforced, ...]
    findings: tuple[Finding, ...]
