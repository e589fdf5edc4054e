"""The fault bench: choose a circuit, hurt it, press it; see what the operator sees and what the leaf still feels.

The address is its state, as on every bench. Parts that stand at the board are shown to a trainer only.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.display import show
from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader, in_words, retold, say
from sillwright.circuit.fault_rows import AT_THE_BOARD, table
from sillwright.circuit.fault_view import HurtBench, MeterShown, hurt_bench
from sillwright.circuit.fault_words import CIRCUITS, WHERE, what
from sillwright.circuit.hurting import applies
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Place, Press, State
from sillwright.circuit.typical import typical, typical_end
from sillwright.web.records.answers import reader_at
from sillwright.web.workbench.admission import turned_away

PLACES: tuple[Place, ...] = get_args(Place)
PRESSES = ("", "0", "0.5", "1")


@dataclass(frozen=True)
class Chosen:
    """What the address asks for; what it does not know is as if it had not been said."""

    circuit: Circuit
    hurt: str  # a key of `hurts()`, or nothing
    place: Place
    press: str
    trainer: bool

    @property
    def hurts(self) -> tuple[Hurt, ...]:
        """What is wrong with it."""
        if not self.hurt:
            return ()
        kind, ohm = hurts()[self.hurt]
        return (Hurt(kind=kind, place=self.place, ohm=ohm),)

    @property
    def state(self) -> State:
        """The loop as it stands, with its press."""
        return State(hurts=self.hurts, press=Press(at=float(self.press)) if self.press else None)


@cache
def hurts() -> dict[str, tuple[HurtKind, float | None]]:
    """What can be wrong, as the table of faults looks at it, with what stands in an address for it."""
    rows: dict[HurtKind, Any] = table()["hurt"]
    found: dict[str, tuple[HurtKind, float | None]] = {}
    for kind, row in rows.items():
        for share in row.get("ohm", (None,)):
            if share is None:
                found[kind] = (kind, None)
            else:
                found[f"{kind}-{share:g}"] = (kind, share * typical_end().resistance)
    return found


@login_not_required
@require_safe
def fault_bench(request: HttpRequest) -> HttpResponse:
    """The bench."""
    if (away := turned_away(request, computes=True)) is not None:
        return away
    user: Any = request.user
    own = user.units if user.is_authenticated else "site"
    reader = reader_at("US", own, get_language() or "en")
    chosen = _chosen(request)
    try:
        found, wrong = hurt_bench(typical(chosen.circuit), chosen.state, trainer=chosen.trainer), ""
    except OutOfRange as error:
        found, wrong = None, retold(error.args[0], reader)
    told = {"chosen": chosen, "wrong": wrong, **_choices(reader)}
    if found is not None:
        told |= _shown(found, chosen, reader)
    return render(request, "workbench/fault_bench_page.html", told, status=200 if found else 422)


def _chosen(request: HttpRequest) -> Chosen:
    asked = request.GET
    trains = request.user.is_authenticated and asked.get("trainer") == "1"
    return Chosen(
        circuit=_known(asked.get("circuit", ""), tuple(CIRCUITS), "resistor"),
        hurt=_known(asked.get("hurt", ""), tuple(hurts()), ""),
        place=_known(asked.get("place", ""), PLACES, "edge_middle"),
        press=_known(asked.get("press", ""), PRESSES, ""),
        trainer=trains,
    )


def _known(text: str, names: tuple[str, ...], otherwise: Any) -> Any:
    return text if text in names else otherwise


def _choices(reader: Reader) -> dict[str, Any]:
    presses = (_("nowhere"), _("at the near end"), _("in the middle"), _("at the far end"))
    kinds = [(key, retold(what(kind, ohm), reader)) for key, (kind, ohm) in hurts().items()]
    return {
        "circuits": [(name, in_words(say(words), reader)) for name, words in CIRCUITS.items()],
        "kinds": kinds,
        "places": [(name, in_words(say(words), reader)) for name, words in WHERE.items()],
        "presses": list(zip(PRESSES, presses, strict=True)),
    }


def _shown(found: HurtBench, chosen: Chosen, reader: Reader) -> dict[str, Any]:
    return {
        "found": found,
        "operator": retold(found.operator, reader),
        "felt": retold(found.felt, reader),
        "told": retold(found.told, reader),
        "volts": [show(each, "V", reader.units) for each in found.voltages],
        "meters": [_meter(each, reader) for each in found.meters],
        "spots": [(round(100 * each.at), each.felt) for each in found.spots],
        "others": [row for name in CIRCUITS if (row := _other(name, chosen, reader))],
    }


def _meter(shown: MeterShown, reader: Reader) -> tuple[str, str, str]:
    return _metered(shown.at), _probed(shown.probes, shown.swapped), _ohms(shown.ohm, reader)


def _metered(place: str) -> str:
    return {"operator": _("at the operator"), "box": _("at the box"), "edge": _("at the edge")}[place]


def _probed(probes: str, swapped: bool) -> str:
    if swapped:
        return _("probes swapped")
    return {"pair": "", "first_strip": _("first strip"), "second_strip": _("second strip")}[probes]


def _ohms(ohm: float | None, reader: Reader) -> str:
    return _("OL (open)") if ohm is None else show(ohm, "ohm", reader.units)


def _other(name: Circuit, chosen: Chosen, reader: Reader) -> dict[str, Any] | None:
    """The same hurt on another circuit; None where that circuit cannot have it."""
    found = _alike(name, chosen.hurt, chosen.place)
    if found is None:
        return None
    return {
        "circuit": in_words(say(CIRCUITS[name]), reader),
        "told": retold(found.told, reader) if chosen.hurt else "",
        "felt": retold(found.felt, reader),
        "here": name == chosen.circuit,
    }


@cache
def _alike(name: Circuit, hurt: str, place: Place) -> HurtBench | None:
    loop, chosen = typical(name), Chosen(circuit=name, hurt=hurt, place=place, press="", trainer=False)
    for each in chosen.hurts:
        if not applies(loop, each.kind, place) or (place == "board" and each.kind in AT_THE_BOARD):
            return None
    return hurt_bench(loop, chosen.state)
