"""The fixed list of a call, for where nothing can be weighed: a phone without a signal goes by it.

What keeps people from harm is asked first, in the order of the model, as in every call. Nobody runs the leaf by
this list, and no substitute part goes in: whether that may be done hangs on what is likely.
"""

from __future__ import annotations

from collections.abc import Mapping

from sillwright.trouble.answer import Call
from sillwright.trouble.choosing import STOP, danger
from sillwright.trouble.danger import danger_tests
from sillwright.trouble.model import FaultModel, Test
from sillwright.trouble.posterior import believe

NOT_HERE = ("move", "substitute")
Stops = Mapping[str, tuple[str, ...]]


def harm_tests(model: FaultModel) -> tuple[Test, ...]:
    """The tests that come before all others."""
    return tuple(test for test in model.tests if test.stage == "harm")


def fixed_list(model: FaultModel, symptom: str) -> tuple[Test, ...]:
    """What is asked after them, in the order of the list; nothing for a complaint without one."""
    tests = {test.id: test for test in model.tests}
    listed = (tests[name] for name in dict(model.checklist).get(symptom, ()))
    return tuple(test for test in listed if test.stage not in (*NOT_HERE, "harm"))


def stops(model: FaultModel, symptom: str | None) -> Stops:
    """By test of the list, the answers after which nobody goes on, with all other answers as a sound leaf has them.

    A mechanical danger that somebody sees is one of them for every complaint.
    """
    sound = {test.id: test.outcomes[0].id for test in harm_tests(model)}
    seen = {test.id: _all_but(test, sound[test.id]) for test in harm_tests(model) if test.id in danger_tests(model)}
    return {**seen, **_weighed(model, symptom, sound)}


def _weighed(model: FaultModel, symptom: str | None, sound: Mapping[str, str]) -> Stops:
    found = {}
    for test in fixed_list(model, symptom or ""):
        calls = {
            each.id: Call(symptom=symptom, answers=(*sound.items(), (test.id, each.id))) for each in test.outcomes
        }
        if stopping := tuple(name for name, call in calls.items() if danger(believe(model, call)) >= STOP):
            found[test.id] = stopping
    return found


def _all_but(test: Test, sound: str) -> tuple[str, ...]:
    return tuple(each.id for each in test.outcomes if each.id != sound)
