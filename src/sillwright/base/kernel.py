"""Compiling the hot loops of kernels. Only modules named for kernels import this: it loads the compiler."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar

import numba

P = ParamSpec("P")
R = TypeVar("R")

OPTIONS: dict[str, Any] = {"nogil": True, "error_model": "numpy"}


def compiled(plain: Callable[P, R], *, parallel: bool = False) -> Callable[P, R]:
    """A function compiled on its first call, and kept on disk where that is possible."""
    try:
        made: Callable[P, R] = numba.njit(plain, cache=True, parallel=parallel, **OPTIONS)
    except RuntimeError:  # "no locator available": neither the package nor the home folder can be written
        made = numba.njit(plain, parallel=parallel, **OPTIONS)
    return made
