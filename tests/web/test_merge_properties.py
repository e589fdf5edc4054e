"""Ten phones write about one door without hearing of each other: in any order it comes to the same everywhere."""

from __future__ import annotations

import json
import random
import uuid
from collections.abc import Iterable
from types import SimpleNamespace
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from sillwright.web.entries.judging import judge
from sillwright.web.entries.kinds import Sender
from sillwright.web.records.merge import Register, heads
from sillwright.web.records.models import Fact, Observation, Opening
from sillwright.web.records.surveys import standing

from .browser import ROOT, browsing
from .conftest import World
from .merging import DEEDS, PHONES, Entry, History, comes_to, history, some_steps

STEPS = some.lists(
    some.tuples(some.integers(0, PHONES - 1), some.sampled_from(DEEDS), some.integers(0, 999)),
    min_size=2,
    max_size=60,
)
HOURS = some.lists(some.integers(-40, 40), min_size=PHONES, max_size=PHONES)
IN_A_DATABASE = settings(
    max_examples=40,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)


def _said(entry: Entry) -> Any:
    return SimpleNamespace(**{**entry, "replaces": tuple(entry["replaces"])})


def _registers(entries: Iterable[Entry]) -> dict[str, Register]:
    """The registers of facts after entries in this order; one that came before is not taken in again."""
    found: dict[str, Register] = {}
    for each in {each["id"]: each for each in entries}.values():
        found[each["fact"]] = found.get(each["fact"], Register()).with_one(_said(each))
    return found


def _ids(registers: dict[str, Register]) -> dict[str, list[str]]:
    gone = {name for each in registers.values() for name in each.awaited}
    told = {path: [each.id for each in found.heads if each.id not in gone] for path, found in registers.items()}
    return {path: ids for path, ids in told.items() if ids}


@given(steps=STEPS, hours=HOURS, chance=some.randoms(use_true_random=False))
def test_in_any_order_and_however_often_it_comes_to_the_same(
    steps: Any, hours: list[int], chance: random.Random
) -> None:
    log = history(steps, hours).log
    order = log + chance.choices(log, k=len(log)) if log else []
    chance.shuffle(order)
    assert _ids(_registers(order)) == comes_to(log)
    for fact in {each["fact"] for each in log}:
        own = [each for each in order if each["fact"] == fact]
        assert [each.id for each in heads(map(_said, own))] == comes_to(own)[fact]


@given(steps=STEPS)
def test_what_a_phone_replaces_it_has_seen_and_what_nobody_saw_is_never_lost(steps: Any) -> None:
    found = history(steps)
    replaced = {name for each in found.log for name in each["replaces"]}
    stand = {key for ids in comes_to(found.log).values() for key in ids}
    assert {each["id"] for each in found.log} == replaced | stand
    assert not replaced & stand


def _as_sent(entry: Entry, opening: Opening) -> dict[str, Any]:
    about = {"kind": "observation", "site": str(opening.site_id), "opening": str(opening.pk)}
    return {**about, **entry, "from": "measured" if entry["says"] == "value" else ""}


@pytest.mark.django_db
@IN_A_DATABASE
@given(steps=STEPS, hours=HOURS, chance=some.randoms(use_true_random=False))
def test_the_server_comes_to_the_same_in_whatever_order_and_batches_entries_arrive(
    world: World, steps: Any, hours: list[int], chance: random.Random
) -> None:
    log = history(steps, hours).log
    order = log + chance.choices(log, k=len(log) // 2) if log else []
    chance.shuffle(order)
    with transaction.atomic():
        opening = Opening.objects.create(site=world.site, tag="ten phones", position=99)
        sender = Sender(world.people["technician"])
        while order:
            size = chance.randint(1, 20)
            judged = judge(sender, [_as_sent(each, opening) for each in order[:size]])
            assert {each.answer for each in judged} == {"kept"}, judged
            del order[:size]
        found = standing(Fact.objects.filter(opening=opening))
        assert {path: [head.id for head in told] for path, told in found.items()} == comes_to(log)
        typed = {each["id"]: each["typed"] for each in log}
        assert all(head.typed == typed[head.id] for told in found.values() for head in told)
        assert Observation.objects.filter(opening=opening).count() == len(log)
        transaction.set_rollback(True)


# the scripts of the phone, in a browser

STATIC = ROOT / "src/sillwright/web/static"
SCRIPT = """
import { empty, headOf, standing, withOne } from "/offline/heads.js";
import { toldOf, withEntry } from "/offline/outbox.js";
const named = ([path, heads]) => [path, heads.map(({ id }) => id)];
const ids = (told) => Object.fromEntries(Object.entries(told).map(named));
window.merged = (text) => JSON.stringify(JSON.parse(text).map((entries) => {
  const found = {};
  for (const each of entries) found[each.fact] = withOne(found[each.fact] ?? empty(), headOf(each));
  return ids(standing(found));
}));
window.seen = (text) => JSON.stringify(JSON.parse(text).map(({ site, waiting }) => {
  const found = {};
  for (const { path, id } of toldOf(waiting.reduce(withEntry, site), "door").opening) (found[path] ??= []).push(id);
  return found;
}));
window.ready = true;
"""
PAGE = '<!doctype html><title>phone</title><script type="module" src="/start.js"></script>'


def _file(route: Any) -> None:
    path = urlsplit(route.request.url).path
    if path == "/":
        route.fulfill(body=PAGE, content_type="text/html")
    else:
        body = SCRIPT if path == "/start.js" else (STATIC / path.lstrip("/")).read_text(encoding="utf-8")
        route.fulfill(body=body, content_type="text/javascript")


def _kept(entries: Iterable[Entry]) -> dict[str, Any]:
    """A site of one door as the server tells it, after these entries."""
    facts = {
        path: {
            "heads": [
                {"id": each.id, "says": each.says, "typed": each.typed, "at": each.at.replace("Z", "000+00:00")}  # type: ignore[attr-defined]
                for each in found.heads
            ],
            "awaited": sorted(found.awaited),
        }
        for path, found in _registers(entries).items()
    }
    door = {"id": "door", "tag": "T", "position": 0, "facts": facts, "remarks": [], "photos": []}
    return {"site": {"country": "US", "facts": {}}, "openings": [door]}


def _view(found: History, phone: int) -> tuple[dict[str, Any], dict[str, list[str]]]:
    """What a phone has: the door as it was told last, and its own entries; and what both come to.

    Of its own entries that arrived without an answer, one that somebody replaced since is taken out: no phone can
    tell it from one that did not arrive, until it hears the answer.
    """
    told = found.told[phone]
    theirs = {name for each in told if each not in found.waiting[phone] for name in each["replaces"]}
    arrived = {each["id"] for each in told}
    waiting = [each for each in found.waiting[phone] if each["id"] not in theirs & arrived]
    entries = [{"kind": "observation", "opening": "door", "site": "yard", **each} for each in waiting]
    return {"site": _kept(told), "waiting": entries}, comes_to([*told, *waiting])


@pytest.mark.slow
@pytest.mark.enable_socket
def test_a_phone_shows_what_the_server_will_show_once_everything_is_sent() -> None:
    chance = random.Random(8045)  # noqa: S311
    histories = [history(some_steps(seed)) for seed in range(400)]
    orders = [chance.sample(each.log, k=len(each.log)) for each in histories]
    views = [_view(each, phone) for each in histories for phone in range(PHONES)]
    with browsing() as browser:
        page = browser.new_context().new_page()
        page.route("**/*", _file)
        page.goto("http://phone.test")
        page.wait_for_function("window.ready")
        merged = json.loads(page.evaluate("(text) => window.merged(text)", json.dumps(orders)))
        seen = json.loads(page.evaluate("(text) => window.seen(text)", json.dumps([view for view, _ in views])))
    assert merged == [comes_to(each.log) for each in histories]
    assert seen == [wanted for _, wanted in views]
    assert sum(len(ids) > 1 for each in merged for ids in each.values()) > 200, (
        "hardly any two readings: shows nothing"
    )


def test_a_merge_that_forgets_a_replaced_entry_that_comes_late_would_be_found() -> None:
    first = {"id": str(uuid.UUID(int=1)), "fact": "door.headroom", "says": "value", "at": "1", "replaces": []}
    second = {**first, "id": str(uuid.UUID(int=2)), "at": "2", "replaces": [first["id"]]}
    late = Register((_said(second),)).with_one(_said(first))
    assert [each.id for each in late.heads] != comes_to([second, first])["door.headroom"]
