"""The fault bench: what the operator sees of a hurt circuit, and what the leaf still feels."""

from __future__ import annotations

import gzip
import json
import re
from typing import Any

import pytest
from django.test import Client

from sillwright.base.words import Reader
from sillwright.circuit.fault_words import CIRCUITS
from sillwright.web.offline import worker
from sillwright.web.workbench import fault_book
from sillwright.web.workbench.fault_words import ohms_shown, volts_shown

from .conftest import World

pytestmark = pytest.mark.django_db
ADDRESS = "/workbench/fault-bench/"


def bench(client: Client, **asked: str) -> tuple[int, str]:
    """Status and text of the bench, without the sentences that its script fills."""
    response = client.get(ADDRESS, asked)
    text = re.sub(r' data-say-\w+="[^"]*"', "", response.content.decode())
    return response.status_code, " ".join(text.split())


def row(text: str, circuit: str) -> list[str]:
    """The cells of a circuit among all of them: name, who sees it, what is felt, this press."""
    found = re.search(rf'<tr data-circuit="{circuit}".*?</tr>', text)
    assert found
    return re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", found[0])


def test_a_sound_loop_is_felt_along_its_whole_length() -> None:
    status, text = bench(Client())
    assert status == 200
    assert "It reads rest" in text
    assert text.count('<li data-felt="p"') == 10


def test_a_cut_plain_edge_still_answers_on_its_near_side_and_nobody_is_told() -> None:
    _, text = bench(Client(), circuit="plain", hurt="cut", place="edge_middle")
    assert "With this fault only its near side, 50 %, still answers; nobody is told." in text
    assert text.count('<li data-felt="r"') == 5


def test_the_same_cut_is_seen_at_once_with_an_end_element() -> None:
    _, text = bench(Client(), circuit="resistor", hurt="cut", place="edge_middle")
    assert "It reads open: the operator knows that something is wrong." in text


def test_every_circuit_has_a_row_that_says_who_sees_it_what_is_felt_and_this_press() -> None:
    _, text = bench(Client(), circuit="plain", hurt="cut", place="edge_middle", press="beyond")
    assert row(text, "plain") == ["Plain edge", "never", "50 %, near side", "not felt"]
    assert row(text, "resistor") == ["End element", "at once", "50 %, near side", "not felt"]
    assert row(text, "normally_closed")[1:] == ["at the next close", "stands", "–"]
    assert all(row(text, circuit) for circuit in CIRCUITS)
    before = bench(Client(), circuit="plain", hurt="cut", place="edge_middle", press="before")[1]
    assert row(before, "plain")[3] == "felt"


def test_a_circuit_that_cannot_be_hurt_so_says_so_in_its_row() -> None:
    _, text = bench(Client(), circuit="radio", hurt="no_link", place="box")
    assert row(text, "plain") == ["Plain edge", "not on this circuit", "–", "–"]
    assert row(text, "radio")[1] == "at once"


def test_feeling_lost_unseen_is_marked_and_a_loss_that_is_seen_is_not() -> None:
    _, text = bench(Client(), circuit="plain", hurt="cut", place="edge_middle")
    assert re.findall(r'data-circuit="(\w+)"[^>]* data-lost', text) == ["plain"]


def test_a_press_shows_in_what_the_input_reads() -> None:
    assert "It reads pressed" in bench(Client(), press="before")[1]


def test_two_faults_are_said_together_and_each_alone() -> None:
    asked = {"circuit": "resistor", "hurt": "short", "place": "cord", "also": "joint-1@box"}
    _, text = bench(Client(), **asked)
    assert "With both faults no press is felt any more; nobody is told." in text
    assert "Alone, two wires that touch in the cord: it reads as a press" in text
    assert "Alone, a bad joint of 10 kΩ at the box: no press is felt any more" in text


def test_a_second_fault_without_a_first_one_is_the_first() -> None:
    one = bench(Client(), circuit="plain", also="cut@edge_middle")[1]
    other = bench(Client(), circuit="plain", hurt="cut", place="edge_middle")[1]
    assert row(one, "plain") == row(other, "plain")
    assert "With this fault only its near side" in one


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"circuit": "moon"}, "Circuit “moon”"),
        ({"hurt": "../.."}, "What is wrong “../..”"),
        ({"place": "moon"}, "Where “moon”"),
        ({"also": "cut@moon"}, "And besides “cut@moon”"),
        ({"press": "nan"}, "Pressed “nan”"),
        ({"press": "-1"}, "Pressed “-1”"),
        ({"circuit": "<b>moon"}, "Circuit “&lt;b&gt;moon”"),
        ({"hurt": "{x}"}, "What is wrong “{x}”"),
        ({"place": "x" * 500}, f"Where “{'x' * 40}”"),
    ],
)
def test_an_address_that_asks_for_something_unknown_says_what(asked: dict[str, str], words: str) -> None:
    status, text = bench(Client(), **asked)
    assert status == 422
    assert f"This address asks for something that is not here: {words}." in text
    assert "<b>moon" not in text
    assert "<div data-answer hidden>" in text


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        (
            {"circuit": "plain", "hurt": "no_link", "place": "box"},
            "is nothing that it can have. Choose another fault",
        ),
        (
            {"hurt": "crushed", "place": "lead"},
            "is looked at at the near end of the edge, in the middle of the edge",
        ),
        ({"circuit": "plain", "hurt": "cut", "also": "element_wrong-0.47@edge_far"}, "can have besides"),
        (
            {"hurt": "element_missing", "place": "edge_far", "also": "element_wrong-0.47@edge_far"},
            "Not both at once: a missing end element at the far end of the edge and an end element of 4.7 kΩ",
        ),
        ({"hurt": "wet-3", "place": "edge_far", "also": "wet-0.3@edge_far"}, "Not both at once"),
    ],
)
def test_what_a_circuit_cannot_have_is_refused_in_words(asked: dict[str, str], words: str) -> None:
    status, text = bench(Client(), **asked)
    assert (status, words in text) == (422, True)


# --- parts at the board


PART = {"hurt": "element_before", "place": "board"}


def test_a_part_at_the_board_is_shown_to_a_trainer_only(world: World) -> None:
    for client in (Client(), world.client("technician"), world.client("reader")):
        status, text = bench(client, **PART, trainer="1")
        assert (status, "A part at the board is shown to trainers only" in text) == (422, True)
        assert 'name="trainer"' not in text
    assert bench(world.client("advisor"), **PART)[0] == 422
    assert bench(world.client("advisor"), **PART, trainer="1")[0] == 200


def test_no_other_circuit_shows_a_part_at_the_board_either(world: World) -> None:
    _, text = bench(world.client("advisor"), **PART, trainer="1")
    assert row(text, "resistor")[1:3] == ["never", "nothing"]
    assert row(text, "plain")[1] == "not on this circuit"  # it has no end element


def book() -> dict[str, Any]:
    """The book that a phone keeps."""
    found: dict[str, Any] = json.loads(fault_book.book_in("en"))
    return found


def test_the_book_answers_nothing_of_a_part_at_the_board_whoever_asks(world: World) -> None:
    bodies = {client.get(fault_book.address()).content for client in (Client(), world.client("owner"))}
    assert len(bodies) == 1
    told = json.loads(bodies.pop())
    for circuit, names in told["board"].items():
        assert names
        assert not set(names) & set(told["answers"][circuit])


# --- without a network


def test_the_page_that_a_phone_keeps_is_the_same_for_everybody(world: World) -> None:
    found = {world.client(who).get(f"{ADDRESS}kept/").content for who in ("owner", "technician", None)}
    assert len(found) == 1
    page = found.pop().decode()
    assert 'name="person"' not in page
    assert 'name="trainer"' not in page
    assert f'data-book="{fault_book.address()}"' in page


def test_the_worker_keeps_the_page_and_the_book() -> None:
    script = Client().get("/sw.js").content.decode()
    assert f'"{fault_book.address()}"' in script
    assert f'"faults_kept": "{ADDRESS}kept/"' in script


def test_another_book_is_another_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    before = worker.version()
    worker.version.cache_clear()
    monkeypatch.setattr(fault_book, "version", lambda: "another")
    try:
        assert worker.version() != before
    finally:
        worker.version.cache_clear()


def test_the_book_is_small_and_a_browser_that_has_it_is_told_so() -> None:
    response = Client().get(fault_book.address())
    assert response["Content-Type"] == "application/json"
    assert len(gzip.compress(response.content)) < 60_000
    again = Client().get(fault_book.address(), headers={"If-None-Match": response["ETag"]})
    assert again.status_code == 304


def test_volts_and_ohms_are_the_same_in_every_reader_s_units() -> None:
    us, metric = Reader(units="us"), Reader(units="metric")
    for number in (0.0513, 2.51, 5.0):
        assert volts_shown([number], us) == volts_shown([number], metric)
    for ohm in (0.2, 115.0, 10_059.0, 3e6, None):
        assert ohms_shown(ohm, us) == ohms_shown(ohm, metric)


def test_every_number_of_the_book_is_within_it() -> None:
    told = book()
    ways = {circuit: len(each) for circuit, each in told["ways"].items()}
    for circuit, own in told["answers"].items():
        for views in own.values():
            for view in views.values():
                pattern, volts, meters = told["views"][view]
                assert len(told["patterns"][pattern]["reads"]) == 11
                assert len(told["volts"][volts]) == len(told["presses"]) == 5
                assert len(told["meters"][meters]) == ways[circuit]
