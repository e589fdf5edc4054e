"""What an elevation shows, inside, looking out: things where they are, questions where nobody knows."""

from __future__ import annotations

import pytest

from sillwright.base.finding import Finding
from sillwright.base.words import Reader, Sentence
from sillwright.drawing import Recorder, record
from sillwright.paper.elevation import elevation, flags_of
from sillwright.paper.sheet import WIDTH
from sillwright.survey.door import KINDS

from ..survey.building import opening_of
from .studies import FINDINGS, full_survey, kinds

METRIC = Reader(units="metric", country="DE")


def drawn(facts: dict, findings=(), reader=METRIC) -> Recorder:
    return record(elevation(opening_of(facts), reader, findings))


EDGE = {"id": "e1", "kind": "sensing_edge", "length": "3 m"}


def fitted(side: str) -> dict:
    """An opening with operator, lead, box and cord on one side."""
    return {
        "operator.kind": "jackshaft",
        "operator.side": side,
        "lead.end": side,
        "box": {"side": side, "height": "1.5 m", "offset": "0.4 m"},
        "cord.retracted": "0.6 m",
        "protection": [EDGE, {"id": "y1", "kind": "photo_eye", "height": "150 mm"}],
    }


@pytest.mark.parametrize("side", ["left", "right"])
def test_operator_box_lead_and_cord_stand_on_their_side(side):
    shown = drawn(fitted(side))
    leaf = shown.one("leaf")
    for name in ("operator", "box", "lead", "cord"):
        seen = shown.one(name)
        assert (seen.x > leaf.right) if side == "right" else (seen.x < leaf.left), name


@pytest.mark.parametrize("name", ["operator", "box", "lead"])
def test_left_and_right_are_mirror_images(name):
    left, right = drawn(fitted("left")), drawn(fitted("right"))
    middle = left.one("opening").x
    assert middle - left.one(name).x == pytest.approx(right.one(name).x - middle)
    assert left.one(name).y == pytest.approx(right.one(name).y)


def test_the_opening_is_drawn_to_scale_from_the_left_jamb():
    shown = drawn({"door.clear_width": "3 m", "door.clear_height": "2.5 m", "door.panel_width": "3.1 m"})
    opening = shown.one("opening")
    assert (opening.left, opening.right, opening.bottom, opening.top) == (0, 3, 0, 2.5)
    assert shown.one("leaf").box.width == pytest.approx(3.1)
    assert shown.one("leaf").x == pytest.approx(1.5)


def test_the_leaf_is_partly_open_so_that_its_bottom_shows():
    shown = drawn({})
    assert 0 < shown.one("bottom").bottom < shown.one("leaf").top


def test_the_edge_runs_along_the_bottom_of_the_leaf():
    shown = drawn(fitted("left"))
    edge, leaf = shown.one("protection.e1"), shown.one("leaf")
    assert edge.top == pytest.approx(leaf.bottom)
    assert (edge.left, edge.right) == (leaf.left, leaf.right)


@pytest.mark.parametrize(("height", "metres"), [("150 mm", 0.15), ("5 in", 0.127), ("600 mm", 0.6)])
def test_the_eye_looks_across_the_opening_at_its_height(height, metres):
    shown = drawn({"protection": [{"id": "y1", "kind": "photo_eye", "height": height}]})
    eye = shown.one("protection.y1")
    assert eye.y == pytest.approx(metres)
    assert eye.x == pytest.approx(shown.one("opening").x)
    assert eye.box.width > shown.one("opening").box.width


def test_a_light_curtain_ends_at_its_height():
    shown = drawn({"protection": [{"id": "c1", "kind": "light_curtain", "height": "1.8 m"}]})
    assert shown.one("protection.c1").top == pytest.approx(1.8)
    assert shown.one("protection.c1").bottom == 0


def test_an_operator_whose_side_nobody_knows_is_a_question_on_both_sides():
    shown = drawn({"operator.kind": "jackshaft"})
    operator, leaf = shown.one("operator"), shown.one("leaf")
    assert operator.asks
    assert operator.left < leaf.left
    assert operator.right > leaf.right


@pytest.mark.parametrize("facts", [{}, {"operator.side": {"value": "left", "from": "assumed"}}])
def test_an_assumed_side_is_no_place(facts):
    assert drawn({"operator.kind": "hoist", **facts}).one("operator").asks


def test_a_kind_of_operator_that_nobody_knows_is_a_question_on_its_side():
    shown = drawn({"operator.side": "left"})
    assert shown.one("operator").asks
    assert shown.one("operator").right < shown.one("leaf").left


@pytest.mark.parametrize("kind", ["trolley", "rail"])
def test_a_trolley_stands_over_the_middle(kind):
    shown = drawn({"operator.kind": kind})
    assert shown.one("operator").x == pytest.approx(shown.one("opening").x)
    assert not shown.one("operator").asks


def test_a_lead_that_nobody_asked_about_is_a_question_at_both_ends():
    shown = drawn({"protection": [EDGE]})
    lead, leaf = shown.one("lead"), shown.one("leaf")
    assert lead.asks
    assert lead.left < leaf.left < leaf.right < lead.right


def test_without_an_edge_there_is_no_lead():
    assert not drawn({}).has("lead")
    assert not drawn({"protection": [EDGE], "lead.end": {"value": None, "from": "measured"}}).has("lead")


@pytest.mark.parametrize(
    ("box", "asked"),
    [
        ({"side": "left"}, "junction box on the left: height not known"),
        ({"height": "1.5 m"}, "junction box, 1.500 m above the floor: side not known"),
        ({"offset": "1 m"}, "junction box: side and height not known"),
    ],
)
def test_a_box_whose_place_is_half_known_is_asked_about(box, asked):
    shown = drawn({"box": box})
    assert shown.one("box").asks
    assert asked in shown.words


@pytest.mark.parametrize("kind", ["photo_eye", "light_curtain", "presence", "motion"])
def test_a_device_without_a_height_is_asked_about_under_the_drawing(kind):
    shown = drawn({"protection": [{"id": "d1", "kind": kind}]})
    device = shown.one("protection.d1")
    assert device.asks
    assert device.top < shown.one("floor").bottom


def test_a_station_whose_side_was_not_recorded_is_a_question_at_its_height():
    shown = drawn({"stations": [{"place": "wall inside", "height": "1.4 m"}, {"place": "office"}]})
    assert shown.one("station.1").asks
    assert shown.one("station.1").y == pytest.approx(1.4)
    assert shown.one("station.2").asks


@pytest.mark.parametrize("state", ["dead", "missing", "torn_off", "defeated"])
def test_a_device_that_does_not_work_is_crossed_out_and_says_so(state):
    plain = drawn({"protection": [EDGE]})
    broken = drawn({"protection": [{**EDGE, "state": state}]})
    assert len(broken.paths) == len(plain.paths) + 2
    assert state.replace("_", " ") in " ".join(broken.words)


def test_two_widths_that_disagree_are_asked_about():
    told = [{"value": "3 m", "from": "told"}, {"value": "3.2 m", "from": "told"}]
    shown = drawn({"door.clear_width": told})
    assert "clear width 3.000 m or 3.200 m: which?" in shown.words
    assert shown.one("clear_width").role == "unknown"


def test_a_length_that_was_only_told_says_so():
    shown = drawn({"door.panel_width": {"value": "3.2 m", "from": "told"}})
    assert "panel width 3.200 m (told)" in shown.words


def test_a_width_of_the_leaf_that_nobody_knows_is_a_question():
    assert "panel width ?" in drawn({}).words


def test_the_floor_is_drawn_through_its_points_where_it_is_known_how_they_were_read():
    points = [["0 m", "10 mm"], ["1.5 m", "4 mm"], ["3 m", "12 mm"]]
    shown = drawn({"floor": {"read_as": "gaps_below_level", "points": points}})
    assert shown.one("floor").top == pytest.approx(0.006)
    assert shown.one("floor").bottom == pytest.approx(-0.002)
    unread = drawn({"floor": {"points": points}})
    assert unread.one("floor").box.height == 0
    assert any("floor points: read as heights" in words for words in unread.words)


def test_lengths_are_in_the_readers_units():
    facts = {"door.clear_width": "10 ft 4 in"}
    assert "clear width 10 ft 4 in" in drawn(facts, reader=Reader()).words
    assert "clear width 3.150 m" in drawn(facts).words


def test_a_finding_raises_a_flag_with_its_number_at_its_place():
    findings = [
        Finding(id=name, level="act", text=Sentence(name), place=place)
        for name, place in (("a", "operator"), ("b", None), ("c", "operator"), ("d", "guide.left"), ("e", "bottom"))
    ]
    shown = drawn({"operator.kind": "hoist", "operator.side": "left"}, findings)
    assert flags_of(findings)["operator"] == (1, 3)
    assert "1,3" in shown.one("note.operator").words
    assert "4" in shown.one("note.guide.left").words
    assert "5" in shown.one("note.bottom").words


def test_a_finding_about_something_unplaced_is_named_in_the_question():
    finding = Finding(id="a", level="act", text=Sentence("a"), place="protection.y1")
    shown = drawn({"protection": [{"id": "y1", "kind": "photo_eye"}]}, [finding])
    assert "photo-eye y1; height not known – finding 1" in shown.words


GATE = {
    "door.kind": "slide_gate",
    "door.leaf_length": "6 m",
    "door.leaf_height": "1.8 m",
    "door.clear_width": "5 m",
}


def test_a_gate_slides_the_way_it_opens():
    left, right = (drawn({**GATE, "door.opens": side}) for side in ("left", "right"))
    assert left.one("leaf").x < right.one("leaf").x
    assert drawn(GATE).one("way").asks


def test_a_gate_without_sizes_is_not_to_scale_and_says_so():
    shown = drawn({"door.kind": "slide_gate"})
    assert "Not to scale: the size of the leaf is not known." in shown.words
    assert "leaf length ?" in shown.words


def test_zones_of_a_gate_are_numbered_where_their_words_place_them():
    zones = [{"place": "leading edge"}, {"place": "rear end", "means": []}, {"place": "somewhere"}]
    shown = drawn({**GATE, "door.opens": "left", "zones": zones})
    assert shown.one("zone.1").x > shown.one("zone.2").x
    assert shown.one("zone.3").asks
    assert "no means against" in " ".join(shown.words)


def test_every_drawing_says_from_where_it_is_seen():
    assert "Inside, looking out" in drawn({}).words


EVERY = [*kinds().openings]


@pytest.mark.parametrize("opening", EVERY, ids=lambda each: each.tag.value)
def test_labels_never_stand_on_each_other_and_fit_the_paper(opening):
    made = elevation(opening, METRIC, FINDINGS)
    assert record(made).overlaps() == []
    assert made.box.width <= (WIDTH + 1) * made.metres_per_mm
    assert made.box.height <= 150 * made.metres_per_mm


def test_every_kind_of_leaf_is_drawn():
    assert {each.door.kind.value for each in EVERY} == set(KINDS)
    for opening in EVERY:
        assert record(elevation(opening, METRIC)).has("leaf")


def test_the_full_survey_is_drawn_without_a_label_on_another(root):
    made = elevation(full_survey(root).openings[0], Reader(), FINDINGS)
    assert record(made).overlaps() == []
    assert "Clear width 10 ft 4 in, clear height 14 ft." in made.described


def test_a_hundred_devices_are_counted_not_crowded():
    devices = [{"id": f"y{n}", "kind": "photo_eye", "height": f"{100 + n} mm"} for n in range(100)]
    made = elevation(opening_of({"protection": devices}), METRIC)
    assert record(made).overlaps() == []
    assert any("more; see the tables" in words for words in record(made).words)


def test_a_long_note_does_not_shrink_the_door():
    note = "north wall of the wash bay behind the grey cabinet beside the hose reel and the eye wash station"
    plain = elevation(opening_of({"stations": [{"place": "wall", "closes": True}]}), Reader())
    told = elevation(opening_of({"stations": [{"place": note, "closes": True}]}), Reader())
    assert told.metres_per_mm == plain.metres_per_mm
