"""Orders and quotes as rows and as plain data. No text in a cell becomes a formula."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from decimal import Decimal
from io import StringIO
from typing import Any

from sillwright.base.words import N_, Reader, Sentence, in_words, render, translate
from sillwright.takeoff.ordering.agreed import Agreed, AgreedField
from sillwright.takeoff.ordering.fields import FIELDS, shown
from sillwright.takeoff.ordering.line import PLACES, OrderLine, lead_of, written
from sillwright.takeoff.ordering.money import UNITS_IN_WORDS, PricedLine, minor_unit
from sillwright.takeoff.ordering.quote import Quote

Cell = str | int | Decimal
Row = list[Cell]
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
_HEADS = (N_("line"), N_("opening"), N_("place"))
_TAILS = (
    N_("mirrored"), N_("cord"), N_("reel"), N_("radio"), N_("box"), N_("converter"), N_("confirmed by"),
    N_("confirmed on"), N_("note"), N_("open questions"),
)  # fmt: skip
QUOTE_HEADS = (
    N_("alternative"), N_("opening"), N_("what"), N_("quantity"), N_("unit"), N_("price"), N_("discount %"),
    N_("amount"), N_("taxed"), N_("currency"),
)  # fmt: skip


def plain_cell(cell: Cell) -> str:
    """A cell as text that no spreadsheet takes for a formula: a text that begins like one gets ``'`` in front.

    >>> plain_cell("=1+1"), plain_cell(" +49"), plain_cell(Decimal("-5.00"))
    ("'=1+1", "' +49", '-5.00')
    """
    if not isinstance(cell, str):
        return str(cell)
    text = cell.replace("\x00", "")
    return f"'{text}" if text.lstrip(" \u00a0").startswith(_STARTS) or text.startswith(_STARTS) else text


def as_csv(rows: Iterable[Sequence[Cell]]) -> str:
    """Rows as CSV text, every cell quoted where it has to be, lines ending as the format asks."""
    target = StringIO(newline="")
    writer = csv.writer(target, lineterminator="\r\n")
    writer.writerows([plain_cell(cell) for cell in row] for row in rows)
    return target.getvalue()


def rows_of_order(lines: Iterable[OrderLine], reader: Reader) -> list[Row]:
    """An order as rows under headings: every field of every line, lead said twice, questions at the end."""
    heads = (*_HEADS, *(each.title for each in FIELDS), *_TAILS)
    rows: list[Row] = [[translate(each, reader) for each in heads]]
    for line in lines:
        rows.append([line.number, line.tag, translate(PLACES[line.place], reader), *_fields(line, reader)])
        mirrored = "; ".join(render(each, reader) for each in lead_of(line)[1:])
        parts = (line.cord, line.reel, line.radio, line.box, line.converter)
        asked = "; ".join(render(each.reason, reader) for each in line.blocked)
        tail = (mirrored, *parts, line.confirmed_by, line.confirmed_on, line.note, f"? {asked}" if asked else "")
        rows[-1] += tail
    return rows


def _fields(line: OrderLine, reader: Reader) -> list[Cell]:
    found: list[Cell] = []
    for spec in FIELDS:
        value = spec.value(line)
        if spec.key == "length" and value is not None:
            found.append(written(value, line.units))
        elif spec.kind == "count" and value is not None:
            found.append(int(value))
        else:
            found.append(in_words(shown(spec.key, value), reader))
    return found


def rows_of_quote(quote: Quote, reader: Reader) -> list[Row]:
    """A quote as rows: every line of every alternative with its amount, then what each comes to."""
    digits = minor_unit(quote.prices.currency)
    rows: list[Row] = [[translate(each, reader) for each in QUOTE_HEADS]]
    for each in quote.alternatives:
        currency = quote.prices.currency
        rows += [[each.name, *_priced(line, digits, reader), currency] for line in each.lines]
        for title, amount in sums_of(quote, each.name):
            rows.append([each.name, "", in_words(title, reader), "", "", "", "", amount, "", currency])
    return rows


def _priced(line: PricedLine, digits: int, reader: Reader) -> Row:
    amount = line.amount(digits)
    missing = render(line.no_price, reader)
    return [
        line.tag,
        render(line.what, reader),
        line.quantity,
        translate(UNITS_IN_WORDS[line.unit], reader),
        missing if line.price is None else line.price,
        line.discount,
        missing if amount is None else amount,
        in_words(line.taxed, reader),
    ]


def sums_of(quote: Quote, name: str) -> list[tuple[Sentence, Decimal]]:
    """What an alternative comes to, row by row: sum, discount, tax, total; said as incomplete where it is."""
    (each,) = (one for one in quote.alternatives if one.name == name)
    found = each.totals(quote.prices.currency, quote.tax_percent)
    rows = [(Sentence(N_("sum")), found.subtotal)]
    if found.discount:
        rows.append(
            (Sentence(N_("discount {percent} %"), {"percent": percent_in_words(each.discount)}), -found.discount)
        )
    if found.tax is not None:
        named = {"name": quote.tax_name or Sentence(N_("tax")), "percent": percent_in_words(quote.tax_percent)}
        rows.append((Sentence(N_("{name} {percent} %"), named), found.tax))
    return [*rows, (total_title(quote, found.complete), found.total)]


def total_title(quote: Quote, complete: bool) -> Sentence:
    """What a total is called: with or without the lines that have no price, before tax where none was entered."""
    values = {"currency": quote.prices.currency}
    if not complete:
        return Sentence(N_("total in {currency} without the lines that have no price"), values)
    if quote.tax_percent is None:
        return Sentence(N_("total in {currency}, no tax entered"), values)
    return Sentence(N_("total in {currency}"), values)


def percent_in_words(percent: Decimal | None) -> str:
    """A percentage without trailing noise.

    >>> percent_in_words(Decimal("8.250")), percent_in_words(Decimal("20"))
    ('8.25', '20')
    """
    if percent is None:
        return ""
    text = f"{percent:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def order_as_json(lines: Iterable[OrderLine], reader: Reader) -> dict[str, Any]:
    """An order as plain data: SI numbers, the words of lengths and leads, what stands against each line."""
    return {"format": "sillwright-order/1", "lines": [_line_as_json(line, reader) for line in lines]}


def _line_as_json(line: OrderLine, reader: Reader) -> dict[str, Any]:
    found: dict[str, Any] = {"number": line.number, "tag": line.tag, "place": line.place}
    found |= {spec.key: spec.value(line) for spec in FIELDS}
    found |= {
        "body": line.body,
        "sensing": line.sensing,
        "to_buy": line.to_buy,
        "channel_pieces": list(line.channel_pieces),
        "lead_in_words": [render(each, reader) for each in lead_of(line)],
        "parts": {name: getattr(line, name) for name in ("cord", "reel", "radio", "box", "converter")},
        "confirmed": {"by": line.confirmed_by, "on": line.confirmed_on},
        "remarks": [render(each, reader) for each in line.remarks],
        "blocked": [
            {"id": each.id, "reason": render(each.reason, reader), "releases": render(each.releases, reader)}
            for each in line.blocked
        ],
        "released": {"by": line.released_by, "on": line.released_on.isoformat() if line.released_on else None},
        "note": line.note,
    }
    return found


def agreed_as_json(found: Agreed, reader: Reader) -> dict[str, Any]:
    """An order as agreed: SI numbers of the lines that are built, and of every field whose value it is."""
    return {
        "lines": [
            {
                **_line_as_json(each.line, reader),
                "made": each.dropped is None,
                "agreed": [_agreed_field(one, reader) for one in each.fields],
                "dropped": _agreed_field(each.dropped, reader) if each.dropped else None,
                "kept": _agreed_field(each.kept, reader) if each.kept else None,
            }
            for each in found.lines
        ],
        "besides": [_agreed_field(each, reader) for each in found.besides],
    }


def _agreed_field(each: AgreedField, reader: Reader) -> dict[str, Any]:
    return {
        "field": each.key,
        "title": render(each.title, reader),
        "value": _said(each.value, reader),
        "holds": each.holds,
        "instead_of": _said(each.instead_of, reader) if each.holds != "both" else None,
        "by": each.by,
        "on": each.on.isoformat() if each.on else None,
        "words": each.words,
    }


def _said(value: Any, reader: Reader) -> str | None:
    return None if value is None else in_words(value, reader)


def quote_as_json(quote: Quote, reader: Reader) -> dict[str, Any]:
    """A quote as plain data; amounts are texts, so that no program rounds them."""
    digits = minor_unit(quote.prices.currency)
    prices = quote.prices
    return {
        "format": "sillwright-quote/1",
        "number": quote.number,
        "about": quote.about,
        "state": quote.state,
        "valid_until": quote.valid_until.isoformat(),
        "prices": {
            "catalogue": prices.catalogue, "priced_on": prices.priced_on, "fingerprint": prices.fingerprint,
            "currency": prices.currency, "invented": prices.invented,
        },
        "tax_percent": None if quote.tax_percent is None else str(quote.tax_percent),
        "alternatives": [
            {
                "name": each.name,
                "lines": [_priced_as_json(line, digits, reader) for line in each.lines],
                "leaves_open": [render(said, reader) for said in each.leaves_open],
                "doubts": [render(said, reader) for said in each.doubts],
                "sums": [[in_words(title, reader), str(amount)] for title, amount in sums_of(quote, each.name)],
            }
            for each in quote.alternatives
        ],
        "exclusions": list(quote.exclusions),
        "terms": quote.terms,
        "history": [
            {
                "state": step.state, "on": step.on.isoformat(), "by": step.by, "reason": step.reason,
                "alternative": step.alternative,
            }
            for step in quote.history
        ],
    }  # fmt: skip


def _priced_as_json(line: PricedLine, digits: int, reader: Reader) -> dict[str, Any]:
    amount = line.amount(digits)
    return {
        "opening": line.tag,
        "what": render(line.what, reader),
        "quantity": str(line.quantity),
        "unit": line.unit,
        "price": None if line.price is None else str(line.price),
        "discount_percent": str(line.discount),
        "amount": None if amount is None else str(amount),
        "taxed": line.taxed,
    }
