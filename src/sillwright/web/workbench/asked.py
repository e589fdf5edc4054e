"""What a request asks of a bench: the state of its inputs, and how the answer is to be shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from django.core.exceptions import SuspiciousOperation
from django.http import HttpRequest

from sillwright.base.calculation import Calculation
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.typed import Typed, names_of, pairs_of, tidy
from sillwright.web.workbench.vary import KEYS

LONGEST = 8_000
"""Signs of a query; no honest one is longer."""


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A state, and its parts that are no input of the case."""

    typed: Typed
    vary: Typed
    units: str = ""
    large: bool = False
    part: bool = False
    file: bool = False
    more: str = ""

    def query(self, found: Calculation, **changed: object) -> str:
        """The query of this state, with changes; always in the same order."""
        other = replace(self, **changed) if changed else self  # type: ignore[arg-type]
        pairs = list(pairs_of(found.case, other.typed))
        pairs += [(key, value) for key in KEYS for value in other.vary.get(key, ())]
        pairs += [("units", other.units)] if other.units else []
        pairs += [("large", "1")] if other.large else []
        return urlencode(pairs, safe="/")


def asked_of(request: HttpRequest, found: Calculation) -> Asked:
    """What a request asks. Without any input it asks for the first example."""
    if len(request.META.get("QUERY_STRING", "")) > LONGEST:
        raise SuspiciousOperation("a query of more than 8,000 signs")
    query: Mapping[str, Sequence[str]] = dict(request.GET.lists())
    typed = tidy(found.case, query)
    examples = EXAMPLES.get(found.name, ())
    if examples and not any(name in query for name in names_of(found.case)):
        typed = examples[0].typed
    units = request.GET.get("units", "")
    vary = {key: request.GET.get(key, "").strip().replace("\x00", "\ufffd") for key in KEYS}
    return Asked(
        typed=_less(typed, request.GET.get("less", "")),
        vary={key: [value] for key, value in vary.items() if value},
        units=units if units in {"us", "metric"} else "",
        large=request.GET.get("large") == "1",
        part=request.GET.get("part") == "result",
        file=request.GET.get("as") == "yaml",
        more=request.GET.get("more", ""),
    )


def _less(typed: Typed, row: str) -> Typed:
    """The state without one row of a list, which is named like ``edge.curve[2]``."""
    path, bracket, place = row.partition("[")
    number = place.rstrip("]")
    if not bracket or not number.isdecimal():
        return typed
    at = int(number[:4])
    return {
        name: values[:at] + values[at + 1 :] if name == path or name.rpartition(".")[0] == path else values
        for name, values in typed.items()
    }
