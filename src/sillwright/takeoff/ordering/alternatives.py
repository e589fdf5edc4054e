"""Ways of doing a job, side by side: each with its lines, what it comes to and what it leaves open."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from sillwright.base.errors import InputError
from sillwright.base.words import N_, Sentence, say
from sillwright.takeoff.ordering.money import PricedLine, Totals, totals

MOST_ALTERNATIVES = 3


@dataclass(frozen=True, kw_only=True)
class Alternative:
    """One way of doing the job; ``discount`` in percent on all of it, as entered.

    ``leaves_open`` says what stays as it is: an alternative that leaves nothing open says so in words. ``doubts``
    are for whoever offers it: what may have been counted twice.
    """

    name: str
    lines: tuple[PricedLine, ...]
    leaves_open: tuple[Sentence, ...]
    owner_words: Sentence | None = None  # what it does, for whoever decides
    discount: Decimal = Decimal(0)
    doubts: tuple[Sentence, ...] = ()

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise InputError(say(N_("an alternative has a name; write one, like “edge and eye”")))
        if not self.lines:
            raise InputError(say(N_("{name}: nothing is offered; add a line"), name=self.name))
        if not self.leaves_open:
            said = N_("{name}: say what it leaves open, or that nothing is known to be left")
            raise InputError(say(said, name=self.name))

    def totals(self, currency: str, tax_percent: Decimal | None) -> Totals:
        """What this alternative comes to."""
        return totals(self.lines, currency, tax_percent=tax_percent, discount=self.discount)


def checked_alternatives(offered: tuple[Alternative, ...]) -> tuple[Alternative, ...]:
    """One to three alternatives under different names. Raises :class:`InputError` otherwise."""
    if not 1 <= len(offered) <= MOST_ALTERNATIVES:
        said = N_("{count} alternatives; 1 to {most} are accepted")
        raise InputError(say(said, count=len(offered), most=MOST_ALTERNATIVES))
    names = [each.name.strip().casefold() for each in offered]
    if len(set(names)) < len(names):
        raise InputError(say(N_("two alternatives have the same name; call them differently")))
    return offered
