"""Devices other than edges on a quote: what they cost by the catalogue, and the hours of fitting them."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Sentence, say
from sillwright.catalogue.model import Catalogue
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
    return (bought, *_fitting(kind, quantity, catalogue, tag, rate))


def _fitting(kind: str, quantity: int, catalogue: Catalogue, tag: str, rate: str) -> Iterator[PricedLine]:
    """The hours of fitting; a beam beside another takes its own, where the catalogue knows them."""
    known = {each.what for each in catalogue.work}
    beams = kind == "photo_eye" and quantity > 1 and "second_beam" in known
    for what, many in ((kind, 1), ("second_beam", quantity - 1)) if beams else ((kind, quantity),):
        if what in known:
            yield priced_work(what, catalogue, count=many, rate=rate, tag=tag)
        else:
            said = work_in_words(what)
            yield PricedLine(what=said, tag=tag, quantity=Decimal(many), price=None, no_price=_NO_HOURS)
