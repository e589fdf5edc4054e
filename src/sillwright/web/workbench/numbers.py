"""A result as numbers with their units and names, and as verdicts, bands and shares where it holds some."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.display import rounded
from sillwright.base.model import FieldSpec, Result, fields_of
from sillwright.base.words import Amount, Phrase, Reader, in_words, translate
from sillwright.mechanics import ContactResult, force_limits, judge, judge_band
from sillwright.mechanics.model import ContactCase, ContactSpreadResult
from sillwright.mechanics.simple_model import ForceVerdict
from sillwright.takeoff.cutting.cutlist_model import CutlistResult
from sillwright.web.workbench.form import titles_of
from sillwright.web.workbench.names import ASIDE, LABELS, choice_word, empty_means, label_of

_SKIPPED = ASIDE | {"assumptions", "sources", "notes", "why"}
_SHARES = {"waste_share", "gap_to_bound", "misread_share", "answers_share", "coverage", "share"}
_SLOPES = {"slope", "leaf_slope"}
_MONEY = {"cost", "bound", "first_fit_cost"}


@dataclass(frozen=True)
class Line:
    """One result: what it is called, what it comes to, its name in the glossary."""

    title: str
    shown: str
    name: str


@dataclass(frozen=True)
class Held:
    """One limit of the force standard against what was found."""

    what: str
    limit: str
    found: str
    verdict: str
    why: str
    above: bool
    open: bool


def lines_of(result: Result, reader: Reader) -> list[Line]:
    """The results one by one, in the order of the model."""
    lines = (_line(_of_stock(spec, result), getattr(result, spec.name), reader) for spec in fields_of(type(result)))
    return [line for line in lines if line is not None]


def _of_stock(spec: FieldSpec, result: Result) -> FieldSpec:
    """A cost as a length, where stock costs by its length."""
    by_length = isinstance(result, CutlistResult) and spec.name in _MONEY and result.case.stock[0].cost is None
    return replace(spec, units=("m",)) if by_length else spec


def _line(spec: FieldSpec, value: Any, reader: Reader) -> Line | None:
    if spec.name in _SKIPPED or spec.kind in {"model", "pairs", "list", "other"}:
        return None
    title = str(LABELS.get(f"result.{spec.name}") or label_of(spec.limits.title, reader) or spec.name)
    if value is None:
        meaning = empty_means(spec.limits.title, reader)
        return Line(title, meaning, spec.name) if meaning else None
    return Line(title, shown_value(spec, value, reader), spec.name)


def shown_value(spec: FieldSpec, value: Any, reader: Reader) -> str:
    """One value of a result in the reader's words and units."""
    if isinstance(value, (bool, Phrase)):
        return in_words(value, reader)
    if spec.name in _SHARES or spec.name.startswith("share_"):
        return share(value)
    if spec.name in _SLOPES:
        return _slope(value, reader)
    if spec.name in _MONEY and spec.unit == "1":
        return f"{value:,.6g}"
    if spec.kind == "number":
        return in_words(Amount(float(value), spec.unit), reader)
    if spec.name == "worth_measuring":
        return titles_of(ContactCase, reader).get(str(value)) or choice_word(str(value))
    return translate(choice_word(str(value), spec.name), reader)


def _slope(value: float, reader: Reader) -> str:
    if reader.units == "us":
        return _("{rise} in per foot").format(rise=rounded(12 * value, 2))
    return _("{rise} mm per metre").format(rise=rounded(1000 * value, 2))


def share(value: float) -> str:
    """A share as a percentage.

    >>> share(0.0421), share(1.0)
    ('4.2 %', '100 %')
    """
    return f"{100 * value:.1f}".removesuffix(".0") + " %"


def held_against(result: Result, reader: Reader) -> list[Held]:
    """A contact held against the force standard, for a leaf that moves vertically; nothing for other results."""
    found: ForceVerdict | None = None
    if isinstance(result, ContactResult):
        found = judge(result)
    elif isinstance(result, ContactSpreadResult):
        found = judge_band(result, result.case.base)
    if found is None:
        return []
    what = {each.id: each.what for each in force_limits()}
    return [
        Held(
            what=translate(what[each.id], reader),
            limit="–" if each.limit is None else in_words(Amount(each.limit, each.unit), reader),
            found="–" if each.value is None else in_words(Amount(each.value, each.unit), reader),
            verdict=translate(each.verdict, reader),
            why=translate(each.why, reader),
            above=each.verdict == "above",
            open=each.verdict == "not known",
        )
        for each in found.limits
    ]


def bands_of(result: Result, reader: Reader) -> list[tuple[str, list[str]]]:
    """The quantiles of a spread: what, the three of them, and the further ones that were asked for."""
    titles = {spec.name: label_of(spec.limits.title, reader) for spec in fields_of(ContactResult)}
    found = []
    for each in getattr(result, "bands", ()):
        ends = (each.p5, each.p50, each.p95, *each.others)
        found.append((titles.get(each.name, each.name), [_quantile(end, each.unit, reader) for end in ends]))
    return found


def band_heads(result: Any) -> list[str]:
    """What stands above the quantiles."""
    if not hasattr(result, "bands"):
        return []
    heads = [_("5 of 100 below"), _("half below"), _("95 of 100 below")]
    return heads + [_("{share} of 100 below").format(share=f"{100 * each:g}") for each in result.case.quantiles]


def _quantile(value: float | None, unit: str, reader: Reader) -> str:
    return _("never") if value is None else in_words(Amount(value, unit), reader)


def shares_of(result: Result, reader: Reader) -> list[tuple[str, str, str]]:
    """Where the spread of the greatest force comes from: input, alone, with its interplays."""
    return list(_shares(result, reader))


def _shares(result: Result, reader: Reader) -> Iterator[tuple[str, str, str]]:
    titles = titles_of(ContactCase, reader)
    for outcome in getattr(result, "influences", ()):
        if outcome.outcome == "peak_force":
            for each in sorted(outcome.inputs, key=lambda one: -(one.total or one.first)):
                total = "–" if each.total is None else share(each.total)
                yield titles.get(each.name) or choice_word(each.name), share(each.first), total
