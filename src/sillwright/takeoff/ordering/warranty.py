"""A warranty claim sorted by its evidence: material, order, fitting, use, or not known. Evidence, never blame."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base import data
from sillwright.base.errors import InputError
from sillwright.base.fact import Fact
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Amount, Sentence, say
from sillwright.takeoff.ordering.ohms import Meter, judged

Sort = Literal["material", "order", "fitting", "use", "unknown"]
SORTS_IN_WORDS: dict[Sort, str] = {
    "material": N_("material"),
    "order": N_("order"),
    "fitting": N_("fitting"),
    "use": N_("use"),
    "unknown": N_("not known"),
}
_ROUND_OFF = 1e-9
_NOT_KNOWN = Sentence(N_("not known"))


TITLES: dict[str, str] = {
    "date_code": N_("date code or batch"),
    "fitted_on": N_("fitted on"),
    "fitted_by": N_("fitted by"),
    "as_ordered": N_("delivered as ordered"),
    "right_order": N_("ordered as the opening needs it"),
    "sealed": N_("sealed by its maker"),
    "cut_or_glued": N_("cut or glued"),
    "compression": N_("lasting compression, closed"),
    "box": N_("box on the wall"),
    "struck": N_("marks of a strike"),
    "outside_its_data": N_("used outside its data sheet"),
    "ohms": N_("ohms now"),
    "ohms_before": N_("ohms before fitting"),
    "weather": N_("weather when it failed"),
    "photo_left": N_("photo of the left end"),
    "photo_right": N_("photo of the right end"),
    "photo_closed": N_("photo of the closed position"),
}
"""The facts of a claim by name. ``compression``, in metres, is the lasting one at the closed position; ``ohms``
what the meter shows at the free edge (infinite: open); ``as_ordered`` says that what came is what the order says,
``right_order`` that the order says what the opening needs; ``box`` that one on the wall takes the pull of the cord.
"""
NUMBERS = ("compression", "ohms", "ohms_before")
TEXTS = ("date_code", "fitted_on", "fitted_by", "weather")
CAUSES = (
    "as_ordered", "right_order", "sealed", "cut_or_glued", "compression", "box", "struck", "outside_its_data",
    "photo_left", "photo_right", "photo_closed",
)  # fmt: skip
"""Facts without which no sort is given: any of them may point elsewhere."""
FOR_MATERIAL = ("date_code", "fitted_on", "fitted_by", "ohms")
"""Facts that the maker asks for before he looks at a claim."""


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """One fact of a claim, what it says, where it comes from, and which sort it points to."""

    fact: str
    title: Sentence
    said: Any
    origin: str | None
    points_to: Sort | None = None


@dataclass(frozen=True, kw_only=True)
class Sorted:
    """Where the evidence of a claim points, the rows it rests on, and what is still to be sent."""

    sort: Sort
    text: Sentence
    evidence: tuple[Evidence, ...]
    send: tuple[Sentence, ...]


def sort_claim(facts: Mapping[str, Fact[Any]], circuit: str | None, end_element: float | None = None) -> Sorted:
    """Sort a claim by its evidence, with circuit and end element [ohm] of the order line.

    Parameters: ``facts`` by the names of ``TITLES``; those that are not there were not asked.

    A sort is given only where every fact that may point elsewhere is known and all that point agree. *Material* is
    given where a reading before fitting was out of its band, or where a reading now is and nothing else points
    anywhere. Everything else is *unknown*, with what to send. An assumption is not known; two readings are neither.
    Raises :class:`InputError` for a fact of another name, or with a value of another kind.

    Source: trade rules of thumb, from memory; greatest lasting compression: common practice.
    """
    claim = _checked(facts)
    pointing = dict(_pointing(claim, circuit, end_element))
    rows = tuple(_row(name, fact, pointing) for name, fact in claim.items())
    found = set(pointing.values())
    missing = [name for name in CAUSES if not _known(claim[name])]
    if not found or found == {"material"}:
        missing += [name for name in FOR_MATERIAL if not _known(claim[name])]
    send = tuple(_to_send(name, claim[name]) for name in missing)
    sort, text = _outcome(found, bool(missing), _bad(claim["ohms"], circuit, end_element))
    return Sorted(sort=sort, text=text, evidence=rows, send=send)


def _checked(facts: Mapping[str, Fact[Any]]) -> dict[str, Fact[Any]]:
    """Every fact of a claim, in the order of their titles; nobody asked for those that are not there."""
    for name, fact in facts.items():
        if name not in TITLES:
            raise InputError(say(N_("a claim has no fact “{name}”; {accepted}"), name=name, accepted=_near(name)))
        for value in (fact.value, *fact.rivals):
            if value is not None and not _of_its_kind(name, value):
                raise InputError(say(N_("claim, {name}: {value} is not of its kind"), name=name, value=repr(value)))
    return {name: facts.get(name, Fact(path=f"claim.{name}")) for name in TITLES}


def _near(name: str) -> str:
    return did_you_mean(name, TITLES)


def _of_its_kind(name: str, value: Any) -> bool:
    if name in NUMBERS:
        number = isinstance(value, (int, float)) and not isinstance(value, bool)
        return number and value >= 0  # NaN is not
    return name in TEXTS or isinstance(value, bool)


def _known(fact: Fact[Any]) -> bool:
    return fact.standing == "known" and fact.value is not None


def _pointing(
    claim: Mapping[str, Fact[Any]], circuit: str | None, end_element: float | None
) -> Iterator[tuple[str, Sort]]:
    """The facts that point somewhere, each with the sort it points to."""
    most = data.table("sillwright.takeoff.ordering", "ordering")["compression"]["most"]
    sealed = _is(claim["sealed"], lambda value: value)
    rules: tuple[tuple[str, Sort, bool], ...] = (
        ("as_ordered", "order", _is(claim["as_ordered"], lambda value: not value)),
        ("right_order", "order", _is(claim["right_order"], lambda value: not value)),
        ("cut_or_glued", "fitting", sealed and _is(claim["cut_or_glued"], lambda value: value)),
        ("compression", "fitting", _is(claim["compression"], lambda value: value > most + _ROUND_OFF)),
        ("box", "fitting", _is(claim["box"], lambda value: not value)),
        ("struck", "use", _is(claim["struck"], lambda value: value)),
        ("outside_its_data", "use", _is(claim["outside_its_data"], lambda value: value)),
        ("ohms_before", "material", _bad(claim["ohms_before"], circuit, end_element) is True),
    )
    yield from ((name, sort) for name, sort, points in rules if points)


def _is(fact: Fact[Any], holds: Callable[[Any], bool]) -> bool:
    return _known(fact) and bool(holds(fact.value))


def _bad(fact: Fact[float], circuit: str | None, end_element: float | None) -> bool | None:
    """Whether a reading is out of its band; None where there is none, or none can be judged."""
    if not _known(fact):
        return None
    read = [each for each in judged(circuit, end_element, Meter(rest=fact.value)) if each.name == "ohms"]
    if not read or read[0].level == "note":
        return None
    return read[0].bad


def _outcome(found: set[Sort], missing: bool, bad_now: bool | None) -> tuple[Sort, Sentence]:
    if len(found) > 1:
        return "unknown", Sentence(N_("The evidence points to more than one cause; it is not sorted."))
    if missing:
        return "unknown", Sentence(N_("Evidence is missing; it is not sorted until that is sent."))
    if found:
        (sort,) = found
        text = N_("The evidence points to: {sort}.")
        return sort, Sentence(text, {"sort": Sentence(SORTS_IN_WORDS[sort])})
    if bad_now:
        return "material", Sentence(
            N_("The reading is out of its band, and nothing points to order, fitting or use: material.")
        )
    if bad_now is None:
        return "unknown", Sentence(N_("The reading cannot be judged for this circuit; say what the edge does."))
    return "unknown", Sentence(
        N_("The reading is in its band and nothing points anywhere; say what the edge does.")
    )


def _row(name: str, fact: Fact[Any], pointing: dict[str, Sort]) -> Evidence:
    return Evidence(
        fact=name,
        title=Sentence(TITLES[name]),
        said=_said(name, fact),
        origin=fact.origin if fact.standing == "known" else None,
        points_to=pointing.get(name),
    )


def _said(name: str, fact: Fact[Any]) -> Any:
    if fact.standing == "two readings":
        values = {"readings": [_amount(name, each) for each in fact.rivals]}
        return Sentence(N_("two readings: {readings}"), values)
    if fact.standing == "assumed":
        return Sentence(N_("assumed, so not known"))
    return _amount(name, fact.value) if _known(fact) else _NOT_KNOWN


def _amount(name: str, value: Any) -> Any:
    if name in {"ohms", "ohms_before"} and isinstance(value, float):
        return Sentence(N_("open")) if value == float("inf") else Amount(value, "ohm")
    return Amount(value, "m") if name == "compression" and isinstance(value, float) else value


def _to_send(name: str, fact: Fact[Any]) -> Sentence:
    said = N_("{what}: settle the two readings") if fact.standing == "two readings" else N_("{what}")
    return Sentence(said, {"what": Sentence(TITLES[name])})
