"""The order as agreed: which of the two holds, field by field, and what a delivery is judged by afterwards."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import ENGLISH
from sillwright.paper.agreed import agreed_paper
from sillwright.paper.letter import Letter
from sillwright.takeoff.ordering import Answer, agreed, compare, read_acknowledgement, settled
from sillwright.takeoff.ordering.exporting import agreed_as_json

from ...paper.test_order_papers import words_of
from .orders import DAY, line, m, said
from .test_acknowledgement import AS_ORDERED, changed

OURS = Answer(holds="ordered", by="Ada", on=DAY, words="They correct it.")
THEIRS = replace(OURS, holds="confirmed", words="Fits too.")


def settle(text, ordered=None, **answers):
    """The order as agreed, with answers by key of the field; ours where nothing else is said."""
    lines = ordered or [line()]
    found = compare(lines, read_acknowledgement(text))
    said_of = {each.id: answers.get(each.key or each.kind.replace(" ", "_"), OURS) for each in found}
    return agreed(lines, found, said_of)


def test_an_order_confirmed_as_it_was_is_agreed_as_it_was():
    (only,) = settle(AS_ORDERED).lines
    assert only.line == line()
    assert only.settled == ()
    assert {each.holds for each in only.fields} == {"both"}


def test_nothing_is_agreed_while_a_difference_is_open():
    found = compare([line()], read_acknowledgement(changed(Wires="4")))
    assert agreed([line()], found, {}) is None
    assert agreed([line()], found, {found[0].id: replace(OURS, by=" ")}) is None


def test_what_was_ordered_holds_and_says_what_the_maker_had():
    (only,) = settle(changed(**{"Lead end": "right"})).lines
    (end,) = only.settled
    assert only.line == line()
    assert (said(end.value), end.holds, said(end.instead_of)) == ("left", "ordered", "right")
    assert (end.by, end.on, end.words) == ("Ada", DAY, "They correct it.")


@pytest.mark.parametrize(
    ("fields", "key", "name", "value"),
    [
        ({"Lead end": "right"}, "end", "end", "right"),
        ({"Qty": "2"}, "quantity", "quantity", 2),
        ({"Type": "Invented tall"}, "profile", "profile", "Invented tall"),
        ({"Exit": "end"}, "exit", "exit", "end"),
        ({"From end": "6 in"}, "from_end", "from_end", m("6 in")),
        ({"Fin side": "none"}, "fin", "fin", "none"),
        ({"End of line": "8.2k"}, "end_element", "end_element", 8200.0),
        ({"Ship form": "straight"}, "ship", "ship", "straight"),
        ({"Channel": "none"}, "channel", "channel", ""),
        ({"Channel length": "120 in"}, "channel_length", "channel_pieces", (m("10 ft"),)),
    ],
)
def test_what_the_maker_confirmed_holds_on_the_line_that_is_built(fields, key, name, value):
    (only,) = settle(changed(**fields), **{key: THEIRS}).lines
    assert getattr(only.line, name) == (pytest.approx(value) if name == "channel_pieces" else value)
    assert [each.key for each in only.settled] == [key]
    assert only.settled[0].holds == "confirmed"


def test_a_length_that_the_maker_confirmed_moves_body_and_sensing_length():
    (only,) = settle(changed(**{"Overall body length": "10 ft 5 in"}), length=THEIRS).lines
    ordered = line()
    assert only.line.body == pytest.approx(m("10 ft 5 in"))
    assert only.line.body - only.line.sensing == pytest.approx(ordered.body - ordered.sensing)


def test_the_same_number_meant_as_sensing_length_is_a_longer_body():
    text = changed(**{"Overall body length": None, "Sensing length": "10 ft 6 in"})
    (only,) = settle(text, word=THEIRS).lines
    ordered = line()
    assert only.line.sensing == pytest.approx(m("10 ft 6 in"))
    assert only.line.body == pytest.approx(m("10 ft 6 in") + ordered.body - ordered.sensing)


def test_a_length_on_dead_ends_that_nobody_knows_leaves_the_other_length_open():
    ordered = [replace(line(), sensing=None)]
    (only,) = settle(changed(**{"Overall body length": "10 ft 5 in"}), ordered, length=THEIRS).lines
    assert only.line.sensing is None


@pytest.mark.parametrize(
    ("text", "kind"),
    [(changed(Exit=None), "not said"), (changed(**{"Overall body length": "10.6 ft"}), "two ways")],
)
def test_what_the_maker_did_not_say_cannot_hold(text, kind):
    found = compare([line()], read_acknowledgement(text))
    assert [each.kind for each in found] == [kind]
    assert not settled(found, {found[0].id: THEIRS})
    assert agreed([line()], found, {found[0].id: THEIRS}) is None
    assert settled(found, {found[0].id: OURS})


def test_a_line_that_is_not_confirmed_is_built_or_dropped_as_it_was_settled():
    two = [line(), replace(line(), number=2, tag="B3")]
    first, second = settle(AS_ORDERED, two).lines
    assert (first.dropped, first.kept, second.dropped) == (None, None, None)
    assert (second.kept.holds, second.settled) == ("ordered", ())
    assert {each.holds for each in second.fields} == {"ordered"}
    kept, gone = settle(AS_ORDERED, two, line=THEIRS).lines
    assert kept.dropped is None
    assert (gone.dropped.holds, gone.dropped.by) == ("confirmed", "Ada")


def test_what_stands_beside_the_lines_is_told_and_changes_none():
    found = settle(changed(Colour="black") + "\n\ntag: B9\nlead end: left", line_extra=THEIRS)
    assert found.lines[0].line == line()
    assert [each.holds for each in found.besides] == ["confirmed", "ordered"]
    assert "black" in str(found.besides[1].instead_of)


@given(
    st.sampled_from(["Qty", "Type", "Lead end", "Exit", "Wires", "Ship form", "Fin side"]),
    st.text(max_size=30).filter(lambda text: "\n" not in text and "\r" not in text),
    st.booleans(),
)
def test_whatever_a_maker_writes_is_agreed_or_open_and_never_changes_another_line(name, value, theirs):
    two = [line(), replace(line(), number=2, tag="B3")]
    found = compare(two, read_acknowledgement(changed(**{name: value})))
    answer = THEIRS if theirs else OURS
    done = agreed(two, found, {each.id: answer for each in found})
    assert (done is None) == (theirs and not all(each.can_hold for each in found))
    if done is not None:
        assert done.lines[1].line == two[1]


def test_what_the_maker_did_not_say_says_so_where_ours_holds():
    (only,) = settle(changed(Exit=None)).lines
    (exit_of,) = only.settled
    assert said(exit_of.instead_of) == "the maker did not say"


def test_the_sheet_and_the_json_say_whose_value_holds(tmp_path):
    two = [line(), replace(line(), number=2, tag="B3")]
    found = settle(changed(**{"Lead end": "right", "Colour": "=1+1"}), two, end=THEIRS, line=THEIRS)
    told = agreed_as_json(found, ENGLISH)
    assert [each["made"] for each in told["lines"]] == [True, False]
    (end,) = [each for each in told["lines"][0]["agreed"] if each["field"] == "end"]
    assert (end["value"], end["holds"], end["instead_of"], end["on"]) == (
        "right",
        "confirmed",
        "left",
        "2026-03-04",
    )
    made = agreed_paper(found, ENGLISH, letter=Letter(reference="PO-1"), made_on=DAY, version="test")
    words = " ".join(words_of(made, tmp_path).split())
    assert "as the maker" in words
    assert "Not made: the maker did not confirm it, and that holds. Settled by Ada on March 4, 2026." in words
    assert made == agreed_paper(found, ENGLISH, letter=Letter(reference="PO-1"), made_on=DAY, version="test")
