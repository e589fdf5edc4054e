"""Invented profiles, and a leaf of which everything is known, to hold them against."""

from __future__ import annotations

from math import radians
from typing import Any

from sillwright.base.words import Reader, render
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import ConverterKind
from sillwright.catalogue.profile import CurveAt, Ends, Price, Profile
from sillwright.takeoff.answer import ProfileVerdict
from sillwright.takeoff.choosing.profiles import profiles
from tests.survey.building import survey_of

INCH = 0.0254
READER = Reader()


def made(name: str, **more: Any) -> Profile:
    """A tall profile, invented: answers after 3/16 in; at 1-5/16 in it takes 120 N, at 1-1/2 in 680 N."""
    facts: dict[str, Any] = {
        "construction": "factory_sealed",
        "material": "epdm",
        "height": 2.75 * INCH,
        "seat": 1.5 * INCH,
        "fin": 1.0 * INCH,
        "fin_side": "outside",
        "actuation_travel": INCH * 3 / 16,
        "curves": (
            CurveAt(
                temperature=295.0, curve=((0, 0), (INCH * 3 / 16, 40), (INCH * 21 / 16, 120), (INCH * 1.5, 680))
            ),
        ),
        "answers_sideways": radians(45),
        "ends": Ends(lead=1.5 * INCH, far=1 * INCH),
        "weight_per_metre": 1.2,
        "greatest": 7.3,
        "circuits": ("plain", "resistor", "four_wire"),
        "end_elements": (8200.0, 10000.0),
        "environments": ("dry", "wet", "wash_down", "outside", "freezer"),
        "coldest": 240.0,
        "hottest": 360.0,
        "price": Price(each=40, per_metre=90),
    }
    return Profile(name=name, **{**facts, **more})


def catalogue(*found: Profile, converters: tuple[ConverterKind, ...] = ()) -> Catalogue:
    return Catalogue(
        format="sillwright-catalogue/1",
        name="Invented for tests",
        currency="USD",
        priced_on="2026-01-05",
        profiles=found,
        converters=converters,
    )


KNOWN: dict[str, Any] = {
    "site.coldest": "20 degF",
    "site.hottest": "95 degF",
    "door.closing_speed": "6 in/s",
    "door.mounted": "inside",
    "door.bottom.seat_width": "2 in",
    "operator.reaction": "60 ms",
    "operator.deceleration": "2 m/s^2",
    "operator.inputs": [{"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}],
    "use.children": False,
    "use.public": False,
    "surroundings.wash_down": "no",
    "surroundings.classified_area": "none",
    "floor.wet": False,
}


def judged(
    *found: Profile,
    uneven: float | None = 0.0,
    length: float | None = 3.2004,
    converters: tuple[ConverterKind, ...] = (),
    without: str | None = None,
    **facts: Any,
) -> tuple[ProfileVerdict, ...]:
    """The verdicts on profiles at a leaf of which everything is known, but what is changed or left out."""
    told = {**KNOWN, **{name.replace("__", "."): value for name, value in facts.items()}}
    told = {path: value for path, value in told.items() if path != without}
    survey = survey_of(told)
    return profiles(
        survey.site,
        survey.openings[0],
        catalogue(*found, converters=converters),
        floor_unevenness=uneven,
        body_length=length,
    )


def verdict(profile: Profile | None = None, **facts: Any) -> ProfileVerdict:
    (found,) = judged(profile or made("P"), **facts)
    return found


def why(found: ProfileVerdict) -> str:
    return " ".join(render(each, READER) for each in found.reasons)


def besides(found: ProfileVerdict) -> str:
    return " ".join(render(each, READER) for each in found.remarks)
