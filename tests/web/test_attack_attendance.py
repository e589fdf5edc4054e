"""Who was there, with names of every kind, on the page, on the handout and in the file."""

from __future__ import annotations

import html
import re
import uuid
from typing import Any

import pytest
from django.utils import timezone

from sillwright.web.lesson.attending import MOST_ROWS
from sillwright.web.lesson.models import Attendance, Lesson
from sillwright.web.records.text import as_seen

from .conftest import World
from .teaching import bare_lesson

NAMES = (
    "=1+1", "@SUM(A1)", "+49", "-x", "<script>alert(1)</script>", '"><svg onload=x>', "{{ 7|add:1 }}", "{% now %}",
    "#set page(width: 1pt)", "$x$ *b* _i_ `c` @ref <l> // /*", '#import "/etc/passwd"', "\\u{41}", "%s %(name)s",
    "\U0001f6a7\U0001f468\u200d\U0001f469\u200d\U0001f467", "محمد علي", "王小明", "नमस्ते", "W" * 100,
    "e" + "\u0301" * 99, "O'Neill & Sons",
)  # fmt: skip
PAGES = ("attendance/", "handout/?who=1", "handout/?who=1&in=both")
UNSEEN = (
    "\u200d",
    "\ufe0f",
    "\u3164",
    "\u2800",
    "\u115f\u1160 \uffa0",
    "\u0301\u0302",
    "\U000e0041",
    "\u200c \u202e",
)


@pytest.fixture
def lesson(world: World) -> Lesson:
    return bare_lesson(world.dealer, world.people["owner"])


def sign(world: World, lesson: Lesson, name: str, **told: Any) -> Any:
    form = {"key": str(uuid.uuid4()), "name": name, "written": name, "result": "passed", "months": "12"}
    return world.client("owner").post(f"/lessons/{lesson.pk}/attendance/", {**form, **told})


def test_names_of_every_kind_are_only_ever_text(world: World, lesson: Lesson) -> None:
    for name in NAMES:
        assert sign(world, lesson, name).status_code == 302, ascii(name)
    for address in PAGES:
        page = world.client("owner").get(f"/lessons/{lesson.pk}/{address}").content.decode()
        assert not re.search(r"<script>alert|<svg onload", page)
        shown = html.unescape(page)
        assert all(as_seen(name) in shown for name in NAMES)
    file = world.client("owner").get(f"/lessons/{lesson.pk}/handout.pdf?who=1&in=both")
    assert file.status_code == 200
    assert file.content.startswith(b"%PDF-")


@pytest.mark.parametrize("name", UNSEEN, ids=ascii)
def test_a_name_of_which_nothing_is_seen_is_missing(world: World, lesson: Lesson, name: str) -> None:
    answer = sign(world, lesson, name, written="Nell")
    assert answer.status_code == 422
    assert "Name: this is missing" in answer.content.decode()
    assert "signature is missing" in sign(world, lesson, "Nell", written=name).content.decode()
    assert as_seen(f"{name}Nell").endswith("Nell")


@pytest.mark.parametrize("name", ["\u202ekrowten", "a\u2028b", "a\nb", "\u2067x\u2069"])
def test_a_name_turns_no_row_round_and_starts_no_line(world: World, lesson: Lesson, name: str) -> None:
    assert sign(world, lesson, name).status_code == 302
    kept = Attendance.objects.get().name
    assert kept == as_seen(name)
    assert not re.search("[\u2028\u202a-\u202e\u2066-\u2069\n]", kept)


def test_a_lesson_has_so_many_rows_and_no_more_and_all_of_them_are_printed(world: World, lesson: Lesson) -> None:
    told = {"lesson": lesson, "written": "x", "result": "there", "months": 12, "by": world.people["owner"]}
    rows = [Attendance(name=f"N {n} end", day=timezone.localdate(), **told) for n in range(MOST_ROWS)]
    Attendance.objects.bulk_create(rows)
    answer = sign(world, lesson, "One more")
    assert answer.status_code == 422
    assert f"at most {MOST_ROWS} rows" in answer.content.decode()
    page = world.client("owner").get(f"/lessons/{lesson.pk}/handout/?who=1").content.decode()
    assert page.count(" end</th>") == MOST_ROWS
    assert world.client("owner").get(f"/lessons/{lesson.pk}/handout.pdf?who=1").status_code == 200


def test_many_handouts_in_a_minute_are_too_many(
    world: World, lesson: Lesson, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sillwright.web.lesson.pages.MOST_A_MINUTE", 2)
    client = world.client("owner")
    answers = [client.get(f"/lessons/{lesson.pk}/handout.pdf?who=1").status_code for _ in range(3)]
    assert answers == [200, 200, 429]
