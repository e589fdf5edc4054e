"""Every profile of a catalogue held against a leaf: which fit, which do not and why, and what nobody knows."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf, isfinite

from sillwright.base.units import Metre
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Fits, ProfileVerdict
from sillwright.takeoff.choosing.profile_make import ages, circuits, lengths, price, seat, stops, weight
from sillwright.takeoff.choosing.profile_rules import (
    Place,
    Said,
    assumed,
    environment,
    explosive,
    floor,
    hands,
    sideways,
    temperature,
    tilted,
)
from sillwright.takeoff.choosing.stopping import Stopping, stopping_of
from sillwright.takeoff.ways.wires import circuit_needed

Check = Callable[[Profile, Place], Iterator[Said]]

CHECKS: tuple[Check, ...] = (
    explosive,
    circuits,
    environment,
    temperature,
    stops,
    floor,
    tilted,
    hands,
    sideways,
    seat,
    lengths,
    weight,
    assumed,
    ages,
)
_ORDER: tuple[Fits, ...] = ("fits", "not known", "does not fit")


def profiles(
    site: Site,
    opening: Opening,
    catalogue: Catalogue,
    *,
    floor_unevenness: Metre | None,
    stopping: Stopping | None = None,
    circuit: str | None = None,
    body_length: Metre | None = None,
) -> tuple[ProfileVerdict, ...]:
    """The profiles of a catalogue: those that fit by price, those of which something is not known, and the rest.

    ``stopping`` and ``circuit`` are taken from the opening's facts where they are not given. A fact that is
    missing, told in two ways or only assumed makes a profile *not known* wherever it could speak against it: an
    unknown never counts as fitting. Where no force limit is law a short stop speaks against none; each says it.

    Source: trade rules of thumb (PRO-1 to PRO-14), from memory.
    """
    place = Place(
        site=site,
        opening=opening,
        catalogue=catalogue,
        unevenness=_told(floor_unevenness),
        stopping=stopping or stopping_of(opening),
        circuit=circuit or circuit_needed(opening),
        body_length=_told(body_length) or None,
    )
    return tuple(sorted((_verdict(each, place) for each in catalogue.profiles), key=_rank))


def _told(length: Metre | None) -> Metre | None:
    """A length that can be one; anything else is as if nobody had told it."""
    return length if length is not None and isfinite(length) and length >= 0 else None


def _verdict(profile: Profile, place: Place) -> ProfileVerdict:
    said = [each for check in CHECKS for each in check(profile, place)]
    no, unknown, more = (
        tuple(each.what for each in said if each.how == how) for how in ("against", "open", "remark")
    )
    fits: Fits = "does not fit" if no else "not known" if unknown else "fits"
    return ProfileVerdict(
        name=profile.name, fits=fits, price=price(profile, place.body_length), reasons=(*no, *unknown), remarks=more
    )


def _rank(verdict: ProfileVerdict) -> tuple[int, float, str]:
    return _ORDER.index(verdict.fits), inf if verdict.price is None else verdict.price, verdict.name
