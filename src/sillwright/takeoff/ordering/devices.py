"""Devices other than edges on a quote: what they cost by the catalogue, and the hours of fitting them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Sentence, say
from sillwright.catalogue.model import Catalogue
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.money import PricedLine, minor_unit
from sillwright.takeoff.ordering.prices import Part, part_price, priced_work
from sillwright.takeoff.ordering.work import work_in_words

KINDS = {
    "photo_eye": N_("photo eye"),
    "light_curtain": N_("light curtain"),
    "presence": N_("presence sensor"),
    "motion": N_("motion sensor"),
    "loop": N_("loop"),
    "radio": N_("radio link"),
    "converter": N_("converter"),
}
MOST_OF_ONE = 99
_NO_HOURS = Sentence(N_("the catalogue has no hours for this work"))


def offered_devices(catalogue: Catalogue) -> dict[str, tuple[str, Part]]:
    """What a catalogue offers beside edges, by name: its kind, which is its piece of work too, and the part."""
    found: dict[str, tuple[str, Part]] = {each.name: (each.kind, each) for each in catalogue.devices}
    found |= {each.name: ("radio", each) for each in catalogue.radios if each.name not in found}
    return found | {each.name: ("converter", each) for each in catalogue.converters if each.name not in found}


def priced_device(
    name: str, catalogue: Catalogue, *, quantity: int = 1, tag: str = "", rate: str = ""
) -> tuple[PricedLine, ...]:
    """So many of a device of the catalogue, and the hours of fitting them.

    An eye, a curtain, a sensor, a loop, a radio link or a converter. Hours are those of the catalogue's work of the
    same kind; a second eye is fitted in the hours of another beam, where the catalogue has them. What has no price
    or no hours says so and is never nothing. Raises :class:`UnknownName` for what the catalogue does not have,
    :class:`OutOfRange` for a quantity that is none.
    """
    known = offered_devices(catalogue)
    if name not in known:
        said = N_("the catalogue has no device “{device}”; {accepted}")
        raise UnknownName(say(said, device=name, accepted=did_you_mean(name, list(known))))
    if isinstance(quantity, bool) or not isinstance(quantity, int) or not 1 <= quantity <= MOST_OF_ONE:
        said = N_("{device}: quantity {quantity}; a whole number from 1 to {most}")
        raise OutOfRange(say(said, device=name, quantity=str(quantity)[:40], most=MOST_OF_ONE))
    kind, part = known[name]
    bought = PricedLine(
        what=Sentence(N_("{part} ({kind})"), {"kind": Sentence(KINDS[kind]), "part": name}),
        tag=tag,
        quantity=Decimal(quantity),
        price=part_price(part, None, minor_unit(catalogue.currency)),
    )
    return (bought, *_fitting(name, quantity, catalogue, tag, rate))


def brought_along(name: str, quantity: int, catalogue: Catalogue) -> tuple[tuple[str, int], ...]:
    """The work that comes with so many of a device, and how many times; none for what the catalogue does not have.

    A beam beside another takes its own work, where the catalogue knows it.
    """
    kind, _part = offered_devices(catalogue).get(name, ("", None))
    beams = kind == "photo_eye" and quantity > 1 and "second_beam" in {each.what for each in catalogue.work}
    if beams:
        return ((kind, 1), ("second_beam", quantity - 1))
    return ((kind, quantity),) if kind else ()


def _fitting(name: str, quantity: int, catalogue: Catalogue, tag: str, rate: str) -> Iterator[PricedLine]:
    """The hours of fitting, which say for which device they are."""
    known = {each.what for each in catalogue.work}
    for what, many in brought_along(name, quantity, catalogue):
        if what in known:
            hours = priced_work(what, catalogue, count=many, rate=rate, tag=tag)
            said = Sentence(N_("{device}: {work}"), {"device": name, "work": hours.what})
            yield replace(hours, what=said)
        else:
            said = Sentence(N_("{device}: {work}"), {"device": name, "work": work_in_words(what)})
            yield PricedLine(what=said, tag=tag, quantity=Decimal(many), price=None, no_price=_NO_HOURS)


def counted_twice(
    tag: str, ticked: Iterable[str], devices: Mapping[str, int], lines: Iterable[OrderLine], catalogue: Catalogue
) -> Iterator[Sentence]:
    """What an opening may pay for twice, each with the two entries named.

    That is work which somebody ticked and which a device brings along too, and a device that is one of the edge's
    own parts already. Both can be meant: it is said, not taken out.
    """
    by_hand = set(ticked)
    for name, quantity in devices.items():
        for what, _many in brought_along(name, quantity, catalogue):
            if what in by_hand:
                said = N_(
                    "{tag}: the work “{work}” is ticked, and the device “{device}” brings its hours along. Take "
                    "the tick away, unless both are meant."
                )
                yield Sentence(said, {"tag": tag, "work": work_in_words(what), "device": name})
    parts = {part: line.label for line in lines for part in (line.radio, line.converter) if part}
    for name in (each for each in devices if each in parts):
        said = N_(
            "{tag}: “{device}” stands among the parts of the edge {line} already, and among the other devices once "
            "more. Take one of them out, unless both are meant."
        )
        yield Sentence(said, {"tag": tag, "device": name, "line": parts[name]})
