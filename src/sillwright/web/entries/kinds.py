"""What kinds of entries there are, and who takes each in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from sillwright.web.accounts.models import User


@dataclass(frozen=True)
class Sender:
    """Who sends entries, and the request they come with."""

    user: User
    request: str = ""


class NotNow(Exception):
    """An entry that cannot be kept yet: what it rests on is not here. It may be sent again as it is."""


Take = Callable[[Sender, Mapping[str, Any]], str]
"""Keeps one entry and answers with a note for its author, mostly empty.

Raises ``Refused``, ``NotNow``, ``Http404``, ``PermissionDenied`` or pydantic's ``ValidationError``.
"""


def kinds() -> Mapping[str, Take]:
    """The kinds of entries, by the word that an entry says for itself."""
    from sillwright.web.entries import moves, observations, openings, questions, remarks

    return {
        "move": moves.take,
        "observation": observations.take,
        "opening": openings.take,
        "question": questions.take,
        "remark": remarks.take,
    }
