"""A leaf so light that it rattles on the gauge: its numbers come from the compiled copy, and are the same."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.survey.building import survey_of

from sillwright.exposure import Exposure, expose
from sillwright.exposure import _expose as exposing


def exposed(mass: str) -> Exposure:
    survey = survey_of({"door.moving_mass": mass, "door.closing_speed": "0.2 m/s"})
    return expose(survey.site, survey.openings[0], edge="none", points=64)


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Which solutions were asked for."""
    asked: list[str] = []
    real = exposing.spread_band

    def noting(*case: Any, engine: Any, **more: Any) -> Any:
        asked.append(engine)
        return real(*case, engine=engine, **more)

    monkeypatch.setattr(exposing, "spread_band", noting)
    return asked


def test_a_leaf_of_two_kilograms_takes_the_compiled_solution(asked: list[str]) -> None:
    exposed("2 kg")
    assert set(asked) == {"kernel"}


def test_a_door_leaf_takes_the_plain_solution(asked: list[str]) -> None:
    exposed("150 kg")
    assert set(asked) == {"plain"}


def test_both_solutions_say_the_same_of_a_light_leaf(monkeypatch: pytest.MonkeyPatch) -> None:
    compiled = exposed("2 kg").band
    monkeypatch.setattr(exposing, "RATTLING", math.inf)
    plain = exposed("2 kg").band
    assert compiled.keys() == plain.keys()
    for name, quantiles in compiled.items():
        for quantile, found in quantiles.items():
            same = plain[name][quantile]
            assert found == (None if same is None else pytest.approx(same, rel=1e-9)), name
