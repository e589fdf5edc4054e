"""Which zone of a gate lies beneath its leaf: the survey knows zones by the words of whoever took them down."""

from __future__ import annotations

import re
from typing import Any

from sillwright.duty.evidence import Judged
from sillwright.survey.zone_place import BENEATH

SAYS_BENEATH = re.compile(BENEATH, re.IGNORECASE | re.ASCII)


def underneath(zone: Any) -> Judged:
    """Whether a zone lies beneath the leaf, by its place; open where its place is not known."""
    place = getattr(zone, "place", None)
    if place is None:  # a zone that nobody has taken down
        return Judged(None, (zone.path,))
    told = [str(each) for each in ((place.value,) if place.known else place.rivals) if each is not None]
    found = {bool(SAYS_BENEATH.search(each)) for each in told}
    return Judged(found.pop()) if len(found) == 1 else Judged(None, (place.path,))
