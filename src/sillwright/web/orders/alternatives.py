"""What somebody enters for a quote: the quote as a whole, and each alternative of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.catalogue import Catalogue
from sillwright.takeoff.ordering.alternatives import MOST_ALTERNATIVES
from sillwright.takeoff.ordering.quote import LONGEST_TEXT
from sillwright.web.orders.chosen import chosen_from, openings_for
from sillwright.web.orders.entered import Entries
from sillwright.web.records.models import Opening

HOLDS = timedelta(days=30)
"""How long an offer holds, unless another day is entered."""
MOST_TRIPS = 99


def about_from(told: Mapping[str, Any], reader: Reader, today: date) -> dict[str, Any]:
    """What was entered for a quote as a whole, as it is kept. Raises :class:`DocumentError`."""
    said = Entries(told, "", reader)
    found: dict[str, Any] = {
        "title": said.name("title"),
        "to": said.text("to", 1000),
        "words": said.text("words", 4000),
        "exclusions": said.lines("exclusions"),
        "terms": said.text("terms", LONGEST_TEXT),
        "valid_until": said.day("valid_until", default=today + HOLDS),
        "ask_again_on": said.day("ask_again_on"),
    }
    if found["valid_until"] < today:
        said.wrong("valid_until", _("This day is over."), _("today or later"))
    said.refuse()
    return {**found, **{name: _text(found[name]) for name in ("valid_until", "ask_again_on")}}


def _text(day: date | None) -> str:
    return day.isoformat() if day else ""


def alternative_from(
    told: Mapping[str, Any],
    openings: Iterable[Opening],
    catalogue: Catalogue,
    reader: Reader,
    *,
    place: str = "",
    others: Sequence[str] = (),
) -> dict[str, Any]:
    """What was entered for one alternative, as it is kept. ``others`` are the names of the other ones.

    Raises :class:`DocumentError`.
    """
    said = Entries(told, place, reader)
    name = said.name("name")
    if name.casefold() in {each.casefold() for each in others}:
        said.wrong("name", _("Another alternative has this name; call them differently."))
    chosen = []
    for at, each in enumerate(told.get("lines") or ()):
        one, found = chosen_from(each, f"{place}lines[{at}].", catalogue, reader)
        chosen.append(one)
        said.mistakes += found.mistakes
    openings_for(openings, chosen, said)
    for at, one in enumerate(chosen):
        if one.no_edge and not one.devices and not one.work:
            nothing = _("Neither an edge nor anything else is offered for this opening.")
            said.wrong(f"lines[{at}].no_edge", nothing, _("choose a device or work, or offer the edge"))
    if not chosen:
        said.wrong("lines", _("Nothing is offered yet."), _("choose an opening at least"))
    made = {
        "name": name,
        "words": said.text("words", 1000),
        "discount": said.percent("discount"),
        "leaves_open": said.lines("leaves_open"),
        "trips": said.count("trips", 0, MOST_TRIPS, 0),
        "lines": [each.as_json() for each in chosen],
    }
    said.refuse()
    return made


def alternatives_from(
    told: Sequence[Mapping[str, Any]], openings: Iterable[Opening], catalogue: Catalogue, reader: Reader
) -> list[dict[str, Any]]:
    """All alternatives of a quote, as they are kept. Raises :class:`DocumentError`."""
    said, there = Entries({}, "", reader), list(openings)
    if not 1 <= len(told) <= MOST_ALTERNATIVES:
        wanted = _("from 1 to %(most)d") % {"most": MOST_ALTERNATIVES}
        said.wrong("alternatives", _("This many alternatives are not offered in one quote."), wanted)
        said.refuse()
    found: list[dict[str, Any]] = []
    for at, each in enumerate(told):
        names = [other["name"] for other in found]
        found.append(alternative_from(each, there, catalogue, reader, place=f"alternatives[{at}].", others=names))
    return found
