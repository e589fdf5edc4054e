"""A workbook of a catalogue, one entry a row, as the same tree that a catalogue file gives.

Sheet *catalogue*: a key and its value in each row. Every other sheet is a list: row 1 names the fields, row 2 the
unit of each quantity, entries begin in row 3. Of what an entry has several of, a sheet of its own holds one a row:
*curves* one point of a profile's curve, *via* a converter of an input, *listings* a device that its instructions
list. Words of a list are parted by semicolons; ``none`` is an empty one. Formulas are refused.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Container, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from io import BytesIO

import openpyxl

from sillwright.base import quantity
from sillwright.base.errors import DocumentError, Mistake, QuantityError
from sillwright.base.model import FieldSpec
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, short
from sillwright.base.words import N_, say
from sillwright.catalogue.cells import at, key_at, note, value_in
from sillwright.catalogue.columns import FEET_AND_INCHES, HEAD, Part, head, is_measured, sheets
from sillwright.catalogue.from_node import catalogue_from
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key, nearest
from sillwright.catalogue.rows import identity
from sillwright.survey.workbook import Cell, address, cells_of

UNIT_ROW, FIRST_ROW = 2, 3
_OF_PARTS = re.compile(r"(\w+)\[\d+\]\.(\w+)\[")


@dataclass
class Entry:
    """A row of a list: its values by the name of their column, and the parts that other sheets give it."""

    place: Cell
    values: dict[str, tuple[Cell, Node]]
    parts: dict[str, list[Node]] = field(default_factory=dict)

    def text(self, name: str) -> str:
        """What stands in a column; empty where nothing does."""
        return self.values[name][1].text if name in self.values else ""


def catalogue_of_sheet(content: bytes, name: str) -> Catalogue:
    """The catalogue in a workbook. Raises :class:`DocumentError` whose mistakes name sheet and cell."""
    mistakes = Mistakes(name)
    tree = _tree(content, name, mistakes)
    try:
        return catalogue_from(tree, name, mistakes)
    except DocumentError as error:
        raise DocumentError(name, tuple(_by_cell(each) for each in error.mistakes)) from None


def _by_cell(found: Mistake) -> Mistake:
    """A mistake that the catalogue's reader found at a row and a column, by the name of the cell."""
    if found.line is None or found.column is None:
        return found
    part = _OF_PARTS.match(found.path)
    listed = found.path.partition("[")[0]
    titles = {(each.parent, each.field): each.title for each in sheets().values() if isinstance(each, Part)}
    sheet = titles.get((part[1], part[2])) if part else None
    place = address(sheet or (listed if listed in sheets() else HEAD), found.line, found.column)
    inside = re.sub(r"^\w+\[\d+\]\.?", "", found.path) if listed in sheets() else found.path
    return replace(found, path=f"{place} ({inside})" if inside else place, line=None, column=None)


def _tree(content: bytes, name: str, mistakes: Mistakes) -> Node:
    """The tree of a workbook; mistakes of its layout are noted, so that those of the entries come beside them."""
    known = (HEAD, *sheets())
    cells = cells_of(content, name, known)
    _look_at_titles(content, known, mistakes)
    if HEAD not in cells:
        said, wanted = say(N_("no sheet “{sheet}”"), sheet=HEAD), say(N_("format, name, currency and date"))
        mistakes.append(Mistake(path="", message=said, accepted=wanted))
        mistakes.refuse()
    entries = {title: _entries(title, found, mistakes) for title, found in cells.items() if title != HEAD}
    for title, sheet in sheets().items():
        if isinstance(sheet, Part):
            _hand_out(sheet, entries.pop(title, []), entries.get(sheet.parent, []), mistakes)
    top = Cell(HEAD, 1, 1, "", "s")
    pairs = list(_head(cells[HEAD], mistakes))
    for title, rows in entries.items():
        nodes = tuple(_as_node(row) for row in rows)
        pairs.append((title, key_at(top, title), at(top, kind="list", items=nodes)))
    return at(top, kind="mapping", pairs=tuple(pairs))


def _look_at_titles(content: bytes, known: Sequence[str], mistakes: Mistakes) -> None:
    """A sheet whose name is nearly one that is read was meant to be read; others are the reader's own."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of features that are not read
        book = openpyxl.load_workbook(BytesIO(content), read_only=True, keep_links=False)
    for title in book.sheetnames:
        plain = title.strip().casefold()
        close = get_close_matches(plain[:40], known, n=1, cutoff=0.8)
        if plain not in known and close:
            said, accepted = (
                say(N_("a sheet “{sheet}” is not read"), sheet=short(title)),
                did_you_mean(plain, close),
            )
            mistakes.append(Mistake(path="", message=said, accepted=accepted))


def _head(cells: list[Cell], mistakes: Mistakes) -> list[tuple[str, Node, Node]]:
    rows: dict[int, dict[int, Cell]] = {}
    for cell in cells:
        rows.setdefault(cell.row, {})[cell.column] = cell
    pairs: dict[str, tuple[str, Node, Node]] = {}
    for row in rows.values():
        name, given = row.get(1), row.get(2)
        if name is None or given is None or name.text == "key":
            continue
        spec = head().get(name.text)
        if spec is None:
            note(mistakes, name, say(N_("unknown key")), did_you_mean(name.text, head()))
        elif name.text in pairs:
            note(mistakes, name, say(N_("this key stands twice")))
        elif (node := value_in(given, spec, "", mistakes)) is not None:
            pairs[name.text] = (name.text, key_at(name, name.text), node)
    return list(pairs.values())


# lists


def _entries(title: str, cells: list[Cell], mistakes: Mistakes) -> list[Entry]:
    rows: dict[int, list[Cell]] = {}
    for cell in cells:
        rows.setdefault(cell.row, []).append(cell)
    names = _names(title, rows.pop(1, []), mistakes)
    units = _units(title, rows.pop(UNIT_ROW, []), names, mistakes)
    _look_at_columns(title, rows, names, units, mistakes)
    found = []
    for row in rows.values():
        values: dict[str, tuple[Cell, Node]] = {}
        for cell in row:
            if cell.column in names:
                name = names[cell.column]
                node = value_in(cell, sheets()[title].columns[name], units.get(cell.column, ""), mistakes)
                values |= {name: (cell, node)} if node is not None else {}
        if values:
            found.append(Entry(row[0], values))
    return found


def _names(title: str, heads: list[Cell], mistakes: Mistakes) -> dict[int, str]:
    """The names of the columns that are read, by number; a column that names nothing is noted, and left out."""
    names: dict[int, str] = {}
    known = sheets()[title].columns
    for cell in heads:
        if cell.text not in known:
            note(mistakes, cell, say(N_("unknown key")), did_you_mean(cell.text, known))
        elif cell.text in names.values():
            note(mistakes, cell, say(N_("this field has two columns")), say(N_("keep one")))
        else:
            names[cell.column] = cell.text
    return names


def _units(title: str, cells: list[Cell], names: dict[int, str], mistakes: Mistakes) -> dict[int, str]:
    units: dict[int, str] = {}
    for cell in cells:
        name = names.get(cell.column, "")
        spec = sheets()[title].columns.get(name)
        if cell.column == 1 and spec is not None and cell.text not in {"unit", "units"} and not is_measured(spec):
            accepted = say(N_("entries begin in row {row}"), row=FIRST_ROW)
            note(mistakes, cell, say(N_("an entry stands in the row of units")), accepted)
        if spec is None or not is_measured(spec):
            continue
        units[cell.column] = cell.text
        wanted = (spec.item or spec).unit
        try:
            if not (cell.text == FEET_AND_INCHES and wanted == "m"):
                quantity.parse(f"1 {cell.text}", wanted)
        except QuantityError as error:
            said = say(N_("not a unit for {fact}: {why}"), fact=name, why=error.message)
            note(mistakes, cell, said, error.accepted)
    return units


def _look_at_columns(
    title: str, rows: dict[int, list[Cell]], names: dict[int, str], units: dict[int, str], mistakes: Mistakes
) -> None:
    """Once for each column: quantities want a unit in row 2, and values a name in row 1."""
    seen: set[int] = set()
    for cell in (cell for row in rows.values() for cell in row):
        if cell.column in seen:
            continue
        spec: FieldSpec | None = sheets()[title].columns.get(names.get(cell.column, ""))
        bare = quantity.BARE.fullmatch(cell.text)
        if spec is None:
            said, accepted = say(N_("this column has values and no name that is read")), say(N_("name its field"))
            note(mistakes, replace(cell, row=1), said, accepted, got=False)
            seen.add(cell.column)
        elif is_measured(spec) and cell.column not in units and bare:
            said = say(N_("a column of quantities names its unit here"))
            accepted = say(N_("for example {units}"), units=f"{FEET_AND_INCHES}, in, m, mm, degF, degC, ohm")
            note(mistakes, replace(cell, row=UNIT_ROW), said, accepted, got=False)
            seen.add(cell.column)


# parts of entries


def _hand_out(part: Part, rows: list[Entry], parents: list[Entry], mistakes: Mistakes) -> None:
    """Put the rows of a part's sheet into the entries that they name."""
    fields = identity(part.parent)
    known = {tuple(key(each.text(name)) for name in fields): each for each in parents}
    grouped: dict[tuple[tuple[str, ...], str], list[Entry]] = {}
    for row in rows:
        called = {there: row.text(here) for here, there in part.keys.items()}
        parent = tuple(key(called[name]) for name in fields)
        if parent not in known:
            last = list(part.keys)[-1]
            cell = row.values[last][0] if last in row.values else row.place
            said = say(N_("names no entry of “{sheet}”"), sheet=part.parent)
            note(mistakes, cell, said, nearest(cell.text, (each.text(fields[-1]) for each in parents)))
        elif part.field == "curves":
            grouped.setdefault((parent, row.text("temperature")), []).append(row)
        else:
            known[parent].parts.setdefault(part.field, []).append(_as_node(row, leave=part.keys))
    for (parent, _), points in grouped.items():
        known[parent].parts.setdefault("curves", []).append(_curve(points))


def _curve(points: list[Entry]) -> Node:
    """The curve of one profile at one temperature, from the rows of its points."""
    first = points[0].place
    pairs = []
    for point in points:
        numbers = (point.values[name][1] for name in ("travel", "force") if name in point.values)
        pairs.append(at(point.place, kind="list", items=tuple(numbers)))
    curve = ("curve", key_at(first, "curve"), at(first, kind="list", items=tuple(pairs)))
    warm = points[0].values.get("temperature")
    temperature = (("temperature", key_at(first, "temperature"), warm[1]),) if warm else ()
    return at(first, kind="mapping", pairs=(*temperature, curve))


def _as_node(entry: Entry, leave: Container[str] = ()) -> Node:
    """The mapping of a row; dotted columns become mappings inside."""
    inner: dict[str, list[tuple[str, Node, Node]]] = {}
    pairs: dict[str, tuple[str, Node, Node]] = {}
    for name, (cell, node) in entry.values.items():
        outer, _, last = name.rpartition(".")
        if outer:
            inner.setdefault(outer, []).append((last, key_at(cell, last), node))
        elif name not in leave:
            pairs[name] = (name, key_at(cell, name), node)
    for outer, inside in inner.items():
        place = entry.place
        pairs[outer] = (outer, key_at(place, outer), at(place, kind="mapping", pairs=tuple(inside)))
    for listed, items in entry.parts.items():
        place = entry.place
        pairs[listed] = (listed, key_at(place, listed), at(place, kind="list", items=tuple(items)))
    return at(entry.place, kind="mapping", pairs=tuple(pairs.values()))
