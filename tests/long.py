"""How much is compared: enough for every change, and much more with ``make test-long``."""

from __future__ import annotations

import os

LONG = bool(os.environ.get("SILLWRIGHT_LONG"))


def cases(each_change: int, long: int) -> int:
    """How many cases are compared in this run."""
    return long if LONG else each_change
