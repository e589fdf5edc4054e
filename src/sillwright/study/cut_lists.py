"""The channels of a whole site, or of a van of sites, cut from the lengths that they are sold in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel
from sillwright.study.model import OpeningStudy

if TYPE_CHECKING:
    from sillwright.takeoff.cutlist_model import CutlistResult, CutPiece

KERF = 0.003  # m, of a usual blade; common practice, no source
KEEP = 0.5  # m, an off-cut worth carrying home; common practice, no source
NO_STOCK = Sentence(N_("The catalogue does not say in which lengths it is sold."))


@dataclass(frozen=True, kw_only=True)
class CutList:
    """One channel of the catalogue: how its pieces are cut, or why that cannot be told."""

    channel: str
    pieces: int
    result: CutlistResult | None
    why_not: Sentence | None = None


def cut_lists(studies: Iterable[OpeningStudy], catalogue: Catalogue | None) -> tuple[CutList, ...]:
    """A cut list for every channel that the openings take, in the order of the catalogue.

    Pieces of openings whose channel is not chosen are in none. Saw cuts of 3 mm are taken, and off-cuts of half a
    metre or more go back to stock.
    """
    wanted: dict[str, list[tuple[str, float]]] = {}
    for each in studies:
        rail = each.takeoff.channel
        if rail.part:
            tag = str(each.opening.tag.value)
            wanted.setdefault(rail.part, []).extend((tag, piece) for piece in rail.pieces)
    known = catalogue.channels if catalogue else ()
    return tuple(_cut(each, wanted[each.name]) for each in known if wanted.get(each.name))


def _cut(channel: Channel, wanted: list[tuple[str, float]]) -> CutList:
    from sillwright.takeoff import CutlistCase, StockLength, cutlist  # compiled where it is used

    if not channel.stock:
        return CutList(channel=channel.name, pieces=len(wanted), result=None, why_not=NO_STOCK)
    stock = tuple(
        StockLength(name=channel.name, length=length, cost=channel.price.of(length) if channel.price else None)
        for length in channel.stock
    )
    try:
        case = CutlistCase(pieces=_pieces(wanted), stock=stock, kerf=KERF, keep=KEEP)
        return CutList(channel=channel.name, pieces=len(wanted), result=cutlist(case))
    except OutOfRange as error:
        said = Sentence(N_("It cannot be cut: {why}"), {"why": error.said})
        return CutList(channel=channel.name, pieces=len(wanted), result=None, why_not=said)


def _pieces(wanted: list[tuple[str, float]]) -> tuple[CutPiece, ...]:
    from sillwright.takeoff import CutPiece

    return tuple(CutPiece(length=length, label=tag) for tag, length in wanted)
