"""The quote as a workbook: a sheet an alternative with live formulas, one about the quote. No text is a formula."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO
from typing import Any

from sillwright.base.words import N_, Reader, Sentence, dated, in_words
from sillwright.paper.voice import Voice
from sillwright.takeoff.ordering.alternatives import Alternative
from sillwright.takeoff.ordering.exporting import total_title
from sillwright.takeoff.ordering.money import UNITS_IN_WORDS, PricedLine, Totals, minor_unit
from sillwright.takeoff.ordering.quote import STATES_IN_WORDS, Quote

LONGEST_CELL = 32_000
HEADS = (
    N_("opening"), N_("what"), N_("quantity"), N_("unit"), N_("price, {currency}"), N_("discount %"), N_("taxed"),
    N_("amount, {currency}"),
)  # fmt: skip
WIDTHS = (14, 60, 10, 10, 14, 11, 9, 16)
HEAD, FIRST = 3, 4  # rows, counted from 0
AMOUNT = 7  # column


def quote_workbook(quote: Quote, reader: Reader, *, made_on: date) -> bytes:
    """The quote as an XLSX file: amounts, sums, tax and totals are formulas that give the same as the paper.

    The same quote and date give the same bytes.
    """
    import xlsxwriter  # the library is only loaded where a workbook is made

    target, voice = BytesIO(), Voice(reader)
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(target, options)
    title = voice(N_("Quote {number}"), number=quote.number)
    book.set_properties({"title": cell_text(title), "created": datetime(made_on.year, made_on.month, made_on.day)})
    sheets = _Sheets(quote, voice, _formats(book, minor_unit(quote.prices.currency)))
    for at, each in enumerate(quote.alternatives, 1):
        name = voice(N_("Alternative {number}"), number=at)
        sheets.alternative(book.add_worksheet(name[:31]), each)
    sheets.about(book.add_worksheet(voice(N_("About this quote"))[:31]))
    book.close()
    return target.getvalue()


def cell_text(words: str) -> str:
    """A text as a workbook can hold it: without control signs and halves of signs, and not longer than a cell.

    >>> cell_text("=1+1\\x00\\ud800")
    '=1+1'
    """
    kept = "".join(sign for sign in words if sign == "\n" or unicodedata.category(sign) not in {"Cc", "Cs", "Cn"})
    return kept if len(kept) <= LONGEST_CELL else kept[: LONGEST_CELL - 1] + "…"


def rounded_formula(value: str, digits: int) -> str:
    """A formula that rounds to so many digits, halves to the even one; spreadsheets by themselves round them up.

    ``ROUND`` inside takes the noise of binary numbers away before a half is looked for.
    """
    clean = f"ROUND({value},{digits + 6})"
    half = f"MOD(ROUND(ABS({value})*{10**digits},6),2)=0.5"
    return f"IF({half},ROUNDDOWN({clean},{digits}),ROUND({clean},{digits}))"


def _formats(book: Any, digits: int) -> dict[str, Any]:
    money = "#,##0" + ("." + "0" * digits if digits else "")
    return {
        "title": book.add_format({"bold": True, "font_size": 14}),
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1}),
        "text": book.add_format({"num_format": "@", "text_wrap": True, "valign": "top", "quote_prefix": True}),
        "number": book.add_format({"num_format": "0.##", "valign": "top"}),
        "money": book.add_format({"num_format": money, "valign": "top", "align": "right"}),
        "sum": book.add_format({"num_format": money, "bold": True, "align": "right", "top": 1}),
        "label": book.add_format({"bold": True, "align": "right", "top": 1}),
    }


@dataclass(frozen=True)
class _Sheets:
    """Writes the sheets of one quote."""

    quote: Quote
    voice: Voice
    formats: dict[str, Any]

    @property
    def digits(self) -> int:
        return minor_unit(self.quote.prices.currency)

    def words(self, sheet: Any, row: int, column: int, words: str, look: str = "text") -> None:
        sheet.write_string(row, column, cell_text(words), self.formats[look])

    def alternative(self, sheet: Any, each: Alternative) -> None:
        for column, width in enumerate(WIDTHS):
            sheet.set_column(column, column, width)
        about = {"number": self.quote.number, "name": each.name}
        self.words(sheet, 0, 0, self.voice(N_("Quote {number}: {name}"), **about), "title")
        self.words(sheet, 1, 0, "; ".join(self.voice.of(said) for said in each.leaves_open))
        for column, head in enumerate(HEADS):
            said = self.voice(head, currency=self.quote.prices.currency)
            self.words(sheet, HEAD, column, said, "head")
        found = each.totals(self.quote.prices.currency, self.quote.tax_percent)
        for at, (line, amount) in enumerate(zip(each.lines, found.amounts, strict=True), FIRST):
            self._line(sheet, at, line, amount)
        self._sums(sheet, FIRST + len(each.lines), each, found)
        sheet.freeze_panes(FIRST, 0)
        sheet.repeat_rows(HEAD)
        sheet.set_landscape()
        sheet.fit_to_pages(1, 0)

    def _line(self, sheet: Any, row: int, line: PricedLine, amount: Decimal | None) -> None:
        self.words(sheet, row, 0, line.tag)
        self.words(sheet, row, 1, self.voice.of(line.what))
        sheet.write_number(row, 2, float(line.quantity), self.formats["number"])
        self.words(sheet, row, 3, self.voice.word(UNITS_IN_WORDS[line.unit]))
        if line.price is not None:
            sheet.write_number(row, 4, float(line.price), self.formats["money"])
        sheet.write_number(row, 5, float(line.discount), self.formats["number"])
        self.words(sheet, row, 6, self._taxed(line.taxed))
        missing, at = self.voice.of(line.no_price), row + 1
        value = rounded_formula(f"C{at}*E{at}*(1-F{at}/100)", self.digits)
        formula = f"=IF(ISNUMBER(E{at}),{value},{_quoted(missing)})"
        shown: float | str = missing if amount is None else float(amount)
        sheet.write_formula(row, AMOUNT, formula, self.formats["money"], shown)

    def _taxed(self, taxed: bool) -> str:
        return in_words(taxed, self.voice.reader)

    def _sums(self, sheet: Any, row: int, each: Alternative, found: Totals) -> None:
        """Sum, discount, tax and total; percentages stand in cells of their own, so that they can be changed."""
        last, digits = row, self.digits
        amounts, taxed = f"H{FIRST + 1}:H{last}", f"G{FIRST + 1}:G{last}"
        subtotal, off, tax, total = (row + n for n in range(2, 6))  # as the sheet counts its rows
        self._sum(sheet, subtotal, N_("sum"), f"=SUM({amounts})", found.subtotal)
        self._percent(sheet, off, each.discount)
        self._sum(
            sheet, off, N_("discount"), f"=-{rounded_formula(f'H{subtotal}*F{off}/100', digits)}", -found.discount
        )
        part = f"SUMIF({taxed},{_quoted(self._taxed(True))},{amounts})"
        base = f"({part}-{rounded_formula(f'{part}*F{off}/100', digits)})"
        percent = self.quote.tax_percent
        self._percent(sheet, tax, percent)
        name = self.quote.tax_name or self.voice.word(N_("tax"))
        if percent is None:
            name = self.voice(N_("tax: none entered"))
        formula = f"={rounded_formula(f'{base}*F{tax}/100', digits)}"
        self._sum(sheet, tax, name, formula, found.tax or Decimal(0))
        said = self.voice.of(total_title(self.quote, found.complete))
        self._sum(sheet, total, said, f"=H{subtotal}+H{off}+H{tax}", found.total)

    def _percent(self, sheet: Any, row: int, percent: Decimal | None) -> None:
        sheet.write_number(row - 1, 5, float(percent or 0), self.formats["number"])

    def _sum(self, sheet: Any, row: int, name: str, formula: str, value: Decimal) -> None:
        self.words(sheet, row - 1, 6, self.voice.word(name), "label")
        sheet.write_formula(row - 1, AMOUNT, formula, self.formats["sum"], float(value))

    def about(self, sheet: Any) -> None:
        sheet.set_column(0, 0, 24)
        sheet.set_column(1, 1, 100)
        for row, (name, words) in enumerate(self._about()):
            self.words(sheet, row, 0, name, "head")
            self.words(sheet, row, 1, words)

    def _about(self) -> Iterable[tuple[str, str]]:
        quote, voice, prices = self.quote, self.voice, self.quote.prices
        yield voice(N_("quote")), quote.number
        yield voice(N_("about")), quote.about
        yield voice(N_("holds until")), dated(quote.valid_until, voice.reader)
        yield voice(N_("currency")), prices.currency
        yield voice(N_("catalogue")), f"{prices.catalogue}, {prices.priced_on}, {prices.fingerprint}"
        if prices.invented:
            yield voice(N_("prices")), voice(N_("These prices are invented, for demonstration only."))
        for step in quote.history:
            state = voice.word(STATES_IN_WORDS[step.state])
            values = {"on": step.on, "by": step.by, "why": step.reason or step.alternative}
            yield state, voice.of(Sentence(N_("{on}, {by} {why}"), values)).strip()
        for each in quote.exclusions:
            yield voice(N_("not included")), each
        if quote.terms:
            yield voice(N_("terms")), quote.terms


def _quoted(words: str) -> str:
    """A text inside a formula; marks of quotation are doubled, and it stays below what a formula takes."""
    return '"' + cell_text(words)[:200].replace('"', '""') + '"'
