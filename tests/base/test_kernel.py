"""Compiling where nothing can be kept."""

from __future__ import annotations

import numba
import pytest

from sillwright.base import kernel


def test_a_kernel_that_cannot_be_kept_on_disk_is_made_anyway(monkeypatch: pytest.MonkeyPatch) -> None:
    def plain() -> None:
        """What is to be compiled."""

    asked: list[dict[str, object]] = []

    def refusing(plain: object, **options: object) -> object:
        asked.append(options)
        if options.get("cache"):
            raise RuntimeError("no locator available")
        return plain

    monkeypatch.setattr(numba, "njit", refusing)
    assert kernel.compiled(plain) is plain
    assert len(asked) == 2
