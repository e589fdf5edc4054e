"""Quotes and order lines as pages show them: every value as text in the reader's words and units."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.words import Reader, dated, in_words, render, translate
from sillwright.takeoff.ordering.exporting import sums_of
from sillwright.takeoff.ordering.fields import FIELDS, shown
from sillwright.takeoff.ordering.line import CONSTRUCTIONS, PLACES, OrderLine, confirmed_of, lead_of, length_of
from sillwright.takeoff.ordering.money import UNITS_IN_WORDS, PricedLine, minor_unit
from sillwright.takeoff.ordering.quote import STATES_IN_WORDS
from sillwright.takeoff.ordering.quote import Quote as Offered
from sillwright.web.orders.models import Quote
from sillwright.web.orders.offers import Drafted, Offer


def money(amount: Decimal, currency: str) -> str:
    """An amount with its currency.

    >>> money(Decimal("1250.50"), "USD")
    '1,250.50 USD'
    """
    return f"{amount:,} {currency}"


def price_shown(price: Decimal, digits: int, currency: str) -> str:
    """A price with its currency: with the digits of its smallest unit, or with more where it has more.

    >>> price_shown(Decimal("235.0"), 2, "USD"), price_shown(Decimal("33.335"), 2, "USD")
    ('235.00 USD', '33.335 USD')
    """
    exponent = price.normalize().as_tuple().exponent
    places = max(digits, -exponent if isinstance(exponent, int) else 0)
    return f"{price:,.{places}f} {currency}"


def alternatives_shown(
    row: Quote, drafted: Drafted | None, quote: Offered | None, reader: Reader
) -> list[dict[str, Any]]:
    """The alternatives of a quote side by side; of a draft that is no quote yet as far as they go."""
    if quote is None:
        offers = drafted.offers if drafted else ()
        return [_unfinished(at, each, row, reader) for at, each in enumerate(offers, 1)]
    digits, currency = minor_unit(quote.prices.currency), quote.prices.currency
    found = []
    for at, each in enumerate(quote.alternatives, 1):
        rows = sums_of(quote, each.name)
        found.append(
            {
                "place": at,
                "name": each.name,
                "words": render(each.owner_words, reader) if each.owner_words else "",
                "sums": [(in_words(title, reader), money(amount, currency)) for title, amount in rows[:-1]],
                "total_title": in_words(rows[-1][0], reader),
                "total": money(rows[-1][1], currency),
                "leaves_open": [render(said, reader) for said in each.leaves_open],
                "doubts": [render(said, reader) for said in each.doubts],
                "lines": [_priced(line, digits, currency, reader) for line in each.lines],
            }
        )
    return found


def _unfinished(at: int, offer: Offer, row: Quote, reader: Reader) -> dict[str, Any]:
    currency = row.catalogue.currency
    digits, tax = minor_unit(currency), None
    found = offer.totals(currency, tax)
    return {
        "place": at,
        "name": offer.name,
        "words": offer.words,
        "sums": [],
        "total_title": _("so far, before tax"),
        "total": money(found.total, currency),
        "leaves_open": list(offer.leaves_open),
        "doubts": [render(said, reader) for said in offer.doubts],
        "lines": [_priced(line, digits, currency, reader) for line in offer.priced],
    }


def _priced(line: PricedLine, digits: int, currency: str, reader: Reader) -> dict[str, str]:
    amount = line.amount(digits)
    missing = render(line.no_price, reader)
    return {
        "tag": line.tag,
        "what": render(line.what, reader),
        "quantity": f"{line.quantity.normalize():f} {translate(UNITS_IN_WORDS[line.unit], reader)}",
        "price": missing if line.price is None else price_shown(line.price, digits, currency),
        "amount": missing if amount is None else money(amount, currency),
    }


def blocked_shown(drafted: Drafted, reader: Reader) -> list[tuple[str, list[tuple[str, str]]]]:
    """What stands against ordering, line by line, and what releases it; each once, whatever the alternative."""
    return blocks_of((line for each in drafted.offers for line in each.lines), reader)


def blocks_of(lines: Iterable[OrderLine], reader: Reader) -> list[tuple[str, list[tuple[str, str]]]]:
    """What stands against lines, by their label."""
    found: dict[str, dict[tuple[str, str], None]] = {}
    for line in lines:
        for each in line.blocked:
            said = (render(each.reason, reader), render(each.releases, reader))
            found.setdefault(line.label, {})[said] = None
    return [(label, list(said)) for label, said in found.items()]


def history_shown(row: Quote, reader: Reader) -> list[dict[str, Any]]:
    """What became of a quote, step by step."""
    return [
        {
            "state": translate(STATES_IN_WORDS[each.state], reader),  # type: ignore[index]
            "day": dated(each.on, reader),
            "name": each.name,
            "reason": each.reason,
            "alternative": each.alternative,
            "by": each.by.name,
        }
        for each in row.steps.defer("frozen").select_related("by").order_by("pk")
    ]


def line_shown(line: OrderLine, reader: Reader) -> dict[str, Any]:
    """A line as its maker needs it: every field with its value, the lead said twice, who confirmed it."""
    skipped = {"length", "word", "end"}
    rows = [
        (translate(each.title, reader).capitalize(), in_words(shown(each.key, each.value(line)), reader))
        for each in FIELDS
        if each.key not in skipped
    ]
    construction = translate(CONSTRUCTIONS[line.construction], reader) if line.construction else ""
    parts = [each for each in (line.cord, line.reel, line.radio, line.box, line.converter) if each]
    return {
        "number": line.number,
        "label": line.label,
        "place": translate(PLACES[line.place], reader),
        "construction": construction,
        "length": render(length_of(line), reader),
        "lead": [render(each, reader) for each in lead_of(line)],
        "confirmed": render(confirmed_of(line), reader),
        "rows": rows,
        "parts": parts,
        "note": line.note,
        "remarks": [render(each, reader) for each in line.remarks],
        "blocked": [(render(each.reason, reader), render(each.releases, reader)) for each in line.blocked],
    }
