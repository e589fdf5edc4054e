"""What a person chose for an opening, in a quote or an order: profile, circuit, end element, how it ships, work."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.errors import InputError
from sillwright.base.quantity import parse
from sillwright.base.words import Reader, Units
from sillwright.catalogue import Catalogue
from sillwright.catalogue.model import OperatorInput
from sillwright.takeoff.ordering.devices import MOST_OF_ONE, offered_devices
from sillwright.takeoff.ordering.fields import CIRCUITS, SHIPS
from sillwright.takeoff.ordering.line import Choice
from sillwright.web.orders.entered import Entries
from sillwright.web.records.models import Opening

MOST_OPENINGS = 60
"""Openings in one quote or order; a larger site is offered in parts."""
LONGEST_NOTE = 500
MOST_DEVICES = 12
"""Kinds of devices beside an edge at one opening."""


@dataclass(frozen=True)
class Beside:
    """A device beside the edge, by its name in the catalogue, and how many of it."""

    device: str
    quantity: int = 1


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """What was chosen for one opening, as it was entered. Names are those of the catalogue; empty is not chosen."""

    opening: str
    profile: str = ""
    circuit: str = ""
    end_element: str = ""  # with its unit
    ship: str = ""
    quantity: int = 1
    input: str = ""  # as input_key() calls it
    box: str = ""
    converter: str = ""
    work: tuple[str, ...] = ()
    note: str = ""
    no_edge: bool = False  # devices alone
    devices: tuple[Beside, ...] = ()

    def as_json(self) -> dict[str, Any]:
        """What is kept."""
        return {**asdict(self), "work": list(self.work), "devices": [asdict(each) for each in self.devices]}

    def choice(self, catalogue: Catalogue, units: Units) -> Choice:
        """The same, as the take-off's order lines take it."""
        return Choice(
            circuit=self.circuit or None,
            end_element=parse(self.end_element, "ohm") if self.end_element else None,
            ship=self.ship or None,  # type: ignore[arg-type]
            quantity=self.quantity,
            units=units,
            box=self.box,
            converter=self.converter,
            input=next((each for each in catalogue.inputs if input_key(each) == self.input), None),
            note=self.note,
        )


def input_key(of: OperatorInput) -> str:
    """How an operator's input is called in what was chosen."""
    return f"{of.operator}: {of.name}"


def chosen_of(told: Mapping[str, Any]) -> Chosen:
    """What was chosen, from what is kept of it."""
    devices = tuple(Beside(**each) for each in told.get("devices", ()))
    return Chosen(**{**told, "work": tuple(told["work"]), "devices": devices})


def chosen_from(
    told: Mapping[str, Any], place: str, catalogue: Catalogue, reader: Reader
) -> tuple[Chosen, Entries]:
    """What somebody entered for one opening, and what of it cannot be used."""
    said = Entries(told, place, reader)
    names = {kind: [each.name for each in getattr(catalogue, kind)] for kind in ("profiles", "boxes", "converters")}
    unknown = _("The catalogue that this rests on has no such entry.")
    work = told.get("work") or ()
    made = Chosen(
        opening=str(told.get("opening", "")),
        profile=said.choice("profile", names["profiles"], unknown),
        circuit=said.choice("circuit", CIRCUITS),
        end_element=said.text("end_element"),
        ship=said.choice("ship", SHIPS),
        quantity=said.count("quantity", 1, 999, 1),
        input=said.choice("input", [input_key(each) for each in catalogue.inputs], unknown),
        box=said.choice("box", names["boxes"], unknown),
        converter=said.choice("converter", names["converters"], unknown),
        work=tuple(dict.fromkeys(map(str, work))),
        note=said.text("note", LONGEST_NOTE),
        no_edge=bool(told.get("no_edge")),
        devices=_devices_in(told.get("devices") or (), said, place, offered_devices(catalogue), unknown),
    )
    if set(made.work) - {each.what for each in catalogue.work}:
        said.wrong("work", unknown)
    if said.quantity("end_element", "ohm", _("like 10 kohm")) is not None:
        try:
            made.choice(catalogue, reader.units)
        except InputError as error:
            said.against("end_element", error)
    return made, said


def _devices_in(
    told: Iterable[Mapping[str, Any]], said: Entries, place: str, known: Mapping[str, Any], unknown: str
) -> tuple[Beside, ...]:
    """The devices that were entered; one that is named twice is counted together."""
    found: dict[str, int] = {}
    for at, each in enumerate(told):
        one = Entries(each, f"{place}devices[{at}].", said.reader)
        name = one.choice("device", known, unknown)
        many = one.count("quantity", 1, MOST_OF_ONE, 1)
        if name:
            found[name] = found.get(name, 0) + many
            if found[name] > MOST_OF_ONE:
                one.wrong("quantity", _("This is too much."), _("at most %(most)d") % {"most": MOST_OF_ONE})
                found[name] = MOST_OF_ONE
        said.mistakes += one.mistakes
    if len(found) > MOST_DEVICES:
        said.wrong("devices", _("This is too much."), _("at most %(most)d") % {"most": MOST_DEVICES})
    return tuple(Beside(name, many) for name, many in found.items())


def openings_for(site_openings: Iterable[Opening], wanted: Iterable[Chosen], said: Entries) -> None:
    """Note where something is chosen for an opening that is none of the site's, twice, or for too many."""
    there, seen = {str(each.pk) for each in site_openings}, set[str]()
    for each in wanted:
        if each.opening not in there:
            said.wrong("lines", _("This opening is none of this site's."))
        if each.opening in seen:
            said.wrong("lines", _("This opening stands twice; ask for several of its edges by their quantity."))
        seen.add(each.opening)
    if len(seen) > MOST_OPENINGS:
        said.wrong(
            "lines", _("Too many openings."), _("at most %(most)d; make another one") % {"most": MOST_OPENINGS}
        )
