"""Compiles what is compiled on first use, so that nobody waits for it: at the set-up, or while a server starts.

What comes out is kept on disk by the compiler; where that has been done already, all of this takes a second.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

KERF = 0.003
SHORT = (
    2019, 1680, 1028, 1131, 410, 503, 344, 773, 2495, 2053, 2764, 1659, 1937, 2921, 2269, 2007, 1767, 1811, 2824,
    1048, 2502,
)  # fmt: skip
LONG = (
    1987, 2147, 2722, 1861, 2394, 2550, 908, 449, 1110, 1069, 2658, 2764, 314, 1649, 2517, 654, 2452, 621, 1563,
    2504, 1118, 1222, 1051,
)  # fmt: skip
BARS = (((6.0,), SHORT), ((3.048, 3.658), LONG))
"""Stock in metres and pieces in millimetres: cutting both asks for every compiled function of cut lists."""


def kernels() -> Iterator[Callable[[], object]]:
    """What is to be compiled, one after the other: contacts by the thousand, advice on calls, cut lists."""
    yield _contacts
    yield _advice
    for stock, pieces in BARS:
        yield partial(_cut, stock, pieces)


def compile_kernels() -> None:
    """Compile everything."""
    for each in kernels():
        each()


def _contacts() -> None:
    """One leaf that meets a gauge, by the compiled batch."""
    from sillwright.mechanics import contact_batch
    from sillwright.mechanics._row import NUMBERS

    contact_batch([[1.0] * len(NUMBERS)], [[0.0, 0.01]], [[0.0, 50.0]])


def _advice() -> None:
    """The first advice on a call, by the compiled engine."""
    from sillwright.trouble.advising import advise
    from sillwright.trouble.answer import Call
    from sillwright.trouble.book import fault_book

    advise(fault_book(), Call(who="technician"), engine="kernel")


def _cut(stock: tuple[float, ...], pieces: tuple[int, ...]) -> None:
    from sillwright.takeoff import CutlistCase, CutPiece, StockLength, cutlist

    wanted = tuple(CutPiece(length=each / 1000) for each in pieces)
    cutlist(CutlistCase(pieces=wanted, stock=tuple(StockLength(length=each) for each in stock), kerf=KERF))
