"""What is drawn on a copy of a photo: lines, rings, arrows, words, lengths; as shares of its width and height."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _

from sillwright.web.records.log import Refused
from sillwright.web.records.text import unkept

KINDS = ("line", "ring", "arrow", "words", "measure")
PLACES = ("x1", "y1", "x2", "y2")
WORDS = {"words": 200, "typed": 60}  # signs at most; what was typed of a measure is a length with its unit
MOST = 200


def checked_marks(marks: Sequence[Any]) -> list[dict[str, Any]]:
    """The marks, where each can be kept as it is. Raises :class:`Refused` with the reason and which one it is."""
    if len(marks) > MOST:
        raise Refused(_("A photo carries at most %(most)d marks.") % {"most": MOST})
    return [_checked(number, each) for number, each in enumerate(marks, 1)]


def _checked(number: int, mark: Any) -> dict[str, Any]:
    if not isinstance(mark, Mapping) or mark.get("kind") not in KINDS:
        kinds = ", ".join(KINDS)
        raise Refused(_("Mark %(number)d: “kind” is one of %(kinds)s.") % {"number": number, "kinds": kinds})
    if not set(mark) <= {"kind", *PLACES, *WORDS}:
        raise Refused(_("Mark %(number)d: it says something that no mark says.") % {"number": number})
    if not all(is_share(mark.get(name)) for name in PLACES):
        raise Refused(_("Mark %(number)d: x1, y1, x2 and y2 are numbers from 0 to 1.") % {"number": number})
    for name, most in WORDS.items():
        words = mark.get(name, "")
        if not isinstance(words, str) or len(words) > most or unkept(words):
            told = {"number": number, "name": name, "most": most}
            raise Refused(_("Mark %(number)d: “%(name)s” is text of at most %(most)d signs.") % told)
    return dict(mark)


def is_share(value: Any) -> bool:
    """Whether a value is a number from 0 to 1."""
    number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return number and math.isfinite(value) and 0 <= value <= 1
