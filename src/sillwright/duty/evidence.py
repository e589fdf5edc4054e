"""What records say against a device: ohm readings, tests, force records. Three-valued: a record may be in doubt.

Bands of resistance are relative to the end element's value; with a 10 kΩ part a closed circuit reads at most
3.4 kΩ as pressed or shorted and above 30 kΩ as open. From memory, to be confirmed against the operator's
instructions. Readings are taken with power locked out and the lead lifted at the board.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import product
from typing import Any

from sillwright.base.fact import Fact
from sillwright.survey.devices import DEVICE_CIRCUITS, OhmReading, TestDone
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening

PRESSED_AT_MOST = 500.0  # ohm, through pressed contacts; from memory
TRIPS_BELOW = 0.34  # of the end element: reads as pressed; from memory
OPEN_ABOVE = 3.0  # of the end element: reads as open; from memory
USUAL_END_ELEMENT = 10e3  # ohm; common practice
METERED = {"plain", "resistor", "four_wire", "diode_capacitor"}

DEVICE_TESTS = {f"TEST-{number}" for number in (4, 5, 6, 7, 8, 9, 10, 11, 13, 14, 15, 16, 18, 19, 22, 25)}
TESTS = {f"TEST-{number}" for number in range(1, 28)}
_CODE = re.compile(r"test(?:[-_\u2010-\u2013]?0*([0-9]+)(?![0-9]| ?[x×])| 0*([0-9]+)(?=$|[:;,.(]))")
"""TEST-9 edge moving, test_09, Test 9; with a gap only alone, for “test 1 ft from the jamb” is none."""


@dataclass(frozen=True)
class Judged:
    """What a record comes to: True, False, or None with the facts that leave it open."""

    value: bool | None
    open: tuple[str, ...] = ()

    @classmethod
    def any_of(cls, parts: Iterable[Judged]) -> Judged:
        """True where one is; else open where one is."""
        found = list(parts)
        if any(each.value is True for each in found):
            return cls(True)
        doubtful = tuple(dict.fromkeys(path for each in found if each.value is None for path in each.open))
        return cls(None, doubtful) if any(each.value is None for each in found) else cls(False)


def candidates(fact: Fact[Any], otherwise: Sequence[Any]) -> Sequence[Any]:
    """The values a fact may have: its own, its rivals, or ``otherwise``."""
    if fact.known and fact.value is not None:
        return (fact.value,)
    return fact.rivals if fact.rivals and None not in fact.rivals else otherwise


def _known(fact: Fact[Any]) -> Any:
    """A fact's value where records may rest on it."""
    return fact.value if fact.known else None


# ohm readings


def read_as_failed(opening: Opening, device: Any, readings: Sequence[OhmReading]) -> Judged:
    """Whether the latest of these readings show that a device does not work."""
    name = getattr(getattr(device, "id", None), "value", None)
    if name is None and not hasattr(device, "circuit"):
        return Judged(False)
    names = {each.id.value for each in opening.protection if each.id.value is not None}
    mine = [each for each in readings if _known(each.of) == name or _known(each.of) not in names]
    parts = []
    for reading in _latest_readings(mine):
        shown = _shows_failure(opening, device, reading)
        if (name is None or _known(reading.of) != name) and shown.value is not False:
            shown = Judged(None, (reading.of.path,))  # whose reading it is nobody can tell
        parts.append(shown)
    return Judged.any_of(parts)


def _latest_readings(readings: Sequence[OhmReading]) -> list[OhmReading]:
    """The latest of each sort: a reading at rest says nothing of a press, nor one place of another."""
    sorts: dict[Any, list[OhmReading]] = defaultdict(list)
    for reading in readings:
        sorts[(_known(reading.of), _known(reading.at), _known(reading.pressed))].append(reading)
    found = []
    for alike in sorts.values():
        told = [_known(each.on) for each in alike if _known(each.ohms) is not None]
        last = max((day.first for day in told if day is not None), default=date.min)
        found += [each for each in alike if (day := _known(each.on)) is None or day.last >= last]
    return found


def _shows_failure(opening: Opening, device: Any, reading: OhmReading) -> Judged:
    circuits = candidates(device.circuit, DEVICE_CIRCUITS)
    ohms = candidates(reading.ohms, ())
    pressed = candidates(reading.pressed, (True, False))
    if reading.ohms.standing in {"assumed", "none there"}:
        return Judged(None, (reading.ohms.path,))
    if not ohms:
        return Judged(False)
    elements = _end_elements(opening, device)
    shown = {_fails(*case) for case in product(circuits, ohms, pressed, elements)}
    if len(shown) == 1:
        return Judged(shown.pop())
    doubted = (
        (circuits, device.circuit),
        (ohms, reading.ohms),
        (pressed, reading.pressed),
        (elements, device.resistance),
    )
    return Judged(None, tuple(fact.path for values, fact in doubted if len(values) > 1))


def _end_elements(opening: Opening, device: Any) -> Sequence[float]:
    """The values that the end element may have: the device's own, else that of the input it is joined to."""
    own: Sequence[float] = candidates(device.resistance, ())
    if own:
        return own
    named = [each for each in opening.operator.inputs if _known(each.name) == _known(device.input)]
    inputs = named if _known(device.input) is not None and named else list(opening.operator.inputs)
    expected = [value for each in inputs for value in candidates(each.resistance, ())]
    return tuple(dict.fromkeys(expected)) or (USUAL_END_ELEMENT,)


def _fails(circuit: str, ohms: float, pressed: bool, element: float) -> bool:
    if circuit not in METERED:
        return False
    if pressed:
        return ohms > (min(PRESSED_AT_MOST, TRIPS_BELOW * element) if circuit == "resistor" else PRESSED_AT_MOST)
    if circuit == "resistor":
        return ohms < TRIPS_BELOW * element or ohms > OPEN_ABOVE * element
    return circuit == "plain" and ohms <= PRESSED_AT_MOST


# tests


def code_of(test: TestDone) -> str:
    """The code of a test, of ``TEST-9 edge moving`` and ``test 9`` too; else its words, in small letters."""
    return _code(_known(test.what))


def _code(what: object) -> str:
    words = str(what or "").strip().lower()
    match = _CODE.match(words)
    return f"TEST-{match[1] or match[2]}" if match else words


def unclear_tests(tests: Sequence[TestDone]) -> tuple[TestDone, ...]:
    """Tests that were not met, of which nobody can tell whether a protective device was tested."""
    return tuple(test for test in tests if _stands(tests, test) and not all(map(_is_known, _codes(test))))


def _codes(test: TestDone) -> list[str]:
    """The code of a test; of two readings both."""
    return [_code(each) for each in test.what.rivals] or [code_of(test)]


def _is_known(code: str) -> bool:
    return code in TESTS or code.startswith("force")


def failed_tests(tests: Sequence[TestDone]) -> tuple[TestDone, ...]:
    """Tests of a protective device that were not met, and that no later one took back for certain."""
    return tuple(test for test in tests if code_of(test) in DEVICE_TESTS and _stands(tests, test))


def tested_as_failed(tests: Sequence[TestDone]) -> Judged:
    """Whether a test shows a protective device that does not work."""
    parts = [_doubt(tests, test) for test in failed_tests(tests)]
    parts += [Judged(None, ("tests",)) for _ in unclear_tests(tests)]
    for test in tests:  # of two readings one says that it was not met, or that it was this test
        codes = {code_of(test), *(_code(each) for each in test.what.rivals)}
        said = "not met" in {_known(test.result), *test.result.rivals}
        if said and codes & DEVICE_TESTS and (test.result.rivals or test.what.rivals):
            parts.append(Judged(None, ("tests",)))
    return Judged.any_of(parts)


def _stands(tests: Sequence[TestDone], test: TestDone) -> bool:
    if not test.result.known or test.result.value != "not met":
        return False
    return not any(_later(other, test) for other in _met(tests, test))


def _doubt(tests: Sequence[TestDone], test: TestDone) -> Judged:
    """A failure stands, unless one that was met may be the later of the two."""
    return Judged(None, ("tests",)) if any(_maybe_later(each, test) for each in _met(tests, test)) else Judged(True)


def _met(tests: Sequence[TestDone], test: TestDone) -> list[TestDone]:
    return [each for each in tests if code_of(each) == code_of(test) and _known(each.result) == "met"]


_ANY_DAY = Interval(date.min, date.max)


def _later(one: TestDone, other: TestDone) -> bool:
    return bool((_known(one.on) or _ANY_DAY).first > (_known(other.on) or _ANY_DAY).last)


def _maybe_later(one: TestDone, other: TestDone) -> bool:
    day = _known(one.on)
    return day is not None and bool(day.last >= (_known(other.on) or _ANY_DAY).first)


def test_met(tests: Sequence[TestDone], code: str) -> Judged:
    """Whether the latest result of a test is *met*; open where it was never done, or not judged."""
    return _latest_result([test for test in tests if code_of(test) == code])


def force_records(tests: Sequence[TestDone]) -> list[TestDone]:
    """The force records among these tests."""
    return [test for test in tests if code_of(test) == "TEST-12" or code_of(test).startswith("force")]


def force_record(tests: Sequence[TestDone]) -> Judged:
    """Whether the latest force record meets the limits; open where there is none."""
    return _latest_result(force_records(tests))


def _latest_result(done: Sequence[TestDone]) -> Judged:
    judged = [test for test in done if test.result.known and test.result.value in {"met", "not met"}]
    last = [test for test in judged if not any(_later(other, test) for other in judged)]
    results = {test.result.value for test in last}
    if any(test.result.rivals for test in done):
        return Judged(None, ("tests",))
    return Judged(results == {"met"}) if len(results) == 1 else Judged(None, ("tests",))


# dates


def within_a_year(day: Interval | None, surveyed: Interval | None) -> bool | None:
    """Whether a day lies within the year before the survey, the same day a year ago included.

    None where either date leaves that open, or where the day lies after the survey.
    """
    if day is None or surveyed is None or day.last > surveyed.last:
        return None
    if day.first >= _year_before(surveyed.last):
        return True
    return False if day.last < _year_before(surveyed.first) else None


def _year_before(day: date) -> date:
    return day.replace(year=day.year - 1) if (day.month, day.day) != (2, 29) else date(day.year - 1, 2, 28)


def force_record_within_a_year(tests: Sequence[TestDone], surveyed: Interval | None) -> Judged:
    """Whether a force record of the last year meets the limits."""
    recent = [test for test in force_records(tests) if within_a_year(test.on.value, surveyed) is not False]
    if force_records(tests) and not recent:
        return Judged(False)
    if any(within_a_year(test.on.value, surveyed) is None for test in recent):
        return Judged(None, ("tests",))
    return _latest_result(recent)
