"""What a maker confirmed beside what was ordered: every difference shows, and each needs an answer."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError
from sillwright.takeoff.ordering import Answer, compare, open_ones, read_acknowledgement, read_rows, settled
from sillwright.takeoff.ordering.acknowledgement import MOST_BYTES, MOST_LINES
from sillwright.takeoff.ordering.wording import NotRead, heading, read_value

from ...paper.hostile import HOSTILE
from .orders import DAY, METRIC, body, line, lines, m, said, take_off

AS_ORDERED = """
Door: B2
Qty: 1
Type: INVENTED  common
Overall body length: 10' 6"
Channel: Invented slide-in
Channel length: 126 in
Lead end: left
Exit: back
From end: 2 in
Cable length: 36 in
Fin side: outside
Wires: two
Circuit: resistor
End of line: 10k
Ship form: coiled
"""


def differences(text, ordered=None):
    return compare(ordered or [line()], read_acknowledgement(text))


def changed(**fields):
    """The acknowledgement that says what was ordered, with these lines changed or left out (None)."""
    rows = dict(row.split(": ", 1) for row in AS_ORDERED.strip().splitlines())
    rows |= fields
    return "\n".join(f"{name}: {value}" for name, value in rows.items() if value is not None)


def test_what_says_the_same_is_no_difference():
    assert differences(AS_ORDERED) == ()
    assert settled((), {})


@pytest.mark.parametrize(
    "length",
    ["126 in", "10 ft 6 in", "3200.4 mm", "3.2004 m", "3200 mm", "10' 6\" (3200 mm)", "10 ft 6 in overall"],
)
def test_a_length_that_is_equal_in_other_units_is_no_difference(length):
    assert differences(changed(**{"Overall body length": length})) == ()


@pytest.mark.parametrize(("length", "kind"), [("10 ft 6-1/16 in", None), ("10 ft 6-1/8 in", "differs")])
def test_a_sixteenth_is_the_boundary(length, kind):
    found = differences(changed(**{"Overall body length": length}))
    assert [each.kind for each in found] == ([kind] if kind else [])


@pytest.mark.parametrize(
    ("name", "value", "key", "words"),
    [
        ("Qty", "2 pcs", "quantity", "B2, quantity: ordered 1, confirmed 2."),
        ("Type", "Invented tall", "profile", "ordered Invented common, confirmed Invented tall."),
        ("Overall body length", "10 ft 5 in", "length", "ordered 10 ft 6 in, confirmed 10 ft 5 in."),
        ("Channel", "Invented face-fixed", "channel", "confirmed Invented face-fixed."),
        ("Channel length", "10 ft", "channel_length", "ordered 10 ft 6 in, confirmed 10 ft."),
        ("Lead end", "right", "end", "ordered left, confirmed right."),
        ("Lead end", "left (from outside)", "end", "ordered left, confirmed right."),
        ("Lead end", "both", "end", "ordered left, confirmed both."),
        ("Exit", "out of the end", "exit", "ordered out of the back, into the channel, confirmed out of the end."),
        ("From end", "0 in", "from_end", "ordered 2 in, confirmed none."),
        ("Cable length", "6 ft", "lead_length", "ordered 3 ft, confirmed 6 ft."),
        ("Fin side", "none", "fin", "ordered outside, toward the weather, confirmed none."),
        ("Wires", "4-wire", "wires", "ordered 2, confirmed 4."),
        ("Circuit", "four wire loop", "circuit", "confirmed four-wire loop."),
        ("End of line", "8k2", "end_element", "ordered 10 kΩ, confirmed 8.2 kΩ."),
        ("End of line", "none", "end_element", "ordered 10 kΩ, confirmed none."),
        ("Ship form", "straight", "ship", "ordered coiled, confirmed straight."),
    ],
)
def test_every_field_that_differs_is_a_row(name, value, key, words):
    (found,) = differences(changed(**{name: value}))
    assert (found.id, found.kind) == (f"1.{key}", "differs")
    assert words in said(found.text)


def test_a_sensing_length_where_a_body_was_ordered_is_two_differences():
    found = differences(changed(**{"Overall body length": None, "Sensing length": "10 ft 3-1/2 in"}))
    assert [(each.id, said(each.ordered), said(each.confirmed)) for each in found] == [
        ("1.length", "10 ft 6 in", "10 ft 3-1/2 in"),
        ("1.word", "overall body", "sensing length"),
    ]


def test_a_length_that_does_not_say_what_it_means_is_asked():
    (found,) = differences(changed(**{"Overall body length": None, "Length": "10 ft 6 in"}))
    assert (found.id, found.kind) == ("1.word", "not said")
    assert (
        differences(changed(**{"Overall body length": None, "Length": "10 ft 6 in", "Length means": "body"})) == ()
    )


def test_where_both_lengths_are_said_ours_is_compared():
    assert differences(changed(**{"Sensing length": "10 ft 3-1/2 in"})) == ()


@pytest.mark.parametrize("length", ["10.6 ft", "10.6'"])
def test_feet_with_a_decimal_point_are_asked_even_where_they_fit(length):
    (found,) = differences(changed(**{"Overall body length": length}))
    assert found.kind == "two ways"
    assert length in said(found.text)


@pytest.mark.parametrize(
    "name", [name.split(":")[0] for name in AS_ORDERED.strip().splitlines() if "Door" not in name]
)
def test_a_field_that_is_not_confirmed_is_a_difference(name):
    (found,) = differences(changed(**{name: None}))
    assert found.kind == "not said"
    assert "does not say" in said(found.text)


def test_what_was_ordered_without_is_not_asked_but_a_surprise_is():
    bare = line(fin="none", channel="", channel_pieces=(), circuit="four_wire", wires=4, end_element=None)
    text = changed(**{
        "Channel": None, "Channel length": None, "Fin side": None, "End of line": None, "Wires": "4",
        "Circuit": "four-wire loop",
    })  # fmt: skip
    assert differences(text, [bare]) == ()
    (found,) = differences(text + "\nFin: both sides", [bare])
    assert said(found.text) == "B2, fin side: ordered none, confirmed both sides."


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("Overall body length", "126"),
        ("Overall body length", "about ten feet"),
        ("Overall body length", "10,5 ft"),
        ("Overall body length", "10 ft 6 in (3100 mm)"),
        ("Overall body length", "-10 ft"),
        ("Lead end", "operator side"),
        ("Lead end", "left inside, right outside"),
        ("Lead end", "not left"),
        ("Wires", "some"),
        ("Ship form", "not coiled"),
        ("Circuit", "resistor or four wire"),
        ("End of line", "brown"),
    ],
)
def test_what_cannot_be_read_is_shown_and_counts_as_not_said(name, value):
    found = differences(changed(**{name: value}))
    assert [each.kind for each in found] == ["not said", "not read"]
    assert value in said(found[1].text)


def test_an_unknown_heading_is_shown_as_not_read():
    (found,) = differences(AS_ORDERED + "Colour: black\n")
    assert (found.kind, said(found.confirmed)) == ("not read", "Colour: black")


def test_a_heading_that_comes_twice_in_a_table_is_not_silently_the_first():
    found = read_acknowledgement("tag,length,length\nB2,10 ft,11 ft").unread
    assert [(each.heading, each.text) for each in found] == [("length", "11 ft")]


TABLE = """Order confirmation 4711, thank you

Pos;Ref;Qty;Type;Overall length (mm);Lead end
1;B2;1;Invented common;3200;left
2;B3;1;Invented common;3048;left
Total;;;;;
"""


def test_a_table_is_read_with_the_unit_of_its_heading():
    read = read_acknowledgement(TABLE)
    assert [item.values["body"].value for item in read.items[:2]] == [3.2, 3.048]
    assert [each.text for each in read.unread] == ["Order confirmation 4711, thank you"]


def test_missing_and_extra_lines_show():
    ordered = [line(), line(number=2, tag="B4")]
    found = compare(ordered, read_acknowledgement(TABLE))
    assert [(each.id, each.kind) for each in found if "line" in each.kind] == [
        ("2.line", "line missing"),
        ("extra.5", "line extra"),
        ("extra.6", "line extra"),
    ]
    assert "B4: ordered, and not in the acknowledgement." in [said(each.text) for each in found]


def test_commas_and_inch_marks_go_together_in_a_csv_file():
    text = 'ref,qty,overall length,lead end\nB2,1,10\' 6",left\n"B3",1,"10\' 6-1/2""",right\n'
    items = read_acknowledgement(text).items
    assert [each.values["body"].value for each in items] == [m("10 ft 6 in"), m("10 ft 6-1/2 in")]


def test_rows_of_a_workbook_are_read_as_a_table():
    rows = [["Confirmed"], ["Door", "Length (in)", "Wires"], ["B2", "126", "2"], ["", "", ""]]
    (item,) = read_rows(rows).items
    assert (item.values["tag"].value, item.values["length"].value, item.values["wires"].value) == (
        "B2",
        m("126 in"),
        2,
    )
    assert read_rows([["Door", "B2"], ["Wires", "2"]]).items[0].values["wires"].value == 2


def test_items_without_blank_lines_begin_where_a_name_comes_again():
    items = read_acknowledgement("Door: B2\nWires: 2\nDoor: B3\nWires: 4").items
    assert [(each.values["tag"].value, each.values["wires"].value) for each in items] == [("B2", 2), ("B3", 4)]


def test_lines_are_paired_by_tag_whatever_their_order():
    ordered = [line(), line(number=2, tag="B3", end="right")]
    text = changed(Door="b3", **{"Lead end": "right"}) + "\n" + changed()
    assert compare(ordered, read_acknowledgement(text)) == ()


def test_two_bodies_of_one_opening_are_paired_by_what_they_are():
    ordered = lines(take_off(body("69 in", place="leading"), body("88 in", place="underside")))
    text = "ref,type,overall length\nB2,Invented common,88 in\nB2,Invented common,69 in"
    assert not [each for each in compare(ordered, read_acknowledgement(text)) if each.id.endswith(".length")]


def test_a_number_names_a_line_and_an_item_that_names_none_is_asked():
    by_number = changed(Door=None).replace("Qty", "Line: 1\nQty")
    assert differences(by_number) == ()
    (found,) = differences(changed(Door=None))
    assert (found.id, found.kind) == ("1.tag", "paired")


def test_another_tag_is_never_taken_for_ours():
    kinds = [each.kind for each in differences(changed(Door="B9"))]
    assert kinds == ["line missing", "line extra"]


def test_nothing_pasted_is_a_missing_line():
    assert [each.kind for each in differences("")] == ["line missing"]


def test_every_difference_needs_an_answer_with_a_name():
    found = differences(changed(Wires="4", **{"Lead end": "right"}))
    first, second = (each.id for each in found)
    answer = Answer(holds="ordered", by="Ada", on=DAY, words="They correct it.")
    assert not settled(found, {first: answer})
    assert open_ones(found, {first: answer}) == (found[1],)
    assert not settled(found, {first: answer, second: replace(answer, by=" ")})
    assert settled(found, {first: answer, second: answer})


def test_ids_of_differences_are_their_own():
    text = changed(Wires="?", **{"Lead end": "?"}) + "\nhello\nDoor: X1\nDoor: X2"
    found = differences(text)
    assert len({each.id for each in found}) == len(found) >= 6


def test_units_are_the_readers():
    (found,) = differences(changed(**{"Overall body length": "10 ft 5 in"}))
    assert said(found.text, METRIC) == "B2, length: ordered 3.200 m, confirmed 3.175 m."


def test_more_than_64_kb_or_500_lines_is_refused():
    with pytest.raises(InputError, match="larger than 64 KB"):
        read_acknowledgement("x" * (MOST_BYTES + 1))
    with pytest.raises(InputError, match="at most 500 are read"):
        read_acknowledgement("\n" * MOST_LINES)
    with pytest.raises(InputError, match="500 rows or 64 KB"):
        read_rows([["a"]] * 501)
    assert read_acknowledgement("a\n" * (MOST_LINES - 1)).unread


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_text_is_shown_and_compared_with_nothing(text):
    found = differences(AS_ORDERED + f"\nnote: {text[:3000]}")
    assert all(each.kind == "not read" for each in found)
    assert found


@pytest.mark.parametrize(
    "text",
    [
        "a" + " " * 60_000 + "b: 1",
        "(" * 60_000,
        "length (" * 7_000,
        ";" * 60_000,
        "tag;length;" + "length;" * 8_000,
        "\n".join(f"tag: {n}" for n in range(499)),
        "\n".join(["tag,length", *["B2,1 in"] * 498]),
    ],
    ids=range(7),
)
def test_text_made_to_be_slow_is_read_all_the_same(text):
    read_acknowledgement(text)
    compare([line(number=n, tag=f"B{n}") for n in range(1, 60)], read_acknowledgement(text))


@given(st.text(st.characters(exclude_characters=",;|\t"), max_size=400))
def test_no_text_breaks_the_reading_and_nothing_is_lost(text):
    read = read_acknowledgement(text)
    kept = sum(len(item.values) for item in read.items) + len(read.unread)
    assert kept >= sum(bool(each.strip()) for each in text.replace("\r", "\n").split("\n"))


@given(
    st.sampled_from(["length", "wires", "end", "end_element", "exit", "fin", "quantity", "word"]),
    st.text(max_size=80),
)
def test_a_cell_is_read_or_refused(key, text):
    try:
        read_value(key, text)
    except NotRead:
        return


def test_headings_are_known_by_what_suppliers_call_them():
    assert heading("O.A.L.") is None or heading("OAL") == ("body", "")
    assert heading("Lead_End") == ("end", "")
    assert heading("x" * 61) is None


def test_items_without_a_tag_and_with_another_length_are_taken_in_order_and_asked():
    found = differences(changed(Door=None, **{"Overall body length": "9 ft", "Channel length": "10.6 ft"}))
    assert [(each.id, each.kind) for each in found] == [
        ("1.tag", "paired"),
        ("1.channel_length", "two ways"),
        ("1.length", "differs"),
    ]


def test_an_item_that_says_neither_profile_nor_length_is_taken_for_no_line():
    assert [each.kind for each in differences("Wires: 2\nCircuit: resistor")] == ["line missing", "line extra"]
