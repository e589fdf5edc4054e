"""Money: exact decimals in one currency, rounded to its smallest unit, halves to the even one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal, InvalidOperation
from typing import Literal

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Sentence, say

PriceUnit = Literal["piece", "hour", "trip"]
UNITS_IN_WORDS: dict[PriceUnit, str] = {"piece": N_("piece"), "hour": N_("h"), "trip": N_("trip")}
NO_PRICE = Sentence(N_("price not in the catalogue"))
MOST = Decimal(10) ** 9
_HUNDRED = Decimal(100)


def exact(value: Decimal | float | int | str) -> Decimal:
    """A number as it is written, without the round-off of a binary one. Raises :class:`OutOfRange` for none.

    >>> exact(0.1) + exact("0.20")
    Decimal('0.30')
    """
    try:
        number = Decimal(repr(value) if isinstance(value, float) else value)
    except (InvalidOperation, TypeError, ValueError):
        number = Decimal("nan")
    if isinstance(value, bool) or not number.is_finite() or abs(number) > MOST:
        said = N_("{value} is not an amount; write a number like 1250.00")
        raise OutOfRange(say(said, value=str(value)[:60]))
    return number


def minor_unit(currency: str) -> int:
    """How many digits the smallest unit of a currency has. Raises :class:`OutOfRange` for a code that is none.

    >>> minor_unit("USD"), minor_unit("JPY"), minor_unit("KWD")
    (2, 0, 3)

    Source: ISO 4217.
    """
    import pycountry  # reads its tables at first use

    if not isinstance(currency, str) or len(currency) != 3 or not currency.isupper():
        raise _no_currency(currency)
    if pycountry.currencies.get(alpha_3=currency) is None:
        raise _no_currency(currency)
    digits = data.table("sillwright.takeoff.ordering", "ordering")["minor_units"].get(currency, 2)
    return int(digits)


def _no_currency(currency: object) -> OutOfRange:
    said = N_("“{currency}” is not a currency of ISO 4217; write three capital letters like USD or EUR")
    return OutOfRange(say(said, currency=str(currency)[:20]))


def rounded_to(amount: Decimal, digits: int) -> Decimal:
    """An amount in the smallest unit, halves to the even one.

    >>> rounded_to(Decimal("0.125"), 2), rounded_to(Decimal("0.135"), 2)
    (Decimal('0.12'), Decimal('0.14'))
    """
    return amount.quantize(Decimal(1).scaleb(-digits), rounding=ROUND_HALF_EVEN)


def with_currency(price: float | Decimal, currency: str) -> str:
    """A price in the smallest unit of its currency, with its code.

    >>> with_currency(1250.5, "USD"), with_currency(1250.5, "JPY")
    ('1,250.50 USD', '1,250 JPY')
    """
    return f"{rounded_to(exact(price), minor_unit(currency)):,} {currency}"


def percent_of(name: str, percent: Decimal | None) -> None:
    """Raise :class:`OutOfRange` for a percentage outside 0 to 100; None is none entered."""
    if percent is not None and not 0 <= exact(percent) <= _HUNDRED:
        said = N_("{name} {number} %: from 0 to 100 is accepted")
        raise OutOfRange(say(said, name=Sentence(name), number=percent))


@dataclass(frozen=True, kw_only=True)
class PricedLine:
    """Something that is paid for: so many of it, the price of each, a discount in percent as entered.

    ``price`` None says that the catalogue has none; ``tag`` is the opening it is for, empty for the whole quote.
    """

    what: Sentence
    quantity: Decimal
    price: Decimal | None
    unit: PriceUnit = "piece"
    tag: str = ""
    discount: Decimal = Decimal(0)
    taxed: bool = True
    no_price: Sentence = NO_PRICE

    def __post_init__(self) -> None:
        numbers = ((N_("quantity"), self.quantity), (N_("price"), self.price), (N_("discount"), self.discount))
        for name, number in numbers:
            if number is not None and exact(number) < 0:
                said = N_("{name} {number} is negative; write it from 0 on, a reduction as a discount in percent")
                raise OutOfRange(say(said, name=Sentence(name), number=number))
        percent_of(N_("discount"), self.discount)

    def amount(self, digits: int) -> Decimal | None:
        """What the line comes to, rounded once; None without a price."""
        if self.price is None:
            return None
        return rounded_to(self.quantity * self.price * (1 - self.discount / _HUNDRED), digits)


@dataclass(frozen=True, kw_only=True)
class Totals:
    """What lines come to. ``tax`` is None where no rate was entered; ``missing`` are lines without a price."""

    amounts: tuple[Decimal | None, ...]
    subtotal: Decimal
    discount: Decimal
    taxable: Decimal
    tax: Decimal | None
    total: Decimal
    missing: tuple[PricedLine, ...]

    @property
    def complete(self) -> bool:
        """Whether every line has a price, so that the total is one."""
        return not self.missing


def totals(
    lines: Iterable[PricedLine],
    currency: str,
    *,
    tax_percent: Decimal | None = None,
    discount: Decimal = Decimal(0),
) -> Totals:
    """What lines come to: each rounded by itself, so that the rows add up to the sum that is printed.

    ``discount`` in percent is taken off the sum, and off its taxed part before the tax. Raises
    :class:`OutOfRange` for a percentage outside 0 to 100.

    >>> line = PricedLine(what=Sentence("edge"), quantity=Decimal(3), price=Decimal("33.335"))
    >>> totals([line], "USD", tax_percent=Decimal("8.25")).total
    Decimal('108.25')
    """
    percent_of(N_("tax"), tax_percent)
    percent_of(N_("discount"), discount)
    digits, rows = minor_unit(currency), tuple(lines)
    amounts = tuple(each.amount(digits) for each in rows)
    zero = rounded_to(Decimal(0), digits)
    subtotal = sum((each for each in amounts if each is not None), zero)
    taxed = sum((a for a, row in zip(amounts, rows, strict=True) if a is not None and row.taxed), zero)
    off = rounded_to(subtotal * discount / _HUNDRED, digits)
    taxable = taxed - rounded_to(taxed * discount / _HUNDRED, digits)
    tax = None if tax_percent is None else rounded_to(taxable * tax_percent / _HUNDRED, digits)
    return Totals(
        amounts=amounts,
        subtotal=subtotal,
        discount=off,
        taxable=taxable,
        tax=tax,
        total=subtotal - off + (tax or zero),
        missing=tuple(row for a, row in zip(amounts, rows, strict=True) if a is None),
    )
