"""What closed calls teach: the model's shares are worth so many calls, and the calls that were closed are added.

Shares of symptoms with their causes, of the listed pairs and of "none of these" are one Dirichlet distribution.
What the model says counts as if that many calls had been seen; every closed call counts once.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isfinite

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say
from sillwright.trouble.model import FaultModel, Symptom

WORTH = 100.0
"""Calls that the shares of the model are worth unless it is said otherwise. Invented, as the shares are."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Closed:
    """A call whose fault was found: what the caller complained of, and what it was. No fault: none of these."""

    symptom: str | None
    faults: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Learned:
    """A share before and after, with the calls that each rests on."""

    fault: str  # "" stands for none of these, "A+B" for a pair
    before: float
    pseudo: float  # calls that the model's share is worth
    counted: float  # closed calls; of a pair that is not listed, half for each of its faults
    after: float


def learn(
    model: FaultModel, closed: tuple[Closed, ...], *, worth: float = WORTH
) -> tuple[FaultModel, tuple[Learned, ...]]:
    """The model with the shares that the closed calls leave it, and the account of every share.

    The shares of a symptom and of its causes are learned as well. A call without a symptom counts for the symptoms
    that its fault has, in their shares. Raises :class:`UnknownName` for what is not in the model,
    :class:`OutOfRange` for a worth that is not above 0 and for more than two faults.
    """
    if not (isfinite(worth) and worth > 0):
        said = N_("{path}: {value} is out of range; above 0 is accepted")
        raise OutOfRange(say(said, path="worth", value=worth))
    cells = {
        (symptom.id, fault): symptom.share * share for symptom in model.symptoms for fault, share in symptom.causes
    }
    alone = 1.0 - model.unlisted - sum(share for *_, share in model.pairs)
    scale = worth * alone / sum(cells.values())
    seen, pairs, none = _counted(model, closed, cells)
    total = worth + len(closed)
    grown = {cell: scale * cells.get(cell, 0.0) + seen.get(cell, 0.0) for cell in dict.fromkeys([*cells, *seen])}
    learned = replace(
        model,
        symptoms=tuple(_symptom(symptom, grown) for symptom in model.symptoms),
        pairs=tuple(
            (one, other, (worth * share + pairs.get((one, other), 0.0)) / total)
            for one, other, share in model.pairs
        ),
        unlisted=(worth * model.unlisted + none) / total,
    )
    return learned, tuple(_account(model, worth, scale / worth, total, (cells, seen, pairs, none)))


Cells = dict[tuple[str, str], float]


def _counted(model: FaultModel, closed: tuple[Closed, ...], cells: Cells) -> tuple[Cells, Cells, float]:
    """Closed calls by symptom and fault, by listed pair, and with none of these."""
    seen: Cells = defaultdict(float)
    pairs: Cells = defaultdict(float)
    none = 0.0
    listed = {frozenset((one, other)): (one, other) for one, other, _ in model.pairs}
    for at, call in enumerate(closed):
        _check(model, at, call)
        pair = listed.get(frozenset(call.faults)) if len(call.faults) == 2 else None
        if not call.faults:
            none += 1
        elif pair:
            pairs[pair] += 1
        else:
            for fault in call.faults:
                for cell, share in _cells(call.symptom, fault, cells):
                    seen[cell] += share / len(call.faults)
    return seen, pairs, none


def _cells(symptom: str | None, fault: str, cells: Cells) -> Iterator[tuple[tuple[str, str], float]]:
    if symptom is not None:
        yield (symptom, fault), 1.0
        return
    own = {cell: share for cell, share in cells.items() if cell[1] == fault}
    for cell, share in own.items():
        yield cell, share / sum(own.values())


def _check(model: FaultModel, at: int, call: Closed) -> None:
    if len(set(call.faults)) != len(call.faults) or len(call.faults) > 2:
        said = N_("{path}: one fault is accepted, or two different ones, or none")
        raise OutOfRange(say(said, path=f"closed[{at}].faults"))
    names = {fault.id for fault in model.faults}
    asked = [("faults", fault, names) for fault in call.faults]
    if call.symptom is not None:
        asked.append(("symptom", call.symptom, {symptom.id for symptom in model.symptoms}))
    for field, name, known in asked:
        if name not in known:
            said = N_("{path}: nothing here is called “{name}”; {nearest}")
            path = f"closed[{at}].{field}"
            raise UnknownName(say(said, path=path, name=name[:80], nearest=did_you_mean(name, known)))


def _symptom(symptom: Symptom, grown: Cells) -> Symptom:
    own = {fault: weight for (name, fault), weight in grown.items() if name == symptom.id}
    total = sum(own.values())
    return replace(
        symptom,
        share=total / sum(grown.values()),
        causes=tuple((fault, weight / total) for fault, weight in own.items()),
    )


def _account(
    model: FaultModel, worth: float, scale: float, total: float, counts: tuple[Cells, Cells, Cells, float]
) -> Iterator[Learned]:
    cells, seen, pairs, none = counts
    for fault in model.faults:
        before = scale * sum(share for (_, name), share in cells.items() if name == fault.id)
        counted = float(sum(count for (_, name), count in seen.items() if name == fault.id))
        yield _learned(fault.id, before, worth, counted, total)
    for one, other, share in model.pairs:
        yield _learned(f"{one}+{other}", share, worth, pairs.get((one, other), 0.0), total)
    yield _learned("", model.unlisted, worth, none, total)


def _learned(fault: str, before: float, worth: float, counted: float, total: float) -> Learned:
    pseudo = worth * before
    return Learned(fault=fault, before=before, pseudo=pseudo, counted=counted, after=(pseudo + counted) / total)
