"""How often one person may ask for what keeps the server busy."""

from __future__ import annotations

import time

from django.core.cache import caches
from django.http import HttpRequest

WINDOW = 60  # seconds


def one_too_many(request: HttpRequest, what: str, most: int) -> bool:
    """Whether this is one more than ``most`` of the person's in this minute; counted in this process's memory."""
    near, name = caches["near"], f"{what}-{request.user.pk}-{int(time.time()) // WINDOW}"
    near.add(name, 0, 2 * WINDOW)
    try:
        return bool(near.incr(name) > most)
    except ValueError:  # thrown out by a crowd of other names just now
        return False
