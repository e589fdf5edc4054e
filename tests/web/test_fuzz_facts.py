"""Whatever people type about an opening, it is kept, and every page of it can still be read."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sillwright.base.fact import ORIGINS
from sillwright.survey.questions import questions
from sillwright.web.api import limits

from .api_callers import callers, things
from .conftest import World

PATHS = sorted(
    {each.path.replace(".*", f".{member}") for each in questions() for member in ("e1", "m2")}
    | {"protection", "use.traffic", "protection.e1", "zones", "tests", "stations"}
)
ODD = [
    "inf ft",
    "nan",
    "-0 m",
    "1e999 m",
    "1e-400 ft",
    "10 ft 6 in",
    "3.2 m",
    "-5",
    "yes",
    "none",
    "null",
    "~",
    "[]",
]
ODD += [
    "2010-02-30",
    "0000",
    "9999-12-31",
    "=1+1",
    "<script>",
    "'\"",
    "# no",
    "a: b",
    "- a",
    "\u202etfel",
    "１０ ft",
    "10\u00a0ft",
]
TYPED = st.one_of(st.sampled_from(ODD), st.text(max_size=30), st.floats().map(lambda each: f"{each} ft"))
ENTRY = st.fixed_dictionaries(
    {
        "fact": st.sampled_from(PATHS),
        "says": st.sampled_from(["value", "value", "value", "unknown", "none", "removed"]),
        "typed": TYPED,
        "from": st.sampled_from(["", *ORIGINS]),
        "on": st.sampled_from(["", "2026-03-04", "yesterday"]),
    }
)


def test_what_people_type_never_stands_in_the_way(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    there, owner = things(world), callers(world)["owner"]
    monkeypatch.setattr(limits, "SIGNED_IN", 10**9)
    address = {"site": f"/api/sites/{there.site}", "opening": f"/api/openings/{there.opening}"}

    @settings(
        max_examples=25,
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
    )
    @given(st.lists(ENTRY, min_size=1, max_size=8))
    def said(entries: list[dict[str, Any]]) -> None:
        batch = {"observations": [{**_fit(each), "id": str(uuid.uuid4())} for each in entries]}
        for place in address.values():
            assert owner.ask("POST", f"{place}/observations", batch).status_code == 200
            assert owner.ask("GET", f"{place}/facts").status_code == 200
        for page in ("site/survey.json", "site/survey.yaml", "opening/drawing.svg"):
            place, _slash, rest = page.partition("/")
            assert owner.ask("GET", f"{address[place]}/{rest}").status_code == 200

    said()


def _fit(entry: dict[str, Any]) -> dict[str, Any]:
    return entry if entry["says"] == "value" else {**entry, "typed": ""}
