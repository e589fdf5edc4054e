"""The lines of a form: for each opening the profile, and behind a disclosure everything else that can be chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.words import Reader, render, translate
from sillwright.takeoff.answer import ProfileVerdict
from sillwright.takeoff.ordering.devices import KINDS, offered_devices
from sillwright.takeoff.ordering.fields import CIRCUITS, SHIPS
from sillwright.takeoff.ordering.money import with_currency
from sillwright.takeoff.ordering.work import work_in_words
from sillwright.web.orders.chosen import MOST_DEVICES, MOST_OPENINGS, input_key
from sillwright.web.orders.fields import Ask, Field, Options, shown
from sillwright.web.orders.models import Order, Quote
from sillwright.web.orders.starting import cheapest, first_line
from sillwright.web.orders.taken import Sheaf, Taken, sheaf_of

MOST = 200
SINGLE = ("opening", "profile", "circuit", "end_element", "ship", "quantity", "input", "box", "converter", "note")
NOT_CHOSEN = gettext_lazy("not chosen")
LABELS = {
    "profile": gettext_lazy("Profile"),
    "input": gettext_lazy("Input of the operator"),
    "circuit": gettext_lazy("Circuit"),
    "end_element": gettext_lazy("End element"),
    "converter": gettext_lazy("Converter"),
    "box": gettext_lazy("Junction box"),
    "ship": gettext_lazy("How it ships"),
    "quantity": gettext_lazy("How many"),
    "note": gettext_lazy("Note for the maker"),
    "work": gettext_lazy("Work"),
    "no_edge": gettext_lazy("No edge here: what is chosen beside it alone"),
    "devices": gettext_lazy("Other devices"),
}
EMPTY_ROWS = 2
"""Rows for other devices that a form offers beyond those that are chosen."""


def lines_in(request: HttpRequest) -> list[dict[str, Any]]:
    """The lines of a form as they were typed, without those that were taken out."""
    found = []
    for at in range(MOST):
        if f"lines[{at}].opening" not in request.POST:
            break
        if f"lines[{at}].out" in request.POST:
            continue
        line: dict[str, Any] = {name: request.POST.get(f"lines[{at}].{name}", "") for name in SINGLE}
        line["work"] = request.POST.getlist(f"lines[{at}].work")
        line["no_edge"] = request.POST.get(f"lines[{at}].no_edge") == "1"
        line["devices"] = _devices_in(request, f"lines[{at}].devices")
        found.append(line)
    return found


def _devices_in(request: HttpRequest, prefix: str) -> list[dict[str, str]]:
    """The devices of a line as they were typed; rows in which none is chosen are empty ones."""
    names = ("device", "quantity")
    rows = (
        {name: request.POST.get(f"{prefix}[{at}].{name}", "") for name in names}
        for at in range(MOST_DEVICES + EMPTY_ROWS)
    )
    return [each for each in rows if each["device"]]


def added_in(request: HttpRequest, row: Quote | Order) -> list[dict[str, Any]]:
    """The openings that a form adds, each with the cheapest profile that fits."""
    wanted = set(request.POST.getlist("add")[:MOST_OPENINGS])
    if not wanted:
        return []
    there = [each for each in row.site.openings.filter(put_away=None) if str(each.pk) in wanted]
    sheaf = sheaf_of(row.site, there, row.catalogue)
    return [first_line(key, cheapest(key, sheaf), sheaf) for key in sheaf.openings]


def rows_of(
    lines: Sequence[Mapping[str, Any]], row: Quote | Order, wrong: Mapping[str, str], reader: Reader
) -> list[dict[str, Any]]:
    """The lines of a form as a page shows them."""
    keys = {str(each.get("opening", "")) for each in lines}
    there = [each for each in row.site.openings.all() if str(each.pk) in keys]
    sheaf = sheaf_of(row.site, there, row.catalogue)
    return [
        _row(at, each, sheaf, wrong, reader)
        for at, each in enumerate(lines)
        if str(each.get("opening", "")) in sheaf.openings
    ]


def _row(
    at: int, typed: Mapping[str, Any], sheaf: Sheaf, wrong: Mapping[str, str], reader: Reader
) -> dict[str, Any]:
    opening, prefix = sheaf.openings[str(typed["opening"])], f"lines[{at}]."
    named = {f"{prefix}{name}": value for name, value in typed.items()}
    first, *more = (
        Ask(name=f"{prefix}{each.name}", label=each.label, why=each.why, entry=each.entry, options=each.options)
        for each in asks_of(opening, sheaf, str(typed.get("profile", "")), reader)
    )
    fields: list[Field] = shown(more, named, wrong)
    return {
        "prefix": prefix,
        "opening": opening,
        "profile": shown([first], named, wrong)[0],
        "fields": fields,
        "open": any(each.wrong for each in fields),
        "work": [
            (each.what, render(work_in_words(each.what), reader), each.what in typed.get("work", ()))
            for each in sheaf.catalogue.work
        ],
        "work_wrong": wrong.get(f"{prefix}work", ""),
        "no_edge": bool(typed.get("no_edge")),
        **_devices(prefix, typed, sheaf, wrong, reader),
    }


def _devices(
    prefix: str, typed: Mapping[str, Any], sheaf: Sheaf, wrong: Mapping[str, str], reader: Reader
) -> dict[str, Any]:
    """The devices beside the edge: those that are chosen, and rows for more."""
    offered = [
        (name, f"{name} – {translate(KINDS[kind], reader)}")
        for name, (kind, _part) in offered_devices(sheaf.catalogue).items()
    ]
    chosen = list(typed.get("devices") or ())
    rows = [*chosen, *[{"device": "", "quantity": ""}] * EMPTY_ROWS][: MOST_DEVICES + EMPTY_ROWS]
    found: list[list[Field]] = []
    for at, each in enumerate(rows):
        here = f"{prefix}devices[{at}]."
        gone = [] if each["device"] in {"", *dict(offered)} else [(each["device"], each["device"])]
        options = (("", NOT_CHOSEN), *offered, *gone)
        asks = (
            Ask(
                name=f"{here}device",
                label=_("Device %(number)d") % {"number": at + 1},
                entry="choice",
                options=options,
            ),
            Ask(name=f"{here}quantity", label=_("How many of it"), entry="number"),
        )
        found.append(shown(asks, {f"{here}{name}": value for name, value in each.items()}, wrong))
    wrongs = [wrong.get(f"{prefix}{name}", "") for name in ("devices", "no_edge")]
    return {
        "devices": found if offered else [],
        "devices_wrong": " ".join(filter(None, wrongs)),
        "devices_open": bool(chosen or any(wrongs) or typed.get("no_edge")),
        "devices_kept": chosen,
    }


def asks_of(opening: Taken, sheaf: Sheaf, chosen: str, reader: Reader) -> list[Ask]:
    """What can be chosen for an opening, the profile first."""
    none: Options = (("", NOT_CHOSEN),)
    catalogue = sheaf.catalogue
    circuits = [(key, translate(words, reader)) for key, words in CIRCUITS.items()]
    ships = [(key, translate(words, reader)) for key, words in SHIPS.items()]
    inputs = [(input_key(each), input_key(each)) for each in catalogue.inputs]
    return [
        Ask(
            name="profile",
            label=LABELS["profile"],
            entry="choice",
            options=profiles_for(opening, catalogue.currency, chosen),
        ),
        Ask(name="input", label=LABELS["input"], entry="choice", options=(*none, *inputs)),
        Ask(name="circuit", label=LABELS["circuit"], entry="choice", options=(*none, *circuits)),
        Ask(name="end_element", label=LABELS["end_element"], why=_("like 10 kohm")),
        Ask(
            name="converter",
            label=LABELS["converter"],
            entry="choice",
            options=(*none, *_names(catalogue.converters)),
        ),
        Ask(name="box", label=LABELS["box"], entry="choice", options=(*none, *_names(catalogue.boxes))),
        Ask(name="ship", label=LABELS["ship"], entry="choice", options=(*none, *ships)),
        Ask(name="quantity", label=LABELS["quantity"], entry="number"),
        Ask(name="note", label=LABELS["note"], entry="text"),
    ]


def _names(shelf: Sequence[Any]) -> list[tuple[str, str]]:
    return [(each.name, each.name) for each in shelf]


def profiles_for(opening: Taken, currency: str, chosen: str = "") -> Options:
    """Those that fit, cheapest first; then those of which it is not known; the one that is chosen in any case."""
    found = [("", str(NOT_CHOSEN))]
    found += [(each.name, _priced(each, currency)) for each in opening.fitting]
    doubt = _("%(profile)s – not known whether it fits")
    found += [(each.name, doubt % {"profile": _priced(each, currency)}) for each in opening.doubtful]
    if chosen not in dict(found):
        found.append((chosen, _("%(profile)s – does not fit here") % {"profile": chosen}))
    return found


def _priced(verdict: ProfileVerdict, currency: str) -> str:
    """A profile with what its body would cost at the opening."""
    return f"{verdict.name} – {_('no price') if verdict.price is None else with_currency(verdict.price, currency)}"


def others_of(row: Quote | Order, lines: Sequence[Mapping[str, Any]]) -> list[Any]:
    """The openings of the site that can be added."""
    keys = {str(each.get("opening", "")) for each in lines}
    return [each for each in row.site.openings.filter(put_away=None) if str(each.pk) not in keys]


def lines_differing(
    row: Quote | Order, now: Sequence[Mapping[str, Any]], typed: Sequence[Mapping[str, Any]]
) -> list[tuple[str, str, str]]:
    """Where the lines that are kept by now and those that were typed differ: of what, kept, typed."""
    tags = {str(each.pk): each.tag for each in row.site.openings.all()}
    kept, mine = ({str(each["opening"]): each for each in lines} for lines in (now, typed))
    found = []
    for key in dict.fromkeys((*kept, *mine)):
        tag = tags.get(key, "?")
        if key not in kept or key not in mine:
            there, gone = _("in it"), _("not in it")
            found.append((tag, there if key in kept else gone, there if key in mine else gone))
            continue
        said = ((label, _plain(kept[key].get(name)), _plain(mine[key].get(name))) for name, label in LABELS.items())
        found += [(f"{tag}, {label}", one, other) for label, one, other in said if one != other]
    return found


def _plain(value: Any) -> str:
    if value is True:
        return _("yes")
    members = value if isinstance(value, (list, tuple)) else ()
    said = [
        f"{each['quantity'] or 1} × {each['device']}" if isinstance(each, Mapping) else str(each)
        for each in members
    ]
    words = ", ".join(said) if members else str(value or "")
    return words.replace("\r\n", "\n").strip()
