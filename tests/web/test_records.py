"""What the log keeps, and who sees it."""

from __future__ import annotations

import uuid

import pytest
from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, transaction
from django.http import Http404

from sillwright.base.words import Reader
from sillwright.study import opening_as_json, study_site
from sillwright.survey.reading import read_survey
from sillwright.web.records.log import Refused, Said, head_of, register_of, write
from sillwright.web.records.merge import heads
from sillwright.web.records.models import Event, Fact, Observation, Opening, Site
from sillwright.web.records.seen import fetched, rights_at
from sillwright.web.records.sites import share
from sillwright.web.records.surveys import facts_of, survey_of

from .conftest import ROOT, World


def test_a_site_taken_in_from_a_file_studies_as_the_file_does(world: World) -> None:
    reader = Reader()
    told = survey_of(world.site, world.site.openings.all()).survey
    ours, theirs = study_site(told, reader), study_site(read_survey(ROOT / "examples" / "ferry-yard.yaml"), reader)
    for one, other in zip(ours.openings, theirs.openings, strict=True):
        assert opening_as_json(one, reader) == opening_as_json(other, reader)


@pytest.mark.parametrize(
    ("who", "deed", "raises"),
    [
        ("owner", "manage", None), ("advisor", "manage", None), ("technician", "write", None),
        ("technician", "manage", PermissionDenied), ("reader", "read", None), ("reader", "write", PermissionDenied),
        ("friend", "read", None), ("friend", "write", PermissionDenied), ("stranger", "read", Http404),
        ("stranger", "write", Http404),
    ],
)  # fmt: skip
def test_the_fetch_is_the_permission_check(
    world: World, who: str, deed: str, raises: type[Exception] | None
) -> None:
    for rows, key in ((Site.objects.all(), world.site.pk), (Opening.objects.all(), world.opening.pk)):
        if raises is None:
            assert fetched(rows, world.people[who], key, deed).pk == key  # type: ignore[arg-type]
        else:
            with pytest.raises(raises):
                fetched(rows, world.people[who], key, deed)  # type: ignore[arg-type]


@pytest.mark.parametrize("mode", ["read", "write", None])
@pytest.mark.parametrize("who", ["owner", "advisor", "technician", "reader", "friend", "stranger"])
def test_one_row_and_lists_of_rows_allow_the_same(world: World, who: str, mode: str | None) -> None:
    share(world.site, world.other, mode, author=world.people["owner"])
    user = world.people[who]
    listed = Site.objects.seen_by(user).filter(pk=world.site.pk).first()  # type: ignore[attr-defined]
    rights = rights_at(user, world.site.pk)
    assert rights.read == (listed is not None)
    if listed is not None:
        assert (rights.write, rights.manage) == (listed.may_write, listed.may_manage)


def _wrote(world: World, typed: str, replaces: tuple[str, ...] = (), **more: object) -> Observation:
    said = Said(fact="door.clear_width", typed=typed, replaces=replaces, **more)  # type: ignore[arg-type]
    return write(world.site, world.opening, said, author=world.people["technician"])


def test_two_values_of_one_fact_stand_side_by_side_until_one_replaces_both(world: World) -> None:
    shown = [head.id for head in facts_of(world.opening).heads["door.clear_width"]]
    first = _wrote(world, "10 ft 2 in", tuple(shown), origin="measured")
    second = _wrote(world, "11 ft", tuple(shown), origin="measured")
    facts = facts_of(world.opening)
    assert [head.typed for head in facts.heads["door.clear_width"]] == ["10 ft 2 in", "11 ft"]
    assert facts.rebuilt.survey.openings[0].door.clear_width.standing == "two readings"
    _wrote(world, "10 ft 2 in", (str(first.id), str(second.id)), origin="measured")
    assert facts_of(world.opening).rebuilt.survey.openings[0].door.clear_width.standing == "known"


def test_a_wrong_value_is_kept_as_typed_and_named(world: World) -> None:
    _wrote(world, "wide", tuple(head.id for head in facts_of(world.opening).heads["door.clear_width"]))
    facts = facts_of(world.opening)
    assert facts.heads["door.clear_width"][0].typed == "wide"
    assert "door.clear_width" in facts.rebuilt.mistakes


def test_the_table_of_facts_can_be_rebuilt_from_the_log(world: World) -> None:
    shown = [head.id for head in facts_of(world.opening).heads["door.clear_width"]]
    _wrote(world, "9 ft", tuple(shown))
    _wrote(world, "10 ft", tuple(shown))
    for fact in Fact.objects.all():
        log = Observation.objects.filter(site=fact.site, opening=fact.opening, fact=fact.path).select_related(
            "author"
        )
        assert [each.id for each in heads(head_of(one, one.author.name) for one in log)] == [
            each["id"] for each in fact.heads
        ]
        assert register_of(fact).awaited == frozenset(fact.awaited)


def test_writing_the_same_observation_again_changes_nothing_and_another_one_cannot_take_its_id(
    world: World,
) -> None:
    key = uuid.uuid4()
    _wrote(world, "10 ft 1 in", id=key)
    count = Observation.objects.count()
    _wrote(world, "10 ft 1 in", id=key)
    assert Observation.objects.count() == count
    with pytest.raises(Refused, match="id"):
        _wrote(world, "12 ft", id=key)


@pytest.mark.parametrize(
    "said",
    [
        Said(fact="door.colour", typed="red"),
        Said(fact="tag", typed="B9"),
        Said(fact="site.coldest", typed="0 degF"),
        Said(fact="door.clear_width", typed=" "),
        Said(fact="door.clear_width", typed="10\x00 ft"),
        Said(fact="door.clear_width", typed="10\ud800 ft"),
        Said(fact="door.clear_width", typed="x" * 4001),
        Said(fact="door.clear_width", says="removed"),
        Said(fact="protection.e1", says="value", typed="x"),
        Said(fact="protection.e 1.kind", typed="sensing_edge"),
        Said(fact="door", says="none"),
    ],
)
def test_what_cannot_be_kept_is_refused_with_a_reason(world: World, said: Said) -> None:
    count = Observation.objects.count()
    with pytest.raises(Refused):
        write(world.site, world.opening, said, author=world.people["technician"])
    assert Observation.objects.count() == count


def test_the_log_and_the_trail_cannot_be_changed_or_deleted(world: World) -> None:
    observations, events = Observation.objects.all(), Event.objects.all()
    attempts = [
        lambda: observations.update(typed="x"),
        lambda: events.update(request="x"),
        lambda: observations._raw_delete(observations.db),  # type: ignore[attr-defined]
        lambda: events._raw_delete(events.db),  # type: ignore[attr-defined]
    ]
    for attempt in attempts:
        with pytest.raises(DatabaseError), transaction.atomic():
            attempt()


def test_taking_a_device_away_while_another_person_writes_about_it_is_a_contradiction(world: World) -> None:
    opening = next(each for each in world.site.openings.all() if "protection.e1.kind" in facts_of(each).heads)
    told = facts_of(opening).heads
    seen = tuple(head.id for path, found in told.items() if path.startswith("protection.e1.") for head in found)
    who = world.people["technician"]
    write(world.site, opening, Said(fact="protection.e1", says="removed", replaces=seen), author=who)
    write(world.site, opening, Said(fact="protection.e1.state", typed="works"), author=who)
    assert facts_of(opening).rebuilt.survey.openings[0].protection.standing == "two readings"
