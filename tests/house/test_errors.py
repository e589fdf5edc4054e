"""The error tree: every class has its exit code and stands in the picture of the module."""

from __future__ import annotations

import inspect
import re

import pytest


def tree():
    """Every error of the project, root included."""
    from sillwright.base import errors

    found, waiting = [], [errors.SillwrightError]
    while waiting:
        each = waiting.pop()
        found.append(each)
        waiting += each.__subclasses__()
    return sorted((each for each in found if each.__module__.startswith("sillwright.")), key=lambda e: e.__name__)


@pytest.mark.parametrize("error", tree(), ids=lambda error: error.__name__)
def test_an_error_is_drawn_with_its_exit_code(error):
    from sillwright.base import errors

    lines = [line for line in (errors.__doc__ or "").splitlines() if re.search(rf"\b{error.__name__}\b", line)]
    assert len(lines) == 1, "once in the picture"
    drawn = re.search(r"\bexit (\d+)$", lines[0].rstrip())
    own = "exit_code" in vars(error)
    assert own == bool(drawn), "the picture says an exit code where a class sets it, and only there"
    if drawn:
        assert error.exit_code == int(drawn[1])
    assert error.exit_code in range(1, 64)


@pytest.mark.parametrize("error", tree(), ids=lambda error: error.__name__)
def test_every_error_stands_in_one_module_and_has_a_docstring(error):
    assert error.__module__ == "sillwright.base.errors"
    assert inspect.getdoc(error)


def test_inheritance_is_at_most_two_levels_below_the_root():
    from sillwright.base.errors import SillwrightError

    assert max(error.__mro__.index(SillwrightError) for error in tree()) <= 2
