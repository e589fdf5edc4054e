"""What records say against a device: ohm readings, tests, force records.

Bands of resistance are relative to the end element's value; with a 10 kΩ part a closed circuit reads at most
3.4 kΩ as pressed or shorted and above 30 kΩ as open. From memory, to be confirmed against the operator's
instructions. Readings are taken with power locked out and the lead lifted at the board.
"""

from __future__ import annotations

from typing import Any

from sillwright.base.expression import Const, Path
from sillwright.survey.devices import OhmReading, TestDone
from sillwright.survey.model import Opening

PRESSED_AT_MOST = 500.0  # ohm, through pressed contacts; from memory
TRIPS_BELOW = 0.34  # of the end element: reads as pressed; from memory
OPEN_ABOVE = 3.0  # of the end element: reads as open; from memory
USUAL_END_ELEMENT = 10e3  # ohm; common practice

DEVICE_TESTS = {
    "TEST-4",
    "TEST-6",
    "TEST-7",
    "TEST-8",
    "TEST-9",
    "TEST-10",
    "TEST-11",
    "TEST-13",
    "TEST-15",
    "TEST-25",
}
DAYS_A_YEAR = 366
_FORCE_TESTS = {"force", "force record", "TEST-12"}


def read_as_failed(opening: Opening, device: Any) -> bool:
    """Whether the latest readings of a device show that it does not work."""
    name = getattr(getattr(device, "id", None), "value", None)
    if name is None:
        return False
    mine = [each for each in opening.readings if each.of.value == name and each.ohms.known]
    element = _end_element(opening, device)
    return any(_shows_failure(device.circuit.value, element, each) for each in _latest(mine))


def _latest(readings: list[OhmReading]) -> list[OhmReading]:
    dated = [each.on.value.first for each in readings if each.on.value is not None]
    if not dated:
        return readings
    last = max(dated)
    return [each for each in readings if each.on.value is None or each.on.value.last >= last]


def _end_element(opening: Opening, device: Any) -> float:
    if device.resistance.value is not None:
        return float(device.resistance.value)
    expected = [each.resistance.value for each in opening.operator.inputs if each.resistance.value is not None]
    return float(expected[0]) if expected else USUAL_END_ELEMENT


def _shows_failure(circuit: str | None, element: float, reading: OhmReading) -> bool:
    ohms, pressed = reading.ohms.value, reading.pressed.value
    if ohms is None or circuit not in {"plain", "resistor", "four_wire"}:
        return False
    if pressed is True:
        return bool(ohms > PRESSED_AT_MOST)
    if circuit == "resistor":
        return bool(ohms > OPEN_ABOVE * element or (pressed is False and ohms < TRIPS_BELOW * element))
    return bool(pressed is False and circuit == "plain" and ohms <= PRESSED_AT_MOST)


def failed_tests(opening: Opening) -> tuple[TestDone, ...]:
    """Tests of a protective device whose latest result is *not met*."""
    latest: dict[str, TestDone] = {}
    for test in opening.tests:
        if test.what.value in DEVICE_TESTS:
            before = latest.get(test.what.value)
            if before is None or _day(test) >= _day(before):
                latest[test.what.value] = test
    return tuple(test for test in latest.values() if test.result.value == "not met")


def force_record(opening: Opening) -> bool | None:
    """Whether the latest force record meets the limits; None where there is none."""
    records = [test for test in opening.tests if test.what.value in _FORCE_TESTS and test.result.known]
    if not records:
        return None
    return {"met": True, "not met": False}.get(max(records, key=_day).result.value or "")


def test_met(facts: Any, code: Const) -> bool | None:
    """Whether the latest result of a test is *met*; None where it was never done, or not judged."""
    done = [test for test in facts.opening.tests if test.what.value == code.value]
    return {"met": True, "not met": False}.get(max(done, key=_day).result.value or "") if done else None


def listed_to(facts: Any, document: Const) -> bool | None:
    """Whether the operator's plate or instructions name a document it is listed to."""
    listed = facts.opening.operator.listed_to
    return document.value in (listed.value or ()) if listed.known else None


def within_a_year(facts: Any, path: Path) -> bool | None:
    """Whether a day lies within a year before the survey; None where either date leaves that open."""
    owner: Any = facts.opening
    for name in path.parts:
        owner = getattr(owner, name)
    surveyed = facts.site.surveyed_on
    if not owner.known or owner.value is None or surveyed.value is None:
        return None
    most = (surveyed.value.last - owner.value.first).days
    least = (surveyed.value.first - owner.value.last).days
    return True if most <= DAYS_A_YEAR else False if least > DAYS_A_YEAR else None


def _day(test: TestDone) -> str:
    return str(test.on.value.last) if test.on.value is not None else ""
