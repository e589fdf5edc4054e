"""Who was there: a name, a signature, a result, a day, and when it is due again."""

from __future__ import annotations

import html
import json
import uuid
from datetime import date, timedelta
from typing import Any

import pytest
from django.utils import timezone

from sillwright.web.lesson.attending import MOST_POINTS, due_by, due_on
from sillwright.web.lesson.models import Attendance, Lesson
from sillwright.web.records.models import Event

from .conftest import World
from .teaching import bare_lesson

DRAWN = [[[10, 20], [30, 40], [50, 20]], [[500, 200]]]


@pytest.fixture
def lesson(world: World) -> Lesson:
    return bare_lesson(world.dealer, world.people["owner"])


def sign(world: World, lesson: Lesson, **told: Any) -> Any:
    form = {"key": str(uuid.uuid4()), "name": "Nell Gray", "written": "Nell", "result": "passed", "months": "12"}
    return world.client("owner").post(f"/lessons/{lesson.pk}/attendance/", {**form, **told})


def page(world: World, lesson: Lesson) -> str:
    return html.unescape(world.client("owner").get(f"/lessons/{lesson.pk}/attendance/").content.decode())


def test_somebody_signs_without_an_account(world: World, lesson: Lesson) -> None:
    assert sign(world, lesson, drawn=json.dumps(DRAWN), written="").status_code == 302
    kept = Attendance.objects.get()
    assert (kept.name, kept.signature, kept.months, kept.day) == ("Nell Gray", DRAWN, 12, timezone.localdate())
    shown = page(world, lesson)
    assert 'd="M10 20L30 40L50 20M500 200L500 200"' in shown
    assert 'aria-label="Signature of Nell Gray"' in shown
    assert due_on(kept).isoformat() in shown
    assert "1 name so far" in shown


def test_a_written_signature_is_enough(world: World, lesson: Lesson) -> None:
    sign(world, lesson)
    assert "<i>Nell</i>" in page(world, lesson)


def test_a_form_that_is_pressed_twice_is_kept_once(world: World, lesson: Lesson) -> None:
    key = str(uuid.uuid4())
    for _ in range(2):
        assert sign(world, lesson, key=key).status_code == 302
    assert Attendance.objects.count() == 1
    other = bare_lesson(world.dealer, world.people["owner"], code="ZZZ999")
    assert sign(world, other, key=key).status_code == 422


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"name": " "}, "Name: this is missing"),
        ({"name": "\u200b"}, "Name: this is missing"),
        ({"name": "x" * 101}, "at most 100"),
        ({"name": "a\x00b"}, "U+0000"),
        ({"written": ""}, "The signature is missing"),
        ({"result": ""}, "Result: choose"),
        ({"result": "<b>"}, "Result: choose"),
        ({"months": "0"}, "months from 1"),
        ({"months": "121"}, "months from 1"),
        ({"months": "twelve"}, "months from 1"),
        ({"day": "tomorrow"}, "Date: year"),
        ({"day": "9999-12-31"}, "up to today"),
        ({"day": "1999-01-01"}, "ten years"),
        ({"corrects": str(uuid.UUID(int=1))}, "row to correct"),
        ({"corrects": "x"}, "row to correct"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(
    world: World, lesson: Lesson, wrong: dict[str, str], said: str
) -> None:
    response = sign(world, lesson, **wrong)
    assert response.status_code == 422
    shown = html.unescape(response.content.decode())
    assert said in shown
    assert "name" in wrong or 'value="Nell Gray"' in shown
    assert not Attendance.objects.exists()


@pytest.mark.parametrize(
    "drawn",
    [
        "{}",
        "[",
        "1",
        "[[]]",
        "[[[1]]]",
        "[[[1, 2, 3]]]",
        "[[[1, 401]]]",
        "[[[-1, 2]]]",
        "[[[1.5, 2]]]",
        "[[[true, 2]]]",
        '[[["<svg onload=x>", 2]]]',
        "[" * 10_000,
        json.dumps([[[1, 2]]] * 61),
        json.dumps([[[1, 2]] * (MOST_POINTS + 1)]),
        "[[[1e999, 2]]]",
        "[[[NaN, 2]]]",
    ],
)
def test_a_drawing_that_is_none_is_refused(world: World, lesson: Lesson, drawn: str) -> None:
    response = sign(world, lesson, drawn=drawn)
    assert response.status_code == 422
    assert "cannot be read" in response.content.decode()


def test_markup_in_a_name_is_only_ever_text(world: World, lesson: Lesson) -> None:
    sign(world, lesson, name="<script>x</script>", written='"><b>')
    raw = world.client("owner").get(f"/lessons/{lesson.pk}/attendance/").content.decode()
    assert "<script>x" not in raw
    assert '"><b>' not in raw


def test_a_wrong_row_is_corrected_by_another_and_still_stands(world: World, lesson: Lesson) -> None:
    sign(world, lesson, name="Nel Grey")
    first = Attendance.objects.get()
    assert sign(world, lesson, corrects=str(first.pk)).status_code == 302
    assert "Nel Grey" not in page(world, lesson)
    assert "Nell Gray" in page(world, lesson)
    assert Attendance.objects.count() == 2
    assert sign(world, lesson, corrects=str(first.pk)).status_code == 422
    second = Attendance.objects.get(corrects=first)
    assert sign(world, lesson, name="Nell B. Gray", corrects=str(second.pk)).status_code == 302


def test_a_row_of_another_lesson_is_not_corrected_here(world: World, lesson: Lesson) -> None:
    sign(world, lesson)
    other = bare_lesson(world.dealer, world.people["owner"], code="ZZZ999")
    assert sign(world, other, corrects=str(Attendance.objects.get().pk)).status_code == 422


@pytest.mark.parametrize(
    ("day", "months", "due"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2026, 12, 1), 12, date(2027, 12, 1)),
        (date(2026, 11, 30), 120, date(2036, 11, 30)),
        (date(2026, 5, 4), 7, date(2026, 12, 4)),
    ],
)
def test_it_is_due_again_after_so_many_months(day: date, months: int, due: date) -> None:
    assert due_on(Attendance(day=day, months=months)) == due


def test_who_is_due_again_is_named_by_the_newest_row(world: World, lesson: Lesson) -> None:
    long_ago = (timezone.localdate() - timedelta(days=400)).isoformat()
    for name in ("Nell Gray", "Ada Moss"):
        sign(world, lesson, name=name, day=long_ago)
    sign(world, lesson, name="nell gray")
    sign(world, lesson, name="Bo Reed", day=long_ago, result="again")
    assert [row.name for _, row in due_by(world.dealer, timezone.localdate())] == ["Ada Moss"]
    shown = world.client("owner").get("/lessons/").content.decode()
    assert "Ada Moss" in shown
    assert "overdue" in shown
    assert "Bo Reed" not in shown
    assert "Ada Moss" not in world.client("friend").get("/lessons/").content.decode()


def test_the_trail_names_nobody_who_was_there(world: World, lesson: Lesson) -> None:
    sign(world, lesson)
    event = Event.objects.get(verb="attendance kept")
    assert event.organisation == world.dealer
    assert "Nell" not in event.what
