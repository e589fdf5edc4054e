"""What a quote or an order begins with: the openings that were picked, each with a profile, work and the trip."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _

from sillwright.web.orders.taken import Sheaf


def first_line(key: str, profile: str, sheaf: Sheaf) -> dict[str, Any]:
    """An opening with a profile, and the work that the catalogue has for it."""
    chosen = sheaf.profile(profile)
    known = {each.what for each in sheaf.catalogue.work}
    work = f"edge_{chosen.construction}" if chosen else ""
    return {"opening": key, "profile": profile, "work": [work] if work in known else []}


def cheapest(key: str, sheaf: Sheaf) -> str:
    """The cheapest profile that fits an opening; empty where none does."""
    fitting = sheaf.openings[key].fitting
    return fitting[0].name if fitting else ""


def first_lines(posted: Mapping[str, Any], sheaf: Sheaf, which: str = "first") -> list[dict[str, Any]]:
    """The openings of a form, each with the profile that was picked for it."""
    return [first_line(key, _picked(posted, which, key, sheaf), sheaf) for key in sheaf.openings]


def _picked(posted: Mapping[str, Any], which: str, key: str, sheaf: Sheaf) -> str:
    """The profile of a form; where the form asked for none, the cheapest that fits."""
    if f"first-{key}" not in posted:
        return cheapest(key, sheaf)
    return str(posted.get(f"{which}-{key}") or posted[f"first-{key}"])


def first_offer(posted: Mapping[str, Any], sheaf: Sheaf, left: Sequence[str]) -> list[dict[str, Any]]:
    """The alternatives that a quote begins with: by the profiles that were picked, and by second ones."""
    ways = ["first"]
    if any(posted.get(f"second-{key}") for key in sheaf.openings):
        ways.append("second")
    found: list[dict[str, Any]] = []
    for which in ways:
        lines = first_lines(posted, sheaf, which)
        found.append(
            {
                "name": _called(lines, [each["name"] for each in found]),
                "leaves_open": _left(left),
                "trips": 1 if any(not each.persons for each in sheaf.catalogue.rates) else 0,
                "lines": lines,
            }
        )
    return found


def _called(lines: Sequence[Mapping[str, Any]], taken: Sequence[str]) -> str:
    """An alternative is called by its profiles, until somebody calls it otherwise."""
    name = ", ".join(dict.fromkeys(each["profile"] for each in lines if each["profile"])) or _("Edge")
    name = name[:150]
    return f"{name} (2)" if name in taken else name


def _left(tags: Sequence[str]) -> list[str]:
    """The openings that a quote leaves as they are; whatever else it leaves open, a person says."""
    return [_("Not in this quote: %(tags)s.") % {"tags": ", ".join(tags)[:400]}] if tags else []
