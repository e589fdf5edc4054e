"""What answers say of a mechanical danger by themselves, whatever is likely.

The shares of a complaint may leave out a fault that somebody sees with his own eyes: a cable that hangs slack at a
door that closes only while the button is held. Such an answer is not weighed against shares.
"""

from __future__ import annotations

from functools import lru_cache

from sillwright.base.words import N_, Sentence
from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel
from sillwright.trouble.same import Same

STOPPED = Sentence(
    N_(
        "Something that carries the leaf may be broken. Nobody touches the control, nobody stands under the "
        "leaf, the area is closed, and a door technician comes."
    )
)


def danger_tests(model: FaultModel) -> tuple[str, ...]:
    """The tests that ask for a mechanical danger: of the stage "harm", and told by a fault that is one."""
    return _danger_tests(Same(model))


@lru_cache(maxsize=32)
def _danger_tests(key: Same) -> tuple[str, ...]:
    dangers = {fault.id for fault in key.model.faults if fault.danger}
    return tuple(
        test.id
        for test in key.model.tests
        if test.stage == "harm" and any(fault in dangers for fault, _ in test.likelihood)
    )


def danger_seen(model: FaultModel, call: Call) -> bool:
    """Whether somebody sees a mechanical danger, or what looks like one: nobody goes on."""
    sound = {test.id: test.outcomes[0].id for test in model.tests}
    asked = danger_tests(model)
    return any(name in asked and outcome not in (None, sound[name]) for name, outcome in _last(call))


def danger_open(model: FaultModel, call: Call) -> bool:
    """Whether it is not known if there is one: that never counts as good, and nobody runs the leaf."""
    asked = danger_tests(model)
    return any(name in asked and outcome is None for name, outcome in _last(call))


def _last(call: Call) -> tuple[tuple[str, str | None], ...]:
    return tuple(dict(call.answers).items())
