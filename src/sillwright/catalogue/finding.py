"""What a chapter looks up in a catalogue: a part by its name, work by its word, a rate by how many work."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol, TypeVar

from sillwright.base.errors import UnknownName
from sillwright.base.node import short
from sillwright.base.words import N_, say
from sillwright.catalogue.model import Catalogue, OperatorInput
from sillwright.catalogue.naming import key, nearest
from sillwright.catalogue.parts import (
    Channel,
    CoiledCord,
    ConverterKind,
    Device,
    JunctionBox,
    RadioLink,
    Rate,
    Reel,
    Seal,
    Work,
)
from sillwright.catalogue.profile import Profile


class Named(Protocol):
    """Anything in a catalogue that has a name."""

    @property
    def name(self) -> str:
        """Its name in the catalogue."""


Part = TypeVar("Part", bound=Named)


def profile(catalogue: Catalogue, name: str) -> Profile:
    """The edge profile of this name. Raises :class:`UnknownName` with the nearest, as all of these do."""
    return _named(catalogue.profiles, name)


def channel(catalogue: Catalogue, name: str) -> Channel:
    """The channel of this name."""
    return _named(catalogue.channels, name)


def cord(catalogue: Catalogue, name: str) -> CoiledCord:
    """The coiled cord of this name."""
    return _named(catalogue.cords, name)


def reel(catalogue: Catalogue, name: str) -> Reel:
    """The take-up reel of this name."""
    return _named(catalogue.reels, name)


def box(catalogue: Catalogue, name: str) -> JunctionBox:
    """The junction box of this name."""
    return _named(catalogue.boxes, name)


def radio(catalogue: Catalogue, name: str) -> RadioLink:
    """The radio link of this name."""
    return _named(catalogue.radios, name)


def converter(catalogue: Catalogue, name: str) -> ConverterKind:
    """The converter of this name."""
    return _named(catalogue.converters, name)


def device(catalogue: Catalogue, name: str) -> Device:
    """The eye, curtain, sensor or loop of this name."""
    return _named(catalogue.devices, name)


def seal(catalogue: Catalogue, name: str) -> Seal:
    """The floor or side seal of this name."""
    return _named(catalogue.seals, name)


def operator_input(catalogue: Catalogue, operator: str, name: str) -> OperatorInput:
    """An input of a class of operators by the name of both."""
    of_operator = [each for each in catalogue.inputs if key(each.operator) == key(operator)]
    if not of_operator:
        raise _unknown(operator, [each.operator for each in catalogue.inputs])
    return _named(of_operator, name)


def work_for(catalogue: Catalogue, what: str) -> Work:
    """The hours of a piece of work by its word."""
    for each in catalogue.work:
        if key(each.what) == key(what):
            return each
    raise _unknown(what, [each.what for each in catalogue.work])


def rate(catalogue: Catalogue, persons: int) -> Rate:
    """What an hour of so many persons costs; of none: what a trip costs."""
    for each in catalogue.rates:
        if each.persons == persons:
            return each
    count = N_("the catalogue has no rate for an hour of {count} persons")
    one, trip = (
        N_("the catalogue has no rate for an hour of one person"),
        N_("the catalogue has no rate for a trip"),
    )
    raise UnknownName(say({0: trip, 1: one}[persons]) if persons in {0, 1} else say(count, count=persons))


def _named(rows: Sequence[Part], name: str) -> Part:
    wanted = key(name)
    for each in rows:
        if key(each.name) == wanted:
            return each
    raise _unknown(name, [each.name for each in rows])


def _unknown(name: str, known: Sequence[str]) -> UnknownName:
    if not known:
        return UnknownName(say(N_("“{name}” is not in the catalogue; it has none of that kind"), name=short(name)))
    told = {"name": short(name), "nearest": nearest(name, known)}
    return UnknownName(say(N_("“{name}” is not in the catalogue; {nearest}"), **told))
