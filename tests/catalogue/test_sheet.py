"""The catalogue as a spreadsheet: template, filled, read as the file is; mistakes named by their cell."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

import openpyxl
import pytest

from sillwright.base.errors import DocumentError
from sillwright.base.model import FieldSpec, Model
from sillwright.base.words import Units
from sillwright.catalogue import Catalogue, demo
from sillwright.catalogue.columns import HEAD, Part, sheets
from sillwright.catalogue.reading import catalogue_of
from sillwright.catalogue.rows import identity
from sillwright.catalogue.template import template
from sillwright.catalogue.writing import catalogue_as_yaml

PAIRS = [("format", "sillwright-catalogue/1"), ("name", "Yard"), ("currency", "USD"), ("priced_on", "2026-01-15")]
EDGES = [
    ["name", "construction", "height", "actuation_travel", "circuits"],
    ["unit", None, "in", "in", None],
    ["E", "factory_sealed", 1.75, "3/16", "plain; resistor"],
]


def workbook(head: Sequence[Sequence[Any]] | None = None, **lists: Sequence[Sequence[Any]]) -> bytes:
    """A workbook with these rows in its sheets."""
    book = openpyxl.Workbook()
    book.active.title = HEAD
    for pair in PAIRS if head is None else head:
        book.active.append(pair)
    for title, rows in lists.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    return saved(book)


def saved(book: openpyxl.Workbook) -> bytes:
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def read(content: bytes) -> Catalogue:
    return catalogue_of(content, "parts.xlsx")


def refused(content: bytes) -> str:
    with pytest.raises(DocumentError) as caught:
        read(content)
    return str(caught.value)


def edges(column: str, unit: str | None, value: Any) -> bytes:
    names, units, row = EDGES
    return workbook(profiles=[[*names, column], [*units, unit], [*row, value]])


# the template, filled


def typed(spec: FieldSpec, value: Any) -> str:
    """A value as one types it into a cell: with its SI unit, whatever row 2 says."""
    if isinstance(value, tuple):
        return "; ".join(typed(spec.item, each) for each in value) if spec.item and value else "none"
    if spec.kind == "flag":
        return "yes" if value else "no"
    if spec.kind == "number" and spec.unit != "1":
        return f"{value!r} {spec.unit}"
    return str(value)


def value_at(model: Model, name: str) -> Any:
    found: Any = model
    for part in name.split("."):
        found = getattr(found, part, None)
    return found


def rows_of(catalogue: Catalogue, title: str) -> Iterator[dict[str, str]]:
    """The rows of a sheet, each a text by the name of its column."""
    sheet = sheets()[title]
    if not isinstance(sheet, Part):
        for entry in getattr(catalogue, title):
            found = {name: (spec, value_at(entry, name)) for name, spec in sheet.columns.items()}
            yield {name: typed(spec, value) for name, (spec, value) in found.items() if value is not None}
        return
    for parent in getattr(catalogue, sheet.parent):
        called = {here: getattr(parent, there) for here, there in sheet.keys.items()}
        for each in getattr(parent, sheet.field):
            if title == "curves":
                for travel, force in each.curve:
                    point = {"temperature": f"{each.temperature!r} K", "travel": f"{travel!r} m"}
                    yield {**called, **point, "force": f"{force!r} N"}
            else:
                inside = {name: getattr(each, name, "") for name in sheet.columns if name not in called}
                yield {**called, **inside}


def filled(catalogue: Catalogue, units: Units) -> bytes:
    """The template, filled with a catalogue by hand."""
    book = openpyxl.load_workbook(io.BytesIO(template(units)))
    for row in book[HEAD].iter_rows():
        value = getattr(catalogue, row[0].value, None)
        if value is not None:
            row[1].value = {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value
    for title in sheets():
        page = book[title]
        columns = {cell.value: cell.column for cell in page[1]}
        for number, row in enumerate(rows_of(catalogue, title), 3):
            for name, text in row.items():
                page.cell(number, columns[name], text or None)
    return saved(book)


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_template_filled_with_a_catalogue_reads_as_its_file_does(units: Units):
    assert read(filled(demo(), units)) == catalogue_of(catalogue_as_yaml(demo()).encode(), "demo.yaml") == demo()


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_template_is_the_same_every_time_and_has_a_sheet_for_every_list(units: Units):
    assert template(units) == template(units)
    book = openpyxl.load_workbook(io.BytesIO(template(units)))
    assert book.sheetnames == [HEAD, *sheets(), "How to"]
    assert book["profiles"]["A1"].value == "name"


def test_the_empty_template_lacks_only_name_currency_and_date():
    said = refused(template("us"))
    assert "3 mistakes" in said
    for key in ("name", "currency", "priced_on"):
        assert f"catalogue!A1: “{key}” is missing" in said


def test_columns_of_the_template_have_units_of_their_size():
    book = openpyxl.load_workbook(io.BytesIO(template("us")))
    shown = {cell.value: book["profiles"].cell(2, cell.column).value for cell in book["profiles"][1]}
    wanted = {"height": "in", "greatest": "ft", "coldest": "degF", "weight_per_metre": "lb/ft", "name": "unit"}
    assert {name: shown[name] for name in wanted} == wanted
    assert shown["price.each"] is None


def test_an_entry_has_its_fields_in_one_sheet_and_what_it_has_several_of_in_another():
    assert identity("inputs") == tuple(dict(sheets()["via"].keys).values())  # type: ignore[attr-defined]
    assert "curves" not in sheets()["profiles"].columns
    assert "price.per_foot" in sheets()["profiles"].columns


# cells


@pytest.mark.parametrize(
    ("column", "unit", "value", "field", "expected"),
    [
        ("width", "mm", 38, "width", 0.038),
        ("width", "mm", "1-1/2 in", "width", 0.0381),
        ("greatest", "ft in", "24 ft 6 in", "greatest", 7.4676),
        ("greatest", "ft", 24, "greatest", 7.3152),
        ("coldest", "degF", -31, "coldest", 238.15),
        ("end_elements", "kohm", "10; 8.2", "end_elements", (10e3, 8.2e3)),
        ("end_elements", "ohm", 10000, "end_elements", (10e3,)),
        ("lead_days", None, 5, "lead_days", 5),
        ("lead_days", None, 5.0, "lead_days", 5),
        ("lead_days", None, "5", "lead_days", 5),
        ("environments", None, "dry;wet ; ", "environments", ("dry", "wet")),
        ("environments", None, "none", "environments", ()),
        ("note", None, 12, "note", "12"),
        ("note", None, "?", "note", ""),
        ("weight_per_metre", "lb/ft", "0.9", "weight_per_metre", 1.3393475),
    ],
)
def test_a_cell_is_read_in_the_unit_of_its_column(column, unit, value, field, expected):
    (edge,) = read(edges(column, unit, value)).profiles
    assert getattr(edge, field) == (expected if isinstance(expected, (str, int)) else pytest.approx(expected))


@pytest.mark.parametrize("value", [40, 40.0, "40", "40.00"])
def test_a_price_is_a_number_or_a_text_that_is_one(value):
    assert read(edges("price.each", "USD", value)).profiles[0].price.each == 40


def test_a_price_by_the_foot_is_a_column_of_its_own():
    for value in (30, "30"):
        assert read(edges("price.per_foot", None, value)).profiles[0].price.of(0.3048) == pytest.approx(30)


def test_a_date_that_the_spreadsheet_made_is_a_date():
    head = [*PAIRS[:3], ("priced_on", datetime(2026, 1, 15))]
    assert read(workbook(head)).priced_on == "2026-01-15"


@pytest.mark.parametrize(
    ("column", "unit", "value", "said"),
    [
        ("price.each", None, "$40", "profiles!F3 (price.each): not a quantity, read “$40”"),
        ("price.each", None, -1, "profiles!F3 (price.each): out of range, read “-1”"),
        ("price.each", None, "=1+1", "profiles!F3: a formula"),
        ("price.each", None, datetime(2026, 1, 4), "profiles!F3: the spreadsheet made a date or time of this"),
        ("price.eahc", None, 1, "profiles!F1: unknown key, read “price.eahc”\n    did you mean “price.each”?"),
        ("name", None, "F", "profiles!F1: this field has two columns"),
        (None, None, 1, "profiles!F1: this column has values and no name that is read"),
        ("width", None, 1, "profiles!F2: a column of quantities names its unit here"),
        ("width", "kg", 1, "profiles!F2: not a unit for width: “kg” does not measure what is asked here"),
        ("width", "furlongs long", 1, "profiles!F2: not a unit for width"),
        ("greatest", "ft in", 24, "profiles!F3: a number without feet or inches"),
        ("fin_side", None, "outsid", "profiles!F3 (fin_side): not a known word here, read “outsid”"),
        ("channels", None, "Rail", "profiles!F3 (channels[0]): not in this catalogue, read “Rail”"),
        ("lead_days", None, 5.5, "profiles!F3 (lead_days): a whole number is wanted here"),
        ("ends.lead", "in", 1, "profiles!A3 (ends): “far” is missing"),
    ],
)
def test_a_mistake_is_named_by_its_cell(column, unit, value, said):
    assert said in refused(edges(column, unit, value))


def test_an_error_of_the_spreadsheet_is_no_value():
    content = edges("note", None, "#DIV/0!")
    assert "profiles!F3: an error of the spreadsheet" in refused(content)


def test_mistakes_of_layout_and_of_entries_are_told_at_once():
    content = workbook(
        [*PAIRS[:2], ("curency", "USD"), ("priced_on", "soon")],
        profiles=[*EDGES, ["E", "glued", 1, 1, "plain"]],
        channls=[["name"]],
    )
    said = refused(content)
    for each in (
        "catalogue!A3: unknown key, read “curency”\n    did you mean “currency”?",
        "catalogue!A1: “currency” is missing",
        "catalogue!B4 (priced_on): not a date, read “soon”",
        "profiles!A4 (name): this name stands twice",
        "profiles!B4 (construction): not a known word here, read “glued”",
        "a sheet “channls” is not read\n    did you mean “channels”?",
    ):
        assert each in said


def test_a_workbook_without_its_first_sheet_says_which_is_wanted():
    book = openpyxl.Workbook()
    assert "no sheet “catalogue”" in refused(saved(book))


def test_an_entry_in_the_row_of_units_is_told():
    said = refused(workbook(profiles=[EDGES[0], EDGES[2]]))
    assert "profiles!A2: an entry stands in the row of units, read “E”\n    entries begin in row 3" in said


def test_sheets_and_rows_of_the_readers_own_are_left_in_peace():
    book = openpyxl.load_workbook(io.BytesIO(workbook(profiles=EDGES)))
    book.create_sheet("My notes").append(["whatever", "=1+1"])
    book["profiles"].cell(9, 1, " ")
    assert len(read(saved(book)).profiles) == 1


def test_a_sheet_may_be_written_in_capitals_and_not_twice():
    assert len(read(workbook(PROFILES=EDGES)).profiles) == 1
    book = openpyxl.load_workbook(io.BytesIO(workbook(profiles=EDGES)))
    book.create_sheet("profiles ")
    assert "two sheets “profiles”" in refused(saved(book))


# parts of entries

CURVES = [
    ["profile", "temperature", "travel", "force"],
    ["unit", "degF", "in", "N"],
    ["E", 0, 0, 0],
    ["E", 0, 0.25, 90],
    ["E", 70, 0, 0],
    ["E", 70, 0.25, 45],
]


def test_the_points_of_a_curve_stand_in_a_sheet_of_their_own():
    cold, warm = read(workbook(profiles=EDGES, curves=CURVES)).profiles[0].curves
    assert cold.temperature == pytest.approx(255.372, abs=1e-3)
    assert warm.curve == ((0.0, 0.0), (pytest.approx(0.00635), 45.0))


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (["F", 70, 0.5, 90], "curves!A7: names no entry of “profiles”, read “F”"),
        ([None, 70, 0.5, 90], "curves!B7: names no entry of “profiles”"),
        (["E", 70, 0.5, None], "curves!A7 (curves[1].curve[2]): a pair in m and N is wanted here"),
        (["E", 70, 0.5, 40], "curves!A5 (curves[1]): CurveAt.curve: "),
        (["E", None, 0.5, 90], "curves!A7 (curves[2]): “temperature” is missing"),
        (["E", 30, 0, 0], "curves!A7 (curves[2]): CurveAt.curve: 1 points; 2 to 64 are accepted"),
    ],
)
def test_a_point_that_does_not_fit_is_named_by_its_cell(row, said):
    assert said in refused(workbook(profiles=EDGES, curves=[*CURVES, row]))


def test_converters_and_listings_of_an_input_stand_in_sheets_of_their_own():
    inputs = [["operator", "name", "circuit"], ["unit"], ["J", "edge", "resistor"], ["K", "edge", None]]
    converters = [["name", "takes", "gives"], ["unit"], ["V", "four_wire", "resistor"]]
    via = [["operator", "input", "converter", "circuit"], ["unit"], ["j", "edge", "V", "four_wire"]]
    listings = [["operator", "input", "device", "page"], ["unit"], ["K", "edge", "Edge class B", 12]]
    book = workbook(inputs=inputs, converters=converters, via=via, listings=listings)
    first, second = read(book).inputs
    assert [each.converter for each in first.via] == ["V"]
    assert [(each.device, each.page) for each in second.lists] == [("Edge class B", "12")]
    wrong = workbook(inputs=inputs, converters=converters, via=[*via, ["K", "edge", "W", "four_wire"]])
    assert "via!C4 (via[0].converter): not in this catalogue, read “W”" in refused(wrong)


def test_a_cell_that_is_merged_down_is_refused():
    book = openpyxl.load_workbook(io.BytesIO(workbook(profiles=[*EDGES, ["F", "factory_sealed"]])))
    book["profiles"].merge_cells("C3:C4")
    assert "profiles!C3: one cell merged over C3:C4" in refused(saved(book))


def test_a_name_that_begins_like_a_formula_is_text():
    book = openpyxl.load_workbook(io.BytesIO(workbook(profiles=EDGES)))
    cell = book["profiles"]["A3"]
    cell.value, cell.data_type = "=cmd|' /C calc'!A0", "s"
    assert read(saved(book)).profiles[0].name == "=cmd|' /C calc'!A0"


@pytest.mark.parametrize(
    ("style", "read_so"), [("0.00%", False), ("0%;-0%", False), ("0.00", True), ('0.00" %"', True)]
)
def test_a_number_that_shows_as_a_percentage_is_not_read_as_a_hundredth_of_it(style: str, read_so: bool):
    book = openpyxl.load_workbook(io.BytesIO(workbook([*PAIRS, ("tax_percent", 0.0825)])))
    book[HEAD].cell(5, 2).number_format = style
    if read_so:
        assert read(saved(book)).tax_percent == 0.0825
    else:
        assert f"{HEAD}!B5: the format of the cell shows a percentage" in refused(saved(book))


def test_a_price_that_shows_as_a_percentage_is_no_price():
    book = openpyxl.load_workbook(io.BytesIO(edges("price.each", None, 0.4)))
    book["profiles"].cell(3, 6).number_format = "0%"
    assert "profiles!F3: the format of the cell shows a percentage" in refused(saved(book))
