"""The fault bench as its page shows it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sillwright.base.words import Reader, retold, say
from sillwright.circuit.fault_choices import PRESSES, go_together, listed
from sillwright.circuit.fault_rows import Along, along
from sillwright.circuit.fault_view import hurt_bench
from sillwright.circuit.fault_words import TOLD, felt
from sillwright.circuit.model import Circuit, Hurt
from sillwright.circuit.pressing import SPOTS
from sillwright.circuit.typical import typical
from sillwright.web.workbench import fault_words as words
from sillwright.web.workbench.fault_asked import Chosen


def choices(reader: Reader) -> dict[str, Any]:
    """What can be chosen, and the sentences that the script fills as well."""
    return {
        "circuits": words.circuit_names(reader),
        "kinds": words.kind_names(reader),
        "places": words.place_names(reader),
        "seconds": words.second_names(reader),
        "presses": words.press_names(),
        "names": words.field_names(),
        "says": words.says(),
        "felt_words": words.felt_words(),
    }


def answer(asked: Chosen, reader: Reader, *, wrong: bool = False) -> dict[str, Any]:
    """The answer in words. Where there is none, that of the sound circuit, which the page does not show."""
    large = asked.large
    asked = Chosen(circuit=asked.circuit) if wrong else asked
    loop = typical(asked.circuit)
    found = hurt_bench(loop, asked.state, trainer=asked.trainer)
    whole = along(loop, asked.hurts)
    return {
        "width": "wide faults large" if large else "wide faults",
        "operator": retold(found.operator, reader),
        "outcome": outcome(whole, len(asked.hurts), reader),
        "alone": list(_alone(asked, reader)),
        "spots": [each[0] for each in whole.pressed],
        "pressed_at": spot_of(asked.press),
        "volts": words.volts_shown(found.voltages, reader),
        "meters": [
            (words.meter_name(each.at, each.probes, each.swapped), words.ohms_shown(each.ohm, reader))
            for each in found.meters
        ],
        "rows": [_row(name, label, asked, reader) for name, label in words.short_names().items()],
    }


def spot_of(press: str) -> int | None:
    """Which tenth of the edge is pressed, from 0."""
    at = PRESSES[press]
    return None if at is None else SPOTS.index(at)


def outcome(found: Along, hurts: int, reader: Reader) -> str:
    """What the operator sees of it and what the leaf still feels, as a sentence."""
    return words.says()[("sound", "one", "two")[hurts]].format(**_told(found, reader))


def _told(found: Along, reader: Reader) -> dict[str, str]:
    return {
        "felt": retold(felt(found.still, found.share), reader),
        "told": retold(say(TOLD[found.seen]), reader),
    }


def _alone(asked: Chosen, reader: Reader) -> Iterator[str]:
    """What each of two faults does by itself."""
    for each in asked.hurts if len(asked.hurts) > 1 else ():
        found = along(typical(asked.circuit), (each,))
        yield words.says()["alone"].format(fault=words.fault_name(each, reader), **_told(found, reader))


def summary(found: Along, reader: Reader) -> dict[str, Any]:
    """What is said of what an input reads, in the parts that pages are made of."""
    return {
        **_told(found, reader),
        "seen": words.seen_words()[found.seen],
        "share": words.still_words(found.still, found.share),
        "stands": found.still == "stands",
        "lost": found.still not in {"all", "stands"} and found.seen in {"never", "uncertain"},
    }


def _row(circuit: Circuit, label: str, asked: Chosen, reader: Reader) -> dict[str, Any]:
    """The same on a circuit: when its operator sees it, what still answers, and what becomes of this press."""
    row = {"circuit": circuit, "name": label, "here": circuit == asked.circuit}
    found = _alike(circuit, asked.hurts, asked.trainer)
    if found is None:
        return row | {"seen": words.says()["not_here"], "share": "–", "press": "–", "lost": False}
    told = summary(found, reader)
    at = spot_of(asked.press)
    pressed = "–" if at is None or told["stands"] else words.felt_words()[found.pressed[at][0]]
    return row | {**told, "seen": told["seen"] if asked.hurts else "–", "press": pressed}


def _alike(circuit: Circuit, hurts: tuple[Hurt, ...], trainer: bool) -> Along | None:
    """The same hurts on a circuit; None where it cannot have them."""
    loop, there = typical(circuit), listed(circuit, trainer)
    if not there.issuperset(hurts) or (len(hurts) > 1 and not go_together(loop, *hurts)):
        return None
    return along(loop, hurts)
