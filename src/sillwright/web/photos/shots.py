"""The named shots of an opening, in the order in which a person walks past them."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext_lazy as _

from sillwright.web.taking.words import Text


@dataclass(frozen=True, kw_only=True)
class Shot:
    """One named shot: what is on it, why it is taken, and what it is evidence of. Sides are inside, looking out."""

    name: str
    words: Text
    why: Text
    fact: str  # whose evidence it is, unless somebody says otherwise
    place: str  # a shape of the drawing


SHOTS: tuple[Shot, ...] = (
    Shot(
        name="inside",
        words=_("The whole opening from inside"),
        why=_("From 15 ft back, the leaf closed, both jambs and the floor on it: the kind and the proportions."),
        fact="door.kind",
        place="leaf",
    ),
    Shot(
        name="bottom_left",
        words=_("Bottom corner, left"),
        why=_("Inside, looking out, the leaf closed: seal, end of the edge, guide."),
        fact="door.bottom.brackets.left",
        place="guide.left",
    ),
    Shot(
        name="bottom_right",
        words=_("Bottom corner, right"),
        why=_("Inside, looking out, the leaf closed: seal, end of the edge, guide."),
        fact="door.bottom.brackets.right",
        place="guide.right",
    ),
    Shot(
        name="plate",
        words=_("Operator's plate"),
        why=_("Straight on, every line legible: the instructions are found by it."),
        fact="operator.model",
        place="operator",
    ),
    Shot(
        name="board",
        words=_("Board in the operator"),
        why=_("Power locked out, cover off: which inputs there are and what is joined to them."),
        fact="operator.board_made",
        place="operator",
    ),
    Shot(
        name="edge_ends",
        words=_("Ends of the edge, with the wires"),
        why=_("Both ends on one photo, or one photo each: where the lead leaves and what closes the circuit."),
        fact="lead.end",
        place="lead",
    ),
    Shot(
        name="floor",
        words=_("Floor line under the closed leaf"),
        why=_("From one side, low: light under the seal shows where the floor is not level."),
        fact="floor.unevenness",
        place="floor",
    ),
    Shot(
        name="station",
        words=_("Control, and what is seen from it"),
        why=_("Stand at the control: whether the whole leaf is in view from there."),
        fact="operator.station_in_view",
        place="station.1",
    ),
)
BY_NAME = {each.name: each for each in SHOTS}


def shot_words(name: str) -> Text:
    """What a shot is called; a photo beside the named ones is another photo."""
    return BY_NAME[name].words if name in BY_NAME else _("Another photo")
