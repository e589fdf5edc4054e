"""The fault bench: what the operator sees of a hurt circuit, and what the leaf still feels."""

from __future__ import annotations

import pytest
from django.test import Client

from .conftest import World

pytestmark = pytest.mark.django_db


def bench(client: Client, **asked: str) -> tuple[int, str]:
    """Status and text of the bench."""
    response = client.get("/workbench/fault-bench/", asked)
    return response.status_code, " ".join(response.content.decode().split())


def test_a_sound_loop_is_felt_along_its_whole_length() -> None:
    status, text = bench(Client())
    assert status == 200
    assert "It reads rest" in text
    assert text.count('class="feels"') == 11


def test_a_cut_plain_edge_still_answers_on_its_near_side_and_nobody_is_told() -> None:
    _, text = bench(Client(), circuit="plain", hurt="cut", place="edge_middle")
    assert "nobody is told" in text
    assert text.count('class="dead"') == 5
    assert "only its near side" in text


def test_the_same_cut_is_seen_at_once_with_an_end_element() -> None:
    _, text = bench(Client(), circuit="resistor", hurt="cut", place="edge_middle")
    assert "It reads open: the operator knows that something is wrong." in text


def test_every_circuit_stands_beside_the_chosen_one() -> None:
    _, text = bench(Client(), circuit="plain", hurt="cut", place="cord")
    for name in ("Plain edge", "Edge with an end element", "Four-wire edge", "Edge by radio"):
        assert f">{name}<" in text


def test_a_press_shows_in_what_the_input_reads() -> None:
    assert "It reads pressed" in bench(Client(), press="0.5")[1]


@pytest.mark.parametrize(
    "asked", [{"circuit": "<b>", "hurt": "../..", "place": "moon", "press": "nan"}, {"press": "-1"}]
)
def test_an_address_that_says_nothing_known_shows_a_sound_loop(asked: dict[str, str]) -> None:
    status, text = bench(Client(), **asked)
    assert (status, "<b>moon" in text) == (200, False)
    assert text.count('class="feels"') == 11


def test_what_a_circuit_cannot_have_is_refused_in_words() -> None:
    status, text = bench(Client(), circuit="plain", hurt="no_link", place="box")
    assert status == 422
    assert "is nothing that a plain circuit can have" in text


def test_a_part_at_the_board_is_shown_to_a_trainer_only(world: World) -> None:
    asked = {"hurt": "element_before", "place": "board"}
    assert bench(Client(), **asked, trainer="1")[0] == 422
    assert bench(world.client("advisor"), **asked)[0] == 422
    assert bench(world.client("advisor"), **asked, trainer="1")[0] == 200
