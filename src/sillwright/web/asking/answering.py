"""What an answer sends, from a person who is signed in or from the holder of a link; and the form it comes from."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils import timezone
from django.utils.dates import MONTHS

from sillwright.web.records.models import LONGEST_TYPED
from sillwright.web.records.questions import AT_A_WORD, LONGEST, Answered
from sillwright.web.taking.cards import Card
from sillwright.web.taking.saying import device_of, fields_of, said_in, shown_again, typed_in
from sillwright.web.taking.words import ORIGINS, Text

USUAL = "told"


def answered(request: HttpRequest, fact: str) -> Answered:
    """The answer of a form. Raises :class:`Refused` where it cannot be read."""
    said = said_in({**fields_of(request), "fact": fact}, device_of(request))
    return Answered(
        id=said.id,
        says=said.says,
        typed=said.typed,
        origin=said.origin,
        by=said.by,
        on=said.on,
        device=said.device,
        known=request.POST.get("known", "").strip(),
    )


@dataclass(frozen=True, kw_only=True)
class Form:
    """A form for an answer: of the fact's card only what asks, nothing of what stands there."""

    card: Card
    key: uuid.UUID  # of the observation that the answer becomes
    origins: tuple[tuple[str, Text], ...]
    origin: str
    name: str  # of who answers
    own: bool  # whether another one can be named, with the day
    today: str
    typed: str = ""
    known: str = ""
    why: str = ""  # it was not kept

    @property
    def months(self) -> Any:
        """The months by name."""
        return MONTHS.values()

    @property
    def longest(self) -> int:
        """Signs that fit into how it is known."""
        return LONGEST["known"]


def form_of(request: HttpRequest, card: Card, name: str, *, writes: bool, why: str = "") -> Form:
    """The form, with what was typed into it where it was not kept."""
    sent = request.POST if why else {}
    origins = tuple(each for each in ORIGINS.items() if writes or each[0] in AT_A_WORD)
    origin = str(sent.get("origin", ""))
    fields = {name: str(value) for name, value in sent.items()}
    return Form(
        card=card,
        key=uuid.uuid4(),
        origins=origins,
        origin=origin if origin in dict(origins) else USUAL,
        name=name,
        own=writes,
        today=timezone.localdate().isoformat(),
        typed=shown_again(typed_in({**fields, "fact": card.path}))[:LONGEST_TYPED] if sent else "",
        known=shown_again(fields.get("known", ""))[: LONGEST["known"]],
        why=why,
    )
