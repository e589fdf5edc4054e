"""Workbooks of openings: read to the same survey as a file, mistakes named by their cell, hostile ones refused."""

from __future__ import annotations

import io
import subprocess
import sys
import warnings
import zipfile
from datetime import date, datetime, time
from typing import Any

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.chart import BarChart

from sillwright.base.errors import DocumentError, InputError
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import Opening, Survey
from sillwright.survey.reading import read_survey
from sillwright.survey.sheet import column_of, node_of_sheet, survey_of_sheet
from sillwright.survey.workbook import MOST_COLUMNS, MOST_ROWS

from .test_hostile import MEASURED

SITE = [("key", "value"), ("name", "Quillback Sheds"), ("country", "US")]


def workbook(
    rows: list[list[Any]], site: list[tuple[Any, ...]] | None = None, titles: str = "Openings Site"
) -> bytes:
    """A workbook with these rows of openings: names, units, then openings."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title, other = titles.split(" ")
    for row in rows:
        sheet.append(row)
    place = book.create_sheet(other)
    for pair in SITE if site is None else site:
        place.append(pair)
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def columns(**given: tuple[str | None, Any]) -> bytes:
    """A workbook with one opening; ``door__kind=(unit, value)`` are its columns, double underlines are points."""
    names = [name.replace("__", ".") for name in given]
    return workbook(
        [["tag", *names], [None, *(unit for unit, _ in given.values())], ["B1", *(v for _, v in given.values())]]
    )


def read(content: bytes) -> Survey:
    return survey_of_sheet(content, "yard.xlsx")


def opening(**given: tuple[str | None, Any]) -> Opening:
    return read(columns(**given)).openings[0]


def refused(content: bytes) -> str:
    with pytest.raises(DocumentError) as caught:
        read(content)
    return str(caught.value)


# what is read


def test_a_row_is_an_opening():
    survey = read(
        workbook(
            [
                ["tag", "door.kind", "door.clear_width", "door.clear_height", "protection.e1.kind", "use.children"],
                ["unit", None, "ft in", "m", None, None],
                ["B1", "sectional", "10 ft 4 in", 4.27, "sensing_edge", True],
                ["B2", "slide_gate", None, None, "?", False],
            ]
        )
    )
    first, second = survey.openings
    assert first.door.clear_width.value == pytest.approx(124 * 0.0254)
    assert first.door.clear_height.value == 4.27
    assert first.fact("protection.e1.kind").value == "sensing_edge"
    assert (first.use.children.value, second.use.children.value) == (True, False)
    assert second.door.clear_width.standing == "not asked"
    assert second.fact("protection.e1.kind").standing == "not known"
    assert survey.site.name.value == "Quillback Sheds"


@pytest.mark.parametrize(
    ("unit", "value", "metres"),
    [
        ("ft in", "10 ft 6 in", 126 * 0.0254),
        ("in", 126, 126 * 0.0254),
        ("in", 126.5, 126.5 * 0.0254),
        ("in", "126-1/2", 126.5 * 0.0254),
        ("mm", 3200, 3.2),
        ("mm", "3200", 3.2),
        ("m", 3.2, 3.2),
        ("m", "3200 mm", 3.2),
        ("ft", 10, 3.048),
    ],
)
def test_a_plain_number_has_the_unit_of_row_2_and_a_text_its_own(unit, value, metres):
    assert opening(door__clear_width=(unit, value)).door.clear_width.value == pytest.approx(metres)


def test_a_number_in_decimal_feet_is_asked_about_like_any_other():
    assert opening(door__clear_width=("ft", 10.6)).door.clear_width.doubtful
    assert not opening(door__clear_width=("ft", 10)).door.clear_width.doubtful


@pytest.mark.parametrize(
    ("path", "unit", "value", "expected"),
    [
        ("door.closing_speed", "in/s", 8, 0.2032),
        ("door.leaf_mass", "lb", 680, 680 * 0.45359237),
        ("operator.reaction", "ms", 80, 0.08),
        ("surroundings.cold_side", "degF", 5, 258.15),
        ("surroundings.cold_side", "degF", -4.5, (-4.5 + 459.67) / 1.8),
    ],
)
def test_other_quantities_have_units_too(path, unit, value, expected):
    assert opening(**{path.replace(".", "__"): (unit, value)}).fact(path).value == pytest.approx(expected)


def test_an_empty_cell_was_not_asked_and_a_question_mark_is_not_known():
    found = opening(operator__made=(None, None), operator__board_made=(None, "?"), door__lift=(None, "  "))
    assert [found.operator.made.standing, found.operator.board_made.standing, found.door.lift.standing] == [
        "not asked", "not known", "not asked",
    ]  # fmt: skip


def test_a_column_beside_a_fact_says_where_it_comes_from():
    width = opening(
        door__clear_width=("in", 124),
        door__clear_width__from=(None, "measured"),
        door__clear_width__by=(None, "technician"),
        door__clear_width__on=(None, datetime(2026, 3, 4)),
        door__clear_width__evidence=(None, "photo-3"),
    ).door.clear_width
    assert width.reading is not None
    assert (width.origin, width.reading.by, width.reading.on) == ("measured", "technician", "2026-03-04")
    assert width.reading.evidence == "photo-3"


def test_a_side_seen_from_outside_is_turned():
    found = opening(operator__side=(None, "left"), operator__side__seen_from=(None, "outside"))
    assert found.operator.side.value == "right"


def test_none_with_an_origin_was_looked_for():
    found = opening(operator__board_made=(None, "none"), operator__board_made__from=(None, "measured"))
    assert found.operator.board_made.standing == "none there"


def test_a_list_may_be_none_or_not_known():
    assert opening(protection=(None, "none")).protection.standing == "known"
    assert opening(protection=(None, "?")).protection.standing == "not known"
    assert opening(door__lift=(None, "high")).protection.standing == "not asked"


def test_members_of_lists_are_called_by_id_or_counted():
    found = opening(
        protection__e1__kind=(None, "sensing_edge"),
        protection__y1__state=(None, "works"),
        **{"stations[1]__height": ("in", 60), "operator__inputs__1__name": (None, "edge")},
    )
    assert [each.id.value for each in found.protection] == ["e1", "y1"]
    assert found.stations.items[0].height.value == pytest.approx(1.524)
    assert found.operator.inputs.items[0].name.value == "edge"


def test_a_device_may_say_its_id_in_a_cell():
    found = opening(protection__1__id=(None, "e7"), protection__1__wires=(None, 2))
    assert found.fact("protection.e7.wires").value == 2


def test_lists_of_words_and_of_points_stand_in_one_cell():
    found = opening(
        operator__lists_devices=(None, "edge class A; eye class T ;"),
        use__misuse=(None, "none"),
        floor__points=(None, "0 in, 0 in; 48 in, 1/4 in"),
    )
    assert found.operator.lists_devices.value == ("edge class A", "eye class T")
    assert found.use.misuse.value == ()
    assert found.floor.points.value == ((0, 0), (pytest.approx(48 * 0.0254), pytest.approx(0.00635)))


@pytest.mark.parametrize(
    ("value", "expected"),
    [(True, True), (False, False), ("yes", True), ("No", False), ("TRUE", True), ("false", False)],
)
def test_answers_are_read_as_people_write_them(value, expected):
    assert opening(use__public=(None, value)).use.public.value is expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (2019, "2019"),
        ("2019-03", "2019-03"),
        (datetime(2019, 3, 4), "2019-03-04"),
        (date(2019, 3, 4), "2019-03-04"),
    ],
)
def test_dates_of_a_spreadsheet_are_dates(value, expected):
    assert str(opening(operator__made=(None, value)).operator.made.value) == expected


@pytest.mark.parametrize(("tag", "text"), [(12, "12"), (12.0, "12"), ("012", "012"), (1.5, "1.5"), (True, "true")])
def test_a_tag_is_text_whatever_the_cell_holds(tag, text):
    assert read(workbook([["tag"], [], [tag]])).openings[0].tag.value == text


@pytest.mark.parametrize("value", [120, 120.0, "120", "120.0"])
def test_a_count_is_a_plain_number(value):
    assert opening(use__closings_per_day=(None, value)).use.closings_per_day.value == 120


def test_the_site_may_say_its_codes_and_temperatures():
    site = [*SITE, ("codes", "IBC 2021; IFC 2021"), ("coldest", "5 degF"), ("subdivision", "WA"), ("units", "?")]
    found = read(workbook([["tag"], [], ["B1"]], site)).site
    assert (found.codes.value, found.subdivision.value) == (("IBC 2021", "IFC 2021"), "WA")
    assert found.coldest.value == pytest.approx(258.15)
    assert found.units.standing == "not known"


def test_sheets_are_found_whatever_their_case_and_others_are_not_read():
    content = workbook([["tag"], [], ["B1"]], titles="OPENINGS site")
    assert read(content).openings[0].tag.value == "B1"


@pytest.mark.parametrize("name", ["Openings", "Site"])
def test_of_two_sheets_of_one_name_none_is_taken_silently(name):
    book = openpyxl.load_workbook(io.BytesIO(workbook([["tag"], ["unit"], ["B1"]])))
    book.create_sheet(f"{name.lower()} ").append(["tag"])
    target = io.BytesIO()
    book.save(target)
    assert f"two sheets “{name}”" in refused(target.getvalue())


@pytest.mark.parametrize(
    ("style", "unit", "metres"),
    [
        ('0" cm"', "in", None),
        ('0" cm"', "cm", 1.2),
        ("0\\'", "in", None),
        ('0\\"', "in", 3.048),
        ('#,##0.0" "', "in", 3.048),
        ("[Red]0.00", "in", 3.048),
    ],
)
def test_a_unit_that_only_the_format_of_a_cell_shows_is_not_passed_over(style, unit, metres):
    book = openpyxl.load_workbook(io.BytesIO(columns(door__clear_width=(unit, 120))))
    book["Openings"]["B3"].number_format = style
    target = io.BytesIO()
    book.save(target)
    if metres is None:
        assert "Openings!B3: the format of the cell shows" in refused(target.getvalue())
    else:
        assert read(target.getvalue()).openings[0].door.clear_width.value == pytest.approx(metres)


def test_empty_rows_between_openings_say_nothing():
    assert len(read(workbook([["tag"], [], ["B1"], [], [None], ["B2"]])).openings) == 2


def test_lines_of_the_tree_are_rows_and_columns_are_columns():
    node = node_of_sheet(columns(door__kind=(None, "grille")), "yard.xlsx")
    kind = node.get("openings").items[0].get("door").get("kind")
    assert (kind.line, kind.column) == (3, 2)
    assert survey_from(node, "yard.xlsx").openings[0].door.kind.value == "grille"


def test_a_workbook_is_known_by_its_content_too(tmp_path):
    path = tmp_path / "yard.survey"
    path.write_bytes(columns(door__kind=(None, "grille")))
    assert read_survey(path, draft=True).openings[0].door.kind.value == "grille"


# what is refused, cell by cell


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"door__clear_width": ("ft in", 10)}, "Openings!B3: a number without feet or inches, read “10”"),
        ({"door__clear_width": (None, 10)}, "Openings!B2: a column of quantities names its unit here"),
        ({"door__clear_width": ("kg", 10)}, "Openings!B2: not a unit for door.clear_width"),
        ({"door__clear_width": ("lots", 10)}, "unknown unit “lots”"),
        ({"door__clear_width": ("lots", 10)}, "for example ft in, in, m, mm"),
        ({"door__leaf_mass": ("ft in", 10)}, "Openings!B2: not a unit for door.leaf_mass"),
        ({"door__clear_width": ("m", "wide")}, "Openings!B3 (door.clear_width): not a quantity, read “wide”"),
        ({"door__clear_width": ("m", 1e9)}, "Openings!B3 (door.clear_width): out of range, read “1000000000 m”"),
        ({"door__clear_width": ("in", "1/0")}, "nothing below the line"),
        ({"door__clear_width": ("m", "none")}, "Openings!B3 (door.clear_width): not a quantity"),
        ({"door__clear_width": ("m", True)}, "Openings!B3 (door.clear_width): not a quantity, read “true”"),
        ({"door__kind": (None, "sectionall")}, "Openings!B3 (door.kind): not a known word here"),
        ({"use__public": (None, "maybe")}, "Openings!B3 (use.public): not an answer"),
        ({"use__public": (None, "maybe")}, "yes or no, ? for not known"),
        ({"use__closings_per_day": (None, "many")}, "a plain number is wanted here"),
        ({"door__colour": (None, "red")}, "Openings!B1: names no fact, read “door.colour”"),
        ({"door__clear_widht": (None, "red")}, "did you mean “door.clear_width”?"),
        ({"stations__x__height": ("m", 1)}, "Openings!B1: names no fact"),
        ({"stations__0__height": ("m", 1)}, "Openings!B1: names no fact"),
        ({"door": (None, "red")}, "Openings!B1: names no fact"),
        ({"door__kind__from__by": (None, "red")}, "Openings!B1: names no fact"),
        ({"door__kind__form": (None, "red")}, "Openings!B1: names no fact"),
        ({"protection__e1": (None, "red")}, "Openings!B1: names no fact"),
        ({"protection": (None, "some")}, "Openings!B3: says neither none nor ?"),
        ({"protection": (None, "none"), "protection__e1__kind": (None, "guard")}, "Openings!C3: “protection” has"),
        ({"protection__e1__kind": (None, "guard"), "protection": (None, "none")}, "C3: “protection” has members"),
        ({"door__kind__from": (None, "told")}, "Openings!B3: an origin without a value"),
        ({"door__kind": (None, "grille"), "door__kind__from": (None, "guess")}, "not an origin, read “guess”"),
        ({"door__clear_width": ("m", "=1+2")}, "Openings!B3: a formula, read “=1+2”"),
        ({"name": (None, '=HYPERLINK("x")')}, "Openings!B3: a formula"),
        ({"name": (None, "#REF!")}, "Openings!B3: an error of the spreadsheet, read “#REF!”"),
        ({"name": (None, datetime(2026, 3, 4))}, "Openings!B3: the spreadsheet made a date or time of this"),
        ({"door__clear_width": ("m", datetime(2026, 3, 4))}, "Openings!B3: the spreadsheet made a date"),
        ({"operator__made": (None, time(10, 30))}, "Openings!B3: the spreadsheet made a date or time of this"),
        ({"floor__points": (None, "0 in; 1 in")}, "a pair is wanted here"),
    ],
)  # fmt: skip
def test_a_mistake_names_sheet_and_cell(given, said):
    assert said in refused(columns(**given))


def test_two_columns_of_one_fact_are_refused():
    content = workbook([["tag", "door.kind", "door.kind"], [], ["B1", "grille", "rolling"]])
    assert "Openings!C1: this fact has two columns" in refused(content)


def test_values_under_no_name_are_refused_once():
    content = workbook([["tag", None], [], ["B1", "x"], ["B2", "y"]])
    assert refused(content).count("Openings!B1: this column has values and no name") == 1


def test_an_opening_in_the_row_of_units_is_refused():
    assert "Openings!A2: an opening stands in the row of units" in refused(workbook([["tag"], ["B1"], ["B2"]]))


def test_a_tag_that_stands_twice_or_is_missing_names_its_row():
    said = refused(workbook([["tag", "name"], [], ["B1"], ["B1"], [None, "x"]]))
    assert "Openings!A4 (tag): the tag “B1” stands twice" in said
    assert "Openings!B5 (tag): “tag” is missing" in said


def test_a_cell_that_is_merged_down_says_nothing_of_the_rows_below_it_and_is_refused():
    rows = [["tag", "door.kind", "name"], [], ["B1", "sectional", "Bay"], ["B2"], ["B3", "grille"]]
    book = openpyxl.load_workbook(io.BytesIO(workbook(rows)))
    book["Openings"].merge_cells("B3:B4")
    book["Openings"].merge_cells("C5:D5")  # along its row it is in nobody's way
    target = io.BytesIO()
    book.save(target)
    said = refused(target.getvalue())
    assert "Openings!B3: one cell merged over B3:B4: for which of the rows it stands is not said" in said
    assert "part it, and write the value into each row" in said
    assert "1 mistake" in said


@pytest.mark.parametrize(
    ("site", "said"),
    [
        ([("nmae", "x")], "Site!A1: unknown key, read “nmae”\n    did you mean “name”?"),
        ([*SITE, ("name", "x")], "Site!A4: this key stands twice"),
        ([*SITE, ("units", "imperial")], "Site!B4 (site.units): not a known word here, read “imperial”"),
        ([*SITE, ("coldest", 5)], "Site!B4 (site.coldest): out of range, read “5”"),
        ([*SITE, ("codes", "=A1")], "Site!B4: a formula"),
        ([("format", "sillwright-survey/9"), *SITE], "not a format that is read here"),
        ([("name", "Yard"), ("country", "USA")], "Site!B2 (site.country): not an ISO 3166-1 country code"),
        ([], "“name” is missing"),
    ],
)
def test_a_mistake_of_the_site_names_its_cell(site, said):
    assert said in refused(workbook([["tag"], [], ["B1"]], site))


def test_a_format_that_is_read_here_may_be_said():
    assert read(workbook([["tag"], [], ["B1"]], [("format", "sillwright-survey/1"), *SITE])).openings


def test_a_key_of_the_site_without_a_value_was_not_asked():
    assert read(workbook([["tag"], [], ["B1"]], [*SITE, ("units", None)])).site.units.standing == "not asked"


def test_all_mistakes_of_the_layout_are_said_at_once():
    content = workbook(
        [["tag", "colour", "door.clear_width"], [None, None, "kg"], ["=A1", "x", 3]], [("nmae", "x")]
    )
    assert refused(content).startswith("yard.xlsx: 4 mistakes, nothing was written")


def test_a_workbook_without_the_sheets_says_so():
    said = refused(workbook([["tag"]], titles="Doors Place"))
    assert "no sheet “Site”" in said
    assert "no sheet “Openings”" in said


def test_a_workbook_without_openings_is_a_site_without_any():
    assert read(workbook([])).openings == ()


def test_too_many_rows_and_columns_are_refused():
    assert f"Openings!A{MOST_ROWS + 1}: more than" in refused(
        workbook([["tag"], *[[] for _ in range(MOST_ROWS - 1)], ["B1"]])
    )
    assert "Openings!OK1: more than" in refused(workbook([["tag"] * (MOST_COLUMNS + 1)]))


@pytest.mark.parametrize(
    ("head", "known"),
    [
        ("door.kind", True),
        ("", False),
        ("tag.", False),
        (".", False),
        ("protection..kind", False),
        ("tag.from", True),
    ],
)
def test_the_name_of_a_column(head, known):
    assert (column_of(head) is not None) is known


# hostile archives


def packed(changes: dict[str, bytes | None], content: bytes | None = None) -> bytes:
    """A workbook with parts replaced, added or, where None, taken out."""
    source = zipfile.ZipFile(io.BytesIO(content or columns(door__kind=(None, "grille"))))
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name in source.namelist():
            if name not in changes:
                archive.writestr(name, source.read(name))
        for name, part in changes.items():
            if part is not None:
                archive.writestr(name, part)
    return target.getvalue()


def encrypted(content: bytes) -> bytes:
    """The archive with the flag that says its parts are encrypted."""
    marked = bytearray(content)
    for signature, place in ((b"PK\x01\x02", 8), (b"PK\x03\x04", 6)):
        start = 0
        while (start := marked.find(signature, start)) >= 0:
            marked[start + place] |= 1
            start += 4
    return bytes(marked)


LAUGHS = b"""<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>
<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row r="1">
<c r="A1" t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>"""
FAR_DOWN = LAUGHS.replace(b"&b;", b"tag").replace(b'"1">', b'"99999999">').replace(b"A1", b"A99999999")
FAR_DOWN = FAR_DOWN[FAR_DOWN.index(b"<worksheet") :]
OPEN_ROWS = FAR_DOWN[: FAR_DOWN.index(b"<row")]
FAR_RIGHT = OPEN_ROWS + b'<row r="1"><c r="XFD1"/></row></sheetData></worksheet>'
SHEET = "xl/worksheets/sheet1.xml"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        pytest.param(b"", "not a workbook", id="empty"),
        pytest.param(b"tag,door.kind\nB1,grille\n", "not a workbook", id="a table of commas"),
        pytest.param(b"PK\x03\x04" + b"x" * 100, "not a workbook", id="half an archive"),
        pytest.param(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "an old or encrypted", id="old"),
        pytest.param(b"x" * 2_000_001, "larger than 2 MB", id="2 MB and a byte"),
        pytest.param(encrypted(packed({})), "an encrypted workbook", id="encrypted"),
        pytest.param(packed({"xl/vbaProject.bin": b"x"}), "with macros", id="macros"),
        pytest.param(packed({"xl/externalLinks/link1.xml": b"<a/>"}), "links to other workbooks", id="links"),
        pytest.param(packed({SHEET: b" " * 30_000_000}), "unpacks to more than 2.5 MB", id="a bomb"),
        pytest.param(packed({f"x{n}": b"" for n in range(600)}), "unpacks to more than", id="600 parts"),
        pytest.param(packed({"xl/styles.xml": b" " * 400_000}), "too large a part inside: styles.xml", id="styles"),
        pytest.param(packed({"docProps/app.xml": b" " * 1_100_000}), "too large a part", id="a large part"),
        pytest.param(packed({SHEET: LAUGHS}), "cannot be read", id="a billion laughs"),
        pytest.param(packed({"x.png": b"<a>" * 100}), "cannot be read", id="half a part under another name"),
        pytest.param(packed({"x.png": b"\xff\xfe" + "<a>".encode("utf-16-le")}), "cannot be read", id="in UTF-16"),
        pytest.param(packed({SHEET: b"<worksheet>"}), "cannot be read", id="broken XML"),
        pytest.param(packed({SHEET: None}), "no sheet “Openings”", id="a part missing"),
        pytest.param(packed({SHEET: FAR_DOWN}), "Openings, row 20001: more than", id="a row far down"),
        pytest.param(packed({SHEET: FAR_RIGHT}), "Openings, row 1: more than", id="an empty cell far right"),
        pytest.param(packed({"xl/workbook.xml": None}), "cannot be read", id="no workbook inside"),
        pytest.param(packed({"xl/workbook.xml": b"\x00"}), "cannot be read", id="a broken workbook"),
    ],
)  # fmt: skip
def test_a_hostile_workbook_is_refused_in_words(content, said):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert said in refused(content)


@pytest.mark.parametrize(
    "part",
    [
        pytest.param(OPEN_ROWS + b"<row>" * 480_000, id="rows inside rows"),
        pytest.param(OPEN_ROWS + b"<row>" + b"<c><v>1</v></c>" * 160_000 + b"</row>", id="one row without end"),
        pytest.param(OPEN_ROWS + b"<row/>" * 400_000, id="empty rows without end"),
    ],
)
def test_a_hostile_workbook_is_refused_within_200_megabytes(part, tmp_path):
    path = tmp_path / "yard.xlsx"
    path.write_bytes(packed({SHEET: part + b"</sheetData></worksheet>"}))
    run = subprocess.run([sys.executable, "-c", MEASURED, str(path)], capture_output=True, text=True, timeout=240)
    assert run.returncode == 0, run.stderr
    assert run.stdout.split()[0] == "DocumentError"


def test_a_picture_inside_is_let_be():
    assert read(packed({"xl/media/image1.png": b"\x89PNG\r\n\x1a\n<<<"})).openings


def test_a_part_just_within_the_cap_is_read():
    content = packed({SHEET: zipfile.ZipFile(io.BytesIO(WHOLE)).read(SHEET) + b" " * 2_400_000}, WHOLE)
    assert read(content).openings[0].tag.value == "B1"


def test_a_chart_in_place_of_the_table_is_refused():
    book = openpyxl.Workbook()
    book.active.title = "Site"
    book.create_chartsheet("Openings").add_chart(BarChart())
    target = io.BytesIO()
    book.save(target)
    assert "is a chart, not a table" in refused(target.getvalue())


def test_a_part_that_lies_about_its_size_is_refused():
    content = bytearray(packed({}))
    part = zipfile.ZipFile(io.BytesIO(bytes(content))).getinfo(SHEET)
    start = content.rfind(SHEET.encode()) - 46
    assert content[start : start + 4] == b"PK\x01\x02"
    content[start + 24 : start + 28] = (part.file_size // 2).to_bytes(4, "little")
    assert "cannot be read" in refused(bytes(content))


def test_a_workbook_whose_name_says_macros_is_read_as_one(tmp_path):
    path = tmp_path / "yard.xlsm"
    path.write_bytes(packed({"xl/vbaProject.bin": b"x"}))
    with pytest.raises(DocumentError, match="with macros"):
        read_survey(path)


PARTS = [
    "xl/worksheets/sheet1.xml",
    "xl/workbook.xml",
    "xl/styles.xml",
    "xl/_rels/workbook.xml.rels",
    "[Content_Types].xml",
]
WHOLE = columns(door__clear_width=("m", 3.2), operator__made=(None, datetime(2019, 3, 4)), name=(None, "x"))


@given(st.sampled_from(PARTS), st.data())
def test_a_workbook_with_damaged_parts_is_read_or_refused(part, data):
    original = zipfile.ZipFile(io.BytesIO(WHOLE)).read(part)
    start = data.draw(st.integers(0, len(original)))
    end = data.draw(st.integers(start, min(len(original), start + 40)))
    put = data.draw(
        st.binary(max_size=8) | st.sampled_from([b"-1", b"99999999999", b'"', b"<", b"", b"NaN", b"1e999"])
    )
    try:
        survey = read(packed({part: original[:start] + put + original[end:]}, WHOLE))
    except InputError:
        return
    assert isinstance(survey, Survey)


@given(st.integers(0, len(WHOLE) - 1), st.binary(min_size=1, max_size=30))
def test_a_workbook_with_damaged_bytes_is_read_or_refused(place, put):
    try:
        survey = read(WHOLE[:place] + put + WHOLE[place + len(put) :])
    except InputError:
        return
    assert isinstance(survey, Survey)


PLAIN_TEXT = st.characters(min_codepoint=32, exclude_categories=["Cs"], exclude_characters="\ufffe\uffff\x7f")
CELLS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(allow_nan=False, allow_infinity=False),
    st.dates(min_value=date(1900, 3, 1)).map(lambda day: datetime(day.year, day.month, day.day)),
    st.sampled_from(["?", "none", "=1", "#N/A", "10 ft", "yes"]),
    st.text(PLAIN_TEXT, max_size=12),
)


@given(st.lists(st.lists(CELLS, max_size=5), max_size=5))
def test_any_cells_are_read_or_refused(rows):
    heads = ["tag", "door.clear_width", "operator.made", "use.public", "floor.points"]
    try:
        survey = read(workbook([heads, [None, "m"], *rows]))
    except InputError:
        return
    assert isinstance(survey, Survey)
