"""What is compiled on first use is compiled beside the server, and by nobody who waits for a page."""

from __future__ import annotations

import time

import pytest

from sillwright.study import warming as kernels_of
from sillwright.web.serving import warming as serving


def test_it_compiles_after_a_while_one_kernel_after_the_other(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[int] = []
    monkeypatch.setattr(kernels_of, "kernels", lambda: iter([lambda: done.append(1), lambda: done.append(2)]))
    assert serving.warm(0.0, lambda: True)
    assert done == [1, 2]


def test_it_stops_where_the_server_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[int] = []
    there = iter([True, True, False])
    monkeypatch.setattr(kernels_of, "kernels", lambda: iter([lambda: done.append(1)] * 5))
    assert not serving.warm(0.0, lambda: next(there))
    assert done == [1, 1]
    assert not serving.warm(60.0, lambda: False)


def test_the_process_ends_with_the_block() -> None:
    began = time.monotonic()
    with serving.warming(after=600) as beside:
        assert beside.poll() is None
    assert beside.returncode is not None
    assert time.monotonic() - began < serving.ENDING


def test_every_compiled_function_of_cut_lists_is_asked_for() -> None:
    numba = pytest.importorskip("numba.core.registry")
    from sillwright.takeoff.cutting import columns_kernel, kernel, search_kernel

    for each in kernels_of.kernels():
        each()
    left = [
        f"{module.__name__}.{name}"
        for module in (kernel, columns_kernel, search_kernel)
        for name, found in vars(module).items()
        if isinstance(found, numba.CPUDispatcher) and found.py_func.__module__ == module.__name__
        if not found.stats.cache_hits and not found.signatures and name in PUBLIC
    ]
    assert left == []


PUBLIC = ("greedy", "uneven", "pack", "repair", "search")
"""The functions that are called from plain Python; what they call is compiled with them."""
