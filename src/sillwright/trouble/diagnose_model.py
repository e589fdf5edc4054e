"""What the calculation of a diagnosis is given and what it answers."""

from __future__ import annotations

from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Number
from sillwright.trouble.answer import StepKind
from sillwright.trouble.model import Who


class GivenAnswer(Model):
    """An answer to a test."""

    test: str = field(title="Test")
    outcome: str | None = field(default=None, title="Outcome; null = not known")
    after_repairs: int = field(default=0, at_least=0, at_most=200, title="Repairs made before it")


class GivenFact(Model):
    """Something that is known of the opening or of the call."""

    fact: str = field(title="Fact")
    value: str = field(title="Value")


class DiagnoseCase(Case):
    """A call as far as it has come."""

    who: Who | None = field(default=None, title="Who is at the door; null = not said, taken for an owner")
    symptom: str | None = field(default=None, title="What it does; null = not said")
    answers: tuple[GivenAnswer, ...] = field(default=(), title="Answers in their order; of two the last counts")
    facts: tuple[GivenFact, ...] = field(default=(), title="What is known of the opening")
    repaired: tuple[str, ...] = field(default=(), title="Repairs made that did not help")
    look_ahead: int = field(default=2, at_least=1, at_most=2, title="Answers that are looked ahead")


class LikelyFaults(Model):
    """A fault, or two that are there at once; none of these where both are missing."""

    faults: tuple[str, ...] = field(title="Faults")
    words: str = field(title="In words")
    probability: Number = field(title="Probability")


class FaultShare(Model):
    """How likely a fault is there, alone or with another."""

    fault: str = field(title="Fault")
    probability: Number = field(title="Probability that it is there")
    any_number: Number | None = field(title="The same where any number of faults may be there; null = not computed")


class NextStep(Model):
    """A step, what it costs, and why it comes next."""

    kind: StepKind = field(title="Kind")
    id: str = field(title="Step")
    words: str = field(title="In words")
    minutes: Number = field(title="Minutes that it takes")
    expected_minutes: Number = field(title="Minutes to the right repair from here, on average")
    why: tuple[str, ...] = field(default=(), title="Why")


class DiagnoseResult(Result):
    """What is likely, what comes next and why, and what to bring, do, prove and watch."""

    in_short: str = field(title="In short")
    suspects: tuple[LikelyFaults, ...] = field(title="Most likely faults")
    rest: Number = field(title="Probability of all others together")
    shares: tuple[FaultShare, ...] = field(title="Faults one by one")
    next: NextStep | None = field(title="Next step; null = nobody goes on")
    others: tuple[NextStep, ...] = field(title="Steps that come close")
    stop: str | None = field(title="Why nobody goes on; null = there is no such danger")
    because: tuple[str, ...] = field(title="What the last answers changed")
    surprises: tuple[str, ...] = field(title="Tests whose answers do not fit the others")
    bring: tuple[str, ...] = field(title="Parts to bring")
    do: tuple[str, ...] = field(title="Repairs")
    prove: tuple[str, ...] = field(title="To test afterwards")
    cautions: tuple[str, ...] = field(title="To watch")
    case: DiagnoseCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the rules come from")
