"""The record of outside checks: what it keeps, in which order, and what it refuses."""

from __future__ import annotations

import pytest

from ..verification import Check, Ledger, document, verifier


def check(what: str = "speed", got: float = 1.0, module: str = "tests/a.py", **others: object) -> Check:
    given = {"source": "a book", "expected": 1.0, "within": 0.1, "relative": True, **others}
    return Check(module=module, what=what, got=got, **given)  # type: ignore[arg-type]


def test_the_order_does_not_depend_on_the_order_of_the_tests():
    some = [check("b"), check("a"), check("c", module="tests/0.py")]
    assert document(some) == document(reversed(some))
    assert document(some).index("tests/0.py") < document(some).index("tests/a.py")


def test_of_a_check_made_often_the_worst_stands():
    text = document([check(got=1.0), check(got=1.05), check(got=1.01)])
    assert "| speed | a book | 1 | 1.05 | 5 % | 10 % |" in text
    assert "Checks: 1" in text


def test_a_bar_in_a_source_does_not_break_the_table():
    assert "a \\| b" in document([check(source="a | b")])


@pytest.mark.parametrize("got", [1.2, float("nan"), float("inf")])
def test_a_number_too_far_off_fails_and_is_not_kept(got):
    kept: list[Check] = []
    with pytest.raises(AssertionError, match="speed: got"):
        verifier("tests/a.py", kept.append)("speed", got=got, expected=1, within=0.1, source="a book")
    assert kept == []


def test_a_check_without_a_source_fails():
    with pytest.raises(AssertionError, match="name the source"):
        verifier("tests/a.py", print)("speed", got=1, expected=1, within=0.1, source=" ")


def test_zero_is_compared_absolutely():
    assert check(expected=0.0, got=0.05).passes
    assert not check(expected=0.0, got=0.2).passes


def test_the_record_is_written_only_when_it_changed(tmp_path):
    ledger = Ledger(tmp_path / "verification.md")
    ledger.checks = [check()]
    ledger.write()
    first = ledger.target.stat().st_mtime_ns
    ledger.write()
    assert ledger.target.stat().st_mtime_ns == first
    assert [path.name for path in tmp_path.iterdir()] == ["verification.md"]
