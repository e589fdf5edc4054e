"""Protective devices and what was measured, tried and done at them."""

from __future__ import annotations

from sillwright.base.fact import Fact
from sillwright.survey.interval import Interval
from sillwright.survey.spec import Group, choice, day, flag, quantity, text, texts, whole
from sillwright.survey.spec import length as metres

DEVICE_KINDS = (
    "sensing_edge", "air_edge", "photo_eye", "light_curtain", "presence", "motion", "loop", "inherent", "guard",
)  # fmt: skip
DEVICE_CIRCUITS = (
    "plain", "normally_closed", "resistor", "diode_capacitor", "four_wire", "air", "optical", "radio",
    "pulse_two_wire", "pulse_three_wire",
)  # fmt: skip
SHARED = ("end_to_end", "side_by_side", "own_wires")
SHARED_WORDS = {"in_series": "end_to_end", "in_parallel": "side_by_side"}
STATES = ("works", "dead", "missing", "torn_off", "defeated", "unknown")


RESULTS = ("met", "not met", "not tested")
RESULT_WORDS = {
    **dict.fromkeys(("Met", "pass", "passed"), "met"),
    **dict.fromkeys(("Not met", "not_met", "fail", "failed", "no"), "not met"),
    **dict.fromkeys(("Not tested", "not_tested", "untested"), "not tested"),
}


class Protection(Group):
    """A protective device at the opening."""

    id: Fact[str] = text()
    kind: Fact[str] = choice(*DEVICE_KINDS)
    model: Fact[str] = text(title="class or name of the device")
    circuit: Fact[str] = choice(*DEVICE_CIRCUITS, synonyms={"pulse": "pulse_two_wire"})
    resistance: Fact[float] = quantity("ohm", 1, 1e7, title="value of its end element")
    length: Fact[float] = metres(60)
    wires: Fact[float] = whole(20, title="number of wires")
    through: Fact[tuple[str, ...]] = texts(title="what stands between device and operator")
    input: Fact[str] = text(title="operator input it is joined to")
    joined: Fact[str] = choice(*SHARED, synonyms=SHARED_WORDS, title="way in which it shares that input")
    end_element_at: Fact[str] = text(title="place of the end element")
    cut_on_site: Fact[bool] = flag()
    date_code: Fact[str] = text()
    state: Fact[str] = choice(*STATES)
    fitted: Fact[Interval] = day()
    height: Fact[float] = metres(15, title="height above the floor")
    offset: Fact[float] = metres(15, title="distance from the leaf plane")
    carries: Fact[str] = choice("near", "far", title="which gate post or leaf end carries it")


class OhmReading(Group):
    """A resistance read with power locked out and the lead lifted."""

    at: Fact[str] = text(title="place of reading")
    of: Fact[str] = text(title="device read")
    ohms: Fact[float] = quantity("ohm", 0, 1e10, title="resistance")
    pressed: Fact[bool] = flag()
    temperature: Fact[float] = quantity("K", 180, 400)
    on: Fact[Interval] = day()


class TestDone(Group):
    """A test as it was recorded."""

    on: Fact[Interval] = day()
    what: Fact[str] = text()
    result: Fact[str] = choice(*RESULTS, synonyms=RESULT_WORDS)
    by: Fact[str] = text()
    second: Fact[str] = text(title="second person")


class LeftIn(Group):
    """A substitute part or jumper in place, or what people did to a device."""

    what: Fact[str] = text()
    of: Fact[str] = text(title="device concerned")
    place: Fact[str] = text()
    number: Fact[str] = text(title="number on the tag")
    by: Fact[str] = text()
    on: Fact[Interval] = day()


class Zone(Group):
    """A place at a gate where a person can be caught."""

    place: Fact[str] = text()
    gap: Fact[float] = metres(20)
    height: Fact[float] = metres(20)
    direction: Fact[str] = choice("opening", "closing", "both")
    means: Fact[tuple[str, ...]] = texts(title="means against entrapment, by device id or kind")
    grade: Fact[str] = text(title="grade along the swing")
