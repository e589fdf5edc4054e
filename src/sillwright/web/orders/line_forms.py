"""The lines of a form: for each opening the profile, and behind a disclosure everything else that can be chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.words import Reader, translate
from sillwright.takeoff.answer import ProfileVerdict
from sillwright.takeoff.ordering.fields import CIRCUITS, SHIPS
from sillwright.web.orders.chosen import MOST_OPENINGS, input_key
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
}


def lines_in(request: HttpRequest) -> list[dict[str, Any]]:
    """The lines of a form as they were typed, without those that were taken out."""
    found = []
    for at in range(MOST):
        if f"lines[{at}].opening" not in request.POST:
            break
        if f"lines[{at}].out" in request.POST:
            continue
        line: dict[str, Any] = {name: request.POST.get(f"lines[{at}].{name}", "") for name in SINGLE}
        found.append({**line, "work": request.POST.getlist(f"lines[{at}].work")})
    return found


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
            (each.what, each.what.replace("_", " "), each.what in typed.get("work", ()))
            for each in sheaf.catalogue.work
        ],
        "work_wrong": wrong.get(f"{prefix}work", ""),
    }


def asks_of(opening: Taken, sheaf: Sheaf, chosen: str, reader: Reader) -> list[Ask]:
    """What can be chosen for an opening, the profile first."""
    none: Options = (("", NOT_CHOSEN),)
    catalogue = sheaf.catalogue
    circuits = [(key, translate(words, reader)) for key, words in CIRCUITS.items()]
    ships = [(key, translate(words, reader)) for key, words in SHIPS.items()]
    inputs = [(input_key(each), input_key(each)) for each in catalogue.inputs]
    return [
        Ask(name="profile", label=LABELS["profile"], entry="choice", options=profiles_for(opening, chosen)),
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


def profiles_for(opening: Taken, chosen: str = "") -> Options:
    """Those that fit, cheapest first; then those of which it is not known; the one that is chosen in any case."""
    found = [("", str(NOT_CHOSEN))]
    found += [(each.name, _priced(each)) for each in opening.fitting]
    doubt = _("%(profile)s – not known whether it fits")
    found += [(each.name, doubt % {"profile": _priced(each)}) for each in opening.doubtful]
    if chosen not in dict(found):
        found.append((chosen, _("%(profile)s – does not fit here") % {"profile": chosen}))
    return found


def _priced(verdict: ProfileVerdict) -> str:
    """A profile with what its body would cost at the opening; the currency stands above the form."""
    return f"{verdict.name} – {_('no price') if verdict.price is None else f'{verdict.price:,.2f}'}"


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
    words = ", ".join(map(str, value)) if isinstance(value, (list, tuple)) else str(value or "")
    return words.replace("\r\n", "\n").strip()
