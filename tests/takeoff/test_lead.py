"""At which end the lead comes out: the rules in their order, the survey against them, the words and the sketch.

Rules SIDE-1 to SIDE-11 of the trade, from memory. Sides are inside, looking out.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import ENGLISH, Reader, render
from sillwright.drawing.canvas import record
from sillwright.drawing.shapes import Box, Circle, Dimension, Group, Shape, Text, box_of
from sillwright.takeoff.answer import Body, Lead
from sillwright.takeoff.leads.lead import lead
from sillwright.takeoff.leads.lead_words import lead_in_words, lead_sketch

from .openings import (
    ROLLING,
    SECTIONAL,
    SLIDE_GATE,
    SWING_GATE,
    assumed,
    at,
    body_at,
    inches,
    lead_at,
    measured,
    said,
    told,
    without,
)

OTHER = {"left": "right", "right": "left"}
BARE = without(SECTIONAL, "lead", "operator")
"""A sectional leaf of which nothing is known beside its sizes."""


def sided(kind: str, side: str | None, **more: Any) -> dict[str, Any]:
    """A bare sectional leaf with an operator of this kind on this side."""
    operator = {"operator.kind": kind} | ({"operator.side": side} if side else {})
    return {**BARE, **operator, **{name.replace("__", "."): value for name, value in more.items()}}


# The rules one by one, mirrored.
@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("kind", ["jackshaft", "hoist", "chain", "barrel"])
def test_side_2_an_operator_beside_the_opening_takes_the_lead_to_its_side(side, kind):
    found = lead_at(sided(kind, side))
    assert (found.end, found.rule, found.advised) == (side, "SIDE-2", side)
    assert found.facts == ("operator.side",)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize(("free", "end"), [("8 in", "same"), ("7-15/16 in", "other"), ("0 in", "other")])
def test_side_1_a_blocked_wall_turns_the_lead_to_the_other_end(side, free, end):
    found = lead_at(sided("hoist", side) | {f"free_wall.{side}": free, f"free_wall.{OTHER[side]}": "20 in"})
    assert found.end == (side if end == "same" else OTHER[side])
    assert found.rule == ("SIDE-2" if end == "same" else "SIDE-1")


def test_side_1_tells_the_fixed_wire_over_the_head():
    """124 in wide, twice 120 − 84 in above the box, and 3 ft: 232 in."""
    facts = sided("hoist", "right") | {"free_wall.right": "2 in", "box.height": "7 ft"}
    assert "19 ft 4 in of fixed wire" in said(lead_at(facts))["lead_over"]


def test_side_1_with_no_wall_free_on_either_side_gives_no_end():
    found = lead_at(sided("hoist", "right") | {"free_wall.left": "4 in", "free_wall.right": "4 in"})
    assert (found.end, found.rule) == (None, "SIDE-1")
    assert "lead_end" in said(found)


def test_a_wall_that_is_tight_is_noted_and_changes_nothing():
    found = lead_at(sided("hoist", "right") | {"free_wall.right": "10 in"})
    assert (found.end, found.rule) == ("right", "SIDE-2")
    assert "10 in of wall is free" in said(found)["lead_wall"]


@pytest.mark.parametrize("side", ["left", "right"])
def test_side_3_a_trolley_goes_by_the_box_and_not_by_its_own_side(side):
    found = lead_at(sided("trolley", OTHER[side], box__side=side))
    assert (found.end, found.rule, found.facts) == (side, "SIDE-3", ("box.side",))


@pytest.mark.parametrize("side", ["left", "right"])
def test_side_3_without_a_box_the_wall_station_decides(side):
    found = lead_at(sided("trolley", None, stations=[{"place": f"Wall inside, {side} of the door"}]))
    assert (found.end, found.rule) == (side, "SIDE-3")


@pytest.mark.parametrize(
    "stations",
    [
        [],
        [{"place": "wall inside"}],
        [{"place": "left of the man door, right of the bay"}],
        [{"place": "left jamb"}, {"place": "right jamb"}],
        [{"place": "outside, on the left"}],
        [{"place": "leftover rack"}],
    ],
)
def test_side_3_right_is_never_taken_for_granted(stations):
    found = lead_at(sided("trolley", None, stations=stations))
    assert (found.end, found.rule) == (None, "SIDE-3")
    assert "ask on which side" in said(found)["lead_end"]


def test_side_3_the_box_comes_before_the_station():
    stations = [{"place": "right jamb"}]
    assert lead_at(sided("trolley", None, box__side="left", stations=stations)).end == "left"


def test_side_3_a_box_told_on_both_sides_is_not_settled_by_the_station():
    two = [told("left"), {"value": "right", "from": "photo"}]
    assert lead_at(sided("trolley", None, box__side=two, stations=[{"place": "right jamb"}])).end is None


@pytest.mark.parametrize(("wall", "mounted"), [("outside", "inside"), ("inside", "outside"), ("outside", None)])
def test_side_4_operator_and_leaf_on_different_faces(wall, mounted):
    facts = sided("hoist", "left") | {"operator.wall": wall, "door.mounted": mounted}
    found = lead_at(facts)
    assert (found.end, found.rule) == ("left", "SIDE-4")
    assert "told inside, looking out" in said(found)["lead_pass"]


@pytest.mark.parametrize(("wall", "mounted"), [("inside", "inside"), ("outside", "outside"), (None, "outside")])
def test_operator_and_leaf_on_the_same_face_need_no_pass(wall, mounted):
    found = lead_at(sided("hoist", "left") | {"operator.wall": wall, "door.mounted": mounted})
    assert (found.rule, "lead_pass" in said(found)) == ("SIDE-2", False)


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_side_told_from_outside_is_turned(side):
    outside = {"value": side, "from": "told", "seen_from": "outside"}
    facts = sided("hoist", None) | {"operator.side": outside}
    assert lead_at(facts).end == OTHER[side]
    assert lead_at(facts | {"lead.end": outside}).end == OTHER[side]
    assert lead_at(sided("trolley", None, box__side=outside)).end == OTHER[side]


@pytest.mark.parametrize("side", ["left", "right"])
def test_side_5_with_nothing_else_known_away_from_the_other_leafs_operator(side):
    found = lead_at(BARE | {"door.second_leaf.operator_side": side})
    assert (found.end, found.rule) == (OTHER[side], "SIDE-5")


def test_side_5_two_operators_on_one_jamb_have_to_be_settled():
    facts = sided("hoist", "right") | {"door.second_leaf.kind": "grille", "door.second_leaf.operator_side": "right"}
    found = lead_at(facts)
    assert (found.end, found.rule) == ("right", "SIDE-2")
    (finding,) = (each for each in found.findings if each.id == "takeoff.second_leaf")
    assert finding.level == "act"
    assert "same jamb" in render(finding.text, ENGLISH)
    apart = lead_at(facts | {"door.second_leaf.operator_side": "left"})
    assert [each.level for each in apart.findings if each.id == "takeoff.second_leaf"] == ["note"]


@pytest.mark.parametrize("kind", ["rolling", "grille"])
@pytest.mark.parametrize(
    ("way_out", "wrong"), [("end", True), ("inside_face", False), ("back", False), ("Inside face", False)]
)
def test_side_6_no_lead_runs_out_of_the_end_into_a_guide(kind, way_out, wrong):
    found = lead_at({**ROLLING, "door.kind": kind, "lead.exit": way_out})
    assert ("lead_exit" in said(found)) is wrong


@pytest.mark.parametrize(
    ("far", "wrong"), [("1-15/16 in", True), ("2 in", False), ("6 in", False), ("6-1/16 in", True)]
)
def test_side_6_two_to_six_inches_in_from_the_end(far, wrong):
    assert ("lead_from_end" in said(lead_at({**ROLLING, "lead.from_end": far}))) is wrong


@pytest.mark.parametrize(("far", "wrong"), [("0 in", False), ("6 in", False), ("6-1/16 in", True), ("12 ft", True)])
def test_on_a_panel_the_exit_is_at_most_six_inches_from_the_end(far, wrong):
    assert ("lead_from_end" in said(lead_at({"door.kind": "sectional", "lead.from_end": far}))) is wrong


@pytest.mark.parametrize("lift", ["high", "vertical", "follows_roof"])
def test_side_7_a_higher_lift_changes_the_wire_and_not_the_end(lift):
    found = lead_at({**SECTIONAL, "door.lift": lift})
    assert (found.end, found.rule) == ("right", "SIDE-2")
    assert "does not change the cord" in said(found)["lead_lift"]
    assert "lead_lift" not in said(lead_at({**SECTIONAL, "door.lift": "standard"}))


@pytest.mark.parametrize("gate", [SLIDE_GATE, SWING_GATE])
def test_side_8_on_a_gate_the_lead_leaves_downward(gate):
    found = lead_at(without(gate, "lead"))
    assert (found.end, found.rule, found.exit) == (None, "SIDE-8", "down")
    assert "lead_end" not in said(found)


def test_side_8_the_lead_of_a_gate_reaches_its_box_and_12_inches_more():
    boxed = {**without(SLIDE_GATE, "lead"), "box.offset": "24 in", "box.height": "36 in"}
    assert inches(lead_at(boxed).length) == 72
    assert lead_at(without(SLIDE_GATE, "lead")).length is None


def test_side_9_an_operator_whose_side_nobody_knows_gives_no_end_and_a_way_out():
    found = lead_at(BARE | {"operator.kind": "hoist"})
    assert (found.end, found.rule) == (None, "SIDE-9")
    assert "lead at both ends" in render(found.why, ENGLISH)


def test_side_9_two_readings_of_the_operators_side_are_no_side():
    two = [told("left"), {"value": "right", "from": "photo"}]
    assert lead_at(BARE | {"operator.kind": "hoist", "operator.side": two}).end is None


def test_side_10_the_edge_there_is_not_copied():
    assert "do not copy" in said(lead_at(SECTIONAL))["lead_old"]
    assert "lead_old" not in said(lead_at(without(SECTIONAL, "protection")))


def test_side_11_a_fabric_door_goes_by_its_maker():
    found = lead_at(sided("hoist", "right") | {"door.kind": "high_speed"})
    assert (found.end, found.rule, found.exit, found.length) == (None, "SIDE-11", None, None)


# The survey against the rule.
def test_what_the_survey_says_is_ordered_and_the_rule_stands_beside_it():
    found = lead_at({**SECTIONAL, "lead.end": "left"})
    assert (found.end, found.advised, found.rule) == ("left", "right", "SIDE-2")
    assert "would be otherwise" in render(found.why, ENGLISH)


def test_an_assumed_end_gives_way_to_the_rule_and_stands_where_there_is_none():
    assert lead_at({**SECTIONAL, "lead.end": assumed("left")}).end == "right"
    nothing = lead_at(BARE | {"lead.end": assumed("left")})
    assert (nothing.end, nothing.facts) == ("left", ("lead.end",))


def test_two_readings_of_the_end_are_no_end_whatever_the_rule_says():
    two = [told("left"), {"value": "right", "from": "photo"}]
    found = lead_at({**SECTIONAL, "lead.end": two})
    assert (found.end, found.advised) == (None, "right")


def test_a_body_without_a_lead_has_no_end():
    found = lead_at({**SECTIONAL, "lead.end": {"value": None, "from": "measured"}})
    assert found.end is None
    assert "no lead leaves this edge" in render(found.why, ENGLISH)


def test_both_ends_are_both_ends():
    found = lead_at({**SECTIONAL, "lead.end": "both"})
    assert found.end == "both"
    assert "at both ends" in render(lead_in_words(found)[1], ENGLISH)


@pytest.mark.parametrize(
    ("kind", "usual"),
    [
        ("sectional", ("end", 0, 36, "outside")),
        ("rolling", ("inside_face", 2, 36, "outside")),
        ("grille", ("inside_face", 2, 36, "outside")),
        ("one_piece", ("end", 0, None, "outside")),
        ("high_speed", (None, None, None, None)),
    ],
)
def test_what_nobody_says_of_the_lead_is_what_is_usual_for_the_leaf(kind, usual):
    found = lead_at({**BARE, "door.kind": kind})
    assert (found.exit, inches(found.from_end), inches(found.length), found.fin) == usual


def test_what_the_survey_says_of_exit_length_and_fin_stands():
    facts = {**SECTIONAL, "lead.exit": "back", "lead.from_end": "6 in", "lead.length": "5 ft", "lead.fin": "both"}
    found = lead_at(facts)
    assert (found.exit, inches(found.from_end), inches(found.length), found.fin) == ("back", 6, 60, "both")
    two = lead_at({**SECTIONAL, "lead.length": [told("3 ft"), told("5 ft")]})
    assert two.length is None


@pytest.mark.parametrize(
    ("by", "on", "confirmed"),
    [
        ("advisor", "2026-03-04", True),
        ("advisor", None, False),
        (None, "2026-03-04", False),
        (assumed("advisor"), "2026-03-04", False),
        ([told("A"), told("B")], "2026-03-04", False),
    ],
)
def test_confirmed_takes_a_name_and_a_day(by, on, confirmed):
    found = lead_at({**SECTIONAL, "lead.confirmed.by": by, "lead.confirmed.on": on})
    assert found.confirmed is confirmed


def test_a_grille_whose_inside_nobody_wrote_down_is_noted():
    grille = {**ROLLING, "door.kind": "grille"}
    assert "Which side of a grille" in said(lead_at(grille))["lead_inside"]
    assert "lead_inside" not in said(lead_at({**grille, "door.inside_is": "shop"}))


# Every leaf, mirrored as a whole.
@given(
    st.sampled_from(["jackshaft", "hoist", "chain", "trolley", "rail", "barrel"]),
    st.sampled_from(["left", "right"]),
    st.sampled_from(["inside", "outside"]),
    st.sampled_from(["sectional", "rolling", "grille", "one_piece"]),
    st.sampled_from([None, 4.0, 9.0, 30.0]),
    st.sampled_from([None, "left", "right"]),
)
def test_a_mirrored_opening_has_a_mirrored_lead(operator, side, wall, kind, free, box):
    def facts(flip: bool) -> dict[str, Any]:
        def turn(each: str) -> str:
            return OTHER[each] if flip else each

        found = sided(operator, turn(side)) | {"operator.wall": wall, "door.kind": kind}
        if free is not None:
            found[f"free_wall.{turn('left')}"] = f"{free} in"
        if box is not None:
            found["box.side"] = turn(box)
        return found

    one, other = lead_at(facts(False)), lead_at(facts(True))
    assert one.rule == other.rule
    assert other.end == (OTHER[one.end] if one.end else None)


# In words.
def words(facts: dict[str, Any]) -> tuple[str, str]:
    one, other = lead_in_words(lead_at(facts))
    return render(one, ENGLISH), render(other, ENGLISH)


def test_the_lead_in_words_from_inside_and_mirrored_for_outside():
    inside, outside = words({**SECTIONAL, "lead.end": "right", "lead.exit": "back", "lead.from_end": "2 in"})
    assert inside == (
        "Inside, looking out: the lead leaves at the right end, out of the back into the channel, "
        "2 in from the end, 3 ft free; fin on the outside."
    )
    assert outside.startswith("Outside, facing the door: the lead leaves at the left end,")
    assert outside.split(", out of")[1] == inside.split(", out of")[1]  # inside and outside are not turned


@pytest.mark.parametrize(("end", "mirrored"), [("left", "right"), ("right", "left"), ("both", "both")])
def test_left_and_right_change_places_and_nothing_else(end, mirrored):
    inside, outside = words({**SECTIONAL, "lead.end": end})
    assert (f"{end} end" in inside, f"{mirrored} end" in outside) == (True, True)


def test_what_is_not_known_is_said_to_be_not_known():
    inside, _ = words({**BARE, "door.kind": "high_speed"})
    for each in (
        "an end that is not known",
        "where it comes out is not known",
        "free length not known",
        "fin not known",
    ):
        assert each in inside


def test_a_gates_lead_leaves_at_the_lower_end():
    inside, outside = words(without(SLIDE_GATE, "lead"))
    assert "at the lower end, downward" in inside
    assert "at the lower end, downward" in outside


def test_odd_words_of_a_survey_are_only_ever_put_into_the_sentence():
    inside, _ = words({**SECTIONAL, "lead.exit": "{end} <b>", "lead.fin": "%s {x}"})
    assert "{end} <b>" in inside
    assert "%s {x}" in inside


def test_the_words_are_in_the_readers_units():
    sentence, _ = lead_in_words(lead_at(SECTIONAL))
    assert "914 mm free" in render(sentence, Reader(units="metric"))


# The sketch: the body lying face down, seen from above.
def sketch(facts: dict[str, Any], **more: Any) -> dict[str, Group]:
    return {each.name: each for each in lead_sketch(lead_at(facts), body_at(facts), **more).parts}


def boxes(shapes: tuple[Shape, ...]) -> Box:
    from sillwright.drawing.shapes import around

    return around(box_of(each) for each in shapes if not isinstance(each, Dimension))


def place_of(groups: dict[str, Group], words: str) -> tuple[float, float]:
    (text,) = (each for each in groups["names"].parts if isinstance(each, Text) and each.words == words)
    return text.x, text.y


@pytest.mark.parametrize("end", ["left", "right"])
def test_face_down_left_is_left_for_who_stands_inside(end):
    drawn = sketch({**SECTIONAL, "lead.end": end})
    body, lead_group = boxes(drawn["body"].parts), boxes(drawn[f"lead.{end}"].parts)
    assert (lead_group.x < body.x) is (end == "left")
    assert place_of(drawn, "left")[0] < place_of(drawn, "right")[0]
    assert f"lead.{OTHER[end]}" not in drawn


@pytest.mark.parametrize("end", ["left", "right"])
def test_face_down_the_same_lead_is_on_the_other_hand_for_who_stands_outside(end):
    drawn = sketch({**SECTIONAL, "lead.end": end}, seen_from="outside")
    body, lead_group = boxes(drawn["body"].parts), boxes(drawn[f"lead.{end}"].parts)
    assert (lead_group.x < body.x) is (end == "right")


def test_face_down_the_outside_lies_away_from_who_stands_inside():
    drawn = sketch(SECTIONAL)
    assert boxes(drawn["fin.outside"].parts).y > boxes(drawn["body"].parts).y
    assert place_of(drawn, "outside")[1] > place_of(drawn, "inside")[1]
    turned = sketch(SECTIONAL, seen_from="outside")
    assert boxes(turned["fin.outside"].parts).y < boxes(turned["body"].parts).y
    assert place_of(turned, "outside")[1] < place_of(turned, "inside")[1]


@pytest.mark.parametrize("way_out", ["end", "back", "inside_face"])
@pytest.mark.parametrize("end", ["left", "right"])
def test_the_view_from_outside_is_a_half_turn_and_no_mirror_image(end, way_out):
    """Lead and fin keep their handedness: the turn from one to the other has the same sense in both."""
    facts = {**SECTIONAL, "lead.end": end, "lead.exit": way_out, "lead.fin": "outside"}

    def sense(drawn: dict[str, Group]) -> float:
        body = boxes(drawn["body"].parts)
        tip, fin = boxes(drawn[f"lead.{end}"].parts), boxes(drawn["fin.outside"].parts)
        return (tip.x - body.x) * (fin.y - body.y)

    inside, outside = sketch(facts), sketch(facts, seen_from="outside")
    assert sense(inside) * sense(outside) > 0
    dots = [
        next(each for each in drawn[f"lead.{end}"].parts if isinstance(each, Circle)) for drawn in (inside, outside)
    ]
    body = boxes(inside["body"].parts)
    assert dots[0].x + dots[1].x == pytest.approx(body.left + body.right)
    assert dots[0].y + dots[1].y == pytest.approx(body.bottom + body.top)


def test_a_lead_from_the_inside_face_comes_out_at_the_feet():
    drawn = sketch({**ROLLING, "lead.exit": "inside_face"})
    (dot,) = (each for each in drawn["lead.right"].parts if isinstance(each, Circle))
    assert dot.y == boxes(drawn["body"].parts).bottom
    back = sketch({**ROLLING, "lead.exit": "back"})
    (dot,) = (each for each in back["lead.right"].parts if isinstance(each, Circle))
    body = boxes(back["body"].parts)
    assert body.bottom < dot.y < body.top
    assert body.left < dot.x < body.right


def test_a_lead_at_both_ends_and_one_that_nobody_knows_are_drawn_apart():
    both = sketch({**SECTIONAL, "lead.end": "both"})
    assert {"lead.left", "lead.right"} <= set(both)
    assert both["lead.left"].role == "device"
    unknown = sketch(BARE)
    assert unknown["lead.left"].role == "unknown"
    assert any(isinstance(each, Text) and each.words == "?" for each in unknown["lead.right"].parts)


def test_fins_on_both_sides_on_the_inside_and_none():
    assert {"fin.inside", "fin.outside"} <= set(sketch({**SECTIONAL, "lead.fin": "both"}))
    assert "fin.outside" not in sketch({**SECTIONAL, "lead.fin": "inside"})
    assert not [name for name in sketch({**SECTIONAL, "lead.fin": "none"}) if name.startswith("fin")]


def test_an_upright_body_lies_with_its_lower_end_to_the_right_and_is_not_turned():
    drawn = sketch(SLIDE_GATE)
    assert place_of(drawn, "lower end")[0] > place_of(drawn, "upper end")[0]
    assert "lead.right" in drawn
    assert drawn == sketch(SLIDE_GATE, seen_from="outside")


def test_the_sketch_tells_the_length_in_the_readers_units():
    facts = SECTIONAL
    found = {
        units: record(lead_sketch(lead_at(facts), body_at(facts), reader=Reader(units=units)))
        for units in ("us", "metric")
    }  # type: ignore[arg-type]
    assert "10 ft 6 in" in str(found["us"].__dict__)
    assert "3.200 m" in str(found["metric"].__dict__)
    nothing: Body | None = None
    assert lead_sketch(lead_at(facts), nothing).parts


@given(
    st.sampled_from(["left", "right", "both", None]), st.text(max_size=12), st.text(max_size=12), st.floats(0, 5)
)
def test_whatever_a_lead_says_it_is_drawn_and_told(end, way_out, fin, far):
    base = lead(at(SECTIONAL)[1])
    odd = Lead(
        end=end, rule="SIDE-2", why=base.why, exit=way_out, from_end=far, length=None, fin=fin,
        confirmed_by="", confirmed_on="",
    )  # fmt: skip
    for seen in ("inside", "outside"):
        drawing = lead_sketch(odd, None, seen_from=seen)  # type: ignore[arg-type]
        assert drawing.box.width < 0.2
        assert drawing.described


def test_a_measured_wall_stands_behind_the_advice():
    facts = sided("hoist", "right") | {"free_wall.right": measured("2 in"), "free_wall.left": measured("3 ft")}
    assert lead_at(facts).facts == ("operator.side", "free_wall.right", "free_wall.left")
