"""Channels, and bodies that are cut on site, of one site or a van of sites, cut from what they are sold in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel
from sillwright.catalogue.profile import Profile
from sillwright.takeoff.answer import Body, TakeOff
from sillwright.takeoff.lengths.measures import number

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.cutlist_model import CutlistResult, CutPiece, StockLength

KERF = 0.003  # m, of a usual blade; common practice, no source
KEEP = 0.5  # m, an off-cut worth carrying home; common practice, no source
NO_STOCK = Sentence(N_("The catalogue does not say in which lengths it is sold."))


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """An opening of a cut list: whose pieces they are, as it stands on each of them, and what is ordered there."""

    label: str
    take_off: TakeOff


@dataclass(frozen=True, kw_only=True)
class CutList:
    """One channel or one rolled body of the catalogue: how its pieces are cut, or why that cannot be told."""

    name: str
    pieces: int
    result: CutlistResult | None
    why_not: Sentence | None = None
    rolled: bool = False  # a body that is cut on site from a roll


def labelled(sites: Sequence[tuple[str, Iterable[tuple[str, TakeOff]]]]) -> tuple[Wanted, ...]:
    """The openings of several sites by site and tag; of one site alone by tag. Sites of one name are numbered."""
    names = _distinct([name for name, _openings in sites])
    return tuple(
        Wanted(label=tag if len(sites) == 1 else f"{name}: {tag}", take_off=found)
        for name, (_, openings) in zip(names, sites, strict=True)
        for tag, found in openings
    )


def _distinct(names: Sequence[str]) -> list[str]:
    seen: Counter[str] = Counter()
    found = []
    for each in names:
        seen[each] += 1
        found.append(each if names.count(each) == 1 else f"{each} ({seen[each]})")
    return found


def cut_lists(wanted: Iterable[Wanted], catalogue: Catalogue | None) -> tuple[CutList, ...]:
    """A cut list for every channel and every rolled body that the openings take, in the order of the catalogue.

    Channels take saw cuts of 3 mm. A body that is cut on site takes an inch more for each piece, and of each roll
    two per cent are left, as it shortens while it rests (LEN-15). Off-cuts of half a metre or more go back to
    stock. A factory-sealed body is in none. Pieces of openings whose channel or profile is not chosen are in none.
    """
    if catalogue is None:
        return ()
    openings = tuple(wanted)
    rails = {each.name: [piece for one in openings for piece in _rail(one, each)] for each in catalogue.channels}
    rolls = {each.name: [piece for one in openings for piece in _rolled(one, each)] for each in catalogue.profiles}
    channels = [_of_channel(each, rails[each.name]) for each in catalogue.channels if rails[each.name]]
    return (*channels, *(_of_roll(each, rolls[each.name]) for each in catalogue.profiles if rolls[each.name]))


def in_none(wanted: Iterable[Wanted], catalogue: Catalogue | None) -> tuple[str, ...]:
    """The openings of which no piece is in a cut list."""
    channels, profiles = (catalogue.channels, catalogue.profiles) if catalogue else ((), ())
    return tuple(
        each.label
        for each in wanted
        if not any(list(_rail(each, channel)) for channel in channels)
        and not any(list(_rolled(each, profile)) for profile in profiles)
    )


def unsettled(wanted: Iterable[Wanted]) -> tuple[str, ...]:
    """The openings that something still stands against: nothing is cut for them before that is settled."""
    return tuple(each.label for each in wanted if each.take_off.blocked)


def _rail(wanted: Wanted, channel: Channel) -> Iterator[tuple[str, float]]:
    rail = wanted.take_off.channel
    if rail.part == channel.name:
        yield from ((wanted.label, piece) for piece in rail.pieces)


def _rolled(wanted: Wanted, profile: Profile) -> Iterator[tuple[str, float]]:
    """The bodies of an opening that are cut from a roll of this profile, piece by piece."""
    if profile.construction != "cut_on_site" or wanted.take_off.profile != profile.name:
        return
    for body in wanted.take_off.bodies:
        yield from ((wanted.label, length) for length in _lengths(body))


def _lengths(body: Body) -> Iterator[float]:
    length = body.piece if body.pieces > 1 else body.body
    if length is not None and body.count is not None and not body.informs_only:
        yield from (length for _ in range(body.pieces * body.count))


def _of_channel(channel: Channel, pieces: list[tuple[str, float]]) -> CutList:
    price = channel.price
    costs = [price.of(length) if price else None for length in channel.stock]
    return _cut(channel.name, pieces, channel.stock, costs, kerf=KERF)


def _of_roll(profile: Profile, pieces: list[tuple[str, float]]) -> CutList:
    """The price of each body buys its ends, whatever it is cut from; the roll costs by its length."""
    by_metre = profile.price.per_metre if profile.price else 0.0
    costs = [by_metre * length or None for length in profile.stock]
    left = number("cut-share") * max(profile.stock, default=0.0)
    found = _cut(profile.name, pieces, profile.stock, costs, kerf=number("cut-allowance"), trim_end=left)
    return CutList(name=found.name, pieces=found.pieces, result=found.result, why_not=found.why_not, rolled=True)


def _cut(
    name: str,
    pieces: list[tuple[str, float]],
    stock: Sequence[float],
    costs: Sequence[float | None],
    *,
    kerf: float,
    trim_end: float = 0.0,
) -> CutList:
    from sillwright.takeoff import CutlistCase, cutlist  # compiled where it is used

    if not stock:
        return CutList(name=name, pieces=len(pieces), result=None, why_not=NO_STOCK)
    try:
        case = CutlistCase(
            pieces=_pieces(pieces), stock=_stock(name, stock, costs), kerf=kerf, trim_end=trim_end, keep=KEEP
        )
        return CutList(name=name, pieces=len(pieces), result=cutlist(case))
    except OutOfRange as error:
        said = Sentence(N_("It cannot be cut: {why}"), {"why": error.said})
        return CutList(name=name, pieces=len(pieces), result=None, why_not=said)


def _stock(name: str, lengths: Sequence[float], costs: Sequence[float | None]) -> tuple[StockLength, ...]:
    from sillwright.takeoff import StockLength

    return tuple(
        StockLength(name=name, length=length, cost=cost) for length, cost in zip(lengths, costs, strict=True)
    )


def _pieces(wanted: list[tuple[str, float]]) -> tuple[CutPiece, ...]:
    from sillwright.takeoff import CutPiece

    return tuple(CutPiece(length=length, label=label) for label, length in wanted)
