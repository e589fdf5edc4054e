"""A site as a workbook of openings: what fits in a row reads back, everything else stands on a sheet of its own."""

from __future__ import annotations

import io
from collections import Counter
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.survey.entries import Entry, origin_of
from sillwright.survey.filled import filled_workbook
from sillwright.survey.model import Survey
from sillwright.survey.questions import mistake_in
from sillwright.survey.reading import survey_of
from sillwright.survey.template import columns
from sillwright.survey.workbook import MOST_COLUMNS

from ..surveys_at_random import survey_at_random
from .entries_at_random import FILES, entry, told, told_by

Row = tuple[str, ...]


def made(*entries: Entry, site: list[Entry] | None = None) -> bytes:
    return filled_workbook("Ferry Yard", "US", site or [], {"B1": list(entries)})


def read(content: bytes) -> Survey:
    return survey_of(content, "openings.xlsx")


def further(content: bytes) -> list[list[Any]]:
    """The rows of the last sheet, without their head."""
    book = openpyxl.load_workbook(io.BytesIO(content))
    if "Further readings" not in book.sheetnames:
        return []
    return [["" if cell is None else cell for cell in row] for row in book["Further readings"].values][1:]


def cells(content: bytes, sheet: str = "Openings") -> dict[str, Any]:
    """The cells of the first opening by column."""
    names, _units, row, *_more = openpyxl.load_workbook(io.BytesIO(content))[sheet].values
    return {str(name): value for name, value in zip(names, row, strict=True) if value is not None}


def line(tag: str, each: Entry) -> Row:
    said = each.typed if each.says == "value" else {"unknown": "?", "none": "none"}.get(each.says, "taken away")
    return tag, each.path, said, origin_of(each) or "", each.by or "", each.on or "", each.evidence or ""


def same(content: bytes, site: list[Entry], openings: dict[str, list[Entry]]) -> None:
    """Rows and the last sheet together hold every reading there was."""
    beside = Counter(tuple(row) for row in further(content))
    _, _, about, back = told(read(content))
    for tag, entries in openings.items():
        wanted = Counter(line(tag, each) for each in entries if each.path != "tag")
        found = Counter(line(tag, each) for each in back[tag] if each.path != "tag")
        assert not wanted - (found + beside), tag
    wanted = Counter(line("", each)[:3] for each in site if each.path != "site.name")
    assert not wanted - (Counter(line("", each)[:3] for each in about) + Counter(row[:3] for row in beside))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_site_as_a_workbook_holds_every_reading(path: Path) -> None:
    name, country, site, openings = told_by(path)
    same(filled_workbook(name, country, site, openings), site, openings)


@pytest.mark.parametrize("seed", range(6))
def test_a_survey_of_every_kind_of_fact_holds_every_reading(seed: int) -> None:
    name, country, site, openings = told(survey_at_random(seed))
    same(filled_workbook(name, country, site, openings, units="metric"), site, openings)


@settings(max_examples=40)
@given(st.lists(entry(), max_size=8))
def test_whatever_was_said_makes_a_workbook_that_reads_back(entries: list[Entry]) -> None:
    content = made(*entries)
    beside = {tuple(row)[:3] for row in further(content)}
    for each in entries:
        if each.says == "value" and each.path != "site_words" and mistake_in(each.path, each.typed):
            assert ("B1", each.path, each.typed) in beside
    read(content)


def test_an_empty_row_has_the_columns_of_the_template_to_fill_in() -> None:
    names, units = list(openpyxl.load_workbook(io.BytesIO(made()))["Openings"].values)[:2]
    assert names == columns()
    assert units[names.index("door.clear_width")] == "ft in"


def test_a_fact_stands_beside_where_it_comes_from() -> None:
    said = Entry(path="lead.length", typed="3 ft", origin="told", by="Ana", on="2026-03-04", evidence="photo-3")
    names = list(cells(made(said)))
    assert names[-5:] == ["lead.length", *(f"lead.length.{word}" for word in ("from", "by", "on", "evidence"))]


def test_of_two_readings_the_first_stands_in_the_row_and_the_other_on_the_last_sheet() -> None:
    content = made(Entry(path="door.kind", typed="grille"), Entry(path="door.kind", typed="rolling", by="Ana"))
    assert cells(content)["door.kind"] == "grille"
    assert further(content) == [["B1", "door.kind", "rolling", "", "Ana", "", ""]]


@pytest.mark.parametrize("words", ["=1+1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x")', "https://a.example", "\t=1"])
def test_nothing_that_was_typed_becomes_a_formula_or_a_link(words: str) -> None:
    said = [Entry(path="name", typed=words, by=words, origin="told"), Entry(path="name", typed=words)]
    content = filled_workbook(words, "US", [], {words: said})
    book = openpyxl.load_workbook(io.BytesIO(content))
    kinds = {cell.data_type for sheet in book for row in sheet.iter_rows() for cell in row}
    assert kinds <= {"s", "n"}  # n: empty
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.hyperlink]
    assert cells(content)["name"].strip() == words.strip()


@pytest.mark.parametrize(
    "said",
    [
        Entry(path="name", typed="?"),
        Entry(path="name", typed="none", origin="told"),
        Entry(path="protection.e1", says="removed"),
        Entry(path="protection", says="none"),
    ],
)
def test_what_a_cell_would_say_otherwise_stands_on_the_last_sheet(said: Entry) -> None:
    content = made(Entry(path="protection.e1.kind", typed="loop"), said)
    assert [row[:2] for row in further(content)] == [["B1", said.path]]
    assert read(content).openings[0].name.standing == "not asked"


def test_no_device_and_not_known_which_are_said_in_the_column_of_the_list() -> None:
    assert cells(made(Entry(path="protection", says="none")))["protection"] == "none"
    assert cells(made(Entry(path="protection.e1", says="removed")))["protection"] == "none"
    assert cells(made(Entry(path="use.traffic", says="unknown")))["use.traffic"] == "?"


def test_more_devices_than_there_are_columns_stand_on_the_last_sheet() -> None:
    many = [Entry(path=f"protection.e{number}.kind", typed="loop") for number in range(MOST_COLUMNS)]
    content = made(*many)
    assert openpyxl.load_workbook(io.BytesIO(content))["Openings"].max_column == MOST_COLUMNS
    assert further(content)
    assert len(read(content).openings[0].protection) + len(further(content)) == MOST_COLUMNS


def test_the_site_says_its_facts_and_not_whose_units_the_reader_has() -> None:
    site = [
        Entry(path="site.units", typed="metric"),
        Entry(path="site.codes", typed="A 1", origin="told"),
        Entry(path="site.subdivision", typed="nowhere"),
        Entry(path="site.country", typed="Atlantis"),
    ]
    content = made(site=site)
    about = read(content).site
    assert (about.units.value, about.codes.value, about.country.value) == ("metric", ("A 1",), "US")
    assert [row[1] for row in further(content)] == ["site.codes", "site.subdivision", "site.country"]
    assert read(made()).site.units.standing == "not asked"
