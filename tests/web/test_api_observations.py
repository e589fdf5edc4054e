"""Observations by the hundred: each judged alone, none lost, none twice."""

from __future__ import annotations

import uuid
from typing import Any

import pytest

from sillwright.web.records.models import Observation

from .api_callers import callers
from .conftest import World


def _said(**more: Any) -> dict[str, Any]:
    return {"id": str(uuid.uuid4()), "fact": "door.clear_width", "typed": "10 ft 2 in", "from": "measured", **more}


def _sent(world: World, *entries: Any, who: str = "technician", status: int = 200) -> list[dict[str, Any]]:
    response = callers(world)[who].ask(
        "POST", f"/api/openings/{world.opening.pk}/observations", {"observations": list(entries)}
    )
    assert response.status_code == status
    return response.json().get("answers", [])


POISON: list[Any] = [
    {"fact": "door.colour"},
    {"typed": "10\x00 ft"},
    {"typed": "10\ud800 ft"},
    {"typed": "x" * 4001},
    {"typed": " "},
    {"says": "perhaps"},
    {"from": "hearsay"},
    {"fact": 7},
    {"id": "7"},
    {"id": None},
    {"colour": "red"},
    {"at": "yesterday"},
    {"replaces": ["7"]},
    {"replaces": [str(uuid.UUID(int=each)) for each in range(61)]},
    {"fact": "site.coldest", "typed": "0 degF"},
]


@pytest.mark.parametrize("wrong", POISON, ids=lambda each: str(each)[:30].encode("ascii", "replace").decode())
def test_one_poisoned_entry_holds_up_no_other(world: World, wrong: dict[str, Any]) -> None:
    first, last = _said(), _said(fact="door.clear_height", typed="9 ft")
    answers = _sent(world, first, _said(**wrong), last)
    assert [each["answer"] for each in answers] == ["kept", "refused", "kept"]
    assert answers[1]["why"]
    kept = {str(key) for key in Observation.objects.values_list("pk", flat=True)}
    assert {first["id"], last["id"]} <= kept


@pytest.mark.parametrize("entry", [None, 7, "door", [], {}])
def test_an_entry_of_another_shape_is_refused_alone(world: World, entry: Any) -> None:
    assert [each["answer"] for each in _sent(world, entry, _said())] == ["refused", "kept"]


def test_each_answer_names_the_entry(world: World) -> None:
    good, wrong = _said(), _said(says="perhaps")
    answers = _sent(world, good, wrong)
    assert [(each["index"], each["id"]) for each in answers] == [(0, good["id"]), (1, wrong["id"])]


def test_what_is_sent_again_is_kept_once(world: World) -> None:
    entry, count = _said(), Observation.objects.count()
    for _ in range(2):
        assert _sent(world, entry, entry)[0]["answer"] == "kept"
    assert Observation.objects.count() == count + 1


def test_an_id_that_another_observation_has_is_refused(world: World) -> None:
    entry = _said()
    _sent(world, entry)
    assert _sent(world, {**entry, "typed": "11 ft"})[0]["answer"] == "refused"
    assert _sent(world, entry, who="owner")[0]["answer"] == "refused"


def test_a_wrong_value_is_kept_as_typed_and_the_fact_names_its_mistake(world: World) -> None:
    heads = [str(each) for each in _heads(world, "door.clear_width")]
    assert _sent(world, _said(typed="wide", replaces=heads))[0]["answer"] == "kept"
    fact = _fact(world, "door.clear_width")
    assert fact["heads"][0]["typed"] == "wide"
    assert fact["mistake"]["message"]


def test_two_readings_stand_side_by_side_until_one_replaces_both(world: World) -> None:
    shown = _heads(world, "door.clear_width")
    one, other = _said(replaces=shown), _said(typed="11 ft", replaces=shown)
    _sent(world, one, other)
    assert _fact(world, "door.clear_width")["standing"] == "two readings"
    _sent(world, _said(replaces=[one["id"], other["id"]]))
    assert _fact(world, "door.clear_width")["standing"] == "known"


def _fact(world: World, path: str) -> dict[str, Any]:
    told = callers(world)["reader"].ask("GET", f"/api/openings/{world.opening.pk}/facts").json()
    return next(each for each in told["facts"] if each["path"] == path)


def _heads(world: World, path: str) -> list[str]:
    return [each["id"] for each in _fact(world, path)["heads"]]


def test_lists_and_members_are_told_with_their_standing(world: World) -> None:
    _sent(world, {"id": str(uuid.uuid4()), "fact": "stations", "says": "none"})
    assert _fact(world, "stations")["standing"] in {"known", "two readings"}


def test_a_batch_of_200_is_kept_and_one_more_is_refused_as_a_whole(world: World) -> None:
    entries = [_said(fact=f"protection.p{n}.kind", typed="photo_eye") for n in range(200)]
    count = Observation.objects.count()
    assert {each["answer"] for each in _sent(world, *entries)} == {"kept"}
    _sent(world, *entries, _said(), status=422)
    _sent(world, status=422)
    assert Observation.objects.count() == count + 200


@pytest.mark.parametrize("at", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00", "1969-07-20T20:17:00Z"])
def test_a_clock_that_stands_at_the_ends_of_the_calendar_loses_no_entry(world: World, at: str) -> None:
    entry = _said(at=at)
    assert _sent(world, entry)[0]["answer"] == "kept"
    assert Observation.objects.get(pk=entry["id"]).at.year >= 1970


def test_a_sites_own_facts_are_taken_down_and_read(world: World) -> None:
    entry = {"id": str(uuid.uuid4()), "fact": "site.coldest", "typed": "0 degF"}
    address = f"/api/sites/{world.site.pk}"
    owner = callers(world)["owner"]
    answers = owner.ask("POST", f"{address}/observations", {"observations": [entry]}).json()["answers"]
    assert answers[0]["answer"] == "kept"
    facts = {each["path"]: each for each in owner.ask("GET", f"{address}/facts").json()["facts"]}
    assert entry["id"] in [each["id"] for each in facts["site.coldest"]["heads"]]
    assert owner.ask("GET", f"{address}/observations?fact=site.coldest").json()["items"][-1]["id"] == entry["id"]
