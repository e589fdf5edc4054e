"""The book of the fault bench: every answer in words, for a phone that works without a signal."""

from __future__ import annotations

import hashlib
import json
from functools import cache
from typing import Any

from django.urls import reverse

from sillwright.base import data
from sillwright.base.words import Reader
from sillwright.circuit.fault_answers import NAME, READS, answers, firsts
from sillwright.circuit.fault_choices import PRESSES, for_trainers
from sillwright.circuit.fault_rows import counted
from sillwright.circuit.fault_view import ways
from sillwright.circuit.fault_words import CIRCUITS
from sillwright.circuit.model import Circuit
from sillwright.web.program import program
from sillwright.web.workbench import fault_words as words
from sillwright.web.workbench.fault_shown import spot_of, summary


@cache
def version() -> str:
    """Another one for every change of the program or of an answer."""
    told = f"{program()}\n{data.text('sillwright.circuit', NAME)}"
    return hashlib.sha256(told.encode()).hexdigest()[:16]


def address() -> str:
    """Where the book is; another place for another version."""
    return f"{reverse('fault_book')}?v={version()}"


@cache
def book_in(language: str) -> bytes:
    """The book as JSON in a language. Volts and ohms are the same for every reader.

    ``answers`` leads from a circuit, a fault and a second one to a view: numbers of what the input reads
    (``patterns``), of voltages, and of what the meter shows at each way to hold it (``columns``). Voltages and
    columns have an entry for each of ``presses``.
    """
    reader, told = Reader(language=language), answers()
    whole = {
        "answers": told["circuits"],
        "views": told["views"],
        "patterns": [_pattern(each, reader) for each in told["patterns"]],
        "volts": [[words.volts_shown(one, reader) for one in each] for each in told["volts"]],
        "columns": [[words.ohms_shown(one, reader) for one in each] for each in told["columns"]],
        "meters": told["meters"],
        "ways": {name: [words.meter_name(*each) for each in ways(name)] for name in CIRCUITS},
        "operator": words.operators(reader),
        "presses": {name: spot_of(name) for name in PRESSES},
        "board": {name: _for_trainers(name) for name in CIRCUITS},
    }
    return json.dumps(whole, ensure_ascii=False, separators=(",", ":")).encode()


def _pattern(letters: str, reader: Reader) -> dict[str, Any]:
    return {"reads": letters, **summary(counted([READS[each] for each in letters]), reader)}


def _for_trainers(circuit: Circuit) -> list[str]:
    return [name for hurt, name in firsts(circuit, trainer=True).items() if for_trainers(hurt)]
