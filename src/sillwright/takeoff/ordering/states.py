"""What becomes of a quote: draft, sent, accepted, lost or expired, each with its day and a name.

draft → sent → accepted | lost | expired. Nothing goes back: a changed offer is a new quote.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from sillwright.base import data
from sillwright.base.errors import InputError
from sillwright.base.words import N_, Sentence, say
from sillwright.takeoff.ordering.quote import STATES_IN_WORDS, Quote, State, Step

NEXT: dict[State, tuple[State, ...]] = {
    "draft": ("sent",),
    "sent": ("accepted", "lost", "expired"),
    "accepted": (),
    "lost": (),
    "expired": (),
}


def send(quote: Quote, *, on: date, by: str) -> Quote:
    """The quote as it goes out. Refused while a line has no price, or after its last day."""
    for each in quote.alternatives:
        if missing := each.totals(quote.prices.currency, quote.tax_percent).missing:
            said = N_("{number}, {name}: no price for {what}; enter it in the catalogue, or take the line out")
            raise InputError(say(said, number=quote.number, name=each.name, what=missing[0].what))
    _not_ended(quote, on)
    return _moved(quote, Step(state="sent", on=on, by=by))


def accept(quote: Quote, alternative: str, *, on: date, by: str) -> Quote:
    """The quote with the alternative that the customer took. Refused after its last day."""
    names = [each.name for each in quote.alternatives]
    if alternative not in names:
        said = N_("quote {number} has no alternative “{name}”; it offers {names}")
        raise InputError(say(said, number=quote.number, name=alternative[:80], names=names))
    _not_ended(quote, on)
    return _moved(quote, Step(state="accepted", on=on, by=by, alternative=alternative))


def lose(quote: Quote, reason: str, *, on: date, by: str) -> Quote:
    """The quote as lost, with why. Refused without a reason."""
    if not reason.strip():
        said = N_("quote {number}: say why it was lost, in a few words, like “price” or “owner sold the building”")
        raise InputError(say(said, number=quote.number))
    return _moved(quote, Step(state="lost", on=on, by=by, reason=reason.strip()))


def expire(quote: Quote, *, on: date, by: str) -> Quote:
    """The quote as run out. Refused up to its last day."""
    if on <= quote.valid_until:
        said = N_("quote {number} holds until {until}; it runs out the day after")
        raise InputError(say(said, number=quote.number, until=quote.valid_until))
    return _moved(quote, Step(state="expired", on=on, by=by))


def _not_ended(quote: Quote, on: date) -> None:
    if on > quote.valid_until:
        said = N_("quote {number} ran out on {until}; make a new one at the prices of today")
        raise InputError(say(said, number=quote.number, until=quote.valid_until))


def _moved(quote: Quote, step: Step) -> Quote:
    now, last = quote.state, quote.history[-1]
    to = {
        "number": quote.number,
        "now": Sentence(STATES_IN_WORDS[now]),
        "to": Sentence(STATES_IN_WORDS[step.state]),
    }
    if step.state not in NEXT[now]:
        following = [Sentence(STATES_IN_WORDS[each]) for each in NEXT[now]]
        if not following:
            raise InputError(say(N_("quote {number} is {now}, it cannot become {to}; make a new quote"), **to))
        said = N_("quote {number} is {now}, it cannot become {to}; what can follow: {following}")
        raise InputError(say(said, **to, following=following))
    if not step.by.strip():
        raise InputError(say(N_("quote {number}: say by whom it becomes {to}"), number=quote.number, to=to["to"]))
    if step.on < last.on:
        said = N_("quote {number} was {now} on {last}; {on} is before that")
        raise InputError(say(said, number=quote.number, now=to["now"], last=last.on, on=step.on))
    return replace(quote, history=(*quote.history, replace(step, by=step.by.strip())))


@dataclass(frozen=True, kw_only=True)
class FollowUp:
    """A quote that somebody has to ask about, since when, and why."""

    quote: Quote
    since: date
    why: Sentence


def follow_up(quotes: Iterable[Quote], today: date) -> tuple[FollowUp, ...]:
    """The quotes to ask about today, the longest waiting first.

    A quote that was sent is asked about on its own day (``ask_again_on``), else a week after it went out, or three
    days before it runs out, whichever comes first; one that ran out is closed; a draft is sent or dropped.

    Source: common practice.
    """
    found = [each for quote in quotes if (each := _due(quote)) is not None and each.since <= today]
    return tuple(sorted((_ended(each, today) for each in found), key=lambda each: (each.since, each.quote.number)))


def _ended(each: FollowUp, today: date) -> FollowUp:
    until = each.quote.valid_until
    if today <= until:
        return each
    why = Sentence(N_("It ran out on {until}: take it down as expired or lost."), {"until": until})
    return replace(each, why=why)


def _due(quote: Quote) -> FollowUp | None:
    days, last = data.table("sillwright.takeoff.ordering", "ordering")["follow_up"], quote.history[-1]
    told = {"on": last.on, "by": last.by, "until": quote.valid_until}
    if quote.state == "draft":
        since = last.on + timedelta(days=days["after_sending"])
        return FollowUp(quote=quote, since=since, why=Sentence(N_("Drafted by {by} on {on} and not sent."), told))
    if quote.state != "sent":
        return None
    week = last.on + timedelta(days=days["after_sending"])
    before = max(last.on, quote.valid_until - timedelta(days=days["before_the_end"]))
    since = min(quote.ask_again_on or min(week, before), quote.valid_until + timedelta(days=1))
    why = Sentence(N_("Sent by {by} on {on}, no answer yet; it holds until {until}."), told)
    return FollowUp(quote=quote, since=since, why=why)
