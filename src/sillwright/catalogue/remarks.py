"""What a catalogue leaves out: it is kept all the same, and what rests on it is not known."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from sillwright.base.scale import INCH
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue, OperatorInput
from sillwright.catalogue.profile import Profile
from sillwright.catalogue.rows import identity

FREEZING = 273.15
TAKEN_END = float(2 * INCH)  # common practice, where a data sheet says nothing
_BY_VOLTAGE = {None, "plain", "normally_closed", "resistor", "diode_capacitor", "four_wire"}
PRICED = ("profiles", "channels", "cords", "reels", "boxes", "radios", "converters", "devices", "seals")


@dataclass(frozen=True, kw_only=True)
class Remark:
    """One thing that is missing, and at which entries of which list; at none of them it is said of the whole."""

    id: str
    list: str
    text: Sentence
    names: tuple[str, ...] = ()


def remarks(catalogue: Catalogue) -> tuple[Remark, ...]:
    """What is missing in a catalogue, list by list.

    >>> from sillwright.catalogue import demo
    >>> [each.id for each in remarks(demo())]
    ['half_listing']
    """
    found = (
        *_of_profiles(catalogue.profiles),
        *(_at(listed, getattr(catalogue, listed), _unpriced, "no_price", _NO_PRICE) for listed in PRICED),
        *_of_inputs(catalogue),
        *_of_money(catalogue),
    )
    return tuple(each for each in found if each is not None)


_NO_PRICE = N_("no price: a quote cannot count it")


def _of_profiles(profiles: tuple[Profile, ...]) -> Iterator[Remark | None]:
    def at(which: Callable[[Profile], bool], id: str, text: str, **values: Amount) -> Remark | None:
        return _at("profiles", profiles, which, id, text, **values)

    yield at(lambda each: not each.curves, "no_curve", N_("no curve: force and overtravel are not known"))
    said = N_("no curve at or below freezing: what it does in the cold is not known")
    yield at(lambda each: bool(each.curves) and each.curves[0].temperature > FREEZING + 0.01, "no_cold_curve", said)
    said = N_("no dead ends given: {length} at each end is taken")
    yield at(lambda each: each.ends is None, "no_ends", said, length=Amount(TAKEN_END, "m"))
    yield at(lambda each: each.weight_per_metre is None, "no_weight", N_("no weight: what it adds is not known"))
    yield at(
        lambda each: not each.channels, "no_channel", N_("no channel named: which one carries it is not known")
    )


def _of_inputs(catalogue: Catalogue) -> Iterator[Remark | None]:
    gives = {each.name: each.gives for each in catalogue.converters}

    def other(each: OperatorInput) -> bool:
        return each.circuit is not None and any(gives.get(one.converter) != each.circuit for one in each.via)

    def dark(each: OperatorInput) -> bool:
        return each.circuit in _BY_VOLTAGE and None in (each.supply, each.below, each.above)

    yield _at("inputs", catalogue.inputs, _half_listed, "half_listing", N_(
        "a listing without title, page, who read it and when does not count"
    ))  # fmt: skip
    yield _at("inputs", catalogue.inputs, other, "other_circuit", N_(
        "a converter gives another circuit than the input reads; look again at both"
    ))  # fmt: skip
    yield _at("inputs", catalogue.inputs, dark, "no_thresholds", N_(
        "no supply or no thresholds: the margin of its voltages is not known"
    ))  # fmt: skip


def _half_listed(each: OperatorInput) -> bool:
    return any(not listing.read for listing in each.lists)


def _unpriced(part: Any) -> bool:
    return part.price is None


def _of_money(catalogue: Catalogue) -> Iterator[Remark]:
    if not catalogue.rates:
        yield Remark(id="no_rates", list="rates", text=Sentence(N_("no rates: a quote counts no labour")))
    if 0 < (catalogue.tax_percent or 0) < 1:
        said = N_("tax of less than 1 percent: look again whether it is a share")
        yield Remark(id="low_tax", list="tax_percent", text=Sentence(said))
    if not catalogue.work:
        yield Remark(id="no_work", list="work", text=Sentence(N_("no hours of work: a quote counts no labour")))


def _at(
    listed: str, rows: Iterable[Any], which: Callable[[Any], bool], id: str, text: str, **values: Amount
) -> Remark | None:
    names = tuple(", ".join(getattr(each, name) for name in identity(listed)) for each in rows if which(each))
    return Remark(id=id, list=listed, text=Sentence(text, values), names=names) if names else None
