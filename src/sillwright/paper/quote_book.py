"""The quote on paper: the owner's words first, alternatives side by side, details, terms, room to sign."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from sillwright.base.words import N_, Reader, Sentence, dated, in_words
from sillwright.paper.letter import Letter, paper_of, paragraphs
from sillwright.paper.voice import Voice
from sillwright.takeoff.ordering.alternatives import Alternative
from sillwright.takeoff.ordering.exporting import percent_in_words, sums_of
from sillwright.takeoff.ordering.money import UNITS_IN_WORDS, PricedLine, minor_unit
from sillwright.takeoff.ordering.quote import STATES_IN_WORDS, Quote

LABELS = {
    "does": N_("What it does"),
    "leaves": N_("What it leaves open"),
    "comes": N_("What it comes to"),
    "side": N_("The choices side by side"),
    "exclusions": N_("Not included"),
    "prices": N_("Prices"),
    "terms": N_("Terms"),
    "accept": N_("Acceptance"),
    "choice": N_("We accept the alternative ticked here, as described above:"),
    "for_owner": N_("For the owner: name"),
    "for_us": N_("For us: name"),
}
_HEADS = (
    N_("opening"), N_("what"), N_("quantity"), N_("price, {currency}"), N_("amount, {currency}"),
)  # fmt: skip


def quote_paper(quote: Quote, reader: Reader, *, letter: Letter, made_on: date, version: str) -> bytes:
    """The quote as a tagged PDF.

    The same quote, letter, date and version give the same bytes.
    Raises :class:`OutputError` where it cannot be set.
    """
    voice = Voice(reader)
    said = {
        "title": voice(N_("Quote {number}: {about}"), number=quote.number, about=quote.about),
        "running": voice(N_("Quote {number}"), number=quote.number),
        "state": _state(quote, voice),
        "valid": voice(N_("This offer holds until {until}."), until=quote.valid_until),
        "owner": [para for each in quote.owner_words for para in paragraphs(each)],
        "alternatives": [_alternative(quote, each, voice) for each in quote.alternatives],
        "heads": [voice(each, currency=quote.prices.currency) for each in _HEADS],
        "exclusions": list(quote.exclusions),
        "prices": _prices(quote, voice),
        "terms": paragraphs(quote.terms),
    }
    return paper_of("quote.typ", said, voice, letter=letter, made_on=made_on, version=version, labels=LABELS)


def _state(quote: Quote, voice: Voice) -> str:
    """The state that stands on the paper, with its day and name; a draft says that it offers nothing."""
    if quote.state == "draft":
        return voice(N_("Draft: not an offer yet."))
    last = quote.history[-1]
    values = {"state": Sentence(STATES_IN_WORDS[last.state]), "on": last.on, "by": last.by}
    return voice(N_("{state} on {on} by {by}"), **values)


def _alternative(quote: Quote, each: Alternative, voice: Voice) -> dict[str, Any]:
    digits = minor_unit(quote.prices.currency)
    return {
        "heading": each.name,
        "does": voice.of(each.owner_words) if each.owner_words else _summary(each, voice),
        "leaves": [voice.of(said) for said in each.leaves_open],
        "rows": [_row(line, digits, voice) for line in each.lines],
        "sums": [
            [in_words(title, voice.reader), f"{_money(amount, digits)} {quote.prices.currency}"]
            for title, amount in sums_of(quote, each.name)
        ],
    }


def _summary(each: Alternative, voice: Voice) -> str:
    """What an alternative holds, in the order of its lines, each said once."""
    return "; ".join(dict.fromkeys(voice.of(line.what) for line in each.lines))


def _row(line: PricedLine, digits: int, voice: Voice) -> list[str]:
    amount = line.amount(digits)
    many = percent_in_words(line.quantity)
    what = voice.of(line.what)
    if line.discount:
        what = voice(N_("{what} (discount {percent} %)"), what=what, percent=percent_in_words(line.discount))
    unit = voice.word(UNITS_IN_WORDS[line.unit])
    missing = voice.of(line.no_price)
    return [
        line.tag,
        what,
        f"{many} {unit}" if line.unit != "piece" else many,
        "–" if line.price is None else _money(line.price, digits),
        missing if amount is None else _money(amount, digits),
    ]


def _money(amount: Decimal, digits: int) -> str:
    """An amount with the digits of its currency; a price that has more keeps them."""
    least = Decimal(1).scaleb(-digits)
    return f"{amount.quantize(least) if amount == amount.quantize(least) else amount:,f}"


def _prices(quote: Quote, voice: Voice) -> list[str]:
    prices = quote.prices
    try:
        day = dated(date.fromisoformat(prices.priced_on), voice.reader)
    except ValueError:
        day = prices.priced_on
    values = {
        "currency": prices.currency,
        "catalogue": prices.catalogue,
        "day": day,
        "mark": prices.fingerprint[:12],
    }
    said = [voice(N_("In {currency}, by the catalogue “{catalogue}” of {day} (mark {mark})."), **values)]
    if prices.invented:
        said.append(voice(N_("These prices are invented, for demonstration only.")))
    return said
