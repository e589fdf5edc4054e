"""What the cut list is given and what it answers."""

from __future__ import annotations

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Metre, Number
from sillwright.base.words import N_, say
from sillwright.catalogue.profile import Construction

MOST_PIECES = 5_000
"""Pieces of one order, at most."""
MOST_STOCKS = 20


class CutPiece(Model):
    """Pieces of one length."""

    length: Metre = field(at_least=0.001, at_most=100.0, title="Length of the piece")
    count: int = field(at_least=1, at_most=MOST_PIECES, default=1, title="How many of them")
    label: str = field(default="", title="What it is for, as it stands on the list")
    construction: Construction | None = field(
        default=None, title="Of an edge: cut on site; factory-sealed ones are not cut; null = no edge"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.construction == "factory_sealed":
            said = N_(
                "{piece}: a factory-sealed edge is never cut from stock; order it at its own length, and give the "
                "cut list channels, rails and cut-on-site bodies"
            )
            raise OutOfRange(say(said, piece=self.label or f"CutPiece {self.length:g} m"))


class StockLength(Model):
    """A length that can be had."""

    name: str = field(default="", title="What it is called")
    length: Metre = field(at_least=0.001, at_most=100.0, title="Length of the bar as it is delivered")
    cost: Number | None = field(
        at_least=1e-6, at_most=1e6, default=None, title="Cost of one, in any currency; null = its length"
    )
    count: int | None = field(at_least=0, default=None, title="How many there are; null = as many as wanted")


class CutlistCase(Case):
    """Pieces that are wanted, and the stock they can be cut from."""

    pieces: tuple[CutPiece, ...] = field(title="Pieces")
    stock: tuple[StockLength, ...] = field(title="Stock lengths")
    kerf: Metre = field(at_least=0.0, at_most=0.1, title="Width of the saw cut")
    trim_start: Metre = field(at_least=0.0, at_most=10.0, default=0.0, title="Cut off each bar at its start")
    trim_end: Metre = field(at_least=0.0, at_most=10.0, default=0.0, title="Not used at the end of each bar")
    keep: Metre | None = field(
        above=0.0, at_most=100.0, default=None, title="Off-cuts from this length on go back to stock; null = none"
    )
    effort: int = field(at_least=1, at_most=10, default=1, title="How long to look, in multiples of the usual work")

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.pieces or not self.stock:
            raise OutOfRange(say(N_("{path}: at least one piece and one stock length"), path="CutlistCase"))
        number = sum(each.count for each in self.pieces)
        if number > MOST_PIECES or len(self.stock) > MOST_STOCKS:
            said = N_(
                "{path}: {pieces} pieces, {stocks} stock lengths; at most {most} and {kinds} are accepted; "
                "split the order"
            )
            told = {"pieces": number, "stocks": len(self.stock), "most": MOST_PIECES, "kinds": MOST_STOCKS}
            raise OutOfRange(say(said, path="CutlistCase", **told))
        if len({each.cost is None for each in self.stock}) > 1:
            said = N_("{path}: some have a cost and some have none; give one for each, or none at all")
            raise OutOfRange(say(said, path="CutlistCase.stock"))


class Cut(Model):
    """A piece in its bar."""

    label: str = field(title="What it is for")
    length: Metre = field(title="Length of the piece")
    from_start: Metre = field(title="Where it starts, from the start of the bar as delivered")


class CutBar(Model):
    """A bar and what is cut from it."""

    stock: int = field(title="Which stock length, counted from 1")
    name: str = field(title="What it is called")
    length: Metre = field(title="Length of the bar")
    cuts: tuple[Cut, ...] = field(title="Its pieces, from its start on")
    off_cut: Metre = field(title="What is left of it, without its end trim")
    off_cut_start: Metre = field(title="Where that starts, after the last saw cut")
    kept: bool = field(title="Whether the off-cut goes back to stock")


class CutlistResult(Result):
    """The bars to buy and to cut, what they cost, and how far that is proven to be the least."""

    cost: Number = field(title="Cost of the stock; where none was given, its length in metres")
    bound: Number = field(title="No cutting costs less than this")
    proven: bool = field(title="Proven to be the least cost")
    gap_to_bound: Number = field(title="How far the cost is above the bound, as a share of it")
    bar_count: int = field(title="Bars")
    waste_share: Number = field(title="Share of the stock that is neither piece nor kept off-cut")
    first_fit_cost: Number | None = field(
        title="Cost of first-fit decreasing, to compare; null = it runs out of stock"
    )
    bars: tuple[CutBar, ...] = field(title="The bars")
    off_cuts: tuple[Metre, ...] = field(title="Off-cuts that go back to stock, longest first")
    case: CutlistCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
