"""What is asked and said of orders, shape by shape."""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from pydantic import BaseModel, Field

from sillwright.takeoff.ordering.warranty import TITLES
from sillwright.web.api.operations.quotes import LineTold
from sillwright.web.api.paging import Page
from sillwright.web.api.reading import Asked, Words

Typed = Annotated[Words, Field(max_length=200)]
Origin = Literal["measured", "photo", "told", "assumed"]


class NewOrder(Asked):
    """An order to make without a quote."""

    title: Words
    to: Words = Field("", description="The maker, line by line.")
    lines: list[LineTold] = Field(min_length=1)


class OrderChange(Asked):
    """What is to be different; what is left out stays."""

    title: Words | None = None
    to: Words | None = None
    lines: list[LineTold] | None = Field(None, min_length=1)


class NewRelease(Asked):
    """Who releases an order, and what of it was read."""

    seen: Words = Field(max_length=40, description="The mark of the order that was read.")
    by: Words = Field("", max_length=200, description="The name of the person; empty: yours.")


class NewAcknowledgement(Asked):
    """What the maker confirmed, as text: a table with headings, or lines of “name: value”."""

    text: Words = Field(examples=["tag: B2\nbody length: 10 ft 6 in"])


class AnswerTold(Asked):
    """What holds of a difference."""

    about: Words = Field(max_length=100, description="The id of the difference.")
    holds: Literal["ordered", "confirmed"]
    words: Words = Field("", max_length=500)


class NewAnswers(Asked):
    """Answers to differences of the newest acknowledgement."""

    acknowledgement: int
    answers: list[AnswerTold] = Field(min_length=1, max_length=500)


class NewGoods(Asked):
    """What was looked at on an edge that came, as typed, with units; empty where nobody looked."""

    hours: Typed = Field("", description="Hours since it came.")
    carton_whole: Literal["", "yes", "no"] = ""
    length: Typed = Field("", examples=["10 ft 6 in"])
    lead_length: Typed = ""
    wires: Typed = ""
    rest: Typed = Field("", examples=["9.9 kohm"], description="Ohms at rest, or: open.")
    pressed: Typed = ""
    strips: Typed = ""
    end: Literal["", "left", "right", "both"] = ""
    profile: Typed = ""
    photo: UUID | None = Field(None, description="A photo of the same opening.")
    carried_at: Typed = ""
    room: Typed = ""
    rested: Typed = ""
    off_flat: Typed = ""


class FactTold(Asked):
    """A fact of a claim, as typed, and where it comes from. ``yes`` and ``no``; a photo by its id."""

    typed: Typed
    origin: Origin = Field("measured", alias="from")


class NewClaim(Asked):
    """What is known of an edge that failed."""

    words: Words = Field("", max_length=1000)
    facts: dict[str, FactTold] = Field(json_schema_extra={"propertyNames": {"enum": list(TITLES)}})


class OrderListed(BaseModel):
    """An order in a list."""

    id: UUID
    site: UUID
    quote: UUID | None
    number: str
    title: str
    state: Literal["draft", "released"]
    catalogue: int = Field(description="Version of the catalogue that it goes by.")
    revision: int
    made: datetime


class AnswerSaid(BaseModel):
    """What holds, who says so, and when."""

    holds: str
    words: str
    by: str
    on: date


class DifferenceSaid(BaseModel):
    """Something in which the acknowledgement is not the order, or does not say that it is."""

    id: str
    kind: str
    line: str
    text: str
    answer: AnswerSaid | None


class BesideSaid(BaseModel):
    """The newest acknowledgement beside the order."""

    acknowledgement: int
    at: datetime
    settled: bool
    differences: list[DifferenceSaid]
    agreed: dict[str, Any] | None = Field(
        description="The order as agreed: lines as they are built, and whose values hold; null while one is open."
    )


class OrderSaid(OrderListed):
    """An order, and everything its maker needs."""

    to: str
    entered: list[dict[str, Any]] = Field(description="What was chosen, opening by opening.")
    mark: str = Field(description="Send it along as “seen” to release it.")
    gone: list[str] = Field(description="What was chosen and is no longer there.")
    order: dict[str, Any] = Field(description="In the format sillwright-order/1.")
    beside: BesideSaid | None


class Orders(Page[OrderListed]):
    """Orders, oldest first."""


class NoteSaid(BaseModel):
    """What was kept of a line, and what it comes to."""

    id: int
    line: int
    kind: Literal["goods_in", "claim"]
    at: datetime
    found: dict[str, Any] = Field(description="Findings of what came, or where the evidence of a claim points.")
