"""“What if?” gives the answer that saving would give, and saves nothing."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.core.cache import caches
from django.test import Client
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sillwright.base.words import Reader
from sillwright.study import opening_as_json
from sillwright.web.answers.what_if import MOST_FACTS, supposing, tried
from sillwright.web.records.answers import study_of
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Answer, Event, Fact, Observation, Opening
from sillwright.web.records.surveys import facts_of

from .conftest import World
from .test_answers_page import HOSTILE, checked, made

US = Reader()
WORDS: dict[str, list[str]] = {
    "door.kind": ["sectional", "rolling", "slide_gate", "nothing like it"],
    "door.closing_speed": ["8 in/s", "0.3 m/s", "fast"],
    "door.leaf_mass": ["300 kg", "1,200 lb", "900 lb"],
    "operator.made": ["2008", "2019-03", "soon"],
    "operator.closing_control": ["held", "timer"],
    "operator.station_in_view": ["yes", "no"],
    "operator.lists_devices": ["edge-m", "edge-m; eye-t", "none"],
    "protection.e1.state": ["works", "torn_off"],
    "protection.y9.kind": ["photo_eye"],
    "use.children": ["yes", "no"],
    "site.country": ["US", "DE"],
    "site.coldest": ["-10 degC"],
}
FACTS = st.dictionaries(st.sampled_from(sorted(WORDS)), st.integers(0, 5), min_size=1, max_size=5)


def saved(opening: Opening, world: World, supposed: dict[str, str | None]) -> Opening:
    """The opening after these facts were really written down, in place of what stood."""
    told = facts_of(opening).heads
    for path, typed in supposed.items():
        says = "unknown" if typed is None else "value"
        seen = tuple(head.id for head in told.get(path, ()))
        said = Said(fact=path, says=says, typed=typed or "", replaces=seen)
        write(opening.site, None if path.startswith("site.") else opening, said, author=world.people["owner"])
    return Opening.objects.select_related("site").get(pk=opening.pk)


@settings(max_examples=6, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(FACTS, st.sampled_from(["B1", "B2", "G1"]))
def test_what_would_be_is_what_is_after_saving(world: World, chosen: dict[str, int], tag: str) -> None:
    from django.db import transaction

    opening = world.site.openings.select_related("site").get(tag=tag)
    supposed: dict[str, str | None] = {
        path: WORDS[path][number] if number < len(WORDS[path]) else None for path, number in chosen.items()
    }
    would = study_of(opening, supposing(opening, facts_of(opening), supposed))
    with transaction.atomic():
        after = study_of(saved(opening, world, supposed))
        transaction.set_rollback(True)
    assert would.missing == after.missing
    assert dict(would.facts.rebuilt.mistakes) == dict(after.facts.rebuilt.mistakes)
    if would.study and after.study:
        assert opening_as_json(would.study, US) == opening_as_json(after.study, US)


def asked(client: Client, opening: Opening, facts: Any) -> Any:
    """The answer to a request of the page's script."""
    return client.post(f"/openings/{opening.pk}/what-if/", json.dumps(facts), content_type="application/json")


def test_the_answer_names_headline_changes_force_and_mistakes(world: World) -> None:
    opening = world.site.openings.get(tag="B2")
    told = asked(
        world.client("friend"),
        opening,
        {"facts": {"operator.made": "2008", "door.closing_speed": "20 in/s", "door.leaf_mass": "heavy"}},
    ).json()
    assert told["headline"].startswith("This older installation may close")
    assert told["headline_before"].startswith("Whether this leaf may close under power is not known")
    assert told["closing"] == "yes"
    assert any("now not known, then yes" in each for each in told["changes"])
    assert any(each.startswith("No longer asked:") for each in told["changes"])
    assert "lbf" in told["peak_force"]["before"]
    assert told["peak_force"]["before"] != told["peak_force"]["after"]
    assert list(told["mistakes"]) == ["door.leaf_mass"]


def test_a_fact_that_changes_nothing_says_so(world: World) -> None:
    told = tried(world.opening, {"name": "Another name"}, US)
    assert told.changes == ("Nothing changes in the answer, in what was found or in what is asked.",)
    assert told.headline == told.headline_before


def test_too_little_and_enough_are_both_answers(world: World) -> None:
    bare = made(world, "W1", door__kind="sectional", door__clear_width="10 ft")
    told = tried(bare, {"door.clear_height": "12 ft"}, US)
    assert told.changes == ("Then enough is known for an answer.",)
    assert tried(world.opening, {"door.kind": None}, US).changes == ("Then too little is known for an answer.",)


def test_trying_saves_nothing(world: World) -> None:
    opening = world.site.openings.get(tag="B2")
    client = world.client("owner")

    def state() -> list[Any]:
        found = Opening.objects.select_related("site").get(pk=opening.pk)
        counts = [model.objects.count() for model in (Observation, Event, Fact, Answer)]
        return [found.revision, found.site.revision, *counts, list(Fact.objects.order_by("pk").values())]

    before = state()
    assert asked(client, opening, {"facts": {"operator.made": "2008", "site.country": "DE"}}).status_code == 200
    form = {"fact": ["operator.made", "door.kind"], "typed": ["2008", ""]}
    page = client.post(f"/openings/{opening.pk}/what-if/", form)
    checked(page.content.decode())
    assert "This older installation may close" in page.content.decode()
    assert state() == before


@pytest.mark.parametrize(
    "sent",
    [
        {}, [], {"facts": []}, {"facts": {}}, {"facts": {"door.kind": 3}}, {"facts": {"door.colour": "red"}},
        {"facts": {"tag": "B9"}}, {"facts": {"protection": "none"}}, {"facts": {"door.kind": ""}},
        {"facts": {"door.kind": "x" * 4001}}, {"facts": {"door.kind": "a\x00b"}},
        {"facts": {f"protection.e{n}.state": "works" for n in range(MOST_FACTS + 1)}},
        {"facts": {"door.kind": "x" * 200_000}},
    ],
)  # fmt: skip
def test_what_cannot_be_tried_is_refused_with_a_reason(world: World, sent: Any) -> None:
    response = asked(world.client("technician"), world.opening, sent)
    assert response.status_code == 422
    assert response.json()["message"]


def test_what_is_no_json_is_refused_and_not_read_twice(world: World) -> None:
    for body in ("", "{", "[" * 90_000, "\x00"):
        response = world.client("technician").post(
            f"/openings/{world.opening.pk}/what-if/", body, content_type="application/json"
        )
        assert response.status_code == 422


def test_trying_needs_the_token_of_a_form(world: World) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.people["technician"])
    assert asked(client, world.opening, {"facts": {"operator.made": "2008"}}).status_code == 403


def test_trying_too_often_has_to_wait(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    client = world.client("reader")
    caches["near"].clear()
    statuses = {asked(client, world.opening, {"facts": {}}).status_code for _ in range(61)}
    assert statuses == {422, 429}
    caches["near"].clear()


def test_the_page_without_a_script_shows_what_stands_and_keeps_what_was_typed(world: World) -> None:
    opening, client = world.opening, world.client("technician")
    page = client.get(f"/openings/{opening.pk}/what-if/?fact=door.clear_width&fact=door.colour&fact=door.kind")
    text = page.content.decode()
    checked(text)
    assert "Now: 10 ft 4 in" in text
    assert "door.colour" not in text
    wrong = client.post(f"/openings/{opening.pk}/what-if/", {"fact": "door.clear_width", "typed": HOSTILE})
    text = wrong.content.decode()
    checked(text)
    assert wrong.status_code == 200
    assert "aria-invalid" in text
    assert "<script>alert" not in text
    long = client.post(f"/openings/{opening.pk}/what-if/", {"fact": "door.clear_width", "typed": "9" * 4001})
    assert long.status_code == 422
    assert "9" * 4001 in long.content.decode()


def test_keeping_from_the_page_sends_what_was_seen(world: World) -> None:
    opening, client = world.opening, world.client("technician")
    page = client.post(
        f"/openings/{opening.pk}/what-if/", {"fact": "door.clear_width", "typed": "11 ft"}
    ).content.decode()
    head = facts_of(opening).heads["door.clear_width"][0].id
    assert f'name="seen" value="{head}"' in page
    reader = world.client("reader").post(
        f"/openings/{opening.pk}/what-if/", {"fact": "door.clear_width", "typed": "11 ft"}
    )
    assert 'name="seen"' not in reader.content.decode()


def test_another_country_leaves_the_state_unread_and_everything_else_standing(world: World) -> None:
    told = tried(world.opening, {"site.country": "DE"}, US)
    assert told.headline != told.headline_before
    opening = saved(world.opening, world, {"site.country": "DE"})
    page = world.client("technician").get(f"/openings/{opening.pk}/")
    assert page.status_code == 200
    assert "not a part of DE" in page.content.decode()
    assert f"/sites/{world.site.pk}/facts/site.subdivision/" in page.content.decode()


def test_a_list_is_no_fact_to_try(world: World) -> None:
    with pytest.raises(Refused):
        tried(world.opening, {"protection": None, "protection.e1": "works"}, US)
