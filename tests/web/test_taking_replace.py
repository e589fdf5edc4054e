"""The way to a like-for-like replacement of an edge."""

from __future__ import annotations

import re
import uuid

import pytest

from sillwright.survey.door import KINDS
from sillwright.web.records.sites import make_opening
from sillwright.web.records.surveys import facts_of

from .conftest import World
from .taking import address, opening_of, say, say_json, words
from .taking import quick_studies as quick_studies


def _asked(text: str) -> list[str]:
    return re.findall(r'id="f-([\w.]+)"', text)


def _section(text: str, title: str) -> str:
    return text.partition(title)[2].partition("<h3>")[0].partition("</section>")[0]


def test_it_asks_only_what_an_order_needs_in_the_order_in_which_it_is_found(world: World) -> None:
    text = world.client("technician").get(address(world.opening, "replace")).content.decode()
    asked = _asked(text)
    wanted = [
        "door.kind", "protection.e1.kind", "protection.e1.wires", "protection.e1.length", "door.panel_width",
        "door.bottom.channel", "door.bottom.slot_spacing", "lead.end", "lead.exit", "cord.retracted", "box.height",
        "operator.made",
    ]  # fmt: skip
    assert [path for path in asked if path in wanted] == wanted
    assert not [path for path in asked if path.startswith(("use.", "site.", "stations", "floor"))]
    assert len(asked) == len(set(asked))
    assert "that is the body length" in text


def test_where_no_edge_is_written_down_the_kind_of_edge_is_asked_first(world: World) -> None:
    client = world.client("technician")
    opening = make_opening(world.site, "R1", author=world.people["technician"])
    text = client.get(address(opening, "replace")).content.decode()
    assert "Which edge hangs there is not written down yet." in text
    assert re.findall(r'name="choose" value="(\w+_edge)"', text) == ["sensing_edge", "air_edge"]
    sent = {"id": str(uuid.uuid4()), "choose": "air_edge", "page": "replace"}
    answer = client.post(address(opening, "list/protection"), sent)
    assert answer["Location"].startswith(address(opening, "replace"))
    assert "An air edge needs a quick press" in words(client.get(address(opening, "replace")))


def test_the_reading_at_the_lifted_lead_is_kept_with_the_edge_it_is_of(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    text = client.get(address(opening, "replace")).content.decode()
    assert 'name="with-of" value="e1"' in text
    sent = {"id": str(uuid.uuid4()), "typed": "8.2 kohm", "with-of": "e1", "with-at": "lead", "with-pressed": "no",
            "page": "replace"}  # fmt: skip
    assert client.post(address(opening, "list/readings"), sent).status_code == 302
    (reading,) = facts_of(opening).rebuilt.survey.openings[0].readings
    told = (reading.ohms.value, reading.of.value, reading.at.value, reading.pressed.value)
    assert told == (8200.0, "e1", "lead", False)
    assert 'name="with-of"' not in client.get(address(opening, "replace")).content.decode()


def test_it_ends_with_what_is_missing_and_what_contradicts(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    text = client.get(address(opening, "replace")).content.decode()
    missing = _section(text, "Still missing for an order")
    assert 'href="#f-door.bottom.channel"' in missing
    assert 'href="#f-lead.end"' not in missing
    assert "the operator is on the right: why?" in _section(text, "What contradicts")
    say(client, opening, "door.bottom.channel", choose="t_slot")
    text = client.get(address(opening, "replace")).content.decode()
    assert 'href="#f-door.bottom.channel"' not in _section(text, "Still missing for an order")
    assert "Two T-slots" in text


def test_a_fire_door_is_led_to_its_maker(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "F1")
    client.post(address(opening, "list/protection"), {"id": str(uuid.uuid4()), "choose": "sensing_edge"})
    page = client.get(address(opening, "replace"))
    assert "Parts of a labelled fire door come through the door's maker" in words(page)
    assert "door.serial" in _asked(page.content.decode())


def test_of_two_edges_the_chosen_one_is_asked_about(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    client.post(address(opening, "list/protection"), {"id": str(uuid.uuid4()), "choose": "sensing_edge"})
    first = client.get(address(opening, "replace")).content.decode()
    second = client.get(address(opening, "replace"), {"of": "e2"}).content.decode()
    assert "protection.e1.length" in _asked(first)
    assert "protection.e2.length" in _asked(second)
    assert "protection.e1.length" not in _asked(second)
    assert "protection.e1.length" in _asked(client.get(address(opening, "replace"), {"of": "e9"}).content.decode())


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_leaf_has_its_own_lengths(world: World, kind: str) -> None:
    client = world.client("technician")
    opening = make_opening(world.site, f"L-{kind}", author=world.people["technician"])
    say(client, opening, "door.kind", choose=kind)
    client.post(address(opening, "list/protection"), {"id": str(uuid.uuid4()), "choose": "sensing_edge"})
    asked = _asked(client.get(address(opening, "replace")).content.decode())
    own = {
        "sectional": "door.panel_width",
        "rolling": "door.guide_clear.chest",
        "grille": "door.guide_clear.chest",
        "rolling_fire": "door.guide_clear.chest",
        "high_speed": "door.serial",
        "one_piece": "door.leaf_width",
        "slide_gate": "door.underside",
        "swing_gate": "door.underside",
    }
    assert own[kind] in asked
    assert "door.clear_width" not in asked


def test_an_answer_from_there_leads_back_there(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    answer = say(client, opening, "lead.end", choose="left", page="replace")
    assert answer["Location"].startswith(address(opening, "replace"))
    body = say_json(client, opening, "lead.end", choose="right", page="replace").json()
    assert 'id="f-lead.end"' in body["card"]
