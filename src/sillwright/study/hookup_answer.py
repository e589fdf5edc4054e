"""How devices are joined, as programs read it: SI numbers, sentences in the reader's language."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sillwright.base.words import Reader, Sentence, render, retold
from sillwright.duty.model import Answer, DeviceStanding, Duty
from sillwright.hookup.answer import Hookup, Joint
from sillwright.study.ohms import OhmHistory, ReadOhms


def hookup_as_json(found: Hookup, duty: Duty, reader: Reader) -> dict[str, Any]:
    """The hookup of one opening as plain lists and mappings.

    ``monitored`` of a joint joins both: the circuit lets the operator watch the device, and the operator's
    instructions list the whole chain. ``inputs_left`` are those that nothing is joined to.
    """
    standings = {each.path: each for each in duty.devices}
    return {
        "joints": [
            _plain(each, reader) | {"monitored": monitored(each, standings.get(each.device))}
            for each in found.joints
        ],
        "inputs": [_plain(each, reader) for each in found.inputs],
        "inputs_left": [each.name for each in found.left],
        "power": _plain(found.power, reader),
        "readings": [_plain(each, reader) for each in found.readings],
        "wiring": [_plain(each, reader) for each in found.wiring],
        "asks": list(found.asks),
        "assumptions": [render(each, reader) for each in found.assumptions],
        "sources": [each.as_json() for each in found.sources],
    }


def monitored(joint: Joint, standing: DeviceStanding | None) -> Answer:
    """Whether a device counts as monitored: watched by its circuit, working, and listed with its whole chain.

    Both chapters have to say so. Where it hangs on a converter whether a failure is handed on, or nobody was asked
    for the inputs, a chain that the instructions list as a whole settles it. What is not known never counts.
    """
    if joint.watched is False or (standing is not None and standing.monitored == "no"):
        return "no"
    settled = joint.way in {"through", "unknown"} and joint.monitored_if_listed is True
    if standing is not None and standing.monitored == "yes" and (joint.watched or settled):
        return "yes"
    return "unknown"


def ohms_as_json(histories: Iterable[OhmHistory], reader: Reader) -> list[dict[str, Any]]:
    """The ohm readings of each device, oldest first, and where they are heading; months count from the last one."""
    return [
        {
            "device": each.device,
            "end_element": each.element,
            "readings": [_read(one, reader) for one in each.readings],
            "trend": _trend(each, reader),
        }
        for each in histories
    ]


def _read(reading: ReadOhms, reader: Reader) -> dict[str, Any]:
    return {
        "ohm": reading.ohm,
        "on": str(reading.on) if reading.on else None,
        "at": reading.at,
        "temperature": reading.temperature,
        "pressed": reading.pressed,
        "band": reading.band,
        "left_out": render(reading.left_out, reader) if reading.left_out else None,
    }


def _trend(history: OhmHistory, reader: Reader) -> dict[str, Any] | None:
    trend = history.trend
    if trend is None:
        return None
    return {
        "answer": retold(trend.answer, reader),
        "band": trend.band,
        "used": trend.used,
        "ohm_per_month": trend.ohm_per_month,
        "sure": trend.sure,
        "trips": trend.trips,
        "months": trend.months,
        "months_least": trend.months_least,
        "warns": trend.warns,
        "months_to_warn": trend.months_to_warn,
        "notes": [retold(each, reader) for each in trend.notes],
        "sources": [each.as_json() for each in trend.sources],
    }


def _plain(part: Any, reader: Reader) -> dict[str, Any]:
    return {name: _value(getattr(part, name), reader) for name in part.__dataclass_fields__}


def _value(value: Any, reader: Reader) -> Any:
    if isinstance(value, Sentence):
        return render(value, reader)
    if isinstance(value, (list, tuple)):
        return [_value(each, reader) for each in value]
    if isinstance(value, Mapping):
        return {key: _value(each, reader) for key, each in value.items()}
    if hasattr(value, "__dataclass_fields__"):
        return _plain(value, reader)
    return value
