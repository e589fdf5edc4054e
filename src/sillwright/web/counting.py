"""How often something is asked for in a minute, counted in the memory of this process.

Not in the database: a flood of strangers must not slow down the people who write there. A server of several
processes lets through that many times as many, which is enough for what the limits are for.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

from django.core.cache import caches

MINUTE = 60  # seconds


@dataclass(frozen=True)
class Counted:
    """How often it was asked for in this minute, this time included, and in how many seconds the minute ends."""

    used: int
    resets: int


def counted(name: str, weight: int = 1) -> Counted:
    """Count one more of ``name``; what keeps the server busy for long weighs more than 1."""
    minute, second = divmod(int(time.time()), MINUTE)
    key, near = f"{name} {minute}".replace(" ", "-"), caches["near"]
    near.add(key, 0, 2 * MINUTE)
    try:
        used = int(near.incr(key, weight))
    except ValueError:  # thrown out by a crowd of other names just now
        used = weight
    return Counted(used, MINUTE - second)
