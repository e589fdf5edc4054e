"""Who sees kept calls and substitute parts: whoever may read the site they are of."""

from __future__ import annotations

from typing import Any

from sillwright.web.records.seen import Seen


class CallSet(Seen[Any]):
    """Kept calls."""


class SubstituteSet(Seen[Any]):
    """Substitute parts."""
