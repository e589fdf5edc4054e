"""The order as agreed: every difference of the acknowledgement answered, and which of the two holds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal

from sillwright.base.words import N_, Sentence
from sillwright.takeoff.ordering.compare import Answer, Difference, settled
from sillwright.takeoff.ordering.fields import FIELDS, shown
from sillwright.takeoff.ordering.line import OrderLine

Holds = Literal["both", "ordered", "confirmed"]
HOLDS_IN_WORDS: dict[Holds, str] = {
    "both": N_("as ordered, and confirmed so"),
    "ordered": N_("as ordered"),
    "confirmed": N_("as the maker confirmed"),
}
NOT_SAID = Sentence(N_("the maker did not say"))
_NOTHING: dict[str, Any] = {"quantity": 1, "pieces": 1, "from_end": 0.0, "wires": 0, "fin": "none"}
"""What a field holds where the maker confirmed that there is nothing to say."""


@dataclass(frozen=True, kw_only=True)
class AgreedField:
    """A field of an agreed line: its value, whose it is, what the other side had said, and who settled it."""

    key: str
    title: Sentence
    value: Any
    holds: Holds = "both"
    instead_of: Any = None
    by: str = ""
    on: date | None = None
    words: str = ""


@dataclass(frozen=True, kw_only=True)
class AgreedLine:
    """A line as it is built: the order line with what was settled, and every field with whose value it is."""

    line: OrderLine
    fields: tuple[AgreedField, ...]
    dropped: AgreedField | None = None  # ordered, not confirmed, and not to be made
    kept: AgreedField | None = None  # ordered, not confirmed, and made all the same

    @property
    def settled(self) -> tuple[AgreedField, ...]:
        """The fields that the acknowledgement had otherwise."""
        return tuple(each for each in self.fields if each.by)


@dataclass(frozen=True, kw_only=True)
class Agreed:
    """An order as agreed; ``besides`` is what the maker said beside the lines, and whether it holds."""

    lines: tuple[AgreedLine, ...]
    besides: tuple[AgreedField, ...] = ()


def agreed(
    lines: Sequence[OrderLine], differences: Iterable[Difference], answers: Mapping[str, Answer]
) -> Agreed | None:
    """The lines of an order as both sides hold them; None while a difference is open.

    A length that the maker confirmed moves body and sensing length with it, and a delivery is judged by the line
    that comes out. What he confirmed beside the lines is told, and changes no line.
    """
    found = tuple(differences)
    if not settled(found, answers):
        return None
    return Agreed(
        lines=tuple(_line(line, [each for each in found if _is_of(each, line)], answers) for line in lines),
        besides=tuple(_settled(each, answers[each.id]) for each in found if not each.line),
    )


def _is_of(difference: Difference, line: OrderLine) -> bool:
    return bool(difference.line) and difference.id.partition(".")[0] == str(line.number)


def _line(line: OrderLine, differences: Sequence[Difference], answers: Mapping[str, Answer]) -> AgreedLine:
    by_key = {each.key: each for each in differences}
    missing = by_key.get("line")
    said = _settled(missing, answers[missing.id]) if missing is not None else None
    made = line
    for each in differences:
        if each.kind == "differs" and answers[each.id].holds == "confirmed":
            made = _with(made, each.key, each.value)
    made = _measured(line, made)
    fields = []
    for spec in FIELDS:
        plain = AgreedField(
            key=spec.key,
            title=Sentence(spec.title),
            value=shown(spec.key, spec.value(made)),
            holds="ordered" if missing else "both",
        )
        there = by_key.get(spec.key)
        fields.append(_settled(there, answers[there.id]) if there else plain)
    gone = said is not None and said.holds == "confirmed"
    return AgreedLine(line=made, fields=tuple(fields), dropped=said if gone else None, kept=None if gone else said)


def _settled(difference: Difference, answer: Answer) -> AgreedField:
    ours = answer.holds == "ordered"
    theirs = NOT_SAID if difference.kind == "not said" else difference.confirmed
    return AgreedField(
        key=difference.key,
        title=difference.field,
        value=difference.ordered if ours else difference.confirmed,
        holds=answer.holds,
        instead_of=theirs if ours else difference.ordered,
        by=answer.by.strip(),
        on=answer.on,
        words=answer.words,
    )


def _with(line: OrderLine, key: str, value: Any) -> OrderLine:
    """The line with another value of a field."""
    if value is None:
        value = _NOTHING.get(key)
    if key == "channel_length":
        return replace(line, channel_pieces=() if value is None else (value,))
    if key == "channel":
        return replace(line, channel=value or "", channel_pieces=line.channel_pieces if value else ())
    if key == "profile":
        return replace(line, profile=value or "")
    changed: dict[str, Any] = {key: value}
    return replace(line, **changed)


def _measured(ordered: OrderLine, made: OrderLine) -> OrderLine:
    """The agreed line with body and sensing length of its own number; dead ends stay those of the ordered edge."""
    if (made.length, made.word) == (ordered.length, ordered.word):
        return made
    dead = ordered.body - ordered.sensing if ordered.body is not None and ordered.sensing is not None else None
    if made.length is None or made.word is None:
        return replace(made, body=None, sensing=None)
    if made.word == "sensing":
        return replace(made, sensing=made.length, body=None if dead is None else made.length + dead)
    return replace(made, body=made.length, sensing=None if dead is None else max(0.0, made.length - dead))
