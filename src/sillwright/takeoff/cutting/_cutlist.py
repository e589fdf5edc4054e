"""The cut list: pieces from stock lengths at the least cost, with the bound that proves it."""

from __future__ import annotations

from collections import defaultdict

from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.takeoff.cutting.cutlist_model import Cut, CutBar, CutlistCase, CutlistResult, CutPiece
from sillwright.takeoff.cutting.first_fit import Bars, cost_of
from sillwright.takeoff.cutting.problem import Whole, whole
from sillwright.takeoff.cutting.solve import solve

__all__ = ["cutlist"]

ROUND_OFF = 1e-9
SOURCES = (
    Source(document="P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961)", sure="memory", id="columns"),
    Source(document="A. A. Farley, Operations Research 38 (1990)", sure="memory", id="bound"),
    Source(document=N_("The bound is checked by a knapsack in whole numbers"), sure="computed", id="certificate"),
)


def cutlist(case: CutlistCase) -> CutlistResult:
    r"""Which bars to buy, and how to cut them, so that the stock costs least?

    .. math:: \sum_i (l_i + kerf) \le L - trim_{start} - trim_{end} + kerf

    Parameters: a case with ``pieces`` (length in m, count, label), ``stock`` (length in m, cost – its length where
    none is given – and count, null = as many as wanted), ``kerf``, ``trim_start`` and ``trim_end`` of each bar [m],
    ``keep`` [m], the least off-cut that goes back to stock, and ``effort``, a multiple of the usual work. Returns
    the bars with each piece's place [m], the cost in the unit of the stock's, the ``bound`` that no cutting goes
    below, ``proven`` where the two are one, and what first-fit decreasing would cost.

    Model: straight cuts across a bar, each as wide as the kerf; the last one may run out at the bar's end. What an
    off-cut is worth is not counted. Lengths are whole nanometres, so that 0.1 + 0.2 is 0.3, and a bar may be
    overfull by 0.1 µm. The work is counted in tries and steps, not in time: the same order gives the same list.
    Where bound and cost do not meet within it, the list is good, the bound holds, and ``proven`` is false.

    Valid for up to 5,000 pieces and 20 stock lengths, for material that is cut on site. Factory-sealed edges are
    not: they are ordered at their length. Raises :class:`OutOfRange` for those, for a piece longer than every
    stock, and where the stock that is counted does not do.

    >>> from sillwright.takeoff.cutting.cutlist_model import StockLength
    >>> pieces = (CutPiece(length=1.2, count=3, label="rail"), CutPiece(length=0.89, count=2, label="post"))
    >>> found = cutlist(CutlistCase(pieces=pieces, stock=(StockLength(length=3.0),), kerf=0.003))
    >>> found.cost, found.proven, [round(bar.off_cut, 3) for bar in found.bars]
    (6.0, True, [0.594, 0.011])

    Source: column generation (Gilmore and Gomory 1961) with Farley's bound (1990), both from memory; the bound is
    checked for every order in whole numbers.
    """
    pieces = [each for each in case.pieces for _ in range(each.count)]
    _refuse(case)
    order = whole(
        [each.length for each in pieces],
        [_usable(case, each.length) for each in case.stock],
        [each.length if each.cost is None else each.cost for each in case.stock],
        [each.count for each in case.stock],
        case.kerf,
    )
    found = solve(order.problem, order.relaxed, case.effort)
    if found.bars is None:
        raise OutOfRange(_no_cutting(proven=found.bound >= found.cost))
    bars = _bars(case, order, found.bars, pieces)
    kept = sorted((bar.off_cut for bar in bars if bar.kept), reverse=True)
    stock = sum(bar.length for bar in bars)
    first = None if found.first is None else order.money(cost_of(order.problem, found.first))
    return CutlistResult(
        cost=order.money(found.cost),
        bound=order.money(found.bound),
        proven=found.cost <= found.bound,
        gap_to_bound=(found.cost - found.bound) / found.bound,
        bar_count=len(bars),
        waste_share=max(0.0, 1.0 - (sum(each.length for each in pieces) + sum(kept)) / stock),
        first_fit_cost=first,
        bars=bars,
        off_cuts=tuple(kept),
        case=case,
        assumptions=_assumptions(case, order),
        sources=SOURCES,
    )


def _usable(case: CutlistCase, length: float) -> float:
    return length - case.trim_start - case.trim_end


def _refuse(case: CutlistCase) -> None:
    """Refuse what no cutting can do: a piece that is too long, stock that is too little."""
    longest = max(case.pieces, key=lambda each: each.length)
    usable = [_usable(case, each.length) for each in case.stock if each.count != 0]
    if not usable or longest.length > max(usable) + ROUND_OFF:
        said = N_(
            "{piece}, {length}: longer than every stock length less its trim, {most}; give longer stock, or split "
            "the piece"
        )
        told = {"piece": longest.label or say(N_("a piece")), "length": Amount(longest.length, "m")}
        raise OutOfRange(say(said, most=Amount(max(usable, default=0.0), "m"), **told))
    need = sum(each.count * (each.length + case.kerf) for each in case.pieces)
    have = sum((each.count or 0) * max(0.0, _usable(case, each.length) + case.kerf) for each in case.stock)
    if all(each.count is not None for each in case.stock) and need > have + ROUND_OFF * len(case.pieces):
        said = N_(
            "not enough stock: the pieces and their saw cuts come to {need}, the stock that is counted gives "
            "{have}; {missing} is missing"
        )
        lengths = {"need": need, "have": have, "missing": need - have}
        raise OutOfRange(say(said, **{name: Amount(value, "m") for name, value in lengths.items()}))


def _no_cutting(*, proven: bool) -> Phrase:
    if proven:
        said = N_(
            "the stock that is counted is long enough in all, and yet the pieces cannot be cut from it; add a bar "
            "or a longer stock length"
        )
        return say(said)
    said = N_(
        "no cutting of the stock that is counted was found, and none is ruled out; add a bar, or raise the effort"
    )
    return say(said)


def _bars(case: CutlistCase, order: Whole, bars: Bars, pieces: list[CutPiece]) -> tuple[CutBar, ...]:
    """The bars with their pieces by name: stock by stock, equal bars together, the fullest first."""
    waiting = [list(reversed(members)) for members in order.problem.members]
    rows = sorted(bars, key=lambda bar: (bar[0], [-count for count in bar[1]]))
    found: dict[int, list[CutBar]] = defaultdict(list)
    for stock, pattern in rows:
        chosen = [waiting[kind].pop() for kind, count in enumerate(pattern) for _ in range(count)]
        found[stock].append(_bar(case, stock, [pieces[each] for each in chosen]))
    return tuple(bar for stock in sorted(found) for bar in found[stock])


def _bar(case: CutlistCase, stock: int, pieces: list[CutPiece]) -> CutBar:
    start = case.trim_start
    cuts = []
    for each in pieces:
        cuts.append(Cut(label=each.label, length=each.length, from_start=start))
        start += each.length + case.kerf
    length = case.stock[stock].length
    left = length - case.trim_end - start
    off_cut = left if left > ROUND_OFF else 0.0
    kept = case.keep is not None and off_cut >= case.keep - ROUND_OFF
    return CutBar(
        stock=stock + 1,
        name=case.stock[stock].name,
        length=length,
        cuts=tuple(cuts),
        off_cut=off_cut,
        off_cut_start=min(start, length - case.trim_end),
        kept=kept,
    )


def _assumptions(case: CutlistCase, order: Whole) -> tuple[str, ...]:
    said = [say(N_("An off-cut that goes back to stock is worth nothing here; a later order may use it."))]
    if case.stock[0].cost is None:
        said.append(say(N_("No cost was given: stock costs by its length.")))
    if order.problem is not order.relaxed:
        rounded = N_("The lengths have no common measure; the search rounded them so that no bar is overfull.")
        said.append(say(rounded))
    return tuple(said)
