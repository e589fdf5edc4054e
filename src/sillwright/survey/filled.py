"""A site as the workbook of openings: the template with its rows filled, and a sheet of what no row can hold.

A cell holds one reading of a fact, with where it comes from in the columns beside it. Further readings, texts that
cannot be read and what a cell would say otherwise go to the last sheet, so that nothing is left out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from sillwright.base.words import N_, Units
from sillwright.survey.entries import Entry, origin_of, survey_from_entries
from sillwright.survey.model import FORMAT
from sillwright.survey.questions import LISTS, mistake_in, pattern_of, value_of
from sillwright.survey.sheet import FLAGS, Column, column_of
from sillwright.survey.spec import Spec
from sillwright.survey.template import columns, workbook
from sillwright.survey.workbook import MOST_COLUMNS

_ORIGIN = ("from", "by", "on", "evidence")
_SAID = {"unknown": "?", "none": "none", "removed": N_("taken away")}
_REST = (N_("tag"), N_("fact"), N_("value"), N_("from"), N_("by"), N_("on"), N_("evidence"))


def filled_workbook(
    name: str,
    country: str,
    site: Iterable[Entry],
    openings: Mapping[str, Iterable[Entry]],
    *,
    units: Units = "us",
    translate: Callable[[str], str] = str,
) -> bytes:
    """The workbook as bytes. Of several readings the first stands in the row, the others on the last sheet.

    ``translate`` gives what explains it in another language; the names of columns that are read stay.
    """
    rest: list[tuple[str, Entry]] = []
    about = _site(name, country, list(site), rest)
    rows = [_row(tag, list(entries), rest) for tag, entries in openings.items()]
    names = _names(rows)
    for row in rows:
        rest += [(row.cells["tag"], each) for column, each in row.told.items() if column not in names]
    cells = [row.cells for row in rows]
    if not rest:
        return workbook(about, names, cells, units, translate)
    lines = [[translate(word) for word in _REST], *(_line(tag, each, translate) for tag, each in rest)]
    return workbook(about, names, cells, units, translate, (translate(N_("Further readings")), 24, lines))


def _line(tag: str, each: Entry, translate: Callable[[str], str]) -> list[str]:
    said = each.typed if each.says == "value" else translate(_SAID[each.says])
    return [tag, each.path, said, origin_of(each) or "", each.by or "", each.on or "", each.evidence or ""]


def _site(name: str, country: str, entries: list[Entry], rest: list[tuple[str, Entry]]) -> dict[str, str]:
    """The keys of the sheet *Site*, which says nothing of where they come from."""
    told = {"format": FORMAT, "name": name, "country": country}
    unusable = set(survey_from_entries(name, entries, {}, country).mistakes)
    seen = {"site.name"}
    for each in entries:
        fits = each.says == "value" or (each.says == "unknown" and each.path != "site.country")
        if each.path in unusable or each.path in seen or not fits or each.origin or each.by:
            rest.append(("", each))
        if each.path not in unusable | seen and fits:
            seen.add(each.path)
            told[each.path.removeprefix("site.")] = each.typed if each.says == "value" else "?"
    return told


@dataclass
class _Row:
    """An opening's cells by column, and the reading that each fact's column holds."""

    cells: dict[str, str]
    told: dict[str, Entry] = field(default_factory=dict)


def _row(tag: str, entries: list[Entry], rest: list[tuple[str, Entry]]) -> _Row:
    row = _Row({"tag": tag})
    numbers = _numbers(entries)
    for each in entries:
        if each.path == "tag":
            continue
        name = _name(each, numbers)
        column = column_of(name) if name else None
        cell = _cell(each, column) if column else None
        if cell is None or name in row.cells:
            rest.append((tag, each))
            continue
        row.cells[name], row.told[name] = cell, each
        words = (origin_of(each), each.by, each.on, each.evidence)
        if column and isinstance(column.spec, Spec):
            row.cells |= {f"{name}.{key}": word for key, word in zip(_ORIGIN, words, strict=True) if word}
    return row


def _numbers(entries: Iterable[Entry]) -> dict[str, dict[str, int]]:
    """The members of each list that something is said of, numbered from 1."""
    found: dict[str, dict[str, int]] = {}
    for each in entries:
        listed, key, fact = _parts(each.path)
        if fact:
            members = found.setdefault(listed, {})
            members.setdefault(key, len(members) + 1)
    return found


def _parts(path: str) -> tuple[str, str, str]:
    """List, member and fact of a path; a path outside of lists is all list."""
    names, pattern = path.split("."), pattern_of(path).split(".")
    if "*" not in pattern:
        return path, "", ""
    at = pattern.index("*")
    return ".".join(names[:at]), names[at], ".".join(names[at + 1 :])


def _name(entry: Entry, numbers: Mapping[str, Mapping[str, int]]) -> str:
    """The column that can say an entry; empty where none can.

    Members of lists without ids are counted. A member that was taken away leaves a list without any, and what is
    said of a list that has members has no room in the row.
    """
    listed, key, fact = _parts(entry.path)
    if key and not fact:
        return "" if listed in numbers or entry.says != "removed" else listed
    if not key:
        return "" if listed in numbers else listed
    by_id = column_of(f"{listed}.any.{fact}") is not None
    return f"{listed}.{key if by_id else numbers[listed][key]}.{fact}"


def _cell(entry: Entry, column: Column) -> str | None:
    """What stands in the cell; None where the cell would be read as something else."""
    if not isinstance(column.spec, Spec):
        return {"unknown": "?", "none": "none", "removed": "none"}.get(entry.says)
    if entry.says != "value":
        return _SAID[entry.says]
    typed = entry.typed.strip()
    if mistake_in(entry.path, entry.typed) is not None or typed == "?":
        return None
    sourced = any((entry.origin, entry.by, entry.on, entry.evidence))
    if typed.casefold() == "none" and sourced:
        return None
    if column.spec.kind == "flag":
        return typed if typed.casefold() in FLAGS else "yes" if value_of(column.spec, typed) else "no"
    return str(value_of(column.spec, typed)) if column.spec.kind == "count" else typed


def _names(rows: Iterable[_Row]) -> list[str]:
    """The columns: those of the template and whatever else is told, each fact beside where it comes from."""
    told = list(dict.fromkeys(name for row in rows for name in row.cells))
    members = {listed: _members(listed, told) for listed in LISTS}
    facts: dict[tuple[str, ...], list[str]] = {}
    for name in dict.fromkeys([*columns(members), *told]):
        if (column := column_of(name)) is not None:
            facts.setdefault(column.path, []).append(name)
    order = ("", *_ORIGIN)
    ordered = [sorted(each, key=lambda name: order.index(column_of(name).origin)) for each in facts.values()]  # type: ignore[union-attr]
    return [name for names in ordered for name in names][:MOST_COLUMNS]


def _members(listed: str, names: Iterable[str]) -> list[str]:
    below = (name.removeprefix(f"{listed}.").split(".")[0] for name in names if name.startswith(f"{listed}."))
    return list(dict.fromkeys(below))
