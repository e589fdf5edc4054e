"""Things that come in whole ones: a count of wires that is none is refused, wherever somebody writes it down."""

from __future__ import annotations

import io
import uuid

import openpyxl
import pytest

from sillwright.base.errors import DocumentError
from sillwright.survey.sheet import survey_of_sheet
from sillwright.web.records.surveys import facts_of

from .api_callers import callers
from .conftest import World
from .taking import address, heads, say, words

ACCEPTED = "a whole number from 1 to 20"
WRONG = ["2.5", "0", "1e3", "2 or 4"]


@pytest.mark.parametrize("typed", WRONG)
def test_a_form_keeps_what_is_no_count_and_says_what_would_be_right(world: World, typed: str) -> None:
    """What somebody typed is never lost; nothing rests on it."""
    client, opening, fact = world.client("technician"), world.opening, "protection.e1.wires"
    seen = ",".join(str(each.id) for each in heads(opening, fact))
    assert say(client, opening, fact, origin="measured", typed=typed, seen=seen).status_code == 302
    assert ACCEPTED in words(client.get(address(opening, f"facts/{fact}")))
    assert fact in facts_of(opening).rebuilt.mistakes


def test_a_form_takes_a_count_and_asks_for_a_whole_number(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    assert say(client, opening, "protection.e1.wires", origin="measured", typed="4").status_code == 302
    assert "A whole number" in words(client.get(address(opening, "facts/protection.e1.wires")))


@pytest.mark.parametrize("typed", WRONG)
def test_a_program_is_told_the_same(world: World, typed: str) -> None:
    said = {"id": str(uuid.uuid4()), "fact": "cord.conductors", "typed": typed, "from": "measured"}
    response = callers(world)["technician"].ask(
        "POST", f"/api/openings/{world.opening.pk}/observations", {"observations": [said]}
    )
    assert response.status_code == 200
    told = callers(world)["reader"].ask("GET", f"/api/openings/{world.opening.pk}/study").json()["mistakes"]
    assert any(each["path"] == said["fact"] and ACCEPTED in each["accepted"] for each in told), told


@pytest.mark.parametrize("value", [2.5, 0, -1, 1e3, "2 or 4", True])
def test_a_workbook_names_the_cell(value: object) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Openings"
    for row in (["tag", "protection.e1.wires"], [None, None], ["B1", value]):
        sheet.append(row)
    place = book.create_sheet("Site")
    for pair in (("key", "value"), ("name", "Quillback Sheds"), ("country", "US")):
        place.append(pair)
    target = io.BytesIO()
    book.save(target)
    with pytest.raises(DocumentError) as refused:
        survey_of_sheet(target.getvalue(), "yard.xlsx")
    assert ACCEPTED in str(refused.value)
    assert "B3" in str(refused.value)


def test_how_a_device_shares_its_input_is_asked_where_another_is_on_it(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    page, asked = address(opening, "list/protection"), "protection.e1.joined"
    assert asked not in client.get(page).content.decode()
    for fact, said in (
        ("protection.e2.kind", {"choose": "sensing_edge"}),
        ("protection.e1.input", {"typed": "edge"}),
        ("protection.e2.input", {"typed": " Edge"}),
    ):
        assert say(client, opening, fact, **said).status_code == 302
    shown = client.get(page).content.decode()
    assert asked in shown
    alone = words(client.get(address(opening, "facts/protection.e1.joined")))
    assert "Look in the box where the leads meet, power locked out." in alone
    assert say(client, opening, "protection.e1.joined", choose="end_to_end").status_code == 302
    assert "End to end, in one loop" in words(client.get(address(opening, "facts/protection.e1.joined")))
