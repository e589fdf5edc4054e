"""The openings of a site as a form offers them for a quote or an order: each with the profiles that fit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.words import Reader, render
from sillwright.web.orders.chosen import MOST_OPENINGS
from sillwright.web.orders.line_forms import profiles_for
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.orders.taken import Taken, sheaf_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening, Site


def to_pick(
    site: Site, version: CatalogueVersion, reader: Reader, posted: Mapping[str, Any]
) -> list[dict[str, Any]]:
    """The openings of a site that are not put away, with what was picked so far.

    Of a site with more openings than one quote holds they are listed alone: whatever is picked begins with the
    cheapest profile that fits.
    """
    rows = list(site.openings.filter(put_away=None))
    if len(rows) > MOST_OPENINGS:
        return [{**_named(str(each.pk), each.tag, posted), "options": ()} for each in rows]
    return [
        _with_profiles(each, reader, posted, version.currency)
        for each in sheaf_of(site, rows, version).openings.values()
    ]


def picked(site: Site, posted: Mapping[str, Any]) -> list[Opening]:
    """The openings that were picked in a form. Raises :class:`Refused` for more than one quote or order holds."""
    found = [each for each in site.openings.filter(put_away=None) if f"in-{each.pk}" in posted]
    if len(found) > MOST_OPENINGS:
        raise Refused(_("At most %(most)d openings at once; pick fewer.") % {"most": MOST_OPENINGS})
    return found


def _named(key: str, tag: str, posted: Mapping[str, Any]) -> dict[str, Any]:
    return {"key": key, "tag": tag, "chosen": f"in-{key}" in posted}


def _with_profiles(opening: Taken, reader: Reader, posted: Mapping[str, Any], currency: str) -> dict[str, Any]:
    return {
        **_named(opening.key, opening.tag, posted),
        "options": profiles_for(opening, currency),
        "why_none": _why_none(opening, reader),
        "first": posted.get(f"first-{opening.key}", opening.fitting[0].name if opening.fitting else ""),
        "second": posted.get(f"second-{opening.key}", ""),
    }


def _why_none(opening: Taken, reader: Reader) -> str:
    """Why the first profile does not fit, where none does; empty where one fits."""
    if opening.fitting or not opening.take_off.profiles:
        return ""
    return " ".join(render(each, reader) for each in opening.take_off.profiles[0].reasons[:1])
