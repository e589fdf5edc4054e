"""An acknowledgement beside the order: every difference, line by line, each needing an answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Literal

from sillwright.base.scale import SIXTEENTH
from sillwright.base.words import N_, Sentence
from sillwright.takeoff.ordering.acknowledgement import Acknowledgement, Confirmed, Unread
from sillwright.takeoff.ordering.fields import FIELDS, OrderField, shown
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.pairing import paired
from sillwright.takeoff.ordering.slip import slipped
from sillwright.takeoff.ordering.wording import Read

DifferenceKind = Literal["differs", "not said", "two ways", "line missing", "line extra", "not read", "paired"]
_ROUND_OFF = 1e-9
_SAME_OHMS = 0.005


@dataclass(frozen=True, kw_only=True)
class Difference:
    """Something in which the acknowledgement is not the order, or does not say that it is.

    ``id`` is what an answer is kept under; ``ordered`` and ``confirmed`` go into sentences as they are.
    """

    id: str
    kind: DifferenceKind
    line: str  # label of our line; empty where it is none of ours
    field: Sentence
    ordered: Any
    confirmed: Any
    text: Sentence
    key: str = ""  # of the field in the table of fields; "line" for a line as a whole
    value: Any = None  # what was confirmed, as a line holds it

    @property
    def can_hold(self) -> bool:
        """Whether what was confirmed says enough to hold: nothing said and two readings of one word do not."""
        return self.kind not in {"not said", "two ways"}


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What was settled about a difference: which of the two holds, by whom, on which day, in which words."""

    holds: Literal["ordered", "confirmed"]
    by: str
    on: date
    words: str = ""


def compare(lines: Sequence[OrderLine], confirmed: Acknowledgement) -> tuple[Difference, ...]:
    """Every difference between an order and its acknowledgement, in the order of the lines.

    A length that is equal in other units, within 1/16 in, is no difference; a field that the acknowledgement does
    not mention is one. What could not be read stands at the end.
    """
    pairs, left_lines, left_items = paired(lines, confirmed.items)
    found: list[Difference] = []
    for line in lines:
        if line in left_lines:
            found.append(_missing(line))
    for line, item, by_name in pairs:
        found += _of_pair(line, item, by_name)
    found.sort(key=lambda each: int(each.id.partition(".")[0]))
    found += [_extra(item) for item in left_items]
    found += [_not_read(at, each) for at, each in enumerate(confirmed.unread, 1)]
    return tuple(found)


def settled(differences: Iterable[Difference], answers: Mapping[str, Answer]) -> bool:
    """Whether every difference has an answer, with a name."""
    return not open_ones(differences, answers)


def open_ones(differences: Iterable[Difference], answers: Mapping[str, Answer]) -> tuple[Difference, ...]:
    """The differences that nobody has answered yet."""
    return tuple(each for each in differences if not _answered(each, answers.get(each.id)))


def _answered(about: Difference, answer: Answer | None) -> bool:
    return answer is not None and bool(answer.by.strip()) and (answer.holds == "ordered" or about.can_hold)


def _of_pair(line: OrderLine, item: Confirmed, by_name: bool) -> Iterator[Difference]:
    if not by_name:
        said = N_("{line}: the acknowledgement names no line here; it was taken for this one by what it says.")
        yield _difference(line, "tag", "paired", N_("line"), line.label, None, said)
    for each in FIELDS:
        if each.key not in {"length", "word"}:
            yield from _of_field(line, each, item.values.get(each.key))
    yield from _of_length(line, item)


def _of_field(line: OrderLine, spec: OrderField, read: Read | None) -> Iterator[Difference]:
    wanted = spec.value(line)
    if read is None:
        if wanted is not None:
            said = N_("{line}, {field}: ordered {ordered}; the acknowledgement does not say.")
            yield _difference(line, spec.key, "not said", spec.title, shown(spec.key, wanted), None, said)
        return
    got = _as_ours(spec, read.value)
    if read.doubtful:
        yield _two_ways(line, spec, wanted, read)
    elif not _same(spec, wanted, got):
        slip = slipped(wanted, got) if spec.key == "channel_length" else None
        yield _slipped(line, spec, wanted, read, slip) if slip else _differs(line, spec, wanted, got)


def _as_ours(spec: OrderField, value: Any) -> Any:
    """A value that was read, as a line holds it: one piece, no fin and no distance are nothing to say."""
    if (spec.key == "pieces" and value == 1) or (spec.key in {"from_end", "wires"} and value == 0):
        return None
    return None if value == "none" else value


def _same(spec: OrderField, wanted: Any, got: Any) -> bool:
    if wanted is None or got is None:
        return wanted is got
    if spec.kind == "length":
        return bool(abs(wanted - got) <= SIXTEENTH + _ROUND_OFF)
    if spec.kind == "ohm":
        return bool(abs(wanted - got) <= _SAME_OHMS * wanted)
    if spec.kind == "name":
        return " ".join(str(wanted).split()).casefold() == " ".join(str(got).split()).casefold()
    return bool(wanted == got)


def _of_length(line: OrderLine, item: Confirmed) -> Iterator[Difference]:
    """The number on the order and the word that says what it means: body or sensing."""
    length, word = (each for each in FIELDS if each.key in {"length", "word"})
    read, meant = _length_read(line, item)
    if read is None:
        said = N_("{line}, {field}: ordered {ordered}; the acknowledgement does not say.")
        yield _difference(line, "length", "not said", length.title, shown("length", line.length), None, said)
        return
    if read.doubtful:
        yield _two_ways(line, length, line.length, read)
    elif not _same(length, line.length, read.value):
        slip = slipped(line.length, read.value)
        yield (
            _slipped(line, length, line.length, read, slip)
            if slip
            else _differs(line, length, line.length, read.value)
        )
    if meant is None:
        said = N_(
            "{line}: the acknowledgement does not say whether its length is that of the body or of what answers."
        )
        yield _difference(line, "word", "not said", word.title, shown("word", line.word), None, said)
    elif meant != line.word:
        yield _differs(line, word, line.word, meant)


def _length_read(line: OrderLine, item: Confirmed) -> tuple[Read | None, str | None]:
    """The length that answers to ours, and what it was said to mean."""
    said = {key: item.values[key] for key in ("body", "sensing") if key in item.values}
    if line.word in said:
        return said[line.word], line.word
    if plain := item.values.get("length"):
        told = item.values.get("word")
        return plain, plain.word or (told.value if told else None)
    for word, read in said.items():
        return read, word
    return None, None


def _difference(
    line: OrderLine,
    key: str,
    kind: DifferenceKind,
    title: str,
    ordered: Any,
    confirmed: Any,
    said: str,
    value: Any = None,
) -> Difference:
    values = {"line": line.label, "field": Sentence(title), "ordered": ordered, "confirmed": confirmed}
    return Difference(
        id=f"{line.number}.{key}",
        kind=kind,
        line=line.label,
        field=Sentence(title),
        ordered=ordered,
        confirmed=confirmed,
        text=Sentence(said, values),
        key=key,
        value=value,
    )


def _differs(line: OrderLine, spec: OrderField, wanted: Any, got: Any) -> Difference:
    said = N_("{line}, {field}: ordered {ordered}, confirmed {confirmed}.")
    ordered, confirmed = shown(spec.key, wanted), shown(spec.key, got)
    return _difference(line, spec.key, "differs", spec.title, ordered, confirmed, said, got)


def _two_ways(line: OrderLine, spec: OrderField, wanted: Any, read: Read) -> Difference:
    said = N_(
        "{line}, {field}: ordered {ordered}; “{confirmed}” can be read two ways, in feet or as feet and inches."
    )
    return _difference(line, spec.key, "two ways", spec.title, shown(spec.key, wanted), read.typed, said)


def _slipped(line: OrderLine, spec: OrderField, wanted: Any, read: Read, slip: tuple[str, str]) -> Difference:
    """The number is the ordered one and the unit another: nobody builds by that before it was asked."""
    meant, wrote = slip
    said = N_(
        "{line}, {field}: ordered {ordered}; “{confirmed}” is the same number in {wrote} in place of {meant}. Ask "
        "which unit is meant."
    )
    found = _difference(line, spec.key, "two ways", spec.title, shown(spec.key, wanted), read.typed, said)
    return replace(found, text=Sentence(said, {**found.text.values, "meant": meant, "wrote": wrote}))


def _missing(line: OrderLine) -> Difference:
    said = N_("{line}: ordered, and not in the acknowledgement.")
    return _difference(line, "line", "line missing", N_("line"), line.label, None, said)


def _extra(item: Confirmed) -> Difference:
    told = "; ".join(read.typed for read in item.values.values())[:200]
    values = {"at": item.line, "told": told}
    return Difference(
        id=f"extra.{item.line}",
        kind="line extra",
        line="",
        field=Sentence(N_("line")),
        ordered=None,
        confirmed=told,
        text=Sentence(N_("Confirmed on line {at}, and not ordered: {told}"), values),
    )


def _not_read(at: int, unread: Unread) -> Difference:
    said = f"{unread.heading}: {unread.text}" if unread.heading else unread.text
    return Difference(
        id=f"unread.{at}",
        kind="not read",
        line="",
        field=Sentence(N_("not read")),
        ordered=None,
        confirmed=said,
        text=Sentence(N_("Line {at} was not read: {told}"), {"at": unread.line, "told": said}),
    )
