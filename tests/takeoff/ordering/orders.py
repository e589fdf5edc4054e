"""Take-offs, a catalogue and order lines made by hand; every name and price is invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

from sillwright.base.quantity import parse
from sillwright.base.words import ENGLISH, Reader, Sentence, render
from sillwright.catalogue import Catalogue, Profile
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.parts import Channel, CoiledCord, JunctionBox, Rate, Work
from sillwright.catalogue.profile import Ends, Price
from sillwright.takeoff.answer import (
    Body,
    Changes,
    ChannelAdvice,
    FloorFit,
    Lead,
    ProfileVerdict,
    TakeOff,
    Way,
)
from sillwright.takeoff.ordering import Alternative, Choice, OrderLine, PricedLine, order_lines
from sillwright.takeoff.ordering.quote import Quote, draft

METRIC = Reader(units="metric", country="DE")
DAY = date(2026, 3, 4)
COMMON = Profile(
    name="Invented common",
    construction="factory_sealed",
    height=0.0445,
    actuation_travel=0.0048,
    ends=Ends(lead=0.0381, far=0.0254),
    greatest=7.3152,
    greatest_straight=5.4864,
    circuits=("resistor", "four_wire"),
    end_elements=(10e3,),
    exits=("end", "back"),
    fin_side="outside",
    fin=0.019,
    channels=("Invented slide-in",),
    price=Price(each=40.0, per_metre=95.0),
)
CATALOGUE = Catalogue(
    format="sillwright-catalogue/1",
    name="Invented catalogue",
    invented=True,
    currency="USD",
    priced_on="2026-01-15",
    tax_percent=8.25,
    profiles=(COMMON,),
    channels=(Channel(name="Invented slide-in", fixing="slide_in", price=Price(per_metre=21.35)),),
    cords=(
        CoiledCord(name="Cord 2 ft, two", retracted=0.6096, extended=3.0, conductors=2, price=Price(each=61.0)),
        CoiledCord(name="Cord 2 ft, four", retracted=0.6096, extended=3.0, conductors=4),
    ),
    boxes=(JunctionBox(name="Box with glands", price=Price(each=28.5)),),
    work=(
        Work(what="fit and test an edge", hours=1.0, per_metre=0.05, persons=2),
        Work(what="lift", hours=1, persons=1),
    ),
    rates=(
        Rate(what="two persons", persons=2, price=235.0),
        Rate(what="trip", persons=0, price=120.0),
    ),
)
INPUT = OperatorInput(operator="Invented operator", name="edge", circuit="resistor", resistance=10e3)


def m(text: str) -> float:
    """A length as people write it, in metres."""
    return parse(text, "m")


def said(sentence: Any, reader: Reader = ENGLISH) -> str:
    """A sentence in words."""
    return render(Sentence("{it}", {"it": sentence}), reader)


def body(length: str | None = "10 ft 6 in", **changes: Any) -> Body:
    """A body of this length with dead ends of 1-1/2 in and 1 in."""
    metres = None if length is None else m(length)
    made = Body(
        place="bottom",
        rule="LEN-1",
        body=metres,
        sensing=None if metres is None else metres - m("2-1/2 in"),
        channel=metres,
        pieces=1,
        piece=metres,
        dead_left=0.0127,
        dead_right=0.0127,
        measured=("door.panel_width",),
        origin="measured",
        by="Ada",
        usual_mistake=None,
    )
    return replace(made, **changes)


LEAD = Lead(
    end="left",
    rule="SIDE-2",
    why=Sentence("The operator is on the left."),
    exit="back",
    from_end=m("2 in"),
    length=m("3 ft"),
    fin="outside",
    confirmed_by="Ada",
    confirmed_on="2026-03-01",
)


def take_off(*bodies: Body, lead: Lead = LEAD, **changes: Any) -> TakeOff:
    """A take-off in which nothing is open."""
    made = TakeOff(
        bodies=bodies or (body(),),
        lead=lead,
        way=Way(kind="cord", why=Sentence("A cord reaches."), part="Cord 2 ft, two", conductors=2, box_height=2.1),
        channel=ChannelAdvice(
            kind="slide_in", why=Sentence("There is room at the side."), part="Invented slide-in"
        ),
        changes=Changes(added_weight=1.2, added_height=0.02, window=None, window_strict=None, sentence=None),
        floor=FloorFit(
            unevenness=0.002, strip=None, slope=None, highest_at=None, cure="none", why=Sentence("Even.")
        ),
        profiles=(ProfileVerdict(name="Invented common", fits="fits", price=340.0, reasons=()),),
        blocked=(),
        findings=(),
    )
    return replace(made, **changes)


CHOICE = Choice(circuit="resistor", input=INPUT, box="Box with glands")


def lines(
    taken: TakeOff | None = None, choice: Choice = CHOICE, profile: Profile | None = COMMON
) -> tuple[OrderLine, ...]:
    """The order lines of a take-off at opening B2."""
    return order_lines("B2", taken or take_off(), profile, CATALOGUE, choice)


def line(**changes: Any) -> OrderLine:
    """The one line of opening B2, changed."""
    (made,) = lines()
    return replace(made, **changes)


def priced(price: str | None = "100.00", quantity: str = "1", **changes: Any) -> PricedLine:
    """A line of a quote."""
    amount = None if price is None else Decimal(price)
    return PricedLine(what=Sentence("an edge"), quantity=Decimal(quantity), price=amount, **changes)


def alternative(name: str = "edge only", *rows: PricedLine) -> Alternative:
    """An alternative that leaves the light beam open."""
    return Alternative(
        name=name, lines=rows or (priced(),), leaves_open=(Sentence("Nothing sees ahead of a touch."),)
    )


def quote(*alternatives: Alternative, until: date = date(2026, 4, 3), **changes: Any) -> Quote:
    """A draft of 4 March 2026 that holds until 3 April."""
    made = draft(
        "Q-17",
        "Invented yard, bay 2",
        alternatives or (alternative(),),
        CATALOGUE,
        on=DAY,
        by="Ada",
        valid_until=until,
        exclusions=("Floor work",),
        terms="Payment in 30 days.",
    )
    return replace(made, **changes)
