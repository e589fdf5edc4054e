"""What was settled for the openings of a site: in an order, in a quote that was accepted or is out, or nowhere.

A released order counts before one that is not, an order before a quote, an accepted quote before one that was only
sent, that one before a draft; of equals the latest. What was lost or has expired settles nothing. Nobody sees the
draft of a quote here who may not see it elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from sillwright.base.words import N_, Sentence
from sillwright.study.cut_lists import CHEAPEST, Settled
from sillwright.takeoff.answer import TakeOff
from sillwright.web.accounts.models import User
from sillwright.web.orders.chosen import Chosen, chosen_of
from sillwright.web.orders.models import Order, Quote
from sillwright.web.orders.seen import OrderSet, QuoteSet
from sillwright.web.orders.taken import Sheaf, Taken
from sillwright.web.records.models import Site

RELEASED = N_("as ordered in {paper}")
ORDERED = N_("as chosen in {paper}, which is not released yet")
ACCEPTED = N_("as accepted in {paper}")
OFFERED = N_("as offered in {paper}, which nobody has accepted yet")
DRAFTED = N_("as drafted in {paper}, which nobody has accepted yet")
DIFFER = N_("the cheapest that fits; the alternatives of {paper} differ, and none is accepted yet")
GONE = N_("chosen in {paper} is “{profile}”, which version {number} of the catalogue no longer has")
NO_EDGE = N_("no edge is fitted there, by {paper}")
NO_PROFILE = N_("the cheapest that fits; {paper} has no profile chosen for it")


@dataclass(frozen=True)
class Decision:
    """What a paper says of an opening: what was chosen, in which words; nothing where its alternatives differ."""

    paper: str
    words: str
    chosen: Chosen | None


def decisions_at(site: Site, user: User, today: date) -> dict[str, Decision]:
    """For each opening of a site, by its key, what counts of all papers that the user may read."""
    found: dict[str, Decision] = {}
    for each in (*_of_orders(site, user), *_of_quotes(site, user, today)):
        for key, decision in each.items():
            found.setdefault(key, decision)
    return found


def _of_orders(site: Site, user: User) -> Iterator[dict[str, Decision]]:
    """The orders, those that are released first, the latest before the others."""
    orders = OrderSet(Order).seen_by(user).filter(site=site).order_by("-number")
    for state, words in (("released", RELEASED), ("draft", ORDERED)):
        for row in (each for each in orders if each.state == state):
            chosen = map(chosen_of, row.lines)
            yield {each.opening: Decision(row.label, words, each) for each in chosen}


def _of_quotes(site: Site, user: User, today: date) -> Iterator[dict[str, Decision]]:
    """The quotes: those that were accepted, then those that still hold, sent or drafted."""
    quotes = list(QuoteSet(Quote).shown_to(user).filter(site=site).order_by("-number"))
    for row in (each for each in quotes if each.state == "accepted"):
        steps = {each.state: each for each in row.steps.all()}
        named = steps["accepted"].alternative
        taken = [each for each in steps["sent"].frozen["offered"] if each["name"] == named]
        yield _offered(row, taken, ACCEPTED)
    for state, words in (("sent", OFFERED), ("draft", DRAFTED)):
        for row in (each for each in quotes if each.state == state and each.valid_until >= today):
            yield _offered(row, row.offered, words)


def _offered(row: Quote, alternatives: Iterable[Mapping[str, Any]], words: str) -> dict[str, Decision]:
    """What alternatives choose for each opening; where they differ, nothing."""
    choices: dict[str, list[Chosen]] = {}
    for each in alternatives:
        for line in map(chosen_of, each["lines"]):
            choices.setdefault(line.opening, []).append(line)
    found = {}
    for key, lines in choices.items():
        same = {(line.profile, line.circuit, line.quantity, line.no_edge) for line in lines}
        found[key] = Decision(row.label, words, lines[0]) if len(same) == 1 else Decision(row.label, DIFFER, None)
    return found


def settled(opening: Taken, decision: Decision | None, sheaf: Sheaf) -> tuple[TakeOff, Settled]:
    """The take-off by which an opening is cut, and what is said of where its profile comes from."""
    if decision is None:
        return opening.take_off, CHEAPEST
    chosen, told = decision.chosen, {"paper": decision.paper}
    said = Settled(said=Sentence(decision.words, told))
    if chosen is None:
        return opening.take_off, said
    said = replace(said, times=chosen.quantity, circuit=chosen.circuit)
    if chosen.no_edge:
        return opening.take_off, replace(said, said=Sentence(NO_EDGE, told), cut=False)
    if not chosen.profile:
        return opening.take_off, replace(said, said=Sentence(NO_PROFILE, told))
    profile = sheaf.profile(chosen.profile)
    if profile is None:
        gone = Sentence(GONE, {**told, "profile": chosen.profile, "number": sheaf.version.number})
        return opening.take_off, replace(said, said=gone, cut=False)
    return sheaf.with_profile(opening, profile), said
