"""What is known of a site's openings for an order: facts, and the take-off by a version of the catalogue.

Both are kept in the memory of the process by what they are made from, so that a page that asks for forty openings
again and again works them out once. A mark is the digest of everything that goes in: nothing stale is ever found.
"""

from __future__ import annotations

import hashlib
import json
import threading
from collections import OrderedDict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from django.db.models import Q

from sillwright.catalogue import Catalogue
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.model import Site as SiteFacts
from sillwright.takeoff import take_off
from sillwright.takeoff.answer import ProfileVerdict, TakeOff
from sillwright.web.orders.catalogues import read
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.records.models import Fact, Opening, Site
from sillwright.web.records.surveys import survey_of

T = TypeVar("T")


class _Kept(Generic[T]):
    """The values that were asked for last, by their mark."""

    def __init__(self, most: int) -> None:
        self._most, self._lock = most, threading.Lock()
        self._values: OrderedDict[str, T] = OrderedDict()

    def get(self, mark: str) -> T | None:
        with self._lock:
            if mark in self._values:
                self._values.move_to_end(mark)
            return self._values.get(mark)

    def put(self, mark: str, value: T) -> T:
        with self._lock:
            self._values[mark] = value
            while len(self._values) > self._most:
                self._values.popitem(last=False)
        return value


_FACTS: _Kept[tuple[SiteFacts, OpeningFacts]] = _Kept(256)
_TAKEN: _Kept[TakeOff] = _Kept(1024)


@dataclass(frozen=True)
class Taken:
    """One opening: its tag, what is known of it, and what would be ordered for it."""

    key: str
    tag: str
    mark: str  # of everything that is known of it
    site: SiteFacts
    facts: OpeningFacts
    take_off: TakeOff

    @property
    def fitting(self) -> tuple[ProfileVerdict, ...]:
        """The profiles that fit, cheapest first; those without a price last."""
        return self._of("fits")

    @property
    def doubtful(self) -> tuple[ProfileVerdict, ...]:
        """The profiles of which it is not known whether they fit, cheapest first."""
        return self._of("not known")

    def _of(self, fits: str) -> tuple[ProfileVerdict, ...]:
        found = [each for each in self.take_off.profiles if each.fits == fits]
        return tuple(sorted(found, key=lambda each: (each.price is None, each.price or 0.0)))


@dataclass(frozen=True)
class Sheaf:
    """A catalogue, and the openings of a site by key, in their order."""

    version: CatalogueVersion
    catalogue: Catalogue
    openings: dict[str, Taken]

    def profile(self, name: str) -> Profile | None:
        """The profile of this name; None where nothing is chosen, or this version no longer has it."""
        return next((each for each in self.catalogue.profiles if each.name == name), None) if name else None

    def with_profile(self, opening: Taken, profile: Profile | None) -> TakeOff:
        """The take-off with the profile that was chosen, not the cheapest: dead ends and rail go with it."""
        if profile is None:
            return opening.take_off
        told = (opening.mark, opening.site, opening.facts)
        return _take_off(*told, self.catalogue, self.version.fingerprint, profile.name)


def sheaf_of(site: Site, openings: Iterable[Opening], version: CatalogueVersion) -> Sheaf:
    """The take-off of openings by a version of the catalogue."""
    wanted, catalogue = list(openings), read(version)
    marks = _marks(site, wanted)
    known, found = _facts_of(site, wanted, marks), {}
    for each in wanted:
        about, facts = known[each]
        taken = _take_off(marks[each], about, facts, catalogue, version.fingerprint)
        found[str(each.pk)] = Taken(str(each.pk), each.tag, marks[each], about, facts, taken)
    return Sheaf(version, catalogue, found)


def _marks(site: Site, openings: Sequence[Opening]) -> dict[Opening, str]:
    """A mark for each opening, of every reading of it and of its site."""
    rows = Fact.objects.filter(site=site).filter(Q(opening=None) | Q(opening__in=openings)).order_by("pk")
    told: dict[object, list[object]] = {}
    for key, *rest in rows.values_list("opening", "path", "heads", "awaited"):
        told.setdefault(key, []).append(rest)
    return {
        each: _digest([site.name, site.country, told.get(None), each.tag, told.get(each.pk)]) for each in openings
    }


def _digest(told: object) -> str:
    return hashlib.sha256(json.dumps(told, sort_keys=True).encode("utf-8", "surrogatepass")).hexdigest()


def _facts_of(
    site: Site, openings: Sequence[Opening], marks: dict[Opening, str]
) -> dict[Opening, tuple[SiteFacts, OpeningFacts]]:
    """What is known of openings and their site; what nobody asked for just now is read, all at once."""
    found = {each: kept for each in openings if (kept := _FACTS.get(marks[each])) is not None}
    missing = [each for each in openings if each not in found]
    if missing:
        survey = survey_of(site, missing).survey
        for row, facts in zip(missing, survey.openings, strict=True):
            found[row] = _FACTS.put(marks[row], (survey.site, facts))
    return found


def _take_off(
    mark: str, site: SiteFacts, facts: OpeningFacts, catalogue: Catalogue, fingerprint: str, profile: str = ""
) -> TakeOff:
    whole = f"{mark} {fingerprint} {profile}"
    return _TAKEN.get(whole) or _TAKEN.put(whole, take_off(site, facts, catalogue, profile=profile or None))
