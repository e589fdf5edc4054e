"""A workbook of openings, one a row, as the same tree that a survey file gives.

Sheet *Site*: a key and its value in each row. Sheet *Openings*: row 1 names the facts, row 2 the unit of each
quantity, openings begin in row 3. An empty cell was not asked, ``?`` was asked and is not known. A list counts its
members, or calls devices by their id: ``stations.1.height``, ``protection.e1.kind``; ``none`` under ``protection``
itself says that there is none. A column ``door.clear_width.from`` gives the origin of the fact beside it, ``.by``
and ``.on`` who took it down and when; with an origin, ``none`` says: looked for, none there.

Formulas are refused: what a cell showed when it was saved is nobody's reading. So is a number whose format shows a
unit that is not the column's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from sillwright.base import quantity
from sillwright.base.errors import DocumentError, Mistake, QuantityError
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, short
from sillwright.base.words import N_, say
from sillwright.survey.from_node import WRAPPER, survey_from
from sillwright.survey.merged import of_merged
from sillwright.survey.model import FORMAT, Opening, Site, Survey
from sillwright.survey.spec import Group, GroupSpec, Spec, join
from sillwright.survey.workbook import Cell, address, cells_of, of_its_format, shows_another

SITE, OPENINGS = "Site", "Openings"
FEET_AND_INCHES = "ft in"
EXAMPLE = "EXAMPLE (invented)"  # the tag of the template's own row, which is no opening
UNIT_ROW, FIRST_ROW = 2, 3
_BARE = re.compile(r"[+-]?[\d.][\d./ -]*(?:[eE][+-]?\d{1,3})?", re.ASCII)
FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_ORIGIN_KEYS = WRAPPER[1:]
_IN_A_CELL: dict[str, str] = {say(N_("true or false, null for not known")): say(N_("yes or no, ? for not known"))}


@dataclass(frozen=True)
class Column:
    """What a column of *Openings* holds: a fact, one word of its origin, or a whole list."""

    path: tuple[str, ...]
    spec: Spec | GroupSpec
    origin: str = ""  # from, by, on …: of which word of the fact's origin
    unit: str = ""


def survey_of_sheet(content: bytes, name: str) -> Survey:
    """The survey in a workbook. Raises :class:`DocumentError` whose mistakes name sheet and cell."""
    try:
        return survey_from(node_of_sheet(content, name), name)
    except DocumentError as error:
        raise DocumentError(name, tuple(_by_cell(each) for each in error.mistakes)) from None


def _by_cell(found: Mistake) -> Mistake:
    """A mistake that the survey's reader found at a row and a column, by the name of the cell."""
    if found.line is None or found.column is None:
        return found
    sheet = SITE if found.path.partition(".")[0] == "site" else OPENINGS
    fact = re.sub(r"^openings\[\d+\]\.?", "", found.path)
    where = address(sheet, found.line, found.column)
    accepted = _IN_A_CELL.get(found.accepted, found.accepted)
    return replace(found, path=f"{where} ({fact})" if fact else where, accepted=accepted, line=None, column=None)


def node_of_sheet(content: bytes, name: str) -> Node:
    """The tree of a workbook of openings; lines are rows, columns are columns.

    Raises :class:`DocumentError` with every mistake of the layout; those of the facts come from
    :func:`sillwright.survey.from_node.survey_from`, which takes this tree.
    """
    sheets = cells_of(content, name, (SITE, OPENINGS))
    mistakes = Mistakes(name)
    site = _site(sheets.get(SITE), mistakes)
    found = _openings(sheets.get(OPENINGS), mistakes)
    mistakes.refuse()
    top = Node(kind="scalar", line=1, column=1, scalar=FORMAT, text=FORMAT)
    openings = Node(kind="list", line=FIRST_ROW, column=1, items=tuple(found))
    given = site.get("format") or top
    site = replace(site, pairs=tuple(pair for pair in site.pairs if pair[0] != "format"))
    pairs = (("format", top, given), ("site", top, site), ("openings", top, openings))
    return Node(kind="mapping", line=1, column=1, pairs=pairs)


# the sheets


def _note(mistakes: Mistakes, cell: Cell, message: str, accepted: str = "", *, got: bool = True) -> None:
    shown = say(N_("“{text}”"), text=short(cell.text)) if got else ""
    mistakes.append(Mistake(path=cell.address, message=message, accepted=accepted, got=shown))


def _no_sheet(name: str, accepted: str) -> Mistake:
    return Mistake(path="", message=say(N_("no sheet “{sheet}”"), sheet=name), accepted=accepted)


def _site(cells: list[Cell] | None, mistakes: Mistakes) -> Node:
    if cells is None:
        mistakes.append(_no_sheet(SITE, say(N_("name and country of the site"))))
    pairs: dict[str, tuple[str, Node, Node]] = {}
    rows: dict[int, dict[int, Cell]] = {}
    for cell in cells or ():
        rows.setdefault(cell.row, {})[cell.column] = cell
    for row in rows.values():
        key, given = row.get(1), row.get(2)
        if key is None or given is None or key.text == "key":
            continue
        known = {**Site.specs, "format": Spec(kind="text")}
        spec = known.get(key.text)
        if not isinstance(spec, Spec):
            _note(mistakes, key, say(N_("unknown key")), did_you_mean(key.text, known))
        elif key.text in pairs:
            _note(mistakes, key, say(N_("this key stands twice")))
        elif (node := _node(given, spec, "", mistakes)) is not None:
            pairs[key.text] = (key.text, _at(key, kind="scalar", text=key.text), node)
    return Node(kind="mapping", line=1, column=1, pairs=tuple(pairs.values()))


def _openings(cells: list[Cell] | None, mistakes: Mistakes) -> list[Node]:
    if cells is None:
        mistakes.append(_no_sheet(OPENINGS, say(N_("one opening a row"))))
    rows: dict[int, list[Cell]] = {}
    for cell in cells or ():
        rows.setdefault(cell.row, []).append(cell)
    columns = _columns(rows.pop(1, []), rows.pop(UNIT_ROW, []), rows, mistakes)
    filled = (row for row in rows.values() if not any(cell.text.startswith(EXAMPLE) for cell in row[:1]))
    return [_opening(row, columns, mistakes) for row in filled]


def _columns(
    heads: list[Cell], units: list[Cell], rows: dict[int, list[Cell]], mistakes: Mistakes
) -> dict[int, Column]:
    columns: dict[int, Column] = {}
    seen: set[tuple[tuple[str, ...], str]] = set()
    for head in heads:
        column = column_of(head.text)
        if column is None:
            known = [join(path, name) for path, names in _paths(Opening, "") for name in names]
            _note(mistakes, head, say(N_("names no fact")), did_you_mean(head.text, known))
        elif (column.path, column.origin) in seen:
            _note(mistakes, head, say(N_("this fact has two columns")), say(N_("keep one")))
        else:
            seen.add((column.path, column.origin))
            columns[head.column] = column
    for unit in units:
        if unit.column in columns:
            columns[unit.column] = _with_unit(columns[unit.column], unit, mistakes)
    wanted = {number for number, column in columns.items() if _measures(column) and not column.unit}
    headed = {head.column for head in heads}
    for cell in (cell for row in rows.values() for cell in row):
        place = replace(cell, row=UNIT_ROW)
        if cell.column in wanted and cell.text != "?":
            wanted.discard(cell.column)
            said = say(N_("a column of quantities names its unit here"))
            _note(mistakes, place, said, _units_known(), got=False)
        elif cell.column not in headed:
            headed.add(cell.column)
            said = say(N_("this column has values and no name"))
            _note(mistakes, replace(cell, row=1), said, say(N_("name its fact")), got=False)
    return columns


def _measures(column: Column) -> bool:
    return isinstance(column.spec, Spec) and column.spec.kind == "quantity" and not column.origin


def _with_unit(column: Column, cell: Cell, mistakes: Mistakes) -> Column:
    """The column with the unit that row 2 names; elsewhere row 2 may say what it likes, but not a tag."""
    if column.path == ("tag",) and cell.text not in {"unit", "units"}:
        accepted = say(N_("openings begin in row {row}"), row=FIRST_ROW)
        _note(mistakes, cell, say(N_("an opening stands in the row of units")), accepted)
    if not _measures(column) or not isinstance(column.spec, Spec):
        return column
    feet = cell.text == FEET_AND_INCHES and column.spec.unit == "m"
    try:
        if not feet:
            quantity.parse(f"1 {cell.text}", column.spec.unit)
    except QuantityError as error:
        said = say(N_("not a unit for {fact}: {why}"), fact=".".join(column.path), why=error.message)
        _note(mistakes, cell, said, _units_known())
    return replace(column, unit=cell.text)


def _units_known() -> str:
    """What row 2 may say: a unit, not a quantity."""
    return say(N_("for example {units}"), units=f"{FEET_AND_INCHES}, in, m, mm, in/s, kg, lb")


def column_of(head: str) -> Column | None:
    """What a column's name means; None where it names no fact.

    >>> column_of("protection[1].kind").path, column_of("door.clear_width.from").origin
    (('protection', '1', 'kind'), 'from')
    >>> column_of("door.colour") is None
    True
    """
    parts = re.sub(r"\[(\w+)\]", r".\1", head.strip()).split(".")
    group: type[Group] = Opening
    path: list[str] = []
    while parts:
        name = parts.pop(0)
        spec = group.specs.get(name)
        path.append(name)
        if isinstance(spec, Spec):
            if not parts:
                return Column(tuple(path), spec)
            known = len(parts) == 1 and parts[0] in _ORIGIN_KEYS
            return Column(tuple(path), spec, parts[0]) if known else None
        if spec is None:
            return None
        group = spec.group
        if spec.many:
            if not parts:
                return Column(tuple(path), spec)
            member = parts.pop(0)
            if not member or not ("id" in group.specs or re.fullmatch(r"[1-9]\d?", member, re.ASCII)):
                return None
            path.append(member)
    return None


def _paths(group: type[Group], path: str) -> Iterator[tuple[str, list[str]]]:
    """The names of columns, for the nearest one to an unknown: members of lists are called 1."""
    yield path, [name for name, spec in group.specs.items() if isinstance(spec, Spec) or spec.many]
    for name, spec in group.specs.items():
        if isinstance(spec, GroupSpec):
            yield from _paths(spec.group, join(path, f"{name}.1" if spec.many else name))


# one opening

_Tree = dict[str, Any]


def _opening(row: list[Cell], columns: dict[int, Column], mistakes: Mistakes) -> Node:
    """The mapping of a row. Facts and the words of their origin meet here."""
    origins: dict[tuple[str, ...], list[tuple[str, Node, Node]]] = {}
    for cell in row:
        column = columns.get(cell.column)
        if column is None or not column.origin:
            continue
        spec = Spec(kind="date" if column.origin == "on" else "text")
        if (word := _node(cell, spec, "", mistakes)) is not None:
            key = _at(cell, kind="scalar", text=column.origin)
            origins.setdefault(column.path, []).append((column.origin, key, word))
    tree: _Tree = {}
    for cell in row:
        column = columns.get(cell.column)
        if column is None or column.origin:
            continue
        source = origins.pop(column.path, [])
        node = _value(cell, column, bool(source), mistakes)
        if node is None:
            continue
        if source:
            key = _at(cell, kind="scalar", text="value")
            node = _at(cell, kind="mapping", pairs=(("value", key, node), *source))
        _put(tree, column.path, node, cell, mistakes)
    for path, words in origins.items():
        place = words[0][2]
        said = say(N_("an origin without a value"))
        accepted = say(N_("fill in {fact}, or ?"), fact=".".join(path))
        at = address(OPENINGS, place.line, place.column)
        mistakes.append(Mistake(path=at, message=said, accepted=accepted))
    return _as_node(tree, Opening, row[0])


def _put(tree: _Tree, path: tuple[str, ...], node: Node, cell: Cell, mistakes: Mistakes) -> None:
    """Put a value at its path; a list whose own column says none or ? cannot have members."""
    here = tree
    for part in path[:-1]:
        inner = here.setdefault(part, {})
        if isinstance(inner, Node):
            said = say(N_("“{list}” has a member here, and its own column says none or ?"), list=part)
            _note(mistakes, cell, said)
            return
        here = inner
    if isinstance(here.get(path[-1]), dict):
        _note(mistakes, cell, say(N_("“{list}” has members in this row"), list=path[-1]))
        return
    here[path[-1]] = node


def _value(cell: Cell, column: Column, sourced: bool, mistakes: Mistakes) -> Node | None:
    if isinstance(column.spec, Spec):
        if sourced and cell.text.casefold() == "none":
            return _at(cell, kind="scalar")
        return _node(cell, column.spec, column.unit, mistakes)
    if cell.text == "?":
        return _at(cell, kind="scalar")
    if cell.text.casefold() == "none":
        return _at(cell, kind="list")
    accepted = say(N_("columns like {column} hold the members"), column=f"{'.'.join(column.path)}.1")
    _note(mistakes, cell, say(N_("says neither none nor ?")), accepted)
    return None


def _as_node(tree: _Tree, group: type[Group], place: Cell) -> Node:
    pairs = []
    for name, inner in tree.items():
        spec = group.specs[name]
        node = inner
        if isinstance(inner, dict) and isinstance(spec, GroupSpec):
            if spec.many:
                items = tuple(_member(label, each, spec.group, place) for label, each in inner.items())
                node = _at(place, kind="list", items=items)
            else:
                node = _as_node(inner, spec.group, place)
        pairs.append((name, _at(place, kind="scalar", text=name), node))
    return _at(place, kind="mapping", pairs=tuple(pairs))


def _member(label: str, tree: _Tree, group: type[Group], place: Cell) -> Node:
    node = _as_node(tree, group, place)
    if "id" in group.specs and "id" not in tree:
        name = _at(place, kind="scalar", scalar=label, text=label)
        node = replace(node, pairs=(("id", name, name), *node.pairs))
    return node


def _at(cell: Cell, **parts: Any) -> Node:
    return Node(line=cell.row, column=cell.column, **parts)


def _node(cell: Cell, spec: Spec, unit: str, mistakes: Mistakes) -> Node | None:
    """One value: a cell's text, number, date or answer, as its fact reads it. None where it is refused."""
    if cell.over:
        _note(mistakes, cell, *of_merged(cell.over))
        return None
    if cell.kind == "f":
        _note(mistakes, cell, say(N_("a formula")), say(N_("write its value: what it showed is nobody's reading")))
        return None
    if cell.kind == "e":
        _note(mistakes, cell, say(N_("an error of the spreadsheet")), say(N_("write the value, ? for not known")))
        return None
    if cell.kind == "d" and (spec.kind != "date" or not isinstance(cell.value, date)):
        said = say(N_("the spreadsheet made a date or time of this"))
        _note(mistakes, cell, said, say(N_("format the cell as text, type it anew")))
        return None
    if cell.text == "?":
        return _at(cell, kind="scalar")
    if spec.kind in {"texts", "points"}:
        return _list(cell, spec)
    return _scalar(cell, spec, unit, mistakes)


def _scalar(cell: Cell, spec: Spec, unit: str, mistakes: Mistakes) -> Node | None:
    text = cell.text
    bare = cell.kind == "n" or _BARE.fullmatch(text)
    if spec.kind == "quantity" and bare and unit:
        if shows_another(cell, unit):
            _note(mistakes, cell, *of_its_format(cell))
            return None
        if unit == FEET_AND_INCHES:
            accepted = say(N_("write for example {one}, or {other}"), one="10 ft 6 in", other="126 in")
            _note(mistakes, cell, say(N_("a number without feet or inches")), accepted)
            return None
        text = f"{text} {unit}"
        return _at(cell, kind="scalar", scalar=text, text=text)
    if spec.kind == "flag" and text.casefold() in FLAGS:
        return _at(cell, kind="scalar", scalar=FLAGS[text.casefold()], text=text)
    scalar = cell.value if isinstance(cell.value, (bool, int, float)) else text
    if spec.kind == "count" and isinstance(scalar, str) and re.fullmatch(r"\d{1,12}(\.\d{1,6})?", text, re.ASCII):
        scalar = float(text)
    return _at(cell, kind="scalar", scalar=scalar, text=text)


def _list(cell: Cell, spec: Spec) -> Node:
    """Words or pairs of lengths in one cell, parted by semicolons: ``0 in, 0 in; 48 in, 1/4 in``."""
    words = [word.strip() for word in cell.text.split(";") if word.strip()]
    if spec.kind == "texts":
        none = [] if cell.text.casefold() == "none" else words
        return _at(
            cell, kind="list", items=tuple(_at(cell, kind="scalar", scalar=word, text=word) for word in none)
        )
    pairs = [[part.strip() for part in word.split(",")] for word in words]
    items = tuple(
        _at(cell, kind="list", items=tuple(_at(cell, kind="scalar", scalar=part, text=part) for part in pair))
        for pair in pairs
    )
    return _at(cell, kind="list", items=items)
