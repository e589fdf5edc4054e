"""What to order, on a phone without a signal, is what the server says: lengths, the lead's side and the cord.

Both sides get the same things that people said. The phone's side runs in Chromium, the server's in Python.
"""

from __future__ import annotations

import gzip
import json
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

import pytest

from sillwright.base import data
from sillwright.base.words import Reader
from sillwright.study.takeoff_answer import takeoff_as_json
from sillwright.survey.entries import Entry
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.reading import read_survey
from sillwright.takeoff import CordCase, LengthCase, cord, length, take_off
from sillwright.takeoff.ways.wires import CONDUCTORS
from sillwright.web.offline.book import FORMAT, book

from ..long import cases
from ..survey.entries_at_random import FILES
from ..takeoff import openings as doors
from ..takeoff.test_length import WORKED
from ..takeoff.test_length import case as length_case
from .offline_cases import case_at_random, cases_of
from .offline_corners import CORNERS
from .offline_phone import STATIC, Case, Phone, phone
from .offline_takeoff import (
    BODY,
    asked,
    mirrored,
    order_at_random,
    server_orders,
    survey_of_case,
    told_rarely,
    with_orders,
)

pytestmark = [pytest.mark.enable_socket]

QUICK = 600
MANY = cases(250, 10_000)
EVALUATOR = STATIC / "offline/evaluator/takeoff"
FOOT, INCH = 0.3048, 0.0254


@pytest.fixture(scope="module")
def here() -> Iterator[Phone]:
    with phone() as found:
        found.keep(book())
        yield with_orders(found)


def same(one: Any, other: Any) -> bool:
    """Whether two answers are equal: numbers to 1e-9, words and all else exactly."""
    if isinstance(one, float) or isinstance(other, float):
        numbers = all(isinstance(each, (int, float)) and not isinstance(each, bool) for each in (one, other))
        return numbers and abs(one - other) <= 1e-9
    if isinstance(one, dict):
        return isinstance(other, dict) and one.keys() == other.keys() and all(same(one[k], other[k]) for k in one)
    if isinstance(one, list):
        return isinstance(other, list) and len(one) == len(other) and all(map(same, one, other))
    return type(one) is type(other) and one == other


def compared(here: Phone, cases: Sequence[Case]) -> list[dict[str, Any]]:
    """What the phone says to each case, after it was found to be what the server says."""
    found = asked(here, "orders", [each.as_told() for each in cases])
    for case, said in zip(cases, found, strict=True):
        _same(case, said)
    return found


PARTS = ("bodies", "lead", "cord")


def _same(case: Case, said: dict[str, Any]) -> None:
    about = survey_of_case(case)
    if about is None:
        assert set(said["unsure"]) == {"survey", *PARTS}, case
        return
    expected = server_orders(*about)
    assert not said["unsure"] or told_rarely(case), (said["unsure"], case)
    for part in PARTS:
        if part not in said["unsure"]:
            assert same(said[part], expected[part]), (part, said[part], expected[part], case)
    if "lead" not in said["unsure"]:
        assert said["words"] == expected["words"], case


# the trade's worked cases

KINDS_BESIDE: list[tuple[str, dict[str, Any]]] = [
    ("slide_gate", {"underside": 2, "leaf_top": 84}),
    ("swing_gate", {"leaf_length": 96, "leaf_height": 60, "underside": 8}),
    ("one_piece", {"leaf_width": 582, "meets": "overlaps"}),
]
WORKED_CASES: list[Any] = [(str(each.id), *each.values[:2]) for each in WORKED] + [
    (name, kind, told) for name, (kind, told) in zip(("SG-1", "SW-1", "OP-1"), KINDS_BESIDE, strict=True)
]


def _edges(case: LengthCase) -> list[dict[str, Any]]:
    names = {"body": "body_length", "sensing": "sensing_length", "channel": "channel_length"}
    names |= {"pieces": "piece_count", "piece": "piece_length"}
    found = [{name: getattr(each, names.get(name, name)) for name in BODY} for each in length(case).bodies]
    return [{**each, "missing": list(each["missing"])} for each in found]


@pytest.mark.parametrize(
    ("kind", "told"), [each[1:] for each in WORKED_CASES], ids=[each[0] for each in WORKED_CASES]
)
def test_the_trades_worked_cases_come_out_on_the_phone(here: Phone, kind: str, told: dict[str, Any]) -> None:
    case = length_case(kind, **told)
    plain = {name: value for name, value in vars(case).items() if value is not None}
    (found,) = asked(here, "edges", [{**plain, "dead_end": case.dead_end_lead}])
    assert same(found, _edges(case))


def test_one_worked_case_by_hand(here: Phone) -> None:
    """RO-5: a bent guide, 164, 163-1/4, 164 in: 13 ft 6-1/4 in, 1-3/8 in that does not answer."""
    told = {"guide_clear_floor": 164, "guide_clear_chest": 163.25, "guide_clear_head": 164, "clear_width": 162}
    case = {name: each * INCH for name, each in told.items()}
    ((edge,),) = asked(here, "edges", [{"kind": "rolling", "dead_end": 1.5 * INCH, **case}])
    assert (edge["body"], edge["dead_left"]) == (pytest.approx(162.25 * INCH), pytest.approx(1.375 * INCH))


@pytest.mark.parametrize("shift", [-1e-6, -3e-10, 0, 3e-10, 1e-6])
def test_a_length_on_the_quarter_keeps_it_on_both_sides(here: Phone, shift: float) -> None:
    panels = [quarters * 127 / 20000 + shift for quarters in range(40, 9000, 7)]
    found = asked(here, "edges", [{"kind": "sectional", "panel_width": each} for each in panels])
    expected = [length(LengthCase(kind="sectional", panel_width=each)).body_length for each in panels]
    assert [each["body"] for (each,) in found] == expected  # to the last bit


# The trade's table of cords, 1 ft from the lead: the box at half travel, then hung 1 ft above the head.
CORDS = {
    8: (4.12, 1.5, 9.06, 3), 10: (5.10, 1.5, 11.05, 4), 12: (6.08, 2, 13.04, 4), 14: (7.07, 3, 15.03, 5),
    16: (8.06, 3, 17.03, 5), 18: (9.06, 3, 19.03, 6), 20: (10.05, 3, 21.02, 8), 24: (12.04, 4, 25.02, 8),
}  # fmt: skip
OFF_THE_MIDDLE = {0.35: 9.15, 0.4: 8.46, 0.5: 7.07, 0.6: 8.46, 0.7: 9.85, 1.0: 14.04}


def _cord(told: dict[str, Any]) -> dict[str, Any]:
    found = cord(CordCase(**told))
    return {
        "kind": found.way,
        "retracted": found.retracted,
        "longest": found.longest,
        "ratio": found.ratio,
        "box_height": found.best_box_height,
        "highest": found.case.highest,
        "cable": found.reel_cable,
    }


def test_the_trades_table_of_cords_comes_out_on_the_phone(here: Phone) -> None:
    middle = [{"highest": height * FOOT, "offset": FOOT} for height in CORDS]
    hung = [{**each, "box_height": each["highest"] + FOOT} for each in middle]
    found = asked(here, "cords", middle + hung)
    assert all(same(one, _cord(told)) for one, told in zip(found, middle + hung, strict=True))
    shown = [(round(each["longest"] / FOOT, 2), round(each["retracted"] / FOOT, 3)) for each in found]
    assert shown == [each[:2] for each in CORDS.values()] + [each[2:] for each in CORDS.values()]


def test_a_box_off_the_middle_needs_the_longer_cord_of_the_table(here: Phone) -> None:
    height = 14 * FOOT
    told = [{"highest": height, "offset": FOOT, "box_height": share * height} for share in OFF_THE_MIDDLE]
    found = asked(here, "cords", told)
    assert [round(each["longest"] / FOOT, 2) for each in found] == list(OFF_THE_MIDDLE.values())
    assert all(same(one, _cord(each)) for one, each in zip(found, told, strict=True))


def test_every_cord_of_the_trade_has_conductors_enough_for_any_edge() -> None:
    """So a phone need not ask how many an edge has."""
    assert data.table("sillwright.takeoff", "cord")["cord"]["conductors"] >= max(CONDUCTORS.values())


# openings


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_opening_of_an_example_site_has_the_servers_order(here: Phone, path: Any) -> None:
    survey = read_survey(path, draft=True)
    found = compared(here, list(cases_of(survey)))
    for opening, said in zip(survey.openings, found, strict=True):
        whole = takeoff_as_json(take_off(survey.site, opening), (), Reader())
        first = said["bodies"][0]["body"] if said["bodies"] else None
        assert not said["unsure"]
        assert same(first, whole["body_length"])
        assert same({name: said["cord"][name] for name in whole["cord"]}, whole["cord"])
        assert said["lead"]["confirmed"] == whole["lead"]["confirmed"]


DOORS = {
    "sectional": doors.SECTIONAL,
    "rolling": doors.ROLLING,
    "slide gate": doors.SLIDE_GATE,
    "swing gate": doors.SWING_GATE,
}


def case_of(facts: dict[str, Any]) -> Case:
    return next(cases_of(survey_from_facts(facts)))


@pytest.mark.parametrize("name", DOORS)
def test_a_measured_door_with_each_fact_left_out_in_turn_has_the_servers_order(here: Phone, name: str) -> None:
    whole = case_of(DOORS[name])
    paths = sorted({each.path for each in whole.opening})
    less = [tuple(each for each in whole.opening if each.path != gone) for gone in paths]
    found = compared(here, [whole, *(Case("US", (), each) for each in less)])
    assert found[0]["bodies"][0]["body"] is not None
    assert any(each["bodies"] == [] or each["bodies"][0]["body"] is None for each in found[1:])


@pytest.mark.parametrize("name", DOORS)
def test_a_door_seen_mirrored_has_the_same_lengths_and_its_lead_on_the_other_side(here: Phone, name: str) -> None:
    case = case_of({**DOORS[name], "free_wall.left": "3 ft", "free_wall.right": "7 in", "box.side": "left"})
    one, other = compared(here, [case, mirrored(case)])
    assert (one["bodies"], one["cord"]) == (other["bodies"], other["cord"])
    assert {one["lead"]["end"], other["lead"]["end"]} == {"left", "right"}
    assert "at the left end" in " ".join(other["words"][0])


def test_two_readings_that_give_two_lengths_tell_none(here: Phone) -> None:
    panel = [doors.measured("10 ft 6 in"), doors.told("10 ft 8 in")]
    (found,) = compared(here, [case_of({**doors.SECTIONAL, "door.panel_width": panel})])
    assert (found["bodies"][0]["body"], found["bodies"][0]["piece"]) == (None, None)


def test_an_assumption_confirms_no_lead(here: Phone) -> None:
    settled, guessed = (
        case_of({**doors.SECTIONAL, "lead.confirmed.by": by}) for by in ("advisor", doors.assumed("advisor"))
    )
    found = compared(here, [settled, guessed])
    assert [each["lead"]["confirmed"] for each in found] == [True, False]


@pytest.mark.parametrize("corner", CORNERS)
def test_what_openings_at_random_hardly_ever_meet_has_the_servers_order(here: Phone, corner: str) -> None:
    (found,) = compared(here, [Case("US", (), tuple(CORNERS[corner]))])
    assert not found["unsure"]


def test_orders_at_random_are_the_servers(here: Phone) -> None:
    _show_everything(compared(here, [order_at_random(seed) for seed in range(QUICK)]))


def test_what_is_said_mirrored_of_openings_at_random_is_the_servers(here: Phone) -> None:
    compared(here, [mirrored(order_at_random(seed)) for seed in range(150)])


def test_openings_told_for_other_reasons_have_the_servers_order(here: Phone) -> None:
    compared(here, [case_at_random(seed) for seed in range(150)])


@pytest.mark.slow
@pytest.mark.long
def test_many_orders_at_random_are_the_servers(here: Phone) -> None:
    for start in range(QUICK, QUICK + MANY, 250):
        compared(here, [order_at_random(seed) for seed in range(start, start + 250)])


def _show_everything(found: Sequence[dict[str, Any]]) -> None:
    """Each rule with a length and without one, each side of the lead, each way to the operator, a few pieces."""
    edges = [each for said in found for each in said["bodies"]]
    rules = Counter((each["rule"], each["body"] is not None) for each in edges)
    lengths = [1, 4, 6, 8, 9, 10, 11, 12, 13]
    assert min(rules[f"LEN-{number}", known] for number in lengths for known in (True, False)) > 3, rules
    assert rules["LEN-7", False] > 3
    assert Counter(each["pieces"] > 1 for each in edges)[True] > 10
    sides = Counter(said["lead"]["rule"] for said in found)
    assert min(sides[f"SIDE-{number}"] for number in (1, 2, 3, 4, 5, 8, 9, 11)) > 3, sides
    assert min(Counter(said["lead"]["end"] for said in found)[end] for end in ("left", "right", "both", None)) > 20
    ways = Counter(said["cord"]["kind"] for said in found)
    assert min(ways[kind] for kind in ("cord", "reel", "radio", "unknown")) > 15, ways
    assert sum(bool(said["unsure"]) for said in found) > 3


# what a phone cannot do


def test_a_length_in_a_rare_unit_leaves_only_its_own_part_untold(here: Phone) -> None:
    whole = case_of({**doors.SECTIONAL, "free_wall.right": "3 ft"})
    rare = {"bodies": "door.panel_width", "lead": "free_wall.right", "cord": "door.clear_height"}
    for part, path in rare.items():
        told = [each for each in whole.opening if each.path != path]
        case = Case("US", (), (*told, Entry(path=path, typed="2 fathom")))
        (found,) = asked(here, "orders", [case.as_told()])
        assert part in found["unsure"]
        assert "survey" not in found["unsure"]
        numbers = re.findall(r"\d+\.?\d*", json.dumps(found[part]))
        assert numbers == []
    assert found["cord"]["kind"] == "unknown"


@pytest.mark.parametrize("change", [{"format": FORMAT + 1}, {"takeoff": None}, {"takeoff": {}}, {"groups": {}}])
def test_a_book_that_the_scripts_do_not_know_gives_no_order(here: Phone, change: dict[str, Any]) -> None:
    here.keep({**book(), **change})
    try:
        (found,) = asked(here, "orders", [case_of(doors.SECTIONAL).as_told()])
    finally:
        here.keep(book())
    assert set(found["unsure"]) >= {"bodies", "lead", "cord"}
    assert (found["bodies"], found["lead"]["end"], found["cord"]["longest"]) == ([], None, None)


def test_markup_in_the_words_of_a_lead_stays_text(here: Phone) -> None:
    facts = {**doors.SECTIONAL, "lead.exit": "<b>{fin}</b>", "lead.fin": "{exit} $& __proto__"}
    (found,) = compared(here, [case_of(facts)])
    assert "<b>{fin}</b>" in found["words"][0][0]


def test_the_take_off_grows_the_book_by_little() -> None:
    whole = book()
    words = {name: each for name, each in whole["words"].items() if name != "takeoff"}
    less = {**{name: each for name, each in whole.items() if name != "takeoff"}, "words": words}
    sizes = [len(gzip.compress(json.dumps(each).encode())) for each in (whole, less)]
    assert sizes[0] - sizes[1] < 3_000


@pytest.mark.parametrize("path", sorted(EVALUATOR.glob("*.js")), ids=lambda path: path.name)
def test_the_take_off_looks_at_nothing_but_what_it_is_given(path: Any) -> None:
    source = re.sub(r"//.*", "", path.read_text(encoding="utf-8"))
    outside = r"\b(document|window|self|fetch|indexedDB|localStorage|navigator|Date|Math\.random)\b"
    assert not re.findall(outside, source)
    assert {each for each in re.findall(r'from "([^"]+)"', source) if not re.match(r"\.\.?/\w", each)} == set()
    numbers = set(re.findall(r"(?<![\w-])\d+(?:\.\d+)?(?![\w-])", source))
    assert numbers <= {"0", "1", "2"}, "sizes come out of the book"
