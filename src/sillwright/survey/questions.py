"""The facts that are asked when an opening is taken down, in the order in which they matter.

First what a study cannot do without, then what decides whether the leaf may close under power, then what says how
hard it would meet someone, then who passes. Each question says why it is asked and where to look.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sillwright.base.errors import Mistake, UnknownName
from sillwright.base.node import Node, short
from sillwright.base.words import N_
from sillwright.survey.door import GATES, KINDS
from sillwright.survey.model import Opening, Site
from sillwright.survey.places import country_mistake
from sillwright.survey.spec import Group, GroupSpec, Spec
from sillwright.survey.values import Refused, read_value

NOT_A_GATE = tuple(kind for kind in KINDS if kind not in GATES)
_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


@dataclass(frozen=True, kw_only=True)
class Question:
    """One fact to ask for.

    ``path`` is that of the fact; ``*`` in it stands for each member of a list, which is called by its id where
    it has one, else by its number from 1.
    """

    path: str
    ask: str
    why: str
    spec: Spec
    kinds: tuple[str, ...] = ()  # of leaf for which it is asked; empty: for all

    @property
    def choices(self) -> tuple[str, ...]:
        """The words that answer it, where there are only a few."""
        return ("yes", "no") if self.spec.kind == "flag" else self.spec.choices

    @property
    def each(self) -> str:
        """The list of whose members it is asked, ``protection``; empty for a single fact."""
        return self.path.partition(".*")[0] if ".*" in self.path else ""

    def asked_of(self, kind: str | None) -> bool:
        """Whether it is asked at a leaf of this kind; of an unknown one everything is."""
        return not self.kinds or kind is None or kind in self.kinds


def spec_at(path: str) -> Spec:
    """The declaration of the fact at a path like ``door.kind``, ``site.name`` or ``protection.e1.state``.

    Raises :class:`UnknownName` where there is none.

    >>> spec_at("protection.*.state").choices[0]
    'works'
    """
    group: type[Group] = Site if path.startswith("site.") else Opening
    names = path.removeprefix("site.").split(".")
    while names:
        spec = group.specs.get(names.pop(0))
        if isinstance(spec, Spec) and not names:
            return spec
        if not isinstance(spec, GroupSpec):
            break
        group = spec.group
        if spec.many:
            del names[:1]  # which member it is
    raise UnknownName(f"“{short(path)}” is no fact of a survey")


def value_of(spec: Spec, typed: str) -> Any:
    """What an answer says, as a survey file holds it: text, true or false, a plain number, a list of words.

    Words of a list are parted by semicolons. An answer that is none of these stays the text it is, and the
    survey's reader says what is wrong with it.
    """
    words = typed.strip()
    if spec.kind == "flag":
        return _YES.get(words.casefold(), words)
    if spec.kind == "count":
        try:
            return int(words) if words.isascii() and words.isdigit() and len(words) < 19 else float(words)
        except ValueError:
            return words
    if spec.kind == "texts":
        return [word.strip() for word in words.split(";") if word.strip()]
    if spec.kind == "points":
        pairs = [word.split(",") for word in words.split(";") if word.strip()]
        return [[part.strip() for part in pair] for pair in pairs]
    return words


def mistake_in(path: str, typed: str, given: Mapping[str, str | None] | None = None) -> Mistake | None:
    """What is wrong with an answer, None where it can be used; ``given`` are the answers so far.

    >>> mistake_in("door.clear_width", "10 ft 4 in") is None
    True
    >>> print(mistake_in("door.clear_width", "10"))
    door.clear_width: a number in quotes has no unit, read “10”
        write for example "10 ft 6 in", "10' 6-1/2\\"", "3.71 m"
    """
    spec = spec_at(path)
    try:
        read_value(spec, _node(value_of(spec, typed)), path)
    except Refused as refused:
        found = refused.mistake
        return Mistake(path=found.path, message=found.message, accepted=found.accepted, got=found.got)
    country = typed.strip() if path == "site.country" else (given or {}).get("site.country")
    if country and path in {"site.country", "site.subdivision"}:
        wrong = country_mistake(country, typed.strip() if path == "site.subdivision" else None)
        if wrong:
            return Mistake(path=path, message=wrong[1], accepted=wrong[2], got=f"“{typed.strip()}”")
    return None


def _node(value: Any) -> Node:
    if isinstance(value, list):
        return Node(kind="list", line=1, column=1, items=tuple(_node(each) for each in value))
    return Node(kind="scalar", line=1, column=1, scalar=value, text=str(value))


def questions() -> tuple[Question, ...]:
    """All questions in the order in which they matter."""
    return tuple(
        Question(path=path, ask=ask, why=why, spec=spec_at(path), kinds=kinds) for path, ask, why, kinds in _ASKED
    )


LISTS = ("protection", "use.traffic")
"""Lists whose members are asked for one by one; ``none`` is an answer to the list itself."""

_ALL: tuple[str, ...] = ()
_ASKED: tuple[tuple[str, str, str, tuple[str, ...]], ...] = (
    (
        "site.name",
        N_("What is the site called?"),
        N_("It heads the papers. Write it as the owner does."),
        _ALL,
    ),
    (
        "site.country",
        N_("In which country is it? Two letters, for example US, GB, DE."),
        N_("Each place has its own rules."),
        _ALL,
    ),
    (
        "site.subdivision",
        N_("In which state or province? Its code, for example WA."),
        N_("States and provinces adopt codes in their own editions."),
        _ALL,
    ),
    (
        "site.units",
        N_("Which units do people there read?"),
        N_("The papers are written in them."),
        _ALL,
    ),
    (
        "tag",
        N_("What is the opening called?"),
        N_("Look for a number on the leaf or the wall; every paper and part carries it."),
        _ALL,
    ),
    (
        "door.kind",
        N_("What kind of leaf closes it?"),
        N_("Rules and force differ by kind. Panels on tracks: sectional; a curtain that winds up: rolling."),
        _ALL,
    ),
    (
        "door.clear_width",
        N_("How wide is the clear opening?"),
        N_("Measure jamb to jamb, inside, looking out. Feet and inches, not feet with a decimal point."),
        NOT_A_GATE,
    ),
    (
        "door.clear_height",
        N_("How high is the clear opening?"),
        N_("Measure from the floor to the head, inside, looking out."),
        NOT_A_GATE,
    ),
    (
        "door.leaf_length",
        N_("How long is the leaf of the gate?"),
        N_("Its length and height bound what an edge can cover and what the wind can push."),
        GATES,
    ),
    (
        "door.leaf_height",
        N_("How high is the leaf of the gate?"),
        N_("Measure from its bottom to its top."),
        GATES,
    ),
    (
        "door.opens",
        N_("Which way does it open? Seen from inside, looking out."),
        N_("A gate can catch a person while opening too; the side says where."),
        GATES,
    ),
    (
        "door.occupancy",
        N_("Is it a commercial or a residential opening?"),
        N_("Other rules bind the maker of a residential operator."),
        _ALL,
    ),
    (
        "operator.station_in_view",
        N_("Does whoever closes it see the whole leaf from the control?"),
        N_("Stand at every station that closes it, inside and outside, and look at the bottom edge."),
        _ALL,
    ),
    (
        "operator.closing_control",
        N_("How is it told to close?"),
        N_("Held all the way, one tap, a timer, a sensor, or from far away: each asks for other protection."),
        _ALL,
    ),
    (
        "operator.made",
        N_("When was the operator made? A year, year-month or date."),
        N_("The date decides which rule applied. Look at the plate, not at the invoice."),
        _ALL,
    ),
    (
        "operator.board_made",
        N_("Is there a newer board in it? When was that made?"),
        N_("A newer board follows its own instructions. Look for a sticker on the board, power locked out."),
        _ALL,
    ),
    (
        "protection.*.kind",
        N_("What kind of device is it?"),
        N_("Walk along the bottom edge and both jambs, inside and outside, and name each device you see."),
        _ALL,
    ),
    (
        "protection.*.model",
        N_("Which name or class does its label say?"),
        N_("Only a device that the operator's instructions name counts as listed with it."),
        _ALL,
    ),
    (
        "protection.*.circuit",
        N_("Which circuit does it close? Plain contact, resistor at its end, four wires, pulse?"),
        N_("A plain contact is never watched: a cut wire looks like a free opening."),
        _ALL,
    ),
    (
        "protection.*.state",
        N_("Does it work? Was it tried today?"),
        N_("A device that is there and dead is a reason to stop today. Try it with two people, leaf in full view."),
        _ALL,
    ),
    (
        "operator.lists_devices",
        N_("Which devices do the operator's instructions list? Part them by semicolons."),
        N_("The table of tested devices in the manual, word by word."),
        _ALL,
    ),
    (
        "operator.instructions.title",
        N_("What is the title of those instructions?"),
        N_("A list counts as read only with its title, its page, who read it, and when."),
        _ALL,
    ),
    (
        "operator.instructions.edition",
        N_("Which edition or revision?"),
        N_("It stands small on the last page; lists change between editions."),
        _ALL,
    ),
    (
        "operator.instructions.page",
        N_("On which page do they list devices?"),
        N_("So that the next person finds it."),
        _ALL,
    ),
    (
        "operator.instructions.read_by",
        N_("Who read it there?"),
        N_("Read by a person counts; told over the phone does not."),
        _ALL,
    ),
    (
        "operator.instructions.on",
        N_("When was it read?"),
        N_("Instructions change."),
        _ALL,
    ),
    (
        "door.closing_speed",
        N_("How fast does it close?"),
        N_("Force grows with speed. Time the bottom edge over a marked height, from both jambs."),
        _ALL,
    ),
    (
        "door.leaf_mass",
        N_("How heavy is the whole leaf?"),
        N_("What moves is what has to be stopped. Look at the door's label or its order sheet."),
        _ALL,
    ),
    (
        "operator.kind",
        N_("What kind of operator drives it?"),
        N_("It decides how hard the drive can go on pushing."),
        _ALL,
    ),
    (
        "operator.side",
        N_("On which side does the operator hang? Inside, looking out."),
        N_("Lead, cord and box go to that side."),
        _ALL,
    ),
    (
        "use.traffic.*.who",
        N_("Who or what passes? adult, child, wheelchair, car, truck, forklift …"),
        N_("As it really is, not as it was meant. Stand and watch for a while."),
        _ALL,
    ),
    (
        "use.traffic.*.per_hour",
        N_("How many pass in an hour?"),
        N_("Count both ways."),
        _ALL,
    ),
    (
        "use.children",
        N_("Do children come near it?"),
        N_("A child does not read signs and fits under what stops an adult."),
        _ALL,
    ),
    (
        "use.public",
        N_("Can the public come near it?"),
        N_("People who were never shown how it moves need more protection."),
        _ALL,
    ),
    (
        "use.closings_per_day",
        N_("How often does it close in a day?"),
        N_("How often someone is met grows with it. Many operators count cycles: look at the board."),
        _ALL,
    ),
    (
        "use.only_exit",
        N_("Is it the only way out?"),
        N_("A leaf that must not close is then also a leaf that must be able to open."),
        _ALL,
    ),
    (
        "as_found",
        N_("How did you find it?"),
        N_("Whether it closes by a tap today says what the board believes of its devices."),
        _ALL,
    ),
    (
        "door.panel_width",
        N_("How wide is the bottom panel, stile to stile?"),
        N_("An edge is cut to the panel, not to the opening. Measure along the bottom edge, inside."),
        ("sectional",),
    ),
    (
        "floor.unevenness",
        N_("How uneven is the floor along the landing line?"),
        N_("An edge has to reach the lowest place. Lay a straight bar from jamb to jamb, inside."),
        NOT_A_GATE,
    ),
    (
        "floor.wet",
        N_("Does water stand on it?"),
        N_("A wet end element reads like a pressed edge."),
        _ALL,
    ),
)
