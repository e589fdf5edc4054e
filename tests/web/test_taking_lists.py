"""Lists – devices, stations, zones, tests: add a member, take one away, say that there is none."""

from __future__ import annotations

import re
import uuid
from typing import Any

import pytest

from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.spec import Group, GroupSpec, join
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Observation, Opening
from sillwright.web.records.surveys import facts_of
from sillwright.web.taking.lists import LISTS, facts_of_member, group_of_list

from .conftest import World
from .taking import address, heads, opening_of, say, say_json, words
from .taking import quick_studies as quick_studies


def _devices(opening: Opening) -> dict[str, str | None]:
    """The devices by their id, as the study sees them."""
    listing = facts_of(opening).rebuilt.survey.openings[0].protection
    return {str(each.id.value): each.kind.value for each in listing}


def _post(world: World, opening: Opening, name: str, who: str = "technician", **more: Any) -> Any:
    return world.client(who).post(address(opening, f"list/{name}"), {"id": str(uuid.uuid4()), **more})


def test_every_list_of_the_model_has_its_words() -> None:
    def walk(group: type[Group], path: str) -> set[str]:
        found = set()
        for name, spec in group.specs.items():
            if isinstance(spec, GroupSpec):
                found |= {join(path, name)} if spec.many else walk(spec.group, join(path, name))
        return found

    assert set(LISTS) == walk(OpeningFacts, "")
    for listed in LISTS.values():
        assert listed.first in group_of_list(listed.name).specs
        assert facts_of_member(listed)[0] == listed.first


def test_a_device_is_added_by_its_kind_and_called_by_the_next_free_name(world: World) -> None:
    opening = world.opening
    for kind in ("photo_eye", "photo_eye", "sensing_edge", "loop"):
        answer = _post(world, opening, "protection", choose=kind)
        assert answer.status_code == 302
    assert _devices(opening) == {
        "e1": "sensing_edge", "y1": "photo_eye", "y2": "photo_eye", "e2": "sensing_edge", "l1": "loop",
    }  # fmt: skip


def test_a_second_tap_adds_one_device_only(world: World) -> None:
    key = str(uuid.uuid4())
    for _ in range(2):
        assert _post(world, world.opening, "protection", choose="photo_eye", id=key).status_code == 302
    assert list(_devices(world.opening)) == ["e1", "y1"]


@pytest.mark.parametrize("name", [name for name in LISTS if name != "protection"])
def test_a_member_of_every_list_can_be_added_and_shows_all_its_facts(world: World, name: str) -> None:
    client, opening, listed = world.client("technician"), opening_of(world, "B2"), LISTS[name]
    typed = {"ohms": "10 kohm", "kind": "fixed"}.get(listed.first, "something")
    where = _post(world, opening, name, typed=typed)["Location"]
    (key,) = {path.split(".")[-2] for path in facts_of(opening).heads if path.startswith(f"{name}.")}
    assert where.endswith(f"#f-{name}.{key}.{listed.first}")
    text = client.get(address(opening, f"list/{name}")).content.decode()
    shown = set(re.findall(rf'id="f-{name}\.{key}\.(\w+)"', text))
    gate_only = {"carries"}
    assert shown == set(facts_of_member(listed)) - gate_only
    assert not facts_of(opening).rebuilt.mistakes.keys() - {"door.clear_width"}


def test_a_device_that_is_taken_away_is_gone_and_undo_brings_it_back(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    before = {path: told for path, told in facts_of(opening).heads.items() if path.startswith("protection.e1.")}
    where = _post(world, opening, "protection", member="e1", deed="remove")["Location"]
    assert _devices(opening) == {}
    assert facts_of(opening).rebuilt.survey.openings[0].protection.standing == "known"
    page = client.get(where.partition("#")[0])
    kept = re.search(r'name="undo" value="([^"]+)"', page.content.decode())
    assert kept
    answer = client.post(address(opening, "say"), {"undo": kept[1], "fact": "protection.e1", "page": "list"})
    assert answer.status_code == 302
    assert _devices(opening) == {"e1": "sensing_edge"}
    after = facts_of(opening).heads
    assert {path: [head.typed for head in told] for path, told in before.items()} == {
        path: [head.typed for head in after[path]] for path in before
    }


def test_undoing_an_added_device_takes_it_away_again(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    where = _post(world, opening, "protection", choose="photo_eye")["Location"]
    kept = where.partition("kept=")[2].partition("#")[0]
    client.post(address(opening, "say"), {"undo": kept, "fact": "protection.y1.kind"})
    assert list(_devices(opening)) == ["e1"]


def test_two_taps_on_take_away_take_away_once(world: World) -> None:
    opening, key = world.opening, str(uuid.uuid4())
    before = Observation.objects.count()
    for _ in range(2):
        _post(world, opening, "protection", member="e1", deed="remove", id=key)
    assert Observation.objects.count() == before + 1


def test_what_is_gone_already_is_not_taken_away_again(world: World) -> None:
    _post(world, world.opening, "protection", member="e1", deed="remove")
    answer = _post(world, world.opening, "protection", member="e1", deed="remove")
    assert answer.status_code == 422
    assert "There is no such member any more." in words(answer)


def test_there_is_none_can_be_said_and_adding_one_later_replaces_it(world: World) -> None:
    opening = opening_of(world, "B2")
    body = say_json(world.client("technician"), opening, "stations", says="none").json()
    assert body["kept"] is True
    assert 'id="f-stations"' in body["card"]
    stations = facts_of(opening).rebuilt.survey.openings[0].stations
    assert (stations.standing, len(stations)) == ("known", 0)
    _post(world, opening, "stations", choose="wall outside")
    stations = facts_of(opening).rebuilt.survey.openings[0].stations
    assert (stations.standing, len(stations)) == ("known", 1)


def test_undoing_there_is_none_leaves_the_list_not_known(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    kept = say_json(client, opening, "stations", says="none").json()["id"]
    assert say_json(client, opening, "stations", undo=kept).json()["kept"] is True
    assert facts_of(opening).rebuilt.survey.openings[0].stations.standing == "not known"


def test_a_device_taken_away_while_somebody_writes_about_it_is_asked_about(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    _post(world, opening, "protection", member="e1", deed="remove")
    late = Said(fact="protection.e1.state", typed="dead", origin="measured")
    write(world.site, opening, late, author=world.people["advisor"])
    page = client.get(address(opening, "list/protection"))
    assert "Technician took this away, and somebody else wrote about it. Is it there?" in words(page)
    assert "Different things were written about what belongs here." in words(client.get(address(opening)))
    _post(world, opening, "protection", member="e1", deed="keep")
    listing = facts_of(opening).rebuilt.survey.openings[0].protection
    assert (listing.standing, len(listing)) == ("known", 1)


def test_a_device_in_dispute_can_be_taken_away_for_good(world: World) -> None:
    opening = world.opening
    _post(world, opening, "protection", member="e1", deed="remove")
    write(world.site, opening, Said(fact="protection.e1.state", typed="dead"), author=world.people["advisor"])
    _post(world, opening, "protection", member="e1", deed="remove")
    listing = facts_of(opening).rebuilt.survey.openings[0].protection
    assert (listing.standing, len(listing)) == ("known", 0)


def test_an_empty_answer_adds_nothing_and_says_why(world: World) -> None:
    answer = _post(world, world.opening, "statements", typed="  ")
    assert answer.status_code == 422
    assert "There is no value" in words(answer)
    assert not heads(world.opening, "statements")


def test_what_cannot_be_kept_is_refused_and_stands_in_the_field(world: World) -> None:
    answer = _post(world, world.opening, "statements", typed="word\x00s")
    assert answer.status_code == 422
    assert 'value="words"' in answer.content.decode()


def test_the_facts_of_two_members_of_one_kind_stay_apart(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    assert [each.who.value for each in facts_of(opening).rebuilt.survey.openings[0].use.traffic] == [
        "adult",
        "forklift",
    ]
    (first, second) = dict.fromkeys(
        path.split(".")[2] for path in facts_of(opening).heads if path.startswith("use.traffic.")
    )
    say(client, opening, f"use.traffic.{second}.per_hour", typed="99")
    counts = [each.per_hour.value for each in facts_of(opening).rebuilt.survey.openings[0].use.traffic]
    assert counts == [30, 99]
    assert f"use.traffic.{first}.per_hour" in facts_of(opening).heads
