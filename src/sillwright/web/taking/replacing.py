"""Replacing the edge that hangs there: only the facts that a like-for-like replacement needs, in order."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from sillwright.base.words import render as in_words
from sillwright.survey.asks import plausibility
from sillwright.survey.questions import question_at
from sillwright.web.taking.cards import Card
from sillwright.web.taking.facts import headline_of, page, pictures_of, studied_of
from sillwright.web.taking.listing import Adding, adding
from sillwright.web.taking.lists import LISTS
from sillwright.web.taking.members import first_words, member_in_words
from sillwright.web.taking.order import Cards
from sillwright.web.taking.pictures import Pictures
from sillwright.web.taking.subject import Subject, opening_subject
from sillwright.web.taking.words import Text

EDGES = ("sensing_edge", "air_edge")
ROLLING = ("rolling", "grille", "rolling_fire")
GATE = ("slide_gate", "swing_gate")


@dataclass(frozen=True, kw_only=True)
class Step:
    """A step of the way: its heading, what to mind, and its cards."""

    name: str
    title: Text
    words: tuple[Text, ...] = ()
    caution: Text = ""
    cards: tuple[Card, ...] = ()
    adding: Adding | None = None
    list_name: str = ""
    presets: tuple[tuple[str, str], ...] = ()


_LENGTHS = {
    "sectional": ("door.panel_width", "door.bottom.brackets.left", "door.bottom.brackets.right"),
    **dict.fromkeys(
        ROLLING,
        ("door.guide_clear.floor", "door.guide_clear.chest", "door.guide_clear.head", "door.bottom.seat_length"),
    ),
    "high_speed": ("door.serial",),
    "one_piece": ("door.leaf_width", "door.meets"),
    **dict.fromkeys(GATE, ("door.leaf_height", "door.underside")),
}
_EDGE = ("model", "circuit", "wires", "resistance", "end_element_at", "cut_on_site", "date_code", "state")
_LABEL = ("door.serial", "door.fire_label.readable", "door.fire_label.number")
_CARRIES = ("door.bottom.channel", "door.bottom.slot_spacing", "door.bottom.condition", "door.bottom.seat_width",
            "door.bottom.old_height", "door.side_room.left", "door.side_room.right")  # fmt: skip
_LEAD = ("lead.end", "lead.exit", "lead.from_end", "lead.length", "lead.fin")
_WIRE = ("cord.retracted", "cord.conductors", "box.side", "box.height", "box.offset")
_OPERATOR = ("operator.side", "operator.model", "operator.made", "operator.lists_devices")
NICE = frozenset({"lead.fin", "door.bottom.old_height", "door.bottom.seat_width", "door.bottom.seat_length",
                  "door.bottom.brackets.left", "door.bottom.brackets.right", "operator.model", "date_code",
                  "cut_on_site", "operator.lists_devices"})  # fmt: skip
"""Facts that help, and whose lack holds no order up."""

_LENGTH_WORDS = (
    _("Measure the rubber body along the bottom edge, end to end, without loose flaps: that is the body length."),
    _("The sensing length, the stretch that answers to a press, is shorter by the dead ends: say body length."),
    _("Never the opening, and never the bottom bar over all."),
)
_PHOTO_WORDS = (
    _("Three photos save a second trip: both ends of the edge from below, the box open, the operator's plate."),
)
_LOCKED = _("Power locked out, leaf down or held. Bottom brackets, cables and springs stay as they are.")
_FIRE = _("Parts of a labelled fire door come through the door's maker: write down serial and label.")
_FABRIC = _("A fabric door's edge is ordered by the serial of the door, through its maker.")
_AIR = _("An air edge needs a quick press; a slow or leaking one misses. Look at hose and switch too.")
_RESISTANCE = _("Read it with the lead lifted off its terminals and the edge free.")


@require_safe
def replace_page(request: HttpRequest, id: UUID) -> HttpResponse:
    """The way to a like-for-like replacement of an edge."""
    subject = opening_subject(request, id)
    pictures = pictures_of(subject)
    edge = edge_of(subject, request.GET.get("of", ""))
    steps = tuple(steps_of(subject, pictures, edge))
    studied = studied_of(subject)
    cards = [each for step in steps for each in step.cards]
    more = {
        "steps": steps,
        "edge": edge,
        "edges": [(key, member_in_words(subject, LISTS["protection"], key)) for key in edges_of(subject)],
        "missing": missing(cards),
        "taken": [each for each in cards if each.known and not each.unsettled],
        "contradicting": contradictions(subject, cards),
        "headline": headline_of(subject, studied),
        "first_open": next((each.ident for each in cards if each.open), ""),
        "page": "replace",
    }
    return page(request, "taking/replace_page.html", subject, pictures, more)


def edges_of(subject: Subject) -> tuple[str, ...]:
    """The keys of the edges that hang there."""
    listed = LISTS["protection"]
    return tuple(key for key in subject.members(listed) if first_words(subject, listed, key) in EDGES)


def edge_of(subject: Subject, wanted: str) -> str:
    """The edge to replace: the wanted one where there is one, else the first; empty where none is written down."""
    found = edges_of(subject)
    return wanted if wanted in found else next(iter(found), "")


def steps_of(subject: Subject, pictures: Pictures | None, edge: str) -> Iterator[Step]:
    """The steps, in the order in which one goes through them at the opening."""
    kind = subject.kind or ""
    told = _Told(subject, pictures)
    yield Step(
        name="door",
        title=_("The leaf it hangs on"),
        caution=_FIRE if kind == "rolling_fire" else _FABRIC if kind == "high_speed" else "",
        cards=told("door.kind", *(_LABEL if kind == "rolling_fire" else ())),
    )
    listed = LISTS["protection"]
    if not edge:
        yield Step(
            name="edge", title=_("What hangs there now"), adding=_edges_only(subject), list_name="protection"
        )
        return
    here = f"protection.{edge}"
    air = first_words(subject, listed, edge) == "air_edge"
    yield Step(
        name="edge",
        title=_("What hangs there now"),
        words=_PHOTO_WORDS,
        caution=_AIR if air else "",
        cards=told(f"{here}.kind", *(f"{here}.{name}" for name in _EDGE)),
    )
    yield _reading_step(subject, told, edge)
    yield Step(name="length", title=_("How long it is"), words=_LENGTH_WORDS,
               cards=told(f"{here}.length", *_LENGTHS.get(kind, ())))  # fmt: skip
    yield Step(name="carries", title=_("What carries it, and the room to get it in"), caution=_LOCKED,
               cards=told(*_CARRIES))  # fmt: skip
    yield Step(name="lead", title=_("Where the lead leaves"), cards=told(*_LEAD))
    yield Step(name="wire", title=_("Cord and box"), cards=told(*_WIRE))
    yield Step(name="operator", title=_("The operator it is joined to"), cards=told(*_OPERATOR))


def _reading_step(subject: Subject, told: _Told, edge: str) -> Step:
    """The resistance of the edge at rest: read before, or to be read now."""
    listed = LISTS["readings"]
    of_edge = [key for key in subject.members(listed) if _said(subject, f"readings.{key}.of") == edge]
    free = [key for key in of_edge if _said(subject, f"readings.{key}.pressed") not in {"yes", "true"}]
    cards = told(*(f"readings.{key}.ohms" for key in free))
    return Step(
        name="reading",
        title=_("What the end element reads"),
        words=(_RESISTANCE,),
        cards=cards,
        adding=None if cards else adding(subject, listed),
        list_name="readings",
        presets=(("of", edge), ("at", "lead"), ("pressed", "no")),
    )


def _said(subject: Subject, path: str) -> str:
    return next((head.typed for head in subject.heads(path) if head.says == "value"), "")


def _edges_only(subject: Subject) -> Adding:
    found = adding(subject, LISTS["protection"])
    return replace(found, answers=tuple(each for each in found.answers if each.typed in EDGES))


class _Told:
    """Makes the cards of a step; what is not asked of this kind of leaf is left out."""

    def __init__(self, subject: Subject, pictures: Pictures | None) -> None:
        self.subject = subject
        self.pictures = pictures

    def __call__(self, *paths: str) -> tuple[Card, ...]:
        asked = [path for path in paths if question_at(path).asked_of(self.subject.kind)]
        cards = Cards(self.subject, self.pictures, frozenset(), "replace").of(asked)
        return tuple(replace(each, folded=is_nice(each.path)) for each in cards if isinstance(each, Card))


def missing(cards: list[Card]) -> list[Card]:
    """What is still missing for an order: not known, and not merely nice to have."""
    return [each for each in cards if not each.known and not is_nice(each.path)]


def is_nice(path: str) -> bool:
    """Whether a fact merely helps: its lack holds no order up."""
    return path in NICE or path.rpartition(".")[2] in NICE


def contradictions(subject: Subject, cards: list[Card]) -> list[Mapping[str, str]]:
    """What contradicts or is doubtful among these facts, with what would settle it."""
    if subject.about is None:
        return []
    paths = {each.path for each in cards} | {"door.clear_width", "operator.side"}
    named = subject.facts.rebuilt.named
    return [
        {
            "text": in_words(each.text, subject.reader),
            "do": in_words(each.do, subject.reader) if each.do else "",
            "fact": next((named(path) for path in each.facts if named(path) in paths), ""),
        }
        for each in plausibility(subject.about, subject.facts.rebuilt.survey.site)
        if paths & {named(path) for path in each.facts}
    ]
