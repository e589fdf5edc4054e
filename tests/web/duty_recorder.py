"""A plugin for pytest that writes down every opening that the tests of duty ask about, as what people said of it.

DUTY_CASES=file.json python -m pytest -p tests.web.duty_recorder tests/duty
"""

from __future__ import annotations

import json
import os
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest

import sillwright.duty
from sillwright.duty import Duty
from sillwright.survey.entries import entries_of
from sillwright.survey.model import Opening, Site

_assess = sillwright.duty.assess
_seen: dict[str, Any] = {}


def _assess_and_note(site: Site, opening: Opening) -> Duty:
    case = {
        "country": site.country.value or "US",
        "site": [asdict(each) for each in entries_of(site, "site")],
        "opening": [asdict(each) for each in entries_of(opening)],
    }
    _seen[json.dumps(case, sort_keys=True)] = case
    return _assess(site, opening)


sillwright.duty.assess = _assess_and_note


def pytest_sessionfinish(session: pytest.Session) -> None:
    """Write them down."""
    Path(os.environ["DUTY_CASES"]).write_text(json.dumps(list(_seen.values())), encoding="utf-8")
