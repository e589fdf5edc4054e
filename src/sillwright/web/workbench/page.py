"""A worked sheet as the templates show it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from django.urls import reverse
from django.utils.translation import gettext as _

from sillwright.base.model import fields_of
from sillwright.web.workbench.amounts import shown
from sillwright.web.workbench.asked import Asked
from sillwright.web.workbench.charts.contact import Frame
from sillwright.web.workbench.charts.sweep import heading_of
from sillwright.web.workbench.controls import Control, Option
from sillwright.web.workbench.example import Example
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.levels import levels_of
from sillwright.web.workbench.lists import lists_of
from sillwright.web.workbench.names import name_of, question_of, short_label
from sillwright.web.workbench.numbers import band_heads, bands_of, held_against, lines_of, shares_of
from sillwright.web.workbench.pictures import drawn
from sillwright.web.workbench.rests import rests_of
from sillwright.web.workbench.sheet import Sheet
from sillwright.web.workbench.vary import NEVER, NOTHING, SPANS, result_name, results_of, varied_inputs


@dataclass(frozen=True)
class Known:
    """A result of an example that is known from elsewhere, beside the one computed here."""

    title: str
    known: str
    here: str
    same: bool


def context_of(sheet: Sheet) -> dict[str, Any]:
    """All that the page and its parts show."""
    result, reader = sheet.result, sheet.reader
    example = sheet.example()
    return {
        "sheet": sheet,
        "width": "wide large" if sheet.asked.large else "wide",
        "name": name_of(sheet.found.name),
        "question": question_of(sheet.found.title),
        "parts": sheet.form.parts(),
        "whole": sheet.form.mistakes.get("", ()),
        "vary": _vary(sheet),
        "links": _links(sheet),
        "examples": _examples(sheet, example),
        "example": example,
        "known": _known(sheet, example) if example and result is not None else [],
        "lines": lines_of(result, reader) if result is not None else [],
        "held": held_against(result, reader),
        "bands": bands_of(result, reader),
        "band_heads": band_heads(result),
        "shares": shares_of(result, reader),
        "levels": levels_of(sheet.found.name, result, reader) if result is not None else None,
        "lists": lists_of(result, reader) if result is not None else [],
        "pictures": sheet.pictures,
        "curve_chart": sheet.curve_chart(),
        "curve_head": heading_of(sheet.curve) if sheet.curve else "",
        "curve_rows": _curve_rows(sheet),
        "replay": _replay(sheet),
        "rests": rests_of(sheet.found, result, reader),
    }


def _links(sheet: Sheet) -> dict[str, str]:
    at, found = reverse("bench", args=[sheet.found.name]), sheet.found
    asked: Asked = sheet.asked
    query = asked.query(found)
    other = "metric" if sheet.reader.units == "us" else "us"
    return {
        "state": f"{at}?{query}",
        "file": f"{at}?{query}&as=yaml",
        "units": f"{at}?{asked.query(found, units=other)}",
        "large": f"{at}?{asked.query(found, large=not asked.large)}",
        "plain": at,
    }


def _examples(sheet: Sheet, here: Example | None) -> list[dict[str, Any]]:
    at = reverse("bench", args=[sheet.found.name])
    kept = {"units": sheet.asked.units, "large": sheet.asked.large}
    return [
        {
            "title": each.title,
            "here": each is here,
            "address": f"{at}?{Asked(typed=each.typed, vary={}, **kept).query(sheet.found)}",  # type: ignore[arg-type]
        }
        for each in EXAMPLES.get(sheet.found.name, ())
    ]


def _known(sheet: Sheet, example: Example) -> list[Known]:
    titles = {spec.name: short_label(spec.limits.title, sheet.reader) for spec in fields_of(sheet.found.result)}
    units = {name: unit for name, (_title, unit) in results_of(sheet.found.result).items()}
    found = []
    for name, known, within in example.expected:
        here = getattr(sheet.result, name)
        if isinstance(known, str):
            found.append(Known(titles[name], known, here, known == here))
        else:
            unit = "" if units[name] == "1" else f" {units[name]}"
            same = abs(here - known) <= within
            found.append(Known(titles[name], f"{known:.9g}{unit}", f"{here:.9g}{unit}", same))
    return found


def _vary(sheet: Sheet) -> dict[str, Any] | None:
    """The fields with which an input is varied; None where the results have no numbers."""
    results = results_of(sheet.found.result)
    case = sheet.form.case
    if not results or case is None or sheet.found.name in NEVER:
        return None
    inputs = [(each.path, each.name) for each in varied_inputs(case, sheet.found.case, sheet.reader)]
    typed = {key: values[0] for key, values in sheet.asked.vary.items()}
    curve = sheet.curve
    chosen = typed.get("vary") or (curve.path if curve else NOTHING)
    show = typed.get("vary.show") or (curve.show if curve else "")
    words = [(NOTHING, _("nothing")), *inputs]
    shows = [(name, result_name(title, name, sheet.reader)) for name, (title, _unit) in results.items()]
    return {
        "input": _control(sheet, "vary", _("Vary this input"), words, chosen),
        "low": _text(sheet, "vary.from", _("from"), typed, curve.points[0][0] if curve else None),
        "high": _text(sheet, "vary.to", _("to"), typed, curve.points[-1][0] if curve else None),
        "show": _control(sheet, "vary.show", _("and draw"), shows, show),
        "wrong": sheet.wrong,
        "near": sheet.found.name in SPANS,
    }


def _control(sheet: Sheet, key: str, label: str, words: list[tuple[str, str]], chosen: str) -> Control:
    wrong = (sheet.wrong[key],) if key in sheet.wrong else ()
    options = tuple(Option(word, said, word == chosen) for word, said in words)
    return Control(path=key, name=key, label=label, options=options, mistakes=wrong)


def _text(sheet: Sheet, key: str, label: str, typed: dict[str, str], used: float | None) -> Control:
    wrong = (sheet.wrong[key],) if key in sheet.wrong else ()
    back = "" if used is None or sheet.curve is None else shown(used, sheet.curve.unit, sheet.reader)
    return Control(path=key, name=key, label=label, value=typed.get(key, ""), back=back, mistakes=wrong)


def _curve_rows(sheet: Sheet) -> list[tuple[str, str]]:
    curve, reader = sheet.curve, sheet.reader
    if curve is None:
        return []
    return [
        (shown(x, curve.unit, reader), _("not accepted") if y is None else shown(y, curve.shown_unit, reader))
        for x, y in curve.points
    ]


def _replay(sheet: Sheet) -> dict[str, Any] | None:
    """The moments of a contact for the script that plays them; the script knows no units."""
    side = sheet.side()
    if side is None:
        return None
    us = sheet.reader.units == "us"
    return {
        "side": drawn(side.drawing, "side"),
        "frames": json.dumps([_moment(each) for each in sheet.frames], separators=(",", ":")),
        "per_metre": f"{side.per_metre:.5g}",
        "travel_unit": "in" if us else "mm",
        "travel_factor": 1 / 0.0254 if us else 1000,
        "pound": "lbf" if us else "",
    }


def _moment(frame: Frame) -> list[float]:
    return [round(frame.time, 5), round(frame.force, 2), round(frame.place, 6), round(frame.gives, 6)]
