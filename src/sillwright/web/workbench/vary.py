"""One input varied from a low to a high end, everything else as it stands."""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base import quantity
from sillwright.base.calculation import Calculation
from sillwright.base.errors import OutOfRange, QuantityError
from sillwright.base.model import Case, FieldSpec, Model, fields_of
from sillwright.base.words import Reader, retold
from sillwright.mechanics.model import ContactSpreadCase
from sillwright.web.workbench.amounts import unit_missing
from sillwright.web.workbench.names import short_label
from sillwright.web.workbench.typed import first, inputs_of, join

POINTS = 61
FEWEST = 5
SECONDS = 2.0
"""A curve that takes longer ends there, and says so."""
CONTACTS = 16_384
"""Of a contact with ranges so many are computed for a whole curve."""

STARTS: dict[str, tuple[tuple[str, str], ...]] = {
    "approach": (("response_time", "distance"), ("available_distance", "needed_response_time")),
    "overtravel": (("closing_speed", "required_overtravel"),),
    "impact": (("speed", "peak_force"),),
    "length": (("clear_width", "dead_left"),),
}
"""What is varied before anybody has chosen: input and result."""

SPANS = {"length": (0.97, 1.03)}
"""How far a curve goes by itself, in shares of the present number; half to twice where nothing is said."""
WHOLE = (0.5, 2.0)
NEVER = {"cutlist"}
"""Calculations that take too long for a curve."""

NOTHING = "none"
KEYS = ("vary", "vary.from", "vary.to", "vary.show")


@dataclass(frozen=True, kw_only=True)
class Curve:
    """Results over the varied input, SI; None where the input is not accepted."""

    path: str
    title: str
    unit: str
    show: str
    shown_title: str
    shown_unit: str
    points: tuple[tuple[float, float | None], ...]
    now: tuple[float, float | None]
    cut: bool = False


class Wrong(Exception):
    """What is asked for cannot be drawn; ``key`` is the field that has to change."""

    def __init__(self, key: str, words: str) -> None:
        super().__init__(words)
        self.key, self.words = key, words


@dataclass(frozen=True)
class Varied:
    """A number of a case that can be varied."""

    path: str
    spec: FieldSpec
    title: str
    group: str = ""  # what the group is called in which it stands

    @property
    def name(self) -> str:
        """What it is called in a list of all of them."""
        return f"{self.group}: {self.title}" if self.group else self.title


def varied_inputs(
    case: Model, model: type[Model], reader: Reader, path: str = "", group: str = ""
) -> Iterator[Varied]:
    """The numbers of a case that can be varied."""
    for spec in inputs_of(model):
        here, value = join(path, spec.name), getattr(case, spec.name)
        title = short_label(spec.limits.title, reader)
        if spec.kind == "model" and spec.model and value is not None:
            yield from varied_inputs(value, spec.model, reader, here, title)
        elif spec.kind == "number":
            yield Varied(here, spec, title, group)
        elif spec.kind == "list" and spec.item is not None and spec.item.kind == "number":
            item = replace(spec.item, limits=spec.limits)
            for at in range(len(value)):
                yield Varied(f"{here}[{at}]", item, f"{title} ({at + 1})", group)


def results_of(result: type[Model]) -> dict[str, tuple[str, str]]:
    """The numbers of a result that can be drawn: title and unit by name; a band's three by its name."""
    found = {
        spec.name: (spec.limits.title, spec.unit)
        for spec in fields_of(result)
        if spec.kind == "number" and "standard_error" not in spec.name
    }
    if any(spec.name == "bands" for spec in fields_of(result)):
        from sillwright.mechanics import ContactResult

        for spec in fields_of(ContactResult):
            if spec.kind == "number":
                found[f"{spec.name}.p50"] = (spec.limits.title, spec.unit)
                found[f"{spec.name}.p95"] = (spec.limits.title, spec.unit)
    return found


def value_of(result: Any, name: str) -> float | None:
    """One number of a result, None where it has none."""
    outcome, _dot, end = name.partition(".")
    found = getattr(result.band(outcome), end) if end else getattr(result, outcome)
    return None if found is None else float(found)


def replaced(case: Any, path: str, value: float) -> Any:
    """The case with another number at a path. Raises :class:`OutOfRange` where that is not accepted."""
    name, _dot, rest = path.partition(".")
    if rest:
        return replace(case, **{name: replaced(getattr(case, name), rest, value)})
    name, bracket, place = name.partition("[")
    if not bracket:
        return replace(case, **{name: value})
    row = list(getattr(case, name))
    row[int(place.rstrip("]"))] = value
    return replace(case, **{name: tuple(row)})


def present(case: Any, path: str) -> float | None:
    """The number at a path."""
    for part in path.split("."):
        name, bracket, place = part.partition("[")
        case = getattr(case, name)
        if bracket:
            case = case[int(place.rstrip("]"))]
    return None if case is None else float(case)


def curve_of(found: Calculation, case: Case, query: Mapping[str, Sequence[str]], reader: Reader) -> Curve | None:
    """The curve that is asked for, or the one to begin with; None where there is none. Raises :class:`Wrong`."""
    inputs = {each.path: each for each in varied_inputs(case, found.case, reader)}
    results = results_of(found.result)
    path, show = _asked(found.name, case, query, inputs, results)
    if not path or not results or found.name in NEVER:
        return None
    if path not in inputs:
        raise Wrong("vary", _("This input is not there now. Choose another."))
    if show not in results:
        raise Wrong("vary.show", _("There is no such result. Choose another."))
    varied, now = inputs[path], present(case, path)
    low, high = _ends(found, case, varied, now, query)
    points, cut = _points(found, case, path, show, _places(low, high, _count(case)))
    shown_title, shown_unit = results[show]
    return Curve(
        path=path,
        title=varied.title,
        unit=varied.spec.unit,
        show=show,
        shown_title=result_name(shown_title, show, reader),
        shown_unit=shown_unit,
        points=points,
        now=(low - 1 if now is None else now, None if now is None else _at(found, case, path, now, show)),
        cut=cut,
    )


def result_name(title: str, name: str, reader: Reader) -> str:
    """What a result is called along an axis and in a list."""
    ends = {"p50": _("half below"), "p95": _("95 of 100 below")}
    end = name.partition(".")[2]
    label = short_label(title, reader)
    return f"{label}, {ends[end]}" if end else label


def _asked(
    name: str, case: Case, query: Mapping[str, Sequence[str]], inputs: Mapping[str, Any], results: Mapping[str, Any]
) -> tuple[str, str]:
    chosen, show = first(query, "vary"), first(query, "vary.show")
    if chosen == NOTHING:
        return "", ""
    if not chosen:
        starts = (each for each in STARTS.get(name, ()) if each[0] in inputs)
        start = next((each for each in starts if present(case, each[0]) is not None), None)
        return start or ("", "")
    fitting = next((each[1] for each in STARTS.get(name, ()) if each[0] == chosen), "")
    return chosen, show or fitting or next(iter(results), "")


def _ends(
    found: Calculation, case: Case, varied: Varied, now: float | None, query: Mapping[str, Sequence[str]]
) -> tuple[float, float]:
    path, spec = varied.path, varied.spec
    less, more = SPANS.get(found.name, WHOLE)
    low, high = (_end(query, key, spec.unit) for key in ("vary.from", "vary.to"))
    if low is None:
        low = _guess(found, case, path, now, less, spec.limits.at_least)
    if high is None:
        high = _guess(found, case, path, now, more, spec.limits.at_most)
    if low is None or high is None:
        key = "vary.from" if low is None else "vary.to"
        raise Wrong(key, _("Say from where to where: this input has no number now."))
    if not low < high:
        raise Wrong("vary.to", _("The end has to be more than the beginning."))
    return low, high


def _end(query: Mapping[str, Sequence[str]], key: str, unit: str) -> float | None:
    typed = first(query, key).strip()
    if not typed:
        return None
    try:
        return quantity.parse(typed, unit)
    except QuantityError as error:
        bare = typed.replace(".", "", 1).isdigit() and unit != "1"
        words = unit_missing(typed, unit) if bare else retold(error.said, Reader())
        raise Wrong(key, words) from None


def _guess(
    found: Calculation, case: Case, path: str, now: float | None, times: float, otherwise: float | None
) -> float | None:
    """So many times the present number; the number itself where that is not accepted."""
    if not now:
        return otherwise
    try:
        found.function(replaced(case, path, now * times))
    except OutOfRange:
        return now
    return now * times


def _count(case: Any) -> int:
    if not isinstance(case, ContactSpreadCase):
        return POINTS
    count = min(POINTS, int(CONTACTS // (case.points * (len(case.ranges) + 2))))
    if count < FEWEST:
        raise Wrong("vary", _("A curve of so many cases takes too long here. Take fewer points."))
    return count


def _places(low: float, high: float, count: int) -> list[float]:
    return [low + (high - low) * at / (count - 1) for at in range(count - 1)] + [high]


def _points(
    found: Calculation, case: Case, path: str, show: str, places: list[float]
) -> tuple[tuple[tuple[float, float | None], ...], bool]:
    ends = time.monotonic() + SECONDS
    points: list[tuple[float, float | None]] = []
    for place in places:
        if len(points) >= FEWEST and time.monotonic() > ends:
            return tuple(points), True
        points.append((place, _at(found, case, path, place, show)))
    return tuple(points), False


def _at(found: Calculation, case: Case, path: str, place: float, show: str) -> float | None:
    try:
        return value_of(found.function(replaced(case, path, place)), show)
    except OutOfRange:
        return None
