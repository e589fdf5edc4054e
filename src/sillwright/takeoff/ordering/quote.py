"""A quote: what is offered, what it leaves out, until when, on whose prices, and what became of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from sillwright.base.errors import InputError
from sillwright.base.words import N_, say
from sillwright.catalogue.model import Catalogue
from sillwright.takeoff.ordering.alternatives import Alternative, checked_alternatives
from sillwright.takeoff.ordering.money import exact, minor_unit, percent_of

State = Literal["draft", "sent", "accepted", "lost", "expired"]
STATES_IN_WORDS: dict[State, str] = {
    "draft": N_("draft"),
    "sent": N_("sent"),
    "accepted": N_("accepted"),
    "lost": N_("lost"),
    "expired": N_("expired"),
}
LONGEST_TEXT = 20_000


@dataclass(frozen=True, kw_only=True)
class Prices:
    """The prices that a quote was made on: whose catalogue, of which day, and the mark of what stood in it."""

    catalogue: str
    priced_on: str
    fingerprint: str
    currency: str
    invented: bool


def prices_of(catalogue: Catalogue) -> Prices:
    """The prices of a catalogue as a quote keeps them; the fingerprint changes with every entry."""
    from sillwright.catalogue.writing import fingerprint  # with it comes what reads and writes files

    return Prices(
        catalogue=catalogue.name,
        priced_on=catalogue.priced_on,
        fingerprint=fingerprint(catalogue),
        currency=catalogue.currency,
        invented=catalogue.invented,
    )


@dataclass(frozen=True, kw_only=True)
class Step:
    """A change of state: into which, on which day, by whom; why, and which alternative."""

    state: State
    on: date
    by: str
    reason: str = ""
    alternative: str = ""


@dataclass(frozen=True, kw_only=True)
class Quote:
    """A quote and its history. It changes only by the functions of :mod:`~sillwright.takeoff.ordering.states`.

    ``terms`` is the organisation's own text and is printed as it is; ``tax_percent`` as entered, None for no tax
    entered. Raises :class:`InputError` for what cannot be offered.
    """

    number: str
    about: str  # site and openings, in the customer's words
    alternatives: tuple[Alternative, ...]
    prices: Prices
    valid_until: date
    history: tuple[Step, ...]
    tax_percent: Decimal | None = None
    tax_name: str = ""
    exclusions: tuple[str, ...] = ()
    terms: str = ""
    owner_words: tuple[str, ...] = ()
    ask_again_on: date | None = None

    def __post_init__(self) -> None:
        if not self.number.strip():
            raise InputError(say(N_("a quote has a number; write one")))
        checked_alternatives(self.alternatives)
        minor_unit(self.prices.currency)
        percent_of(N_("tax"), self.tax_percent)
        if len(self.terms) > LONGEST_TEXT:
            said = N_("the terms have {count} letters; at most {most} are printed")
            raise InputError(say(said, count=len(self.terms), most=LONGEST_TEXT))
        if not self.history or self.history[0].state != "draft":
            raise InputError(say(N_("the history of a quote begins with its draft: on which day, by whom")))
        if self.valid_until < self.history[0].on:
            said = N_("quote {number} would end on {until}, before it was drafted on {on}; give a later day")
            raise InputError(say(said, number=self.number, until=self.valid_until, on=self.history[0].on))

    @property
    def state(self) -> State:
        """The state that was last taken down."""
        return self.history[-1].state

    @property
    def accepted(self) -> Alternative | None:
        """The alternative that was accepted."""
        name = self.history[-1].alternative if self.state == "accepted" else None
        return next((each for each in self.alternatives if each.name == name), None)


def draft(
    number: str,
    about: str,
    alternatives: tuple[Alternative, ...],
    catalogue: Catalogue,
    *,
    on: date,
    by: str,
    valid_until: date,
    exclusions: tuple[str, ...] = (),
    terms: str = "",
    owner_words: tuple[str, ...] = (),
) -> Quote:
    """A new quote on the prices, the currency and the tax of a catalogue.

    Raises :class:`InputError` where nobody drafts it, or where it cannot be offered.
    """
    if not by.strip():
        raise InputError(say(N_("say who drafts the quote")))
    percent = catalogue.tax_percent
    return Quote(
        number=number,
        about=about,
        alternatives=alternatives,
        prices=prices_of(catalogue),
        valid_until=valid_until,
        history=(Step(state="draft", on=on, by=by.strip()),),
        tax_percent=None if percent is None else exact(percent),
        exclusions=exclusions,
        terms=terms,
        owner_words=owner_words,
    )
