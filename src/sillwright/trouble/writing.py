"""A call to a file that is read back as it was."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import yaml

from sillwright.survey.writing import write_new
from sillwright.trouble.reading import FORMAT, NONE_OF_THESE, CallFile


def write_call(path: Path, told: CallFile, *, replace: bool = False) -> None:
    """Write a call as a whole or not at all: JSON where the name ends in ``.json``, else YAML.

    Raises :class:`OutputError` where it cannot be written, or where a file is there and is not to be replaced.
    """
    write_new(path, call_text(told, as_json=path.suffix.lower() == ".json"), replace=replace)


def call_text(told: CallFile, *, as_json: bool = False) -> str:
    """A call as the text of a file; what is not told is not in it.

    >>> print(call_text(CallFile(none_of_these=True)), end="")
    format: sillwright-call/1
    symptom: none
    """
    document = _document(told)
    if as_json:
        return json.dumps(document, ensure_ascii=False, indent=1) + "\n"
    text: str = yaml.safe_dump(document, allow_unicode=True, sort_keys=False, width=1000)
    return text


def _document(told: CallFile) -> dict[str, Any]:
    call, made = told.call, dict(told.call.after)
    document = {
        "format": FORMAT,
        "who": call.who,
        "symptom": NONE_OF_THESE if told.none_of_these else call.symptom,
        "harm": dict(call.harm),
        "answers": [
            {"test": test, "outcome": outcome, **({"after_repairs": made[test]} if made.get(test) else {})}
            for test, outcome in call.answers
        ],
        "facts": dict(call.facts),
        "repaired": list(call.repaired),
        "booked_in": list(call.booked_in),
    }
    return {name: value for name, value in document.items() if value}
