"""The wiring sheet among the papers of an opening."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.paper.of_opening import opening_paper
from sillwright.paper.writing import write_papers
from sillwright.study import SiteStudy, study_opening
from sillwright.survey.from_facts import survey_from_facts

from .openings import DOOR, EYE, PULSES, TEN, edge

MADE: dict[str, Any] = {"made_on": date(2026, 3, 4), "version": "1"}


def site(*devices: dict[str, Any]) -> SiteStudy:
    """A site of one opening with these devices."""
    survey = survey_from_facts({**DOOR, "operator.inputs": [TEN, PULSES], "protection": list(devices)})
    study = study_opening(survey.site, survey.openings[0], points=32)
    return SiteStudy(survey=survey, openings=(study,), reader=Reader())


@pytest.mark.parametrize(("kind", "begins"), [("wiring", b"%PDF"), ("wiring_svg", b"<svg")])
def test_an_opening_has_a_wiring_sheet(kind: Any, begins: bytes) -> None:
    study = site(edge(), EYE)
    assert opening_paper(kind, study.openings[0], Reader(), **MADE).startswith(begins)


def test_shop_and_crew_get_it_where_there_is_a_device(tmp_path: Path) -> None:
    names = {path.name for path in write_papers(site(edge()), tmp_path / "with", shop=True, **MADE)}
    assert {"t1-wiring.pdf", "t1-wiring.svg"} <= {
        f"t1{name[name.index('-') :]}" for name in names if "wiring" in name
    }
    none = write_papers(site(), tmp_path / "without", shop=True, **MADE)
    assert not [path for path in none if "wiring" in path.name]


def test_without_the_shop_nobody_gets_it(tmp_path: Path) -> None:
    assert not [path for path in write_papers(site(edge()), tmp_path, **MADE) if "wiring" in path.name]
