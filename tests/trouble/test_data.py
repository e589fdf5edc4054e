"""The fault model that ships: shares add up, every fault is found and mended, nobody is told anything unwise."""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from math import fsum
from pathlib import Path
from typing import Any

import pytest

import sillwright.trouble
from sillwright.trouble.book import fact_titles, fault_book, standing
from sillwright.trouble.electrical import measurable
from sillwright.trouble.model import FaultModel, Symptom, Who
from sillwright.trouble.model import Test as Step

BOOK = fault_book()
DATA = Path(sillwright.trouble.__file__).parent / "data"
ORDER: tuple[Who, ...] = ("owner", "shift_lead", "technician")
TESTS = {each.id: each for each in BOOK.tests}
REPAIRS = {each.id: each for each in BOOK.repairs}


def table(name: str) -> dict[str, Any]:
    """A table as it stands in the file."""
    return tomllib.loads((DATA / f"{name}.toml").read_text(encoding="utf-8"))


# Shares of faults over all calls, in per cent, as the invented list of calls was summed up by whoever drew it up,
# before a cause that only points elsewhere is taken apart: share of the call times share of the cause, added up.
SUMMED = {
    "LEAD_OPEN": 8.0, "EYE_ALIGN": 7.7, "WET_EDGE": 4.4, "RADIO_BATT": 3.8, "LIMIT_LOW": 3.0, "MISWIRED": 3.0,
    "SETTINGS": 2.8, "EOL_OR_INPUT": 2.6, "FLOOR_HIGH": 2.5, "STRUCK": 2.5, "CORD_BROKEN": 2.4, "BOARD_IN": 2.3,
    "MONITORED_LOST": 2.1, "EDGE_CUT": 1.8, "NO_LISTED_CHAIN": 1.6, "EDGE_PRESSED": 1.6,
}  # fmt: skip


def listed_shares() -> dict[str, float]:
    """Shares of all calls by cause, as the table of calls has them."""
    found: dict[str, float] = defaultdict(float)
    for row in table("symptoms")["symptom"]:
        for cause, percent in row["causes"].items():
            found[cause] += row["share"] * percent / 100
    return dict(found)


@pytest.mark.parametrize(("cause", "percent"), SUMMED.items(), ids=str)
def test_a_big_cause_has_the_share_of_all_calls_that_was_summed_up(cause: str, percent: float) -> None:
    assert listed_shares()[cause] == pytest.approx(percent, abs=0.0501)  # printed to a tenth


def test_the_sixteen_biggest_causes_are_the_sixteen_of_the_list_and_cover_half_of_all_calls() -> None:
    shares = listed_shares()
    assert len(shares) == 78
    biggest = sorted(shares, key=lambda cause: -shares[cause])[:16]
    assert shares[biggest[-1]] - 1e-9 <= min(shares[cause] for cause in SUMMED)
    assert fsum(shares[cause] for cause in SUMMED) == pytest.approx(52, abs=0.5)


def test_there_are_25_calls_whose_shares_and_whose_causes_add_up_to_a_hundred() -> None:
    rows = table("symptoms")["symptom"]
    assert [row["id"] for row in rows] == [f"CALL-{number:02}" for number in range(1, 26)]
    assert fsum(row["share"] for row in rows) == 100
    assert [row["id"] for row in rows if fsum(row["causes"].values()) != 100] == []


@pytest.mark.parametrize("symptom", BOOK.symptoms, ids=lambda each: each.id)
def test_the_causes_of_a_call_add_up_to_one_after_they_were_taken_apart(symptom: Symptom) -> None:
    assert fsum(share for _, share in symptom.causes) == pytest.approx(1, abs=1e-12)
    assert all(share > 0 for _, share in symptom.causes)


def test_a_cause_that_points_elsewhere_is_shared_out_as_that_call_is() -> None:
    causes = {each.id: dict(each.causes) for each in BOOK.symptoms}
    first, timer = causes["CALL-01"], causes["CALL-23"]
    assert not {"MONITORED_LOST", "BLOCKS_BOTH", "LATENT"} & {each.id for each in BOOK.faults}
    left = 1 - first["ALWAYS_SO"]
    assert timer["LEAD_OPEN"] == pytest.approx(0.45 * first["LEAD_OPEN"] / left)
    assert "ALWAYS_SO" not in timer, "no device is lost where none was fitted"
    assert causes["CALL-10"]["BOARD_IN"] == pytest.approx(0.40 + 0.05 * first["BOARD_IN"] / left)


def test_the_cable_of_an_eye_and_the_power_of_the_operator_are_faults_of_their_own() -> None:
    causes = {each.id: dict(each.causes) for each in BOOK.symptoms}
    assert causes["CALL-13"]["EYE_CABLE"] == 0.25
    assert "LEAD_OPEN" not in causes["CALL-13"]
    assert causes["CALL-19"]["POWER"] == 0.30


def test_what_is_taken_apart_changes_no_share_of_a_call() -> None:
    assert fsum(each.share for each in BOOK.symptoms) == pytest.approx(1, abs=1e-12)


def test_every_table_of_shares_says_that_they_are_invented() -> None:
    for name in ("symptoms", "tests", "repairs", "pairs", "facts", "readings"):
        assert table(name)["standing"] == standing() == "invented but plausible, from memory"


def test_a_complaint_tells_what_it_says_already() -> None:
    tells = {each.id: dict(each.tells) for each in BOOK.symptoms if each.tells}
    assert tells["CALL-15"] == {"connection": "radio", "circuit": "radio"}
    assert tells["CALL-08"] == {"rain": "yes"}
    assert tells["CALL-24"] == {"leaf": "gate"}
    for call, facts in tells.items():
        names = dict(BOOK.checklist)[call]
        ruled_out = [name for name in names for move in TESTS[name].needs if facts.get(move.fact) == move.value]
        assert ruled_out == [], call


# ---------------------------------------------------------------- rows


def rows_of(model: FaultModel) -> list[tuple[str, tuple[float, ...]]]:
    """Every row of every test, with where it stands."""
    return [
        (f"{test.id}.{fault}", row)
        for test in model.tests
        for fault, row in (("otherwise", test.otherwise), *test.likelihood)
    ]


@pytest.mark.parametrize("circuit", [None, "plain", "resistor", "radio", "four_wire"])
def test_every_row_adds_up_to_one_and_nothing_is_certain(circuit: str | None) -> None:
    rows = rows_of(fault_book(circuit))
    assert len(rows) > 300
    assert [place for place, row in rows if abs(fsum(row) - 1) > 1e-9] == []
    assert [place for place, row in rows if not all(0 < share < 1 for share in row)] == []


@pytest.mark.parametrize("test", BOOK.tests, ids=lambda each: each.id)
def test_a_test_has_a_row_that_tells_something(test: Step) -> None:
    apart = [max(abs(a - b) for a, b in zip(row, test.otherwise, strict=True)) for _fault, row in test.likelihood]
    assert max(apart) >= 0.25


@pytest.mark.parametrize("fault", BOOK.faults, ids=lambda each: each.id)
def test_a_fault_is_seen_by_a_technicians_test_more_often_than_not(fault: Any) -> None:
    """By a test that can be made at some opening that may have it."""
    seen = [
        sum(row[1:]) - sum(test.otherwise[1:])
        for test in BOOK.tests
        for name, row in test.likelihood
        if name == fault.id
    ]
    assert max(seen) >= 0.5


def test_the_first_outcome_is_the_one_that_a_sound_door_shows() -> None:
    """Of two faults at once the later outcome is seen, so that outcomes run from sound to hurt."""
    asked_of_people = {"hold_button", "closes_by_button", "connection", "battery_date"}
    rare = [each.id for each in BOOK.tests if each.otherwise[0] < 0.5 and each.id not in asked_of_people]
    assert rare == []


# ---------------------------------------------------------------- who does what


def test_only_a_technician_runs_the_leaf_measures_or_puts_a_part_in() -> None:
    for test in BOOK.tests:
        if test.who != "technician":
            assert test.stage in {"harm", "ask", "look"}, test.id


OPENED = re.compile(r"\b(open it|power locked out|lead lifted|lift(?:ed)? the|lift one|terminals?|by hand)\b", re.I)


@pytest.mark.parametrize(
    "test", [each for each in BOOK.tests if each.who != "technician"], ids=lambda each: each.id
)
def test_owner_and_shift_lead_open_nothing_and_run_nothing(test: Step) -> None:
    assert not OPENED.search(test.how), test.how
    assert not re.search(
        r"(?<!not )\b(run|close|open|start|lower|raise) (it|the leaf|the door)\b", test.how, re.I
    ), test.how


def test_a_step_with_a_substitute_part_is_booked_and_for_technicians() -> None:
    cautions = table("tests")["cautions"]
    booked = [test for test in BOOK.tests if test.stage == "substitute"]
    assert len(booked) == 3
    for test in booked:
        assert test.who == "technician"
        assert cautions["booked"]["text"] in test.cautions
        assert cautions["substitute"]["text"] in test.cautions
    other = [each.id for each in BOOK.tests if "substitute" in each.how and each.stage != "substitute"]
    assert other == []


def test_a_leaf_is_run_with_two_people_and_by_a_held_control_or_by_hand() -> None:
    cautions = {name: row["text"] for name, row in table("tests")["cautions"].items()}
    for test in BOOK.tests:
        if test.stage == "move":
            assert cautions["two_people"] in test.cautions, test.id
            assert {cautions["held"], cautions["hand"], cautions["live"]} & set(test.cautions), test.id


def test_harm_is_asked_first_of_everybody_and_costs_next_to_nothing() -> None:
    harm = [each for each in BOOK.tests if each.stage == "harm"]
    assert [each.id for each in harm] == [
        "cable_slack", "leaf_crooked", "spring_gap", "grinding", "closes_on_objects",
    ]  # fmt: skip
    assert all(each.who == "owner" and each.minutes <= 1 for each in harm)
    assert tuple(BOOK.tests[:5]) == tuple(harm)


def test_what_carries_the_leaf_is_a_danger_and_only_a_door_technician_mends_it() -> None:
    dangerous = {each.id: each.remedy for each in BOOK.faults if each.danger}
    assert set(dangerous) == {"CABLE_OFF", "FORCE_TRIP", "TRACK"}
    springs = table("repairs")["cautions"]["springs"]["text"]
    for remedy in dangerous.values():
        assert REPAIRS[remedy].outside
        assert springs in REPAIRS[remedy].cautions
    assert dict(TESTS["cable_slack"].likelihood)["CABLE_OFF"][1] > 0.5


def test_a_fault_that_lets_the_leaf_close_on_somebody_is_marked() -> None:
    unseen = {each.id for each in BOOK.faults if each.unseen}
    on_objects = next(each for each in BOOK.symptoms if each.id == "CALL-06")
    assert {fault for fault, _ in on_objects.causes} <= unseen
    assert not {"EYE_ALIGN", "LEAD_SHORT", "POWER", "ICE", "RADIO_BATT"} & unseen


def test_a_call_that_tells_of_lost_protection_takes_the_opening_out_of_use() -> None:
    assert {each.id for each in BOOK.symptoms if each.harm} == {
        "CALL-06", "CALL-07", "CALL-16", "CALL-18", "CALL-20", "CALL-22",
    }  # fmt: skip


# ---------------------------------------------------------------- repairs


@pytest.mark.parametrize("repair", BOOK.repairs, ids=lambda each: each.id)
def test_a_repair_is_proved_afterwards_and_never_sure(repair: Any) -> None:
    assert repair.proof
    assert 0.5 < repair.success < 1
    assert 5 <= repair.minutes <= 120


def test_only_cleaning_and_ice_are_left_to_who_is_at_the_door() -> None:
    assert {each.id for each in BOOK.repairs if each.who != "technician"} == {"clean_eye", "clear_ice"}


def test_every_repair_mends_a_fault() -> None:
    assert {each.remedy for each in BOOK.faults} == set(REPAIRS)


def test_a_repair_of_something_that_protects_says_what_holds_until_then() -> None:
    until = table("repairs")["cautions"]["until_then"]["text"]
    others = {"balance_leaf", "free_track", "cable_or_spring"}
    silent = [
        fault.id
        for fault in BOOK.faults
        if fault.unseen and fault.remedy not in others and until not in REPAIRS[fault.remedy].cautions
    ]
    assert silent == []


# ---------------------------------------------------------------- pairs, facts, checklist


def test_pairs_are_different_faults_with_small_shares() -> None:
    assert 60 <= len(BOOK.pairs) <= 150
    assert all(one != other and 0 < share <= 0.004 for one, other, share in BOOK.pairs)
    assert len({frozenset(pair[:2]) for pair in BOOK.pairs}) == len(BOOK.pairs)
    alone = {each: share / 100 for each, share in listed_shares().items()}
    for one, other, share in BOOK.pairs:
        for fault in (one, other):
            assert fault not in alone or share < alone[fault], "rarer than the fault alone"


def test_a_group_of_pairs_says_why() -> None:
    assert all(len(group["why"]) > 20 for group in table("pairs")["group"])


def test_no_told_fact_makes_a_fault_impossible() -> None:
    factors = [move.factor for fault in BOOK.faults for move in fault.moves]
    assert len(factors) > 300
    assert min(factors) >= 0.002
    assert max(factors) <= 15


def test_every_fact_is_asked_in_words_and_moves_something() -> None:
    moved = {move.fact for fault in BOOK.faults for move in fault.moves}
    assert moved == {name for name, _ in BOOK.facts} == set(fact_titles())


def test_the_circuit_does_not_count_twice_with_the_connection() -> None:
    """What the connection multiplies the circuit leaves alone, and the other way round."""
    for fault in BOOK.faults:
        up = {move.fact for move in fault.moves if move.factor > 2 and move.value in {"radio", "air", "hose"}}
        assert up <= {"connection"}, fault.id


def test_a_question_about_a_fact_is_not_asked_where_the_fact_is_known() -> None:
    before = {(move.fact, move.value) for move in TESTS["what_before"].needs}
    assert before == {(fact, "yes") for fact in ("rain", "cold", "lightning", "work", "struck")}
    assert {move.value for move in TESTS["connection"].needs} == set(dict(BOOK.facts)["connection"])
    assert all(move.factor == 0 for test in BOOK.tests for move in test.needs)


def test_every_call_has_a_list_that_a_technician_can_work_through_cheapest_first() -> None:
    lists = dict(BOOK.checklist)
    assert list(lists) == [each.id for each in BOOK.symptoms]
    for call, names in lists.items():
        assert len(names) == len(set(names)) >= 4, call
        cost = [(TESTS[name].stage != "harm", TESTS[name].minutes) for name in names]
        assert cost == sorted(cost), call


@pytest.mark.parametrize("symptom", BOOK.symptoms, ids=lambda each: each.id)
def test_a_list_finds_every_cause_of_its_call(symptom: Symptom) -> None:
    names = dict(BOOK.checklist)[symptom.id]
    shown = {fault for name in names for fault, row in TESTS[name].likelihood if row[0] <= 0.75}
    assert {fault for fault, _ in symptom.causes} - shown == set()


def test_no_test_is_ruled_out_everywhere() -> None:
    values = dict(BOOK.facts)
    for test in BOOK.tests:
        for fact in {move.fact for move in test.needs}:
            if fact not in {"rain", "cold", "lightning", "work", "struck", "edge_new", "connection"}:
                assert {move.value for move in test.needs if move.fact == fact} < set(values[fact]), test.id
        assert test.reading is None or measurable(test)


# ---------------------------------------------------------------- words


def texts() -> list[tuple[str, str]]:
    """Every text of the tables that somebody reads, with its table."""

    def inside(value: Any) -> list[str]:
        if isinstance(value, str):
            return [value] if " " in value else []
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        return [text for each in inner for text in inside(each)]

    return [(path.stem, text) for path in sorted(DATA.glob("*.toml")) for text in inside(table(path.stem))]


DEFEATS = re.compile(
    r"\b(bridg\w*|bypass\w*|tap(?:e|es|ed|ing)\b(?! it lightly)|defeat\w*|overrid\w*|unplug\w*|wedg\w*|"
    r"short (?:out|across|the)|loop out|tie back|hold in|stick down|swap(?:s|ping)? (?:in|a)|jump (?:out|across))",
    re.IGNORECASE,
)
NEGATED = re.compile(r"\b(never|nobody|nothing|not)\b", re.IGNORECASE)
PUT_IN = re.compile(r"\b(put|fit|place|connect|add|insert|use|leave)\b[^.]*\b(jumper|resistor|link wire)\b", re.I)


def tells_how_to_defeat(text: str) -> list[str]:
    """Sentences of a text that tell how to get past a device, those left out that say never to."""
    sentences = re.split(r"(?<=[.;:?])\s", text)
    return [
        each for each in sentences if (DEFEATS.search(each) or PUT_IN.search(each)) and not NEGATED.search(each)
    ]


def test_no_text_tells_how_to_bridge_tape_or_defeat_a_device() -> None:
    told = [(name, each) for name, text in texts() for each in tells_how_to_defeat(text)]
    assert told == []


@pytest.mark.parametrize(
    "text",
    [
        "Bridge the terminals and try again.",
        "Tape the receiver's lens.",
        "Unplug the edge to run the door.",
        "Put a resistor across the input.",
        "Fit a 10 kohm resistor at the board.",
        "Swap in a spare and run it.",
    ],
)
def test_a_text_that_would_tell_it_is_found(text: str) -> None:
    assert tells_how_to_defeat(text)


def test_texts_are_short_and_plain() -> None:
    for name, text in texts():
        assert "!" not in text, (name, text)
        assert not re.search(r"\b(safe|compliant|certified|approved|guaranteed|please|simply)\b", text), text
        assert len(text) < 420, (name, text)


def test_questions_are_questions_and_steps_are_sentences() -> None:
    for test in BOOK.tests:
        assert test.question.endswith("?"), test.id
        assert test.how.endswith("."), test.id
        assert all(each.words.endswith(".") for each in test.outcomes), test.id
    said = [
        *((each.id, each.words) for each in BOOK.faults),
        *((each.id, each.words) for each in BOOK.symptoms),
        *((each.id, each.words) for each in BOOK.repairs),
    ]
    assert [name for name, words in said if not (words[0].isupper() and words.endswith("."))] == []
