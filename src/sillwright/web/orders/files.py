"""Files that quotes and orders go out as: made once, kept as papers of the site, reprinted as they are."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.utils import timezone

from sillwright import __version__
from sillwright.base.errors import OutputError
from sillwright.base.words import N_, Reader, say
from sillwright.drawing.shapes import Drawing
from sillwright.paper.agreed import agreed_paper
from sillwright.paper.letter import Letter
from sillwright.paper.order import order_paper
from sillwright.paper.quote_book import quote_paper
from sillwright.paper.quote_sheet import quote_workbook
from sillwright.paper.writing import slug
from sillwright.takeoff.ordering.agreed import Agreed
from sillwright.takeoff.ordering.exporting import (
    agreed_as_json,
    as_csv,
    order_as_json,
    quote_as_json,
    rows_of_order,
    rows_of_quote,
)
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.quote import Quote as Offered
from sillwright.web.accounts.models import User
from sillwright.web.orders.models import Order, Quote
from sillwright.web.records.audit import record
from sillwright.web.records.disk import put
from sillwright.web.records.models import Paper
from sillwright.web.records.papers import path_of
from sillwright.web.trouble.substitutes import refuse_while_in

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
MEDIA = {"pdf": "application/pdf", "xlsx": XLSX, "csv": "text/csv; charset=utf-8", "json": "application/json"}
ENDINGS = tuple(MEDIA)
OF_ORDER = ("pdf", "csv", "json")


@dataclass(frozen=True)
class Made:
    """A file that was made and is not kept yet."""

    paper: Paper
    ending: str
    content: bytes


def letter_of(row: Quote | Order) -> Letter:
    """Who writes, to whom, and what both call it by."""
    return Letter(company=(row.organisation.name,), to=tuple(row.to.splitlines()), reference=row.label)


def quote_content(ending: str, row: Quote, quote: Offered, reader: Reader) -> bytes:
    """A quote as a file. Raises :class:`OutputError` where it cannot be set, and :class:`Refused` while a
    substitute part is in at one of its openings.
    """
    refuse_while_in(openings_in(row))
    today = timezone.localdate()
    if ending == "pdf":
        return quote_paper(quote, reader, letter=letter_of(row), made_on=today, version=__version__)
    if ending == "xlsx":
        return quote_workbook(quote, reader, made_on=today)
    if ending == "csv":
        return as_csv(rows_of_quote(quote, reader)).encode("utf-8-sig")
    return _json(quote_as_json(quote, reader))


def order_content(
    ending: str,
    row: Order,
    lines: Sequence[OrderLine],
    sketches: Mapping[int, Drawing],
    reader: Reader,
    *,
    settled: Agreed | None = None,
) -> bytes:
    """An order as a file; ``sketches`` by the number of their line. Raises what :func:`quote_content` raises.

    ``settled`` is what was agreed since: it stands in the file for programs, beside what was ordered.
    """
    refuse_while_in(openings_in(row))
    if ending == "pdf":
        how = {"letter": letter_of(row), "made_on": timezone.localdate(), "version": __version__}
        return order_paper(lines, reader, sketches=sketches, **how)  # type: ignore[arg-type]
    if ending == "csv":
        return as_csv(rows_of_order(lines, reader)).encode("utf-8-sig")
    told = order_as_json(lines, reader)
    return _json({**told, "agreed": agreed_as_json(settled, reader) if settled else None})


def agreed_content(row: Order, settled: Agreed, reader: Reader) -> bytes:
    """An order as agreed, as a sheet. Raises what :func:`quote_content` raises."""
    refuse_while_in(openings_in(row))
    today = timezone.localdate()
    return agreed_paper(settled, reader, letter=letter_of(row), made_on=today, version=__version__)


def _json(told: object) -> bytes:
    return (json.dumps(told, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def openings_in(row: Quote | Order) -> set[str]:
    """The openings that it speaks of, by id."""
    lines = row.lines if isinstance(row, Order) else [line for each in row.offered for line in each["lines"]]
    return {line["opening"] for line in lines}


def name_of(row: Quote | Order, ending: str, sort: str = "") -> str:
    """What the file is called; ``sort`` where it is not the quote or the order itself."""
    what = f"-{slug(sort)[:40]}" if sort else ""
    return f"{slug(row.label)}{what}-{slug(row.site.name)[:60]}.{ending}"


def quote_files(row: Quote, quote: Offered, reader: Reader, by: User) -> list[Made]:
    """Every file that a quote goes out as."""
    return [_made(row, "quote", each, quote_content(each, row, quote, reader), reader, by) for each in ENDINGS]


def order_file(
    row: Order, lines: Sequence[OrderLine], sketches: Mapping[int, Drawing], reader: Reader, by: User
) -> Made:
    """The sheet that an order goes out as."""
    return _made(row, "order", "pdf", order_content("pdf", row, lines, sketches, reader), reader, by)


def _made(row: Quote | Order, kind: str, ending: str, content: bytes, reader: Reader, by: User) -> Made:
    paper = Paper(
        site=row.site,
        kind=kind,
        name=name_of(row, ending),
        digest=hashlib.sha256(content).hexdigest(),
        media=MEDIA[ending],
        size=len(content),
        version=__version__[:40],
        units=reader.units,
        by=by,
    )
    return Made(paper, ending, content)


def keep(made: Made) -> None:
    """Keep a file, then its row, inside the transaction of whoever asks. Raises :class:`OutputError`."""
    paper = made.paper
    try:
        put(path_of(paper.pk), made.content)
    except OSError as error:
        said = N_("the paper cannot be kept on this server ({why}); make room there, then make it again")
        raise OutputError(say(said, why=error.strerror)) from error
    paper.save(force_insert=True)
    about = {"organisation": paper.site.organisation, "site": paper.site}
    record(None, "paper made", paper.name, after=paper.digest, who=paper.by, **about)


def discard(made: Iterable[Made]) -> None:
    """Take the files away again whose rows were not kept."""
    for each in made:
        path_of(each.paper.pk).unlink(missing_ok=True)
