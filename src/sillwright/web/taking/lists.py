"""The lists of a survey: what each is called, and which fact makes a new member of it."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.crypto import get_random_string
from django.utils.translation import gettext_lazy as _

from sillwright.survey.model import Opening
from sillwright.survey.spec import Group, GroupSpec, Spec
from sillwright.web.taking.words import Text


@dataclass(frozen=True, kw_only=True)
class MemberList:
    """A list of a survey. ``first`` is the fact that a new member is made with."""

    name: str
    title: Text
    one: Text  # what a single member is called
    ask: Text
    add: Text
    none: Text
    first: str

    @property
    def letters(self) -> str:
        """How members are called by what they are made with, as JSON; ``null`` where by chance."""
        return json.dumps(_LETTER if self.name == "protection" else None)


_NONE = _("Looked, there is none")
LISTS: dict[str, MemberList] = {
    each.name: each
    for each in (
        MemberList(
            name="protection",
            title=_("Protective devices"),
            one=_("device"),
            ask=_(
                "Which protective devices are there? Walk along the closing edge and jambs or posts, on both sides."
            ),
            add=_("Add a device"),
            none=_("Looked, there is no device"),
            first="kind",
        ),
        MemberList(
            name="use.traffic",
            title=_("Who or what passes"),
            one=_("who passes"),
            ask=_("Who or what passes, as it really is?"),
            add=_("Add who or what passes"),
            none=_("Nobody passes"),
            first="who",
        ),
        MemberList(
            name="use.intended",
            title=_("Who or what is meant to pass"),
            one=_("who is meant to pass"),
            ask=_("Who or what is meant to pass?"),
            add=_("Add who is meant to pass"),
            none=_NONE,
            first="who",
        ),
        MemberList(
            name="stations",
            title=_("Stations"),
            one=_("station"),
            ask=_("Which stations are there? Every one that closes it counts, inside and outside."),
            add=_("Add a station"),
            none=_("Looked, there is no station"),
            first="place",
        ),
        MemberList(
            name="controls",
            title=_("Controls"),
            one=_("control"),
            ask=_("Which controls open or close it?"),
            add=_("Add a control"),
            none=_NONE,
            first="kind",
        ),
        MemberList(
            name="operator.controls",
            title=_("Controls of the operator"),
            one=_("control"),
            ask=_("Which controls belong to the operator?"),
            add=_("Add a control"),
            none=_NONE,
            first="kind",
        ),
        MemberList(
            name="operator.inputs",
            title=_("Inputs of the operator"),
            one=_("input"),
            ask=_("Which inputs for protective devices does its board have?"),
            add=_("Add an input"),
            none=_("Looked, there is no input"),
            first="name",
        ),
        MemberList(
            name="converters",
            title=_("Converters"),
            one=_("converter"),
            ask=_("Which converters stand between device and operator?"),
            add=_("Add a converter"),
            none=_("Looked, there is no converter"),
            first="name",
        ),
        MemberList(
            name="zones",
            title=_("Zones of the gate"),
            one=_("zone"),
            ask=_("Where can a person be caught at this gate?"),
            add=_("Add a zone"),
            none=_("Looked, there is no zone"),
            first="place",
        ),
        MemberList(
            name="temporary_parts",
            title=_("Temporary parts"),
            one=_("temporary part"),
            ask=_("Is a substitute part or a jumper in place?"),
            add=_("Add a temporary part"),
            none=_("Looked, there is none"),
            first="what",
        ),
        MemberList(
            name="defeats",
            title=_("Defeated devices"),
            one=_("defeated device"),
            ask=_("Has somebody taken a device out of action?"),
            add=_("Add what was found"),
            none=_("Looked, there is none"),
            first="what",
        ),
        MemberList(
            name="tests",
            title=_("Tests"),
            one=_("test"),
            ask=_("Which tests or force records are there?"),
            add=_("Add a test"),
            none=_("Looked, there is no record"),
            first="what",
        ),
        MemberList(
            name="readings",
            title=_("Resistance readings"),
            one=_("reading"),
            ask=_("Which resistances were read, power locked out?"),
            add=_("Add a reading"),
            none=_("None was read"),
            first="ohms",
        ),
        MemberList(
            name="statements",
            title=_("What was said"),
            one=_("statement"),
            ask=_("What was said, word by word?"),
            add=_("Add what was said"),
            none=_("Nothing was said"),
            first="words",
        ),
        MemberList(
            name="parts_kept",
            title=_("Parts kept"),
            one=_("part"),
            ask=_("Which parts were kept after an incident?"),
            add=_("Add a part"),
            none=_NONE,
            first="what",
        ),
        MemberList(
            name="photos",
            title=_("Photos"),
            one=_("photo"),
            ask=_("Which photos are there?"),
            add=_("Add a photo by its name"),
            none=_NONE,
            first="shot",
        ),
    )
}
_LETTER = {
    "sensing_edge": "e",
    "air_edge": "e",
    "photo_eye": "y",
    "light_curtain": "c",
    "loop": "l",
    "inherent": "i",
    "guard": "g",
}
"""How a device is called by its kind: e1, y1 …; any other one d1."""


def group_of_list(name: str) -> type[Group]:
    """The group that a member of a list is."""
    group: type[Group] = Opening
    for part in name.split("."):
        spec = group.specs[part]
        if not isinstance(spec, GroupSpec):
            raise KeyError(name)
        group = spec.group
    return group


def facts_of_member(listed: MemberList) -> list[str]:
    """The names of a member's facts, the first one first."""
    names = [
        name for name, spec in group_of_list(listed.name).specs.items() if isinstance(spec, Spec) and name != "id"
    ]
    return [listed.first, *(name for name in names if name != listed.first)]


def new_key(listed: MemberList, typed: str, taken: Iterable[str]) -> str:
    """A key for a new member: e1, y1 … for devices by their kind, else a random one.

    >>> new_key(LISTS["protection"], "photo_eye", ["e1", "y1"])
    'y2'
    """
    if listed.name != "protection":
        return "m" + get_random_string(8, "abcdefghijkmnpqrstuvwxyz23456789")
    letter = _LETTER.get(typed, "d")
    used = set(taken)
    return next(name for number in range(1, 1000) if (name := f"{letter}{number}") not in used)


def keys_given(paths: Iterable[str], listed: MemberList) -> tuple[str, ...]:
    """The keys that members of a list were given, of those that are gone as well.

    >>> keys_given(["protection.e1", "protection.y1.kind", "door.kind"], LISTS["protection"])
    ('e1', 'y1')
    """
    prefix = f"{listed.name}."
    return tuple(dict.fromkeys(path[len(prefix) :].split(".")[0] for path in paths if path.startswith(prefix)))


def list_of(path: str) -> tuple[MemberList | None, str]:
    """The list that the fact or member at a path belongs to, and the member's key.

    >>> listed, key = list_of("use.traffic.m2.who")
    >>> listed.name, key
    ('use.traffic', 'm2')
    """
    names = path.split(".")
    for length in (2, 1):
        found = LISTS.get(".".join(names[:length]))
        if found and len(names) > length:
            return found, names[length]
    return None, ""
