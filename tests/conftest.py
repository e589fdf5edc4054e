"""What every test may use: ``verify``, and the profiles of the property tests."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from .long import cases
from .verification import Ledger, Verify, as_property, verifier

ROOT = Path(__file__).parents[1]

# No deadline: a loaded machine is no mistake. Under CI the same cases every time.
settings.register_profile("default", deadline=None, max_examples=60, print_blob=True)
settings.register_profile(
    "ci",
    deadline=None,
    max_examples=cases(60, 400),
    derandomize=True,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("ci" if os.environ.get("CI") else "default")


def pytest_configure(config: pytest.Config) -> None:
    """Open the ledger of outside checks."""
    config.pluginmanager.register(Ledger(), "sillwright-ledger")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """To count every branch makes a long comparison three times as long, and shows nothing new."""
    for each in items:
        if each.get_closest_marker("slow"):
            each.add_marker("no_cover")


@pytest.fixture
def verify(request: pytest.FixtureRequest) -> Verify:
    """Assert a number against its source and record it for ``docs/verification.md``."""
    module = request.path.relative_to(ROOT).as_posix()
    properties = request.node.user_properties
    return verifier(module, lambda check: properties.append(as_property(check)))


@pytest.fixture
def root() -> Path:
    """The checkout."""
    return ROOT
