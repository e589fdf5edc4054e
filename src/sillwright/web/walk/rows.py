"""What is taken down at each door of a walk, and what the page of it has to know without a network."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.words import Reader, translate
from sillwright.survey.questions import question_at
from sillwright.web.photos.shots import BY_NAME
from sillwright.web.records.copying import OF_ONE_DOOR
from sillwright.web.records.models import Remark
from sillwright.web.taking.lists import LISTS
from sillwright.web.taking.words import Text, on_a_button

Entry = Literal["choice", "length", "devices", "wires"]


@dataclass(frozen=True, kw_only=True)
class Row:
    """One fact of a walk. ``looked``: whoever stands there sees it, so that one tap can say it for a whole door."""

    path: str
    entry: Entry
    title: Text = ""  # else what the survey calls it
    ask: Text = ""  # else as the survey asks it
    choices: tuple[str, ...] = ()  # else those of the survey, in its order
    looked: bool = False
    none: bool = False  # "looked, there is none" is an answer


ROWS: tuple[Row, ...] = (
    Row(path="door.kind", entry="choice", looked=True),
    Row(path="door.clear_width", entry="length"),
    Row(path="door.clear_height", entry="length"),
    Row(path="door.leaf_length", entry="length"),
    Row(path="door.leaf_height", entry="length"),
    Row(path="operator.kind", entry="choice", looked=True, none=True),
    Row(
        path="protection",
        entry="devices",
        title=gettext_lazy("Edge and eye"),
        ask=gettext_lazy("Is there an edge, is there an eye? Look at the bottom edge and both jambs."),
        looked=True,
    ),
    Row(
        path="protection.*.wires",
        entry="wires",
        title=gettext_lazy("Wires at the edge"),
        ask=gettext_lazy("How many wires leave the edge?"),
        choices=("2", "4"),
        looked=True,
        none=True,
    ),
    Row(
        path="as_found",
        entry="choice",
        title=gettext_lazy("Hold test"),
        ask=gettext_lazy("Two people, full view: let go of the close control halfway. What does the leaf do?"),
        choices=("only_held", "closes_by_tap", "not_at_all", "closes_on_objects"),
    ),
)

SHOTS: tuple[tuple[str, Text, tuple[str, ...]], ...] = (
    ("plate", gettext_lazy("Operator’s plate"), ("plate",)),
    ("bottom_left", gettext_lazy("Bottom corner"), ("bottom_left", "bottom_right")),
    ("inside", gettext_lazy("Whole opening from 15 ft"), ("inside",)),
)
"""The photos of a walk in their order: under which shot each is taken, and which shots count as it."""

EDGES = ("sensing_edge", "air_edge")
EYES = ("photo_eye", "light_curtain")
URGENCIES = tuple(word for word, _words in Remark.URGENCIES)
URGENCY = "urgency"  # what a remark names that says of how urgent it is: nothing to say


def title_of(row: Row, reader: Reader) -> str:
    """What a row is called, with a capital letter."""
    words = str(row.title) or translate(question_at(row.path).title, reader)
    return words[:1].upper() + words[1:]


def book_of(reader: Reader) -> dict[str, Any]:
    """What the page of a walk has to know, in the words of its reader."""
    return {
        "rows": [_row(each, reader) for each in ROWS],
        "shots": [
            {"name": name, "words": str(words), "count": counts, "fact": shot.fact, "place": shot.place}
            for name, words, counts in SHOTS
            for shot in (BY_NAME[name],)
        ],
        "own": OF_ONE_DOOR,
        "lists": list(LISTS),
        "edges": EDGES,
        "eyes": EYES,
        "urgencies": [[word, str(words)] for word, words in Remark.URGENCIES],
        "reasons": [_("no lift"), _("locked"), _("nobody there"), _("not asked")],
        "units": reader.units,
    }


def _row(row: Row, reader: Reader) -> dict[str, Any]:
    told: dict[str, Any] = {
        "path": row.path,
        "entry": row.entry,
        "title": title_of(row, reader),
        "ask": str(row.ask),
        "kinds": [],
        "choices": [],
        "looked": row.looked,
        "none": row.none,
    }
    if row.entry == "devices":
        return told
    question = question_at(row.path)
    words = row.choices or question.choices
    told["ask"] = told["ask"] or translate(question.ask, reader)
    told["kinds"] = question.kinds
    told["choices"] = [[word, on_a_button(row.path, word, reader)] for word in words]
    return told
