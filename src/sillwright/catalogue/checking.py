"""What is wrong in a catalogue beyond its single fields: names, references, numbers that contradict each other."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sillwright.base.model import Limits
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Node, short
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.naming import key, nearest
from sillwright.catalogue.parts import Channel, CoiledCord, ConverterKind, Device, RadioLink
from sillwright.catalogue.profile import Profile
from sillwright.catalogue.rows import Row, Rows, Wrong, identity
from sillwright.survey.devices import DEVICE_CIRCUITS
from sillwright.survey.interval import read_interval
from sillwright.survey.operator import INPUT_CIRCUITS

LONGEST_NAME = 120
IN_LISTS = {"stock": Limits(above=0, at_most=60), "end_elements": Limits(above=0, at_most=1e7)}
"""Ranges of quantities that stand in lists, by field."""


def mistakes_at_the_top(head: Node) -> Iterator[Wrong]:
    """What is wrong with the name, the currency, the date and the tax of a catalogue."""
    told = {name: node.text for name, _, node in head.pairs if node.kind == "scalar" and not node.empty}
    if "name" in told:
        yield from _name_itself("name", told["name"])
    if "currency" in told and (accepted := _not_a_currency(told["currency"])):
        yield Wrong("currency", say(N_("not an ISO 4217 currency code")), accepted)
    if "priced_on" in told and not _is_day(told["priced_on"]):
        yield Wrong("priced_on", say(N_("not a date")), say(N_("write year-month-day: {day}"), day="2026-03-04"))
    if "%" in (tax := told.get("tax_percent", "")) or "percent" in tax:  # of which a hundredth would be read
        yield Wrong(
            "tax_percent", say(N_("a percentage with its sign")), say(N_("write the number alone, like 8.25"))
        )


def mistakes_among(rows: Rows) -> Iterator[tuple[Row, Wrong]]:
    """What is wrong with the entries, each by itself and beside the others."""
    for listed, found in rows.lists.items():
        yield from _names(found, identity(listed))
        check = _CHECKS.get(listed)
        if check is not None:
            yield from ((row, wrong) for row in found if row.item is not None for wrong in check(row.item, rows))
    yield from _rates(rows.lists["rates"])


# names


def _names(found: Sequence[Row], fields: Sequence[str]) -> Iterator[tuple[Row, Wrong]]:
    first: dict[tuple[str, ...], Row] = {}
    for row in found:
        for name, told in zip(fields, row.names, strict=True):
            if (node := row.node.get(name)) is not None and node.kind == "scalar" and not node.empty:
                yield from ((row, wrong) for wrong in _name_itself(name, told))
        same = tuple(map(key, row.names))
        if not all(same):
            continue
        if same in first:
            yield row, _twice(fields[-1], row, first[same])
        else:
            first[same] = row


def _name_itself(name: str, told: str) -> Iterator[Wrong]:
    if not key(told):
        yield Wrong(name, say(N_("nothing that can be read stands here")), say(N_("write a name")))
    elif "\n" in told or "\t" in told:
        yield Wrong(name, say(N_("a name stands on one line")))
    elif len(told) > LONGEST_NAME:
        yield Wrong(name, say(N_("longer than {most} characters"), most=LONGEST_NAME))


def _twice(name: str, row: Row, first: Row) -> Wrong:
    where = say(N_("first on line {line}"), line=first.node.line)
    if row.names == first.names:
        return Wrong(name, say(N_("this name stands twice")), where)
    said = say(N_("this name looks like “{other}”"), other=short(first.names[-1]))
    return Wrong(name, said, where)


def _rates(found: Sequence[Row]) -> Iterator[tuple[Row, Wrong]]:
    first: dict[int, Row] = {}
    for row in found:
        if row.item is not None and first.setdefault(row.item.persons, row) is not row:
            where = say(N_("first on line {line}"), line=first[row.item.persons].node.line)
            yield row, Wrong("persons", say(N_("there is a rate for so many persons already")), where)


# the top


def _not_a_currency(code: str) -> Phrase | None:
    """What would be right where this is no currency; None where it is one."""
    import pycountry  # reads its tables at first use

    found = pycountry.currencies.get(alpha_3=code) if len(code) == 3 else None
    if found is not None and found.alpha_3 == code:
        return None
    if len(code) == 3 and pycountry.currencies.get(alpha_3=code.upper()) is not None:
        return say(N_("did you mean “{word}”?"), word=code.upper())
    return say(N_("three capital letters, for example USD, EUR, GBP"))


def _is_day(text: str) -> bool:
    interval = read_interval(text)
    return interval is not None and interval.first == interval.last


# entries


def _profile(profile: Profile, rows: Rows) -> Iterator[Wrong]:
    yield from _known(profile.channels, "channels", rows.names["channels"])
    if not profile.circuits:
        yield Wrong("circuits", say(N_("at least one circuit is wanted")))
    for number, each in enumerate(profile.curves):
        if each.curve[-1][0] <= profile.actuation_travel:
            said = say(N_("the curve ends before the travel at which the profile answers"))
            accepted = say(N_("go on to {travel} and beyond"), travel=Amount(profile.actuation_travel, "m"))
            yield Wrong(f"curves[{number}].curve", said, accepted, got=False)
    if profile.ends is not None and profile.ends.lead + profile.ends.far >= profile.least:
        said = say(N_("the dead ends leave nothing of the shortest piece"))
        yield Wrong(
            "ends", said, say(N_("together less than {length}"), length=Amount(profile.least, "m")), got=False
        )
    if profile.greatest_straight is not None and profile.greatest_straight < profile.least:
        yield Wrong("greatest_straight", say(N_("shorter than the shortest piece")))
    coldest, hottest = profile.coldest, profile.hottest
    if coldest is not None and hottest is not None and not coldest < hottest:
        yield Wrong("hottest", say(N_("not above the coldest")))
    yield from _within(profile.end_elements, "end_elements", "ohm")
    yield from _within(profile.stock, "stock", "m")


def _channel(channel: Channel, _: Rows) -> Iterator[Wrong]:
    yield from _within(channel.stock, "stock", "m")


def _cord(cord: CoiledCord, _: Rows) -> Iterator[Wrong]:
    if not cord.extended > cord.retracted:
        said = say(N_("not longer than the retracted cord"))
        yield Wrong("extended", said, say(N_("more than {length}"), length=Amount(cord.retracted, "m")))


def _radio(radio: RadioLink, _: Rows) -> Iterator[Wrong]:
    yield from _circuits(radio.circuits, "circuits", DEVICE_CIRCUITS)
    yield from _circuits(radio.gives, "gives", INPUT_CIRCUITS)


def _converter(converter: ConverterKind, _: Rows) -> Iterator[Wrong]:
    if not converter.takes:
        yield Wrong("takes", say(N_("at least one circuit is wanted")))
    yield from _circuits(converter.takes, "takes", DEVICE_CIRCUITS)
    yield from _circuit(converter.gives, "gives", INPUT_CIRCUITS)


def _device(device: Device, _: Rows) -> Iterator[Wrong]:
    if device.circuit is not None:
        yield from _circuit(device.circuit, "circuit", DEVICE_CIRCUITS)


def _input(found: OperatorInput, rows: Rows) -> Iterator[Wrong]:
    if found.circuit is not None:
        yield from _circuit(found.circuit, "circuit", INPUT_CIRCUITS)
    yield from _circuits(found.direct, "direct", DEVICE_CIRCUITS)
    yield from _thresholds(found)
    converters = rows.names["converters"]
    for number, each in enumerate(found.via):
        here = f"via[{number}]"
        yield from _circuit(each.circuit, f"{here}.circuit", DEVICE_CIRCUITS)
        if each.converter not in converters:
            yield _unknown(f"{here}.converter", each.converter, converters)
        elif (through := converters[each.converter]) and each.circuit not in through.takes:
            said = say(N_("this converter does not take that circuit"))
            accepted = say(N_("it takes {circuits}"), circuits=", ".join(through.takes))
            yield Wrong(f"{here}.circuit", said, accepted)
    for number, listing in enumerate(found.lists):
        here = f"lists[{number}]"
        yield from _name_itself(f"{here}.device", listing.device)
        if listing.on and read_interval(listing.on) is None:
            accepted = say(N_("write a year, year-month or date: 2019, 2019-03, 2019-03-04"))
            yield Wrong(f"{here}.on", say(N_("not a date")), accepted)


def _thresholds(found: OperatorInput) -> Iterator[Wrong]:
    pressed = found.below.pressed if found.below else None
    opened = found.above.open if found.above else None
    if pressed is not None and opened is not None and not pressed < opened:
        said = say(N_("reads pressed up to more than from where it reads open"))
        yield Wrong("below.pressed", said, say(N_("less than {volts}"), volts=Amount(opened, "V")))
    top, where = (opened, "above.open") if opened is not None else (pressed, "below.pressed")
    if found.supply is not None and top is not None and not top < found.supply:
        said = say(N_("not below the supply"))
        yield Wrong(where, said, say(N_("less than {volts}"), volts=Amount(found.supply, "V")))


# what several kinds of entries share


def _known(names: Sequence[str], field: str, known: dict[str, Any]) -> Iterator[Wrong]:
    seen: set[str] = set()
    for number, name in enumerate(names):
        if name not in known:
            yield _unknown(f"{field}[{number}]", name, known)
        elif name in seen:
            yield Wrong(f"{field}[{number}]", say(N_("this name stands twice")), say(N_("keep one")))
        seen.add(name)


def _unknown(field: str, name: str, known: dict[str, Any]) -> Wrong:
    if not known:
        return Wrong(field, say(N_("not in this catalogue")), say(N_("it has none of that kind")))
    return Wrong(field, say(N_("not in this catalogue")), nearest(name, known))


def _circuits(words: Sequence[str], field: str, known: Sequence[str]) -> Iterator[Wrong]:
    for number, word in enumerate(words):
        yield from _circuit(word, f"{field}[{number}]", known)


def _circuit(word: str, field: str, known: Sequence[str]) -> Iterator[Wrong]:
    if word not in known:
        yield Wrong(field, say(N_("not a circuit that is known here")), did_you_mean(word, known))


def _within(values: Sequence[float], field: str, unit: str) -> Iterator[Wrong]:
    limits = IN_LISTS[field]
    for number, value in enumerate(values):
        if not limits.allow(value):
            yield Wrong(f"{field}[{number}]", say(N_("out of range")), limits.accepted(unit))


_CHECKS: dict[str, Callable[[Any, Rows], Iterator[Wrong]]] = {
    "profiles": _profile,
    "channels": _channel,
    "cords": _cord,
    "radios": _radio,
    "converters": _converter,
    "devices": _device,
    "inputs": _input,
}
