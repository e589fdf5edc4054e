"""Catalogue files: what is read, and every mistake at once with its place and what would be right."""

from __future__ import annotations

from pathlib import Path

import pytest

from sillwright.base.errors import DocumentError, InputError
from sillwright.catalogue.reading import catalogue_of, read_catalogue

from .building import CURVE, EDGE, HEAD, edges, read, refused

ROOT = Path(__file__).parents[2]
INCH = 0.0254


def test_a_profile_is_read_in_the_units_of_its_data_sheet():
    (edge,) = read(edges("Edge class B", more=CURVE)).profiles
    assert (edge.height, edge.actuation_travel) == (pytest.approx(1.75 * INCH), pytest.approx(0.1875 * INCH))
    assert edge.curves[0].curve[-1] == (pytest.approx(0.6875 * INCH), 250.0)


def test_a_price_by_the_foot_is_kept_by_the_metre():
    (edge,) = read(edges("E", more="price: {each: 40, per_foot: 30}")).profiles
    assert edge.price.of(10 * 12 * INCH) == pytest.approx(340.0)


def test_a_price_by_the_foot_typed_in_quotes_is_by_the_foot_all_the_same():
    (edge,) = read(edges("E", more='price: {per_foot: "30"}')).profiles
    assert edge.price.per_metre == pytest.approx(30 / 0.3048)


def test_hours_by_the_foot_are_kept_by_the_metre():
    (work,) = read("work: [{what: channel, hours: 0.3, per_foot: 0.03}]").work
    assert work.per_metre == pytest.approx(0.03 / 0.3048)


def test_a_catalogue_of_nothing_but_its_head_is_a_catalogue():
    assert read("").profiles == ()


def test_spaces_around_a_name_do_not_count():
    catalogue = read('channels: [{name: " Rail ", fixing: slide_in}]\n' + edges("E", more="channels: [Rail]"))
    assert catalogue.channels[0].name == "Rail"


def test_a_yaml_and_a_json_file_are_read_alike(tmp_path: Path):
    whole = '{"format": "sillwright-catalogue/1", "name": "Yard", "currency": "USD", "priced_on": "2026-01-15"}'
    paths = tmp_path / "a.yaml", tmp_path / "a.json"
    for path, text in zip(paths, (HEAD, whole), strict=True):
        path.write_text(text, encoding="utf-8")
    assert read_catalogue(paths[0]) == read_catalogue(paths[1])


def test_the_example_is_read():
    assert read_catalogue(ROOT / "examples/catalogue.yaml").invented


def test_what_is_not_there_is_said(tmp_path: Path):
    with pytest.raises(InputError, match="no such file"):
        read_catalogue(tmp_path / "none.yaml")


# the head


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "the file is empty"),
        (b"- 1", "a catalogue is a mapping"),
        (b"name: Yard", "format: “format” is missing\n    begin with format: sillwright-catalogue/1"),
        (b"format: sillwright-survey/1", "read “sillwright-survey/1”\n    this is read here: format: sillwright-"),
        (b"format: [sillwright-catalogue/1]", "not the format of a catalogue"),
        (b"format: sillwright-catalogue/2", "not the format of a catalogue"),
    ],
)
def test_a_file_of_another_kind_is_told_by_its_format_alone(text, said):
    told = refused(text)
    assert said in told
    assert "1 mistake," in told


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("USD", "usd", "currency: not an ISO 4217 currency code, read “usd”\n    did you mean “USD”?"),
        ("USD", "$", "three capital letters, for example USD, EUR, GBP"),
        ("USD", "ZZZ", "three capital letters"),
        ("USD", "840", "three capital letters"),
        ("USD", "US Dollar", "three capital letters"),
        ("USD", "ＵＳＤ", "not an ISO 4217 currency code"),
        ("USD", '""', "three capital letters"),
        ("USD", "null", "currency: nothing is given"),
        ("USD", "[USD]", "currency: one value is wanted here"),
        ("2026-01-15", "2026-02-30", "priced_on: not a date"),
        ("2026-01-15", "2026", "priced_on: not a date, read “2026”\n    write year-month-day: 2026-03-04"),
        ("2026-01-15", "01/15/2026", "priced_on: not a date"),
        ("Yard", '" "', "name: nothing that can be read stands here"),
        ("Yard", '"a\\nb"', "name: a name stands on one line"),
        ("Yard", "x" * 121, "name: longer than 120 characters"),
    ],
)
def test_name_currency_and_date_are_what_they_say(old, new, said):
    assert said in refused(HEAD.replace(old, new, 1).encode())


@pytest.mark.parametrize("key", ["name", "currency", "priced_on"])
def test_name_currency_and_date_are_wanted(key):
    lines = [line for line in HEAD.splitlines() if not line.startswith(f"{key}:")]
    assert f"{key}: “{key}” is missing" in refused("\n".join(lines).encode()).replace("“", f"{key}: “", 1)


# every mistake at once


def test_every_mistake_is_told_at_once_in_the_order_of_the_file():
    text = (
        edges("E1", more="fin_side: outsid, price: {each: -1}, channels: [Raill]")
        + edges("E2", more="colour: red").removeprefix("profiles:\n")
        + "channels:\n- {name: Rail, fixing: slide_in, stock: [0 m]}\n"
        + "cords:\n- {name: C, retracted: 2 ft, extended: 2 ft, conductors: 2}\n- {name: c, conductors: two}\n"
    )
    said = refused((HEAD.replace("USD", "usd") + text).encode())
    for each in (
        "line 3, column 11: currency",
        "profiles[0].fin_side: not a known word here, read “outsid”\n    did you mean “outside”?",
        "profiles[0].price.each: out of range, read “-1”",
        "profiles[0].channels[0]: not in this catalogue, read “Raill”\n    did you mean “Rail”?",
        "profiles[1].colour: unknown key",
        "channels[0].stock[0]: out of range, read “0 m”\n    above 0 m and at most 60 m is accepted",
        "cords[0].extended: not longer than the retracted cord, read “2 ft”\n    more than 2 ft",
        "cords[1].name: this name looks like “C”, read “c”\n    first on line 11",
        "cords[1].conductors: a whole number is wanted here, read “two”",
        "cords[1]: “retracted” is missing",
        "cords[1]: “extended” is missing",
    ):
        assert each in said
    assert "11 mistakes" in said
    lines = [int(line.split()[1].rstrip(",")) for line in said.splitlines() if line.startswith("line ")]
    assert lines == sorted(lines)


def test_a_channel_that_has_a_mistake_of_its_own_is_not_called_missing():
    said = refused("channels: [{name: Rail, fixing: glued}]\n" + edges("E", more="channels: [Rail]"))
    assert "1 mistake," in said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (edges("E", more="circuits: []").replace(", circuits: [resistor]", ""), "at least one circuit is wanted"),
        (edges("E", more="end_elements: [-1 kohm]"), "end_elements[0]: out of range, read “-1 kohm”"),
        (edges("E", more="least: 2 in, ends: {lead: 1 in, far: 1 in}"), "ends: the dead ends leave nothing"),
        (edges("E", more="greatest: 2 in"), "the longest piece is shorter than the shortest"),
        (edges("E", more="greatest_straight: 2 in"), "greatest_straight: shorter than the shortest piece"),
        (edges("E", more="coldest: 100 degF, hottest: 100 degF"), "hottest: not above the coldest"),
        (edges("E", more="channels: [Rail]"), "channels[0]: not in this catalogue, read “Rail”\n    it has none"),
        (edges("E", more=CURVE.replace("11/16 in", "3/16 in").replace("[3/16 in, 45], ", "")), "and beyond"),
        (edges("E", more=CURVE.replace("[0, 0], ", "")), "profiles[0].curves[0]: CurveAt.curve: starts at"),
        (edges("E", more=CURVE.replace("250", "40")), "travel and force must both rise"),
        (edges("E", more=CURVE.replace("70 degF", "70")), "temperature: out of range"),
        (edges("E", more="price: {per_foot: 1, per_metre: 3}"), "by the foot and by the metre\n    keep one"),
        (edges("E", more="price: 40"), "price: a mapping is wanted here"),
        ("profiles: {name: E}", "profiles: a list is wanted here"),
        ("profiles: null", "profiles: a list is wanted here"),
        ("profiles: [E]", "profiles[0]: a mapping is wanted here, read “E”"),
        ("profles: []", "profles: unknown key\n    did you mean “profiles”?"),
        ("converters: [{name: V, takes: [], gives: plain}]", "takes: at least one circuit is wanted"),
        ("converters: [{name: V, takes: [resitor], gives: plain}]", "did you mean “resistor”?"),
        ("converters: [{name: V, takes: [plain], gives: relay}]", "gives: not a circuit that is known here"),
        ("radios: [{name: R, circuits: [wifi]}]", "circuits[0]: not a circuit that is known here"),
        ("devices: [{name: Y, kind: photo_eye, circuit: puls}]", "circuit: not a circuit that is known here"),
        ("rates: [{what: one, persons: 1, price: 9}, {what: a, persons: 1, price: 8}]", "a rate for so many"),
        ("work: [{what: cord, hours: 1}, {what: Cord, hours: 2}]", "work[1].what: this name looks like “cord”"),
        ("tax_percent: 101", "tax_percent: out of range"),
        ("invented: yes", "invented: not an answer, read “yes”\n    true or false"),
    ],
)
def test_numbers_and_words_that_cannot_be_are_refused(text, said):
    assert said in refused(text)


def test_the_last_point_of_a_curve_lies_past_the_travel_at_which_the_profile_answers():
    at_it = "curves: [{temperature: 70 degF, curve: [[0, 0], [3/16 in, 45]]}]"
    beyond = at_it.replace("3/16 in", "0.18751 in")
    assert "the curve ends before the travel" in refused(edges("E", more=at_it))
    assert read(edges("E", more=beyond)).profiles


# inputs of operators

INPUT = "inputs: [{operator: J, name: edge, "


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("circuit: relay}]", "circuit: not a circuit that is known here"),
        ("direct: [four_wires]}]", "direct[0]: not a circuit that is known here, read “four_wires”"),
        ("via: [{converter: V, circuit: resistor}]}]", "via[0].converter: not in this catalogue"),
        ("lists: [{device: E, on: yesterday}]}]", "lists[0].on: not a date"),
        ("lists: [{device: ''}]}]", "lists[0].device: nothing that can be read"),
        ("below: {pressed: 3 V}, above: {open: 3 V}}]", "below.pressed: reads pressed up to more than"),
        ("below: {pressed: 4 V}, above: {open: 3 V}}]", "less than 3 V"),
        ("supply: 5 V, above: {open: 5 V}}]", "above.open: not below the supply"),
        ("supply: 5 V, below: {pressed: 6 V}}]", "below.pressed: not below the supply"),
        ("supply: 5 A}]", "“A” does not measure what is asked here"),
        ("}, {operator: j, name: EDGE}]", "inputs[1].name: this name looks like “edge”"),
    ],
)
def test_an_input_contradicts_nothing(text, said):
    assert said in refused(INPUT + text)


def test_thresholds_below_the_supply_are_read():
    (found,) = read(INPUT + "supply: 5 V, below: {pressed: 1.25 V}, above: {open: 3.75 V}}]").inputs
    assert (found.below.pressed, found.above.open) == (1.25, 3.75)


def test_a_converter_has_to_take_what_it_is_said_to_bring():
    converter = "converters: [{name: V, takes: [four_wire], gives: resistor}]\n"
    assert read(converter + INPUT + "via: [{converter: V, circuit: four_wire}]}]").inputs
    said = refused(converter + INPUT + "via: [{converter: V, circuit: resistor}]}]")
    assert "via[0].circuit: this converter does not take that circuit, read “resistor”" in said
    assert "it takes four_wire" in said


def test_inputs_of_two_operators_may_share_a_name():
    assert len(read(INPUT + "}, {operator: K, name: edge}]").inputs) == 2


def test_a_listing_that_is_half_filled_is_read_and_counts_as_not_read():
    (found,) = read(INPUT + "lists: [{device: E, title: Instructions}]}]").inputs
    assert not found.lists[0].read


def test_a_file_that_says_it_is_a_workbook_and_is_none_is_refused():
    with pytest.raises(DocumentError, match="not a workbook"):
        catalogue_of((HEAD + f"profiles: [{{name: E, {EDGE}}}]").encode(), "a.xlsx", packed=True)
