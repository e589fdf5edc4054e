"""What each protective device counts for with this operator, link by link."""

from __future__ import annotations

from typing import Any

from sillwright.base.expression import parse
from sillwright.base.logic import Kleene, Variable
from sillwright.base.rule import Evaluator
from sillwright.base.words import N_, Sentence
from sillwright.duty import chain
from sillwright.duty.model import Answer, DeviceStanding, Link
from sillwright.survey.devices import Protection, Zone
from sillwright.survey.model import Opening

_ASKED = {name: parse(f"{name}(p)") for name in ("works", "watched", "listed", "monitored")}


def answer_of(value: bool | None) -> Answer:
    """Three values as the words of the answer.

    >>> answer_of(None)
    'unknown'
    """
    return "unknown" if value is None else "yes" if value else "no"


def place_of(member: Any) -> str | None:
    """The shape on the drawing that stands for a device or a zone; None where it has none of its own."""
    if isinstance(member, Protection):
        return f"protection.{member.id.value}" if member.id.value else None
    return member.path.replace("zones[", "zone.").rstrip("]") if isinstance(member, Zone) else None


def device_standings(kleene: Evaluator[bool | None], opening: Opening) -> tuple[DeviceStanding, ...]:
    """Every device of the opening: does it work, is it watched, is its chain listed, does it count as monitored."""
    return tuple(_standing(kleene, opening, device, index) for index, device in enumerate(opening.protection, 1))


def _standing(kleene: Evaluator[bool | None], opening: Opening, device: Protection, number: int) -> DeviceStanding:
    said = {name: answer_of(kleene.bind(p=device).value(asked)) for name, asked in _ASKED.items()}
    return DeviceStanding(
        path=device.path,
        name=device.id.value or str(number),
        kind=device.kind.value or "unknown",
        links=() if device.kind.value in {"inherent", "guard"} else _links(opening, device),
        **said,
    )


def _links(opening: Opening, device: Protection) -> tuple[Link, ...]:
    names = [device.model.value, *(chain.through(opening, device) or ())]
    found = [_link(opening, name) for name in names]
    if chain.through(opening, device) is None:
        found.append(
            Link(
                name="?",
                listed="unknown",
                evidence=Sentence(N_("what stands between device and operator is not known")),
            )
        )
    return tuple(found)


def _link(opening: Opening, name: str | None) -> Link:
    if name is None:
        return Link(name="?", listed="unknown", evidence=Sentence(N_("the device's name has not been taken down")))
    listed = answer_of(chain.link_listed(opening, name, Kleene(), _nameless))
    return Link(name=name, listed=listed, evidence=_evidence(opening, name))


def _nameless(fact: str, aspect: str) -> Variable:
    return Variable(0, fact, aspect)


def _evidence(opening: Opening, name: str) -> Sentence:
    operator = opening.operator
    record, lists = operator.instructions, operator.lists_devices
    if lists.standing in {"not asked", "not known", "two readings"}:
        return Sentence(N_("nobody has looked for it in the operator's instructions"))
    where = {
        "title": record.title.value,
        "page": record.page.value,
        "by": record.read_by.value,
        "on": record.on.value,
    }
    if chain.instructions_read(opening):
        if name in (lists.value or ()):
            return Sentence(N_("listed in “{title}”, page {page}; read by {by} on {on}"), where)
        return Sentence(N_("not listed in “{title}”, page {page}; read by {by} on {on}"), where)
    if lists.origin == "support":
        return Sentence(N_("told by support: pending, it counts for an order, not for closing by itself"))
    return Sentence(N_("told, not read: title, page, reader and date of the instructions are not recorded"))
