"""A site of which enough is known to order for it; quotes and orders made from it. All of it is invented."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.utils import timezone

from sillwright.base.words import Reader, Sentence
from sillwright.catalogue import demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.survey.reading import survey_of
from sillwright.takeoff.ordering.alternatives import Alternative
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.money import PricedLine
from sillwright.takeoff.ordering.quote import draft as states_draft
from sillwright.takeoff.ordering.states import send as states_send
from sillwright.web.orders.alternatives import about_from, alternatives_from
from sillwright.web.orders.catalogues import bring, newest_of, read
from sillwright.web.orders.chosen import chosen_from
from sillwright.web.orders.kept import packed
from sillwright.web.orders.models import CatalogueVersion, Order, OrderNote, Quote, QuoteStep
from sillwright.web.orders.orders import lines_now, make_order, release_order
from sillwright.web.orders.quotes import make_quote, send, step, worked_out
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.sites import share, take_in

from .conftest import World

READER = Reader(units="us", country="US")
DOOR = """
  - tag: {tag}
    name: {name}
    door:
      kind: sectional
      occupancy: commercial
      clear_width: {{value: {clear}, from: measured, by: technician, on: 2026-03-04}}
      clear_height: {{value: 10 ft, from: measured, by: technician, on: 2026-03-04}}
      panel_width: {{value: {width}, from: measured, by: technician, on: 2026-03-04}}
      leaf_mass: {{value: 310 kg, from: plate}}
      mounted: inside
      side_room: {{left: 20 in, right: 20 in}}
      closing_speed: {{value: 6 in/s, from: measured, by: technician, on: 2026-03-04}}
      bottom: {bottom}
    operator:
      kind: jackshaft
      side: right
      reaction: 60 ms
      deceleration: 2 m/s^2
      closing_control: momentary
      station_in_view: true
      inputs: [{{name: edge, circuit: resistor, resistance: 10 kohm}}]
    protection:
      - {{id: e1, kind: sensing_edge, circuit: resistor, resistance: 10 kohm, wires: 2}}
    use: {{children: false, public: false}}
    surroundings: {{wash_down: "no", classified_area: none}}
    floor: {{wet: false, read_as: heights, points: [[0 in, 0 in], [5 ft, 0 in], [10 ft 4 in, 0 in]]}}
    lead: {{end: right, exit: end, from_end: 0 in, length: 3 ft, fin: outside{confirmed}}}
    box: {{side: right, height: 5 ft, offset: 1 ft}}
    cord: {{retracted: 3 ft, conductors: 2}}
"""
CONFIRMED = ", confirmed: {by: advisor, on: 2026-03-05}"
BOTTOM = "{seat_width: 2 in, condition: sound, channel: T-slot}"
SURVEY = """
format: sillwright-survey/1
site: {name: Invented Quay, country: US, coldest: 20 degF, hottest: 95 degF, units: us}
openings:
""" + "".join(
    DOOR.format(tag=tag, name=name, clear=clear, width=width, bottom=BOTTOM, confirmed=confirmed)
    for tag, name, clear, width, confirmed in (
        ("W1", "North bay", "10 ft 4 in", "10 ft 6 in", CONFIRMED),
        ("W2", "South bay", "10 ft 4 in", "10 ft 6 in", ""),
        ("W3", "Yard", "9 ft 4-1/2 in", "9 ft 6-1/2 in", CONFIRMED),
    )
)


def quay(world: World) -> Site:
    """A site of three doors: of W1 and W3 everything is known, of W2 nobody has confirmed the lead."""
    owner = world.people["owner"]
    site = take_in(world.dealer, survey_of(SURVEY.encode(), "quay"), author=owner)
    share(site, world.other, "read", author=owner)
    return site


def with_catalogue(world: World) -> CatalogueVersion:
    """The invented catalogue, brought by the site's organisation."""
    return newest_of(world.dealer) or bring(world.dealer, demo(), world.people["owner"])


def line(opening: Opening, profile: str = "Edge class B", **more: Any) -> dict[str, Any]:
    """What was chosen for an opening."""
    told = {"circuit": "resistor", "end_element": "10 kohm", "work": ["edge_factory_sealed"]}
    return {"opening": str(opening.pk), "profile": profile, **told, **more}


def quote_of(world: World, site: Site, *tags: str, profile: str = "Edge class B", **more: Any) -> Quote:
    """A draft for some doors of a site, all of them where none is named; with two alternatives."""
    version, owner = with_catalogue(world), world.people["owner"]
    doors = [each for each in site.openings.order_by("position") if not tags or each.tag in tags]
    told = [
        {"name": name, "discount": off, "leaves_open": ["The eye stays as it is."], "trips": 1,
         "lines": [line(each, of) for each in doors]}
        for name, of, off in (("Common edge", profile, "0"), ("Tall edge", "Edge class C", "5"))
    ]  # fmt: skip
    about = about_from({"title": "Edges at the quay", **more}, READER, timezone.localdate())
    offered = alternatives_from(told, site.openings.all(), read(version), READER)
    return make_quote(site, about, offered, version, by=owner)


def sent(world: World, quote: Quote) -> Quote:
    """The same, sent by the owner."""
    seen = worked_out(quote, READER).mark
    told: dict[str, Any] = {
        "keeps_prices": False,
        "on": timezone.localdate(),
        "name": "Owner",
        "by": world.people["owner"],
    }
    return send(quote, READER, seen=seen, **told)


def accepted(world: World, quote: Quote, alternative: str = "Common edge") -> Quote:
    """The same, accepted by its customer."""
    told: dict[str, Any] = {
        "on": timezone.localdate(),
        "name": "N. Berg, facility manager",
        "by": world.people["owner"],
    }
    return step(quote, "accepted", alternative=alternative, **told)


def order_for(world: World, site: Site, *tags: str, **more: Any) -> Order:
    """An order for some doors of a site that is not released yet."""
    version = with_catalogue(world)
    doors = [each for each in site.openings.order_by("position") if each.tag in tags]
    lines = [{**chosen_from(line(each, **more), "", read(version), READER)[0].as_json()} for each in doors]
    return make_order(site, "Edges at the quay", lines, version, by=world.people["owner"])


def released(world: World, order: Order) -> Order:
    """The same, released by the owner."""
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "Owner", "by": world.people["owner"]}
    return release_order(order, READER, seen=lines_now(order).mark, **told)


CATALOGUE = """
format: sillwright-catalogue/1
name: Invented in a few lines
invented: true
currency: USD
priced_on: 2026-01-05
"""


def bare_catalogue(world: World) -> CatalogueVersion:
    """A catalogue with nothing in it."""
    catalogue = catalogue_of(CATALOGUE.encode(), "bare")
    return newest_of(world.dealer) or bring(world.dealer, catalogue, world.people["owner"])


def bare_quote(world: World, site: Site) -> Quote:
    """A quote that went out, with one line that no take-off made: quick to make and to read."""
    owner, version, today = world.people["owner"], bare_catalogue(world), timezone.localdate()
    about = about_from({"title": "Bare"}, READER, today)
    made = make_quote(site, about, [], version, by=owner)
    priced = PricedLine(what=Sentence("{words}", {"words": "Work"}), quantity=Decimal(2), price=Decimal(50))
    offer = Alternative(name="Only one", lines=(priced,), leaves_open=(Sentence("Nothing known."),))
    draft = states_draft(
        "Q-0001", "Bare", (offer,), read(version), on=today, by="Owner", valid_until=made.valid_until
    )
    frozen = {"quote": packed(states_send(draft, on=today, by="Owner")), "offered": []}
    QuoteStep.objects.create(quote=made, state="sent", on=today, name="Owner", frozen=frozen, by=owner)
    Quote.objects.filter(pk=made.pk).update(state="sent")
    return Quote.objects.get(pk=made.pk)


def bare_order(world: World, site: Site) -> Order:
    """An order without a line that is not released."""
    return make_order(site, "Bare", [], bare_catalogue(world), by=world.people["owner"])


def bare_line(**more: Any) -> OrderLine:
    """A line of an order of which little is known."""
    nothing = dict.fromkeys(
        ("construction", "word", "length", "body", "sensing", "to_buy", "end", "exit", "from_end", "lead_length",
         "fin", "circuit", "wires", "end_element", "ship")
    )  # fmt: skip
    told: dict[str, Any] = {
        "number": 1,
        "tag": "bare",
        "place": "bottom",
        "profile": "",
        "quantity": 1,
        "units": "us",
    }
    return OrderLine(**{**told, "pieces": 1, "channel": "", "channel_pieces": (), **nothing, **more})


def bare_released(world: World, opening: Opening) -> Order:
    """An order that was released with one line, without its sheet: quick to make and to read."""
    row, owner = bare_order(world, opening.site), world.people["owner"]
    line = bare_line(released_by="Owner", released_on=timezone.localdate())
    told = {"lines": [packed(line)], "openings": [str(opening.pk)]}
    OrderNote.objects.create(order=row, kind="release", told=told, by=owner)
    Order.objects.filter(pk=row.pk).update(state="released")
    return Order.objects.get(pk=row.pk)
