"""The exact answer against its slow twin: every combination of values of the unknown facts, tried one by one."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.duty import assess
from sillwright.survey.from_facts import survey_from_facts

from ..long import cases

READ = {"title": "Installation", "page": "12", "read_by": "advisor", "on": "2026-03-04"}
LISTS = [["edge-m", "eye-t"], ["edge-m"], ["eye-t"], []]

# What each fact may turn out to be. A state that is not known to be dead may still be a device that is gone.
VALUES: dict[str, list[Any]] = {
    "door.occupancy": ["commercial", "residential"],
    "operator.made": ["2004", "2014"],
    "operator.closing_control": ["momentary", "timer", "unattended"],
    "operator.station_in_view": [True, False],
    "operator.warning.seconds": [3, 5, 8],
    "operator.lists_devices": LISTS,
    "use.users": ["trained", "trained_public", "public"],
    "e1.circuit": ["plain", "resistor"],
    "e1.state": ["works", "missing"],
    "y1.circuit": ["plain", "pulse"],
    "y1.state": ["works", "missing"],
    "y1.height": ["4 in", "6 in", "9 in"],
    "c1.state": ["works", "missing"],
    "c1.height": ["1 m", "2.5 m"],
    "i1.state": ["works", "missing"],
}
DEVICES = {
    "e1": {"kind": "sensing_edge", "model": "edge-m", "through": []},
    "y1": {"kind": "photo_eye", "model": "eye-t", "through": []},
    "c1": {"kind": "light_curtain", "model": "curtain-b", "circuit": "plain", "through": []},
    "i1": {"kind": "inherent"},
}


WATCHED = {"resistor", "pulse"}


def answer(
    country: str, kind: str, devices: tuple[str, ...], facts: dict[str, Any], unstated: tuple[str, ...] = ()
) -> tuple[str, tuple[str, ...]]:
    whole: dict[str, Any] = {
        "site.country": country,
        "door.kind": kind,
        "door.clear_width": "10 ft 4 in",
        "door.clear_height": "9 ft",
        "operator.instructions": READ,
        "operator.warning.sound": True,
        "operator.warning.light": True,
        "tests": [{"what": "force", "result": "met"}],
    }
    there = {name: {"id": name, **DEVICES[name]} for name in devices}
    for path, value in facts.items():
        owner, _, name = path.partition(".")
        if owner in DEVICES:
            if owner in there:
                there[owner][name] = value
        else:
            whole[path] = value
    for device in there.values():
        if device.get("circuit") in WATCHED and device.get("state") == "missing" and device["id"] in unstated:
            del device["state"]  # the operator checks it every cycle: nobody needs to have said that it works
    survey = survey_from_facts({**whole, "protection": list(there.values())})
    found = assess(survey.site, survey.openings[0])
    return found.powered_closing, found.deciding_facts


@st.composite
def openings(draw: st.DrawFn) -> tuple[str, str, tuple[str, ...], dict[str, Any], list[str]]:
    country = draw(st.sampled_from(["US", "US", "DE"]))
    kind = draw(st.sampled_from(["sectional", "one_piece", "high_speed"]))
    devices = tuple(draw(st.lists(st.sampled_from(sorted(DEVICES)), unique=True, min_size=1)))
    names = [name for name in VALUES if name.partition(".")[0] not in set(DEVICES) - set(devices)]
    doubtful = [name for name in names if kind == "sectional" or name != "door.occupancy"]  # the others go by kind
    unknown = draw(st.lists(st.sampled_from(doubtful), unique=True, max_size=3))
    facts = {name: draw(st.sampled_from(VALUES[name])) for name in names if name not in unknown}
    return country, kind, devices, facts, unknown


@pytest.mark.long
@settings(max_examples=cases(15, 200), deadline=None)
@given(openings())
def test_the_answer_is_settled_exactly_when_every_combination_agrees(
    case: tuple[str, str, tuple[str, ...], dict[str, Any], list[str]],
) -> None:
    country, kind, devices, facts, unknown = case
    said, deciding = answer(country, kind, devices, facts)
    choices = [range(len(VALUES[name])) for name in unknown]
    unstated = tuple(name.partition(".")[0] for name in unknown if name.endswith(".state"))

    def tried(picked: tuple[int, ...]) -> str:
        values = {name: VALUES[name][at] for name, at in zip(unknown, picked, strict=True)}
        return answer(country, kind, devices, {**facts, **values}, unstated)[0]

    outcomes = {picked: tried(picked) for picked in product(*choices)}
    assert "unknown" not in outcomes.values()
    assert said == (next(iter(outcomes.values())) if len(set(outcomes.values())) == 1 else "unknown")
    matters = {
        name
        for at, name in enumerate(unknown)
        for picked, outcome in outcomes.items()
        for other in choices[at]
        if outcomes[(*picked[:at], other, *picked[at + 1 :])] != outcome
    }
    spelled = {f"protection.{name}" if name.partition(".")[0] in DEVICES else name for name in matters}
    assert set(deciding) == spelled
