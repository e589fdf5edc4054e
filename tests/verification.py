"""The record of checks against something outside the project: ``docs/verification.md``.

A test asks for the fixture ``verify`` and calls it with what it got, what the source says and how far the
two may lie apart. The record is written at the end of a run in which every such test passed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass
from math import isfinite
from pathlib import Path
from typing import Protocol

import pytest

PROPERTY = "verification"
TARGET = Path(__file__).parents[1] / "docs" / "verification.md"
NOISE = 1e-12  # below it a difference is that of the last bits, and differs between machines

INTRODUCTION = """# Verification

Written by the test run; not edited by hand. Each line is a check of a number against something outside the
project: a published value, a worked example, an exact limit or an independent solver. *Difference* and
*allowed* are relative to the expected value where they carry a %, else in the unit of the check.
"""


@dataclass(frozen=True, kw_only=True)
class Check:
    """One number against its source."""

    module: str
    what: str
    source: str
    expected: float
    got: float
    within: float
    relative: bool

    @property
    def difference(self) -> float:
        """How far apart the two are, relative to the expected value where the check is."""
        apart = abs(self.got - self.expected)
        return apart / abs(self.expected) if self.relative and self.expected else apart

    @property
    def passes(self) -> bool:
        """Whether both are finite and near enough; NaN never is."""
        return isfinite(self.got) and self.difference <= self.within

    def row(self) -> str:
        """The line of the table."""
        cells = (
            self.what,
            self.source,
            f"{self.expected:.7g}",
            f"{tidy(self.got):.7g}",
            self._shown(self.difference) if self.difference >= NOISE else "none",
            self._shown(self.within),
        )
        return "| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |"

    def _shown(self, value: float) -> str:
        percent = self.relative and bool(self.expected)
        return f"{value * 100:.2g} %" if percent else f"{value:.2g}"


def tidy(value: float) -> float:
    """A number without the noise of its last bits, so that 1e-17 prints as 0 on every machine.

    >>> tidy(-1e-17), tidy(0.25)
    (0.0, 0.25)
    """
    return 0.0 if abs(value) < NOISE else value


class Verify(Protocol):
    """Asserts that ``got`` lies within ``within`` of ``expected``, and records it with its source."""

    def __call__(
        self, what: str, *, got: float, expected: float, within: float, source: str, relative: bool = True
    ) -> None: ...


def verifier(module: str, record: Callable[[Check], None]) -> Verify:
    """The function behind the fixture: ``module`` is that of the test, ``record`` keeps a check."""

    def verify(
        what: str, *, got: float, expected: float, within: float, source: str, relative: bool = True
    ) -> None:
        __tracebackhide__ = True
        check = Check(
            module=module,
            what=what,
            source=source,
            expected=float(expected),
            got=float(got),
            within=within,
            relative=relative,
        )
        assert source.strip(), f"{what}: name the source"
        assert check.passes, (
            f"{what}: got {got!r}, expected {expected!r} ({source}); "
            f"apart by {check.difference:.3g}, allowed {within:g}{' relative' if relative else ''}"
        )
        record(check)

    return verify


def document(checks: Iterable[Check]) -> str:
    """The record as Markdown, in the same order whatever the order of the tests.

    Where a check was made more than once (a property over many cases), the worst one stands.
    """
    worst: dict[tuple[str, str, str], Check] = {}
    for check in checks:
        key = (check.module, check.what, check.source)
        if key not in worst or check.difference > worst[key].difference:
            worst[key] = check
    parts = [INTRODUCTION, f"Checks: {len(worst)}\n"]
    for module in sorted({key[0] for key in worst}):
        parts.append(f"## {module}\n")
        parts.append("| check | source | expected | got | difference | allowed |\n|---|---|---|---|---|---|")
        parts.append("\n".join(worst[key].row() for key in sorted(worst) if key[0] == module) + "\n")
    return "\n".join(parts)


class Ledger:
    """Pytest plugin: collects the checks of all processes and writes the record when all are there."""

    def __init__(self, target: Path = TARGET) -> None:
        self.target = target
        self.expected: set[str] = set()
        self.passed: set[str] = set()
        self.checks: list[Check] = []
        self.whole = True

    def pytest_itemcollected(self, item: pytest.Item) -> None:
        """Note every test that verifies, also one that is deselected later."""
        if "verify" in getattr(item, "fixturenames", ()):
            self.expected.add(item.nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Take a passed test's checks; under xdist they arrive here from the workers."""
        if report.when == "call" and report.passed:
            self.passed.add(report.nodeid)
            self.checks += [Check(**value) for name, value in report.user_properties if name == PROPERTY]

    @pytest.hookimpl(optionalhook=True)
    def pytest_testnodedown(self, node: object, error: object) -> None:
        """Learn from a worker which tests verify; one that broke down told nothing."""
        told = getattr(node, "workeroutput", {}).get(PROPERTY)
        self.whole = self.whole and told is not None and not error
        self.expected.update(told or ())

    @pytest.hookimpl(trylast=True)
    def pytest_sessionfinish(self, session: pytest.Session, exitstatus: int) -> None:
        """Write the record, if the whole suite was asked for and every verifying test passed."""
        output = getattr(session.config, "workeroutput", None)
        if output is not None:
            output[PROPERTY] = sorted(self.expected)
            return
        asked_for_all = session.config.args_source is pytest.Config.ArgsSource.TESTPATHS
        complete = self.whole and asked_for_all and exitstatus in (0, 1)
        if complete and self.checks and self.expected <= self.passed:
            self.write()

    def write(self) -> None:
        """Write the record if it says something else than the one that is there."""
        text = document(self.checks)
        if not self.target.exists() or self.target.read_text(encoding="utf-8") != text:
            aside = self.target.with_suffix(".md.new")
            aside.write_text(text, encoding="utf-8")
            aside.replace(self.target)


def as_property(check: Check) -> tuple[str, dict[str, object]]:
    """A check in the form in which a test report carries it between processes."""
    return PROPERTY, asdict(check)
