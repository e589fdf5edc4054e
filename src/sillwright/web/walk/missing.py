"""What a door still lacks: facts, photos, a word of urgency. The twin of static/offline/walk/state.js."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence

from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.survey.door import KINDS
from sillwright.survey.questions import pattern_of, question_at
from sillwright.web.records.log import Head
from sillwright.web.walk.rows import EDGES, ROWS, SHOTS, URGENCY, Row, title_of

Told = Mapping[str, Sequence[Head]]


def missing(told: Told, shots: Collection[str], said: bool, left: Collection[str], reader: Reader) -> list[str]:
    """What a door lacks, in words.

    ``shots`` were taken, ``said``: somebody said how urgent it is, ``left`` names what was left out on purpose.
    """
    asked = [(path, title_of(row, reader)) for row in ROWS for path in _asked(row, told)]
    lacks = [(path, title) for path, title in asked if not answered(told, path)]
    lacks += [(name, str(words)) for name, words, counts in SHOTS if not set(counts) & set(shots)]
    lacks += [] if said else [(URGENCY, _("Urgency"))]
    return [words for about, words in lacks if about not in left]


def _asked(row: Row, told: Told) -> Iterator[str]:
    """The paths that a row asks for at this door: of wires that of each edge."""
    if row.entry == "wires":
        yield from (f"protection.{key}.wires" for key in edges(told))
    elif row.entry == "devices" or question_at(row.path).asked_of(_kind(told)):
        yield row.path


def _kind(told: Told) -> str:
    """The kind of leaf; of an unknown one only what is asked of most."""
    told_kinds = [head for head in told.get("door.kind", ()) if head.says == "value"]
    looked = [head for head in told_kinds if head.origin != "assumed"] or told_kinds
    return looked[-1].typed if looked else KINDS[0]


def answered(told: Told, path: str) -> bool:
    """Whether somebody has said anything of a fact, or of a list, beside what was assumed."""
    return any(
        head.origin != "assumed"
        for name, heads in told.items()
        if name == path or (path == "protection" and name.startswith("protection."))
        for head in heads
    )


def edges(told: Told) -> tuple[str, ...]:
    """The keys of the edges that are there."""
    names = (name.split(".") for name, heads in told.items() if any(head.typed in EDGES for head in heads))
    return tuple(parts[1] for parts in names if len(parts) == 3 and parts[0] == "protection" and parts[2] == "kind")


def temporary(told: Told) -> tuple[str, ...]:
    """The temporary parts that are in place, as they were taken down: each has to come out before one leaves."""
    keys = dict.fromkeys(
        name.split(".")[1] for name in told if name.startswith("temporary_parts.") and name.count(".") > 1
    )
    found = (told.get(f"temporary_parts.{key}.what", ()) for key in keys)
    return tuple(next((head.typed for head in heads if head.typed), _("a part")) for heads in found)


def about_in_words(about: str, reader: Reader) -> str:
    """What a remark names that was left out: a photo of the walk or one of its facts."""
    pattern = pattern_of(about)
    named = {name: str(words) for name, words, _ in SHOTS} | {row.path: title_of(row, reader) for row in ROWS}
    return named.get(about) or named.get(pattern, about)
