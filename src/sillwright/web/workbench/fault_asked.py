"""What the address of the fault bench asks for, and why that may be nothing to answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.http import HttpRequest

from sillwright.base.words import Reader
from sillwright.circuit.fault_choices import PRESSES, for_trainers, go_together, hurt_at, kinds, listed, seconds
from sillwright.circuit.fault_words import CIRCUITS
from sillwright.circuit.model import Circuit, Hurt, Place, Press, State
from sillwright.circuit.typical import typical
from sillwright.web.accounts.models import Membership
from sillwright.web.accounts.roles import MAY
from sillwright.web.workbench.fault_words import (
    PLACES,
    circuit_names,
    fault_name,
    field_names,
    kind_names,
    place_names,
    says,
)

LONGEST = 40  # signs of a choice that is not known, as they are said back


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """What is chosen, by the names in the address; ``unknown`` are names and values that are not known."""

    circuit: Circuit = "resistor"
    hurt: str = ""  # a kind, or nothing
    place: Place = "edge_middle"
    also: str = ""  # a second fault, or nothing
    press: str = ""
    trainer: bool = False
    large: bool = False
    unknown: tuple[tuple[str, str], ...] = ()

    @property
    def first(self) -> Hurt | None:
        """What is wrong; a second fault without a first one is the first."""
        if self.hurt:
            return hurt_at(self.hurt, self.place)
        return seconds()[self.also] if self.also else None

    @property
    def second(self) -> Hurt | None:
        """What is wrong besides."""
        return seconds()[self.also] if self.hurt and self.also else None

    @property
    def hurts(self) -> tuple[Hurt, ...]:
        """Everything that is wrong."""
        return tuple(each for each in (self.first, self.second) if each is not None)

    @property
    def state(self) -> State:
        """The loop as it stands, with its press."""
        at = PRESSES[self.press]
        return State(hurts=self.hurts, press=None if at is None else Press(at=at))


def chosen(request: HttpRequest, trains: bool) -> Chosen:
    """What the address asks for."""
    known = {
        "circuit": tuple(CIRCUITS),
        "hurt": ("", *kinds()),
        "place": PLACES,
        "also": ("", *seconds()),
        "press": tuple(PRESSES),
    }
    asked = {name: request.GET[name] for name in known if name in request.GET}
    good = {name: value for name, value in asked.items() if value in known[name]}
    bad = tuple((name, value[:LONGEST]) for name, value in asked.items() if name not in good)
    trainer, large = (request.GET.get(name) == "1" for name in ("trainer", "large"))
    return Chosen(**good, trainer=trains and trainer, large=large, unknown=bad)  # type: ignore[arg-type]


def trains(request: HttpRequest) -> bool:
    """Whether a trainer asks: somebody who manages an organisation."""
    user = request.user
    return user.is_authenticated and Membership.objects.filter(user=user, role__in=MAY["manage"]).exists()


def mistakes(told: Chosen, reader: Reader) -> Iterator[str]:
    """Why there is no answer, each as what it is and what to choose instead."""
    names = field_names()
    for name, value in told.unknown:
        yield says()["unknown"].format(name=names[name], value=value)
    if not told.unknown and (wrong := refusal(told.circuit, told.hurts, told.trainer, reader)):
        yield wrong


def refusal(circuit: Circuit, hurts: tuple[Hurt, ...], trainer: bool, reader: Reader) -> str:
    """Why a circuit cannot be hurt so; nothing where it can."""
    there, told = listed(circuit, trainer), {"circuit": dict(circuit_names(reader))[circuit]}
    for number, each in enumerate(hurts):
        if each in there:
            continue
        if for_trainers(each) and not trainer and each in listed(circuit, True):
            return says()["board"]
        if number:
            return says()["besides"].format(fault=fault_name(each, reader), **told)
        return _misplaced(each, there, told, reader)
    if len(hurts) > 1 and not go_together(typical(circuit), *hurts):
        one, other = (fault_name(each, reader) for each in hurts)
        return says()["together"].format(one=one, other=other)
    return ""


def _misplaced(hurt: Hurt, there: frozenset[Hurt], told: dict[str, str], reader: Reader) -> str:
    words = dict(place_names(reader))
    names = {wrong: name for name, wrong in kinds().items()}
    told |= {"what": dict(kind_names(reader))[names[hurt.kind, hurt.ohm]], "where": words[hurt.place]}
    found = {each.place for each in there if (each.kind, each.ohm) == (hurt.kind, hurt.ohm)}
    places = ", ".join(words[each] for each in PLACES if each in found)
    return says()["elsewhere" if places else "nowhere"].format(places=places, **told)
