"""An order line holds everything the maker needs; what the maker would have to guess blocks it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from sillwright.base.errors import InputError, OutOfRange
from sillwright.base.words import Sentence
from sillwright.catalogue.profile import Ends, Profile
from sillwright.takeoff.answer import Block, ProfileVerdict
from sillwright.takeoff.ordering import Choice, release
from sillwright.takeoff.ordering.line import confirmed_of, lead_of, length_of, written

from .orders import CATALOGUE, CHOICE, COMMON, DAY, LEAD, body, line, lines, m, said, take_off


def blocks(**changes: Any) -> list[str]:
    """The ids of what blocks the line of a take-off with these changes."""
    choice = changes.pop("choice", CHOICE)
    profile = changes.pop("profile", COMMON)
    found = body(**changes.pop("body", {}))
    (made,) = lines(take_off(found, **changes), choice, profile)
    return [each.id for each in made.blocked]


def profile(**changes: Any) -> Profile:
    return replace(COMMON, **changes)


def test_a_line_in_which_nothing_is_open_can_be_released():
    made = line()
    assert not made.open
    out = release(made, on=DAY, by=" Ben ")
    assert (out.released_by, out.released_on) == ("Ben", DAY)


def test_the_line_carries_everything_the_maker_needs():
    made = line()
    assert (made.tag, made.place, made.profile, made.construction) == (
        "B2",
        "bottom",
        COMMON.name,
        "factory_sealed",
    )
    assert (made.quantity, made.word, made.length, made.body) == (1, "body", m("10 ft 6 in"), m("10 ft 6 in"))
    assert (made.end, made.exit, made.from_end, made.lead_length) == ("left", "back", m("2 in"), m("3 ft"))
    assert (made.fin, made.wires, made.circuit, made.end_element) == ("outside", 2, "resistor", 10e3)
    assert (made.channel, made.channel_pieces, made.ship) == ("Invented slide-in", (m("10 ft 6 in"),), "coiled")
    assert (made.cord, made.box) == ("Cord 2 ft, two", "Box with glands")


def test_the_length_says_which_word_it_is_in_both_units():
    assert said(length_of(line())) == "overall body 10 ft 6 in (3.200 m)"
    sensing = profile(order_word="sensing")
    (made,) = lines(profile=sensing)
    assert said(length_of(made)) == "sensing length 10 ft 3-1/2 in (3.136 m)"
    (metric,) = lines(choice=replace(CHOICE, units="metric"))
    assert said(length_of(metric)) == "overall body 3.200 m (10 ft 6 in)"


@pytest.mark.parametrize("quarters", [504, 505, 506, 507, 575])
def test_a_length_is_never_written_longer_than_it_is(quarters):
    metres = quarters * 0.25 * 0.0254
    assert m(written(metres, "us")) == pytest.approx(metres, abs=1e-12)
    assert metres - 0.001 < float(written(metres, "metric").removesuffix(" m")) <= metres + 1e-9


def test_the_lead_is_said_inside_looking_out_and_mirrored():
    assert [said(each) for each in lead_of(line(end="left"))] == [
        "left, inside looking out",
        "on the right of someone who stands outside, looking in",
    ]
    assert said(lead_of(line(end="right"))[1]) == "on the left of someone who stands outside, looking in"
    assert said(lead_of(line(end=None))[0]) == "not known"


def test_who_confirmed_the_lead_is_printed_or_a_question_mark():
    assert said(confirmed_of(line())) == "confirmed by Ada, on 2026-03-01"
    assert said(confirmed_of(line(confirmed_by=""))).startswith("?")


@pytest.mark.parametrize(
    ("changes", "block"),
    [
        pytest.param({"body": {"length": None}}, "length_missing", id="no length"),
        pytest.param({"body": {"origin": "assumed"}}, "length_assumed", id="assumed length"),
        pytest.param({"body": {"informs_only": True}}, "fire_label", id="labelled fire door"),
        pytest.param({"profile": None}, "profile_missing", id="no profile"),
        pytest.param({"profiles": ()}, "profile_not_known", id="profile not looked at"),
        pytest.param({"lead": replace(LEAD, end=None)}, "lead_unknown", id="no end"),
        pytest.param({"lead": replace(LEAD, exit=None)}, "lead_exit", id="no exit"),
        pytest.param({"lead": replace(LEAD, exit="down")}, "lead_exit", id="exit not offered"),
        pytest.param({"lead": replace(LEAD, exit="by the gutter")}, "lead_exit", id="exit in other words"),
        pytest.param({"lead": replace(LEAD, from_end=None)}, "lead_from_end", id="no distance"),
        pytest.param({"lead": replace(LEAD, length=None)}, "lead_length", id="no lead length"),
        pytest.param({"lead": replace(LEAD, confirmed_on="")}, "lead_unconfirmed", id="not confirmed"),
        pytest.param({"lead": replace(LEAD, fin="inside")}, "fin_side", id="fin on the other side"),
        pytest.param({"choice": Choice()}, "circuit", id="circuit not chosen"),
        pytest.param({"choice": Choice(circuit="air")}, "circuit", id="circuit not offered"),
        pytest.param({"choice": replace(CHOICE, circuit="four_wire")}, "circuit_not_taken", id="not the input's"),
        pytest.param({"choice": replace(CHOICE, circuit="four_wire", input=None)}, "cord_conductors", id="ASK-9"),
        pytest.param({"choice": replace(CHOICE, end_element=8.2e3)}, "end_element_not_the_inputs", id="8.2 on 10"),
        pytest.param({"choice": replace(CHOICE, end_element=8.2e3)}, "end_element_not_offered", id="not offered"),
        pytest.param({"profile": replace(COMMON, end_elements=())}, "end_element", id="value not chosen"),
        pytest.param({"profile": replace(COMMON, least=4.0)}, "too_short", id="too short"),
        pytest.param({"profile": replace(COMMON, greatest=3.0, greatest_straight=3.1)}, "too_long", id="too long"),
        pytest.param({"profile": replace(COMMON, channels=("another",))}, "channel_pair", id="wrong pair"),
    ],
)
def test_what_the_maker_would_have_to_guess_blocks_the_line(changes, block):
    assert block in blocks(**changes)


def test_a_block_of_the_take_off_stands_on_the_line_once():
    block = Block(id="lead_unconfirmed", reason=Sentence("Nobody looked."), releases=Sentence("Look."))
    found = blocks(blocked=(block,), lead=replace(LEAD, confirmed_by=""))
    assert found.count("lead_unconfirmed") == 1


def test_a_profile_that_does_not_fit_says_why():
    verdict = ProfileVerdict(name=COMMON.name, fits="does not fit", price=1.0, reasons=(Sentence("Too tall."),))
    (made,) = lines(take_off(profiles=(verdict,)))
    assert said(made.blocked[0].reason) == "Invented common does not fit here. Too tall."


def test_a_channel_that_nobody_knows_blocks_and_one_that_stays_does_not():
    asked = replace(take_off().channel, kind="ask", part=None)
    assert "channel" in blocks(channel=asked)
    stays = replace(take_off().channel, kind="existing", part=None)
    (made,) = lines(take_off(channel=stays))
    assert not made.open
    assert (made.channel, made.channel_pieces) == ("", ())
    other = replace(stays, part="a rail of another edge")
    assert "channel_pair" in blocks(channel=other)


def test_a_blocked_line_is_not_released_and_the_message_says_what_releases_it():
    with pytest.raises(
        InputError, match=r"B2 cannot be released: Nobody has confirmed the lead\. Have it confirmed"
    ):
        release(lines(take_off(lead=replace(LEAD, confirmed_by="")))[0], on=DAY, by="Ben")


def test_nobody_releases_nothing_twice():
    with pytest.raises(InputError, match="say who releases it"):
        release(line(), on=DAY, by="  ")
    with pytest.raises(InputError, match="was released by Ben"):
        release(release(line(), on=DAY, by="Ben"), on=date(2026, 3, 5), by="Ben")


def test_one_circuit_offered_is_the_circuit_and_two_are_a_question():
    (made,) = lines(choice=Choice(), profile=profile(circuits=("resistor",)))
    assert (made.circuit, made.wires, made.end_element) == ("resistor", 2, 10e3)
    (made,) = lines(choice=Choice())
    assert (made.circuit, made.wires, made.end_element) == (None, None, None)


def test_it_ships_straight_where_the_coil_is_too_short_and_that_is_long_enough():
    (made,) = lines(profile=profile(greatest=3.0))
    assert (made.ship, made.open) == ("straight", False)


def test_exactly_the_longest_piece_still_ships():
    (made,) = lines(take_off(body("24 ft")), profile=profile(greatest=m("24 ft")))
    assert (made.ship, made.open) == ("coiled", False)
    (made,) = lines(take_off(body("24 ft 1/4 in")), profile=profile(greatest=m("24 ft"), greatest_straight=None))
    assert "too_long" in [each.id for each in made.blocked]


def test_without_a_longest_piece_in_the_data_sheet_24_ft_are_taken():
    longest = profile(greatest=None, greatest_straight=None)
    assert lines(take_off(body("24 ft")), profile=longest)[0].ship == "coiled"
    assert lines(take_off(body("24 ft 1/4 in")), profile=longest)[0].ship is None


def test_op_1_three_pieces_have_one_end_element_in_the_last():
    """OP-1: leaf 48 ft 6 in, 3 pieces of 16 ft 1-3/4 in."""
    long = body("48 ft 6 in", pieces=3, piece=m("16 ft 1-3/4 in"))
    (made,) = lines(take_off(long))
    assert said(length_of(made)) == "3 pieces, each overall body 16 ft 1-3/4 in (4.921 m)"
    assert "far end of the last piece only" in said(made.remarks)
    (made,) = lines(take_off(long), profile=profile(order_word="sensing"))
    assert made.length == pytest.approx(m("16 ft 1-3/4 in") - m("2-1/2 in"))


def test_pieces_ordered_by_sensing_length_need_the_dead_ends():
    long = body("48 ft 6 in", pieces=3, piece=m("16 ft 1-3/4 in"))
    (made,) = lines(take_off(long), profile=profile(order_word="sensing", ends=None))
    assert "sensing_missing" in [each.id for each in made.blocked]


def test_len_15_a_body_cut_on_site_is_bought_longer():
    """LEN-15: B + 1 in per piece + 2 %, up to the next quarter inch: (126 + 1) × 1.02 = 129.54 in."""
    (made,) = lines(profile=profile(construction="cut_on_site"))
    assert made.to_buy == pytest.approx(m("10 ft 9-3/4 in"))
    assert "Cut to 10 ft 6 in on site after the roll has rested: 2 plugs" in said(made.remarks)
    assert lines()[0].to_buy is None


def test_a_purchase_that_is_a_whole_quarter_is_not_raised_by_round_off():
    (made,) = lines(take_off(body("99 in")), profile=profile(construction="cut_on_site"))
    assert made.to_buy == pytest.approx(m("102 in"))


def test_only_the_place_that_moves_carries_the_cord():
    post = body("69 in", place="post")
    leading = body("69 in", place="leading")
    made = lines(take_off(post, leading))
    assert [each.cord for each in made] == ["", "Cord 2 ft, two"]
    assert [each.number for each in made] == [1, 2]
    assert [each.label for each in made] == ["B2 post", "B2 leading"]


def test_a_told_length_may_go_out_and_says_so():
    (made,) = lines(take_off(body(origin="told", by="Cy")))
    assert not made.open
    assert "told by Cy; nobody measured it" in said(made.remarks)


def test_an_opening_without_a_body_has_no_line():
    assert lines(replace(take_off(), bodies=())) == ()


def test_without_a_catalogue_the_lines_say_what_is_missing():
    from sillwright.takeoff.ordering import order_lines

    (made,) = order_lines("B2", take_off(), None)
    assert {"profile_missing", "circuit"} <= {each.id for each in made.blocked}
    assert (made.length, made.word, said(length_of(made))) == (m("10 ft 6 in"), None, "not known")


@pytest.mark.parametrize("quantity", [0, -1, 1000, True, 1.5])
def test_a_quantity_is_a_whole_number_from_1(quantity):
    with pytest.raises(OutOfRange, match="a whole number from 1 to 999"):
        Choice(quantity=quantity)


@pytest.mark.parametrize("ohms", [0.0, -1.0, float("nan"), 1e9])
def test_an_end_element_is_a_resistance(ohms):
    with pytest.raises(OutOfRange, match="above 0"):
        Choice(end_element=ohms)


def test_the_catalogue_of_these_tests_says_that_it_is_invented():
    assert CATALOGUE.invented
    assert isinstance(COMMON.ends, Ends)


def test_a_gate_that_needs_two_bodies_orders_two_and_an_unknown_count_blocks():
    (made,) = lines(take_off(body("69 in", place="post", count=2)))
    assert made.quantity == 2
    (made,) = lines(take_off(body("69 in", place="post", count=None)))
    assert "zones_unknown" in [each.id for each in made.blocked]


def test_an_upright_body_with_its_lead_downward_has_one_end_to_leave():
    lead = replace(LEAD, end=None, exit="down", fin=None)
    upright = profile(exits=("down",), fin_side="none")
    (made,) = lines(take_off(body("69 in", place="leading"), lead=lead), profile=upright)
    assert "lead_unknown" not in [each.id for each in made.blocked]
    (made,) = lines(take_off(body("69 in"), lead=lead), profile=upright)
    assert "lead_unknown" in [each.id for each in made.blocked]


def test_words_of_exit_and_fin_are_taken_as_the_catalogue_writes_them():
    (made,) = lines(take_off(lead=replace(LEAD, exit="Back", fin="Outside")))
    assert (made.exit, made.fin, made.open) == ("back", "outside", False)


def test_a_lead_at_both_ends_has_the_longer_dead_end_twice():
    (made,) = lines(take_off(lead=replace(LEAD, end="both")), profile=profile(order_word="sensing"))
    assert made.length == pytest.approx(m("10 ft 6 in") - 2 * 0.0381)


def test_a_sensing_length_on_dead_ends_that_nobody_knows_is_not_ordered():
    (made,) = lines(profile=profile(order_word="sensing", ends=None))
    assert "sensing_missing" in [each.id for each in made.blocked]


def test_a_profile_without_a_fin_leaves_nothing_to_guess_and_says_so():
    (made,) = lines(profile=profile(fin_side="none"))
    assert (made.fin, made.open) == ("none", False)
    assert "This profile has no fin." in said(made.remarks)


def test_a_converter_and_a_box_are_ordered_once_for_an_opening():
    two = take_off(body("69 in", place="post"), body("69 in", place="leading"))
    made = lines(two, replace(CHOICE, converter="a converter"))
    assert [(each.box, each.converter) for each in made] == [("", ""), ("Box with glands", "a converter")]
    made = lines(take_off(body("69 in", place="post")))
    assert made[0].box == "Box with glands"


@pytest.mark.parametrize(
    ("wanted", "has", "blocks_it"),
    [
        ("outside", "both", False), ("outside", "outside", False), (None, "outside", False),
        ("both", "none", False), ("both", "outside", True), ("inside", "both", True), ("none", "outside", True),
        ("to the yard", "outside", True),
    ],
)  # fmt: skip
def test_a_fin_on_a_side_where_nobody_wants_it_is_settled_first(wanted, has, blocks_it):
    found = blocks(lead=replace(LEAD, fin=wanted), profile=profile(fin_side=has))
    assert ("fin_side" in found) == blocks_it
