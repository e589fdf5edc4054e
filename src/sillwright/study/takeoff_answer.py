"""The take-off as programs read it: SI numbers, sentences in the reader's language."""

from __future__ import annotations

from typing import Any

from sillwright.base.finding import finding_as_json
from sillwright.base.words import Reader, Sentence, render
from sillwright.takeoff.answer import TakeOff

_PARTS = ("way", "channel", "changes", "floor")


def takeoff_as_json(found: TakeOff, questions: tuple[str, ...], reader: Reader) -> dict[str, Any]:
    """The take-off of one opening as plain lists and mappings.

    ``body_length`` is what would be ordered by the measurements there are, even while the order is blocked.
    ``cord`` is the coiled cord that would do at this box, also where ``way`` prefers a reel; null where none would.
    """
    main = found.bodies[0] if found.bodies else None
    way = found.way
    return {
        "body_length": main.body if main else None,
        "sensing_length": main.sensing if main else None,
        "channel_length": main.channel if main else None,
        "pieces": main.pieces if main else None,
        "bodies": [_plain(each, reader) for each in found.bodies],
        "lead": _plain(found.lead, reader) | {"confirmed": found.lead.confirmed},
        "cord": {
            "retracted": way.cord,
            "longest": way.longest,
            "ratio": way.longest / way.cord if way.cord and way.longest is not None else None,
        },
        **{name: _plain(getattr(found, name), reader) for name in _PARTS},
        "currency": found.currency or None,
        "profiles": [_plain(each, reader) for each in found.profiles],
        "blocked": [render(each.reason, reader) for each in found.blocked],
        "released_by": [_plain(each, reader) for each in found.blocked],
        "questions": list(questions),
        "advice": [finding_as_json(each, reader) for each in found.advice],
        "assumptions": [render(each, reader) for each in found.assumptions],
        "sources": [each.as_json() for each in found.sources],
    }


def _plain(part: Any, reader: Reader) -> dict[str, Any]:
    """The fields of a part; its findings stand among the findings of the opening."""
    told = {name: getattr(part, name) for name in part.__dataclass_fields__ if name != "findings"}
    return {name: _value(value, reader) for name, value in told.items()}


def _value(value: Any, reader: Reader) -> Any:
    if isinstance(value, Sentence):
        return render(value, reader)
    if isinstance(value, (list, tuple)):
        return [_value(each, reader) for each in value]
    if isinstance(value, dict):
        return {key: _value(each, reader) for key, each in value.items()}
    if hasattr(value, "__dataclass_fields__"):
        return _plain(value, reader)
    return value
