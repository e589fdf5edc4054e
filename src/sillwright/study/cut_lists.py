"""Channels, and bodies that are cut on site, of one site or a van of sites, cut from what they are sold in."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
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
class Settled:
    """What was settled for an opening before its pieces are cut, and where: in an order, a quote, or nowhere."""

    said: Sentence
    times: int = 1  # so many of what the take-off tells
    circuit: str = ""  # empty: not chosen
    cut: bool = True  # false where no edge is fitted, or where the profile cannot be had any more


CHEAPEST = Settled(said=Sentence(N_("the cheapest that fits; nothing is ordered or offered for it")))


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """An opening of a cut list: whose pieces they are, as it stands on each of them, and what is ordered there."""

    label: str
    take_off: TakeOff
    settled: Settled = CHEAPEST


@dataclass(frozen=True, kw_only=True)
class CutList:
    """One channel or one rolled body of the catalogue: how its pieces are cut, or why that cannot be told."""

    name: str
    pieces: int
    result: CutlistResult | None
    why_not: Sentence | None = None
    rolled: bool = False  # a body that is cut on site from a roll
    origins: tuple[tuple[str, Sentence], ...] = ()  # for each opening, where its profile was settled
    circuits: tuple[tuple[str, str], ...] = ()  # of a roll, where the openings take different ones


def labelled(
    sites: Sequence[tuple[str, Iterable[tuple[str, TakeOff]]]], settled: Iterable[Settled] = ()
) -> tuple[Wanted, ...]:
    """The openings of several sites by site and tag; of one site alone by tag. Sites of one name are numbered.

    ``settled`` says, opening by opening, what was settled for it; without it everything is the cheapest that fits.
    """
    names, known = _distinct([name for name, _openings in sites]), tuple(settled)
    rows = [
        (tag if len(sites) == 1 else f"{name}: {tag}", found)
        for name, (_, openings) in zip(names, sites, strict=True)
        for tag, found in openings
    ]
    return tuple(
        Wanted(label=label, take_off=found, settled=said)
        for (label, found), said in zip(rows, known or (CHEAPEST,) * len(rows), strict=True)
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
    Each list says for every opening where its profile was settled.
    """
    if catalogue is None:
        return ()
    openings = tuple(wanted)
    rails = {each.name: [piece for one in openings for piece in _rail(one, each)] for each in catalogue.channels}
    rolls = {each.name: [piece for one in openings for piece in _rolled(one, each)] for each in catalogue.profiles}
    channels = [_of_channel(each, rails[each.name]) for each in catalogue.channels if rails[each.name]]
    bodies = [_of_roll(each, rolls[each.name]) for each in catalogue.profiles if rolls[each.name]]
    said = {each.label: each.settled for each in openings}
    return (
        *(_with_origins(each, rails[each.name], said) for each in channels),
        *(_with_origins(each, rolls[each.name], said) for each in bodies),
    )


def _with_origins(found: CutList, pieces: list[tuple[str, float]], said: Mapping[str, Settled]) -> CutList:
    """A list that says where the profile of each opening comes from, and of a roll which circuits differ."""
    labels = list(dict.fromkeys(label for label, _length in pieces))
    circuits = tuple((label, said[label].circuit) for label in labels if said[label].circuit)
    differ = found.rolled and len({circuit for _label, circuit in circuits}) > 1
    return replace(
        found,
        origins=tuple((label, said[label].said) for label in labels),
        circuits=circuits if differ else (),
    )


def left_out(wanted: Iterable[Wanted]) -> tuple[tuple[str, Sentence], ...]:
    """The openings of which nothing is cut by what was settled for them, and why."""
    return tuple((each.label, each.settled.said) for each in wanted if not each.settled.cut)


def in_none(wanted: Iterable[Wanted], catalogue: Catalogue | None) -> tuple[str, ...]:
    """The openings of which no piece is in a cut list, though nothing that was settled keeps them out."""
    channels, profiles = (catalogue.channels, catalogue.profiles) if catalogue else ((), ())
    return tuple(
        each.label
        for each in wanted
        if each.settled.cut
        and not any(list(_rail(each, channel)) for channel in channels)
        and not any(list(_rolled(each, profile)) for profile in profiles)
    )


def unsettled(wanted: Iterable[Wanted]) -> tuple[str, ...]:
    """The openings that something still stands against: nothing is cut for them before that is settled."""
    return tuple(each.label for each in wanted if each.take_off.blocked)


def _rail(wanted: Wanted, channel: Channel) -> Iterator[tuple[str, float]]:
    rail = wanted.take_off.channel
    if rail.part == channel.name and wanted.settled.cut:
        yield from ((wanted.label, piece) for _ in range(wanted.settled.times) for piece in rail.pieces)


def _rolled(wanted: Wanted, profile: Profile) -> Iterator[tuple[str, float]]:
    """The bodies of an opening that are cut from a roll of this profile, piece by piece."""
    if profile.construction != "cut_on_site" or wanted.take_off.profile != profile.name or not wanted.settled.cut:
        return
    for body in wanted.take_off.bodies * wanted.settled.times:
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
    return replace(found, rolled=True)


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
