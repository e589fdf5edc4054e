"""What a device wrote without a signal is taken in entry by entry."""

from __future__ import annotations

import json
import uuid
from typing import Any

from sillwright.web.records.models import Event, Observation, Opening, Remark

from .conftest import World

AT = "2026-03-04T10:15:00.000Z"


def observation(world: World, **more: Any) -> dict[str, Any]:
    """An observation as a phone keeps it."""
    told = {"kind": "observation", "id": str(uuid.uuid4()), "site": str(world.site.pk), "at": AT}
    about = {"opening": str(world.opening.pk), "fact": "door.clear_width", "says": "value", "typed": "10 ft"}
    return {**told, **about, "from": "measured", "replaces": [], **more}


def sent(world: World, *entries: Any, who: str = "technician") -> Any:
    """What the server says of each entry."""
    body = json.dumps({"entries": entries})
    answer = world.client(who).post("/api/entries", body, content_type="application/json")
    assert answer.status_code == 200, answer.content
    return answer.json()["answers"]


def test_an_entry_is_kept_once_however_often_it_is_sent(world: World) -> None:
    entry = observation(world)
    for _ in range(3):
        assert [each["answer"] for each in sent(world, entry, entry)] == ["kept", "kept"]
    assert Observation.objects.filter(pk=entry["id"]).count() == 1


def test_a_door_noted_without_a_signal_comes_with_what_was_written_of_it(world: World) -> None:
    door = str(uuid.uuid4())
    made = {"kind": "opening", "id": door, "site": str(world.site.pk), "tag": "B9", "at": AT}
    answers = sent(world, made, observation(world, opening=door))
    assert [each["answer"] for each in answers] == ["kept", "kept"]
    assert Opening.objects.get(pk=door).facts.get(path="door.clear_width").heads[0]["typed"] == "10 ft"


def test_two_people_note_a_door_of_the_same_name_and_both_doors_stay(world: World) -> None:
    made = [
        {"kind": "opening", "id": str(uuid.uuid4()), "site": str(world.site.pk), "tag": "B9", "at": AT}
        for _ in "ab"
    ]
    first, second = sent(world, *made)
    assert (first["why"], second["answer"]) == ("", "kept")
    assert "B9 (2)" in second["why"]
    assert set(Opening.objects.filter(tag__startswith="B9").values_list("tag", flat=True)) == {"B9", "B9 (2)"}


def test_one_bad_entry_holds_up_no_other_and_is_named_with_its_reason(world: World) -> None:
    bad = [
        observation(world, typed="10\x00ft"),
        observation(world, typed="\ud800"),
        observation(world, fact="no.such.fact"),
        observation(world, id="no id"),
        {"kind": "spell", "id": str(uuid.uuid4())},
        "words",
        None,
        observation(world, colour="red"),
        observation(world, opening=str(uuid.uuid4())),
    ]
    answers = sent(world, *bad, observation(world))
    assert [each["answer"] for each in answers] == ["refused"] * 8 + ["later", "kept"]
    assert all(each["why"] for each in answers[:9])


def test_a_reader_and_a_stranger_write_nothing(world: World) -> None:
    for who in ("reader", "friend", "stranger"):
        entry = observation(world)
        (answer,) = sent(world, entry, who=who)
        assert answer["answer"] == "refused"
        assert not Observation.objects.filter(pk=entry["id"]).exists()


def test_an_opening_of_somebody_else_is_not_taken_over_by_its_id(world: World) -> None:
    made = {"kind": "opening", "id": str(world.opening.pk), "site": str(world.site.pk), "tag": "Z", "at": AT}
    assert [each["answer"] for each in sent(world, made)] == ["kept"]  # it is there already, as it was
    assert world.opening.tag != "Z"


def test_a_remark_and_its_urgency_are_kept_with_a_line_in_the_trail(world: World) -> None:
    about = {"opening": str(world.opening.pk), "site": str(world.site.pk), "at": AT, "replaces": []}
    words = {
        "kind": "remark",
        "id": str(uuid.uuid4()),
        "says": "remark",
        "words": "Cable frayed, left side",
        **about,
    }
    urgent = {"kind": "remark", "id": str(uuid.uuid4()), "says": "urgency", "words": "stop", **about}
    wrong = {"kind": "remark", "id": str(uuid.uuid4()), "says": "urgency", "words": "very", **about}
    answers = sent(world, words, urgent, wrong)
    assert [each["answer"] for each in answers] == ["kept", "kept", "refused"]
    assert Remark.objects.filter(opening=world.opening).count() == 2
    assert Event.objects.filter(verb="remarked").count() == 2


def test_a_site_that_a_phone_keeps_holds_facts_remarks_and_who_may_write(world: World) -> None:
    sent(world, observation(world))
    told = world.client("technician").get(f"/sites/{world.site.pk}/kept.json").json()
    assert told["site"]["may_write"]
    assert len(told["openings"]) == world.site.openings.count()
    assert told["openings"][0]["facts"]["door.clear_width"]["heads"]
    assert world.client("stranger").get(f"/sites/{world.site.pk}/kept.json").status_code == 404


# the order of the walk


def move(world: World, tag: str, after: str | None, **more: Any) -> dict[str, Any]:
    """That a door comes right after another one, as a phone keeps it."""
    ids = dict(world.site.openings.values_list("tag", "pk"))
    about = {"opening": str(ids[tag]), "after": after and str(ids[after])}
    return {"kind": "move", "id": str(uuid.uuid4()), "site": str(world.site.pk), "at": AT, **about, **more}


def walked(world: World) -> list[str]:
    return list(world.site.openings.values_list("tag", flat=True))


def test_a_door_is_moved_behind_another_one_and_to_the_front_and_the_trail_says_so(world: World) -> None:
    first, second, *others = walked(world)
    answers = sent(world, move(world, first, second), move(world, others[-1], None))
    assert [each["answer"] for each in answers] == ["kept", "kept"]
    assert walked(world) == [others[-1], second, first, *others[:-1]]
    assert [each["tag"] for each in _kept(world)] == walked(world)
    told = Event.objects.filter(verb="moved").order_by("pk").values_list("opening__tag", "what", "who__name")
    assert list(told) == [(first, f"→ {second}", "Technician"), (others[-1], "first", "Technician")]


def _kept(world: World) -> list[dict[str, Any]]:
    told = world.client("technician").get(f"/sites/{world.site.pk}/kept.json").json()
    return sorted(told["openings"], key=lambda each: each["position"])  # type: ignore[no-any-return]


def test_a_move_that_is_sent_twice_is_done_once(world: World) -> None:
    first, second, *_others = walked(world)
    entry = move(world, first, second)
    assert [each["answer"] for each in sent(world, entry, entry)] == ["kept", "kept"]
    assert Event.objects.filter(verb="moved").count() == 1


def test_a_door_goes_behind_one_that_was_noted_just_before(world: World) -> None:
    first, second, *_others = walked(world)
    made = {"kind": "opening", "id": str(uuid.uuid4()), "site": str(world.site.pk), "tag": "B9", "at": AT}
    behind = {**move(world, second, first), "after": made["id"]}
    assert [each["answer"] for each in sent(world, behind, made, behind)] == ["later", "kept", "kept"]
    assert walked(world)[-2:] == ["B9", second]


def test_a_door_is_not_moved_behind_itself_nor_by_who_may_only_read(world: World) -> None:
    before = walked(world)
    behind_itself = move(world, before[0], before[0])
    assert [each["answer"] for each in sent(world, behind_itself)] == ["refused"]
    for who in ("reader", "friend", "stranger"):
        (answer,) = sent(world, move(world, before[0], before[2]), who=who)
        assert answer["answer"] == "refused"
    assert walked(world) == before
