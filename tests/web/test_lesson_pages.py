"""Lessons: a trainer begins one, the class asks by a code, and no customer can be known from it."""

from __future__ import annotations

import html
import re
import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.core.cache import caches
from django.db import DatabaseError, transaction
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from sillwright.trouble.amounts import minutes_in_words
from sillwright.trouble.book import fault_book
from sillwright.web.accounts.models import Membership
from sillwright.web.lesson import board, teaching
from sillwright.web.lesson.models import Attendance, Lesson, LessonStep
from sillwright.web.lesson.teaching import under
from sillwright.web.records.models import Event, Site

from .conftest import World, person, signed_in
from .teaching import attended, bare_lesson

BOOK = fault_book()
WORDS = {each.id: each.words for each in BOOK.faults}


def text(response: Any) -> str:
    return html.unescape(response.content.decode())


def begun(world: World, who: str = "owner", **told: Any) -> Lesson:
    """A lesson that somebody began at the page."""
    form = {"key": str(uuid.uuid4()), "seed": "2", **told}
    response = world.client(who).post("/lessons/new/", form)
    assert response.status_code == 302, text(response)
    return Lesson.objects.get(pk=response["Location"].strip("/").rpartition("/")[2])


def tap(lesson: Lesson, kind: str, name: str = "", status: int = 302) -> str:
    """What the class sees after a tap, on a phone of nobody."""
    client = Client()
    response = client.post(f"/class/{lesson.code}/", {"kind": kind, "name": name})
    assert response.status_code == status
    return text(client.get(f"/class/{lesson.code}/") if status == 302 else response)


@pytest.fixture
def lesson(world: World) -> Lesson:
    """A lesson whose lead is broken."""
    return begun(world, symptom="CALL-01", fault="LEAD_OPEN")


def test_an_owner_and_an_advisor_begin_lessons_and_nobody_else(world: World) -> None:
    for who in ("owner", "advisor"):
        assert begun(world, who).by == world.people[who]
    for who in ("technician", "reader"):
        assert world.client(who).get("/lessons/new/").status_code == 403
        assert "Begin a lesson</a>" not in text(world.client(who).get("/lessons/"))


def test_the_same_number_is_the_same_door(world: World) -> None:
    first, second, other = (begun(world, seed=seed) for seed in ("2", "2", "3"))
    assert (first.symptom, first.faults) == (second.symptom, second.faults) == ("CALL-01", ["LEAD_OPEN"])
    assert (other.symptom, other.faults) != (first.symptom, first.faults)
    assert first.code != second.code


def test_a_form_that_is_pressed_twice_begins_one_lesson(world: World) -> None:
    key = str(uuid.uuid4())
    assert begun(world, key=key) == begun(world, key=key)
    assert Lesson.objects.count() == 1
    response = world.client("advisor").post("/lessons/new/", {"key": key, "seed": "2"})
    assert response.status_code == 422


def test_faults_picked_by_hand_are_those_that_are_hidden(world: World) -> None:
    made = begun(world, fault=["LEAD_OPEN", "EYE_ALIGN"], circuit="resistor")
    assert made.faults == ["LEAD_OPEN", "EYE_ALIGN"]
    assert made.facts == [["circuit", "resistor"]]


@pytest.mark.parametrize(
    "wrong",
    [
        {"seed": ""},
        {"seed": "-1"},
        {"seed": "9999999999"},
        {"seed": "²"},
        {"symptom": "CALL-99"},
        {"fault": "<b>"},
        {"circuit": "mains"},
        {"fault": ["LEAD_OPEN", "CABLE_OFF", "TRACK"]},
    ],
)
def test_what_there_is_not_begins_no_lesson_and_what_was_typed_stays(world: World, wrong: dict[str, Any]) -> None:
    response = world.client("owner").post("/lessons/new/", {"seed": "17", **wrong})
    assert response.status_code == 422
    assert 'role="alert"' in text(response)
    assert "<b>" not in response.content.decode().split("<main")[1].split("<form")[0]
    assert Lesson.objects.count() == 0
    if "seed" not in wrong:
        assert 'value="17"' in text(response)


def test_the_class_needs_no_account_and_gets_no_cookie_of_one(lesson: Lesson) -> None:
    client = Client()
    response = client.get(f"/class/{lesson.code}/")
    assert response.status_code == 200
    assert "sessionid" not in client.cookies
    assert response["X-Robots-Tag"] == "noindex, nofollow"
    assert "no-store" in response["Cache-Control"]
    assert "It closes only while the button is held" in text(response)


def test_a_code_is_read_in_small_letters_too(lesson: Lesson) -> None:
    assert Client().get(f"/class/{lesson.code.lower()}/").status_code == 200


def test_what_is_hidden_is_nowhere_on_the_page_of_the_class_until_the_end(lesson: Lesson) -> None:
    page = tap(lesson, "test", "ohms_operator")
    assert "LEAD_OPEN" not in page
    assert WORDS["LEAD_OPEN"] not in page
    assert "The way the program takes" not in page
    assert WORDS["LEAD_OPEN"] in tap(lesson, "repair", "new_lead")


def test_an_answer_is_what_the_door_shows_and_its_minutes_count(lesson: Lesson) -> None:
    page = tap(lesson, "test", "ohms_operator")
    shown = LessonStep.objects.get()
    words = {each.id: each.words for test in BOOK.tests if test.id == "ohms_operator" for each in test.outcomes}
    assert words[shown.outcome] in page
    assert shown.minutes == 6
    assert ">6 min<" in page
    assert ">6.5 min<" in tap(lesson, "test", "cable_slack")


def test_a_page_asks_whether_there_is_more_than_it_shows_and_gets_nothing_where_there_is_not(
    lesson: Lesson,
) -> None:
    address = reverse("board", args=[lesson.code])
    assert Client().get(address, {"seen": "0"}).status_code == 204
    Client().post(address, {"kind": "test", "name": "eye_lamps"})
    assert Client().get(address, {"seen": "1"}).status_code == 204
    page = Client().get(address, {"seen": "0"}).content.decode()
    assert 'id="board" data-seen="1"' in page
    assert "data-over" not in page
    for odd in ("", "x", "-1", "1" * 300):
        assert Client().get(address, {"seen": odd}).status_code == 200


def test_what_two_phones_ask_at_once_counts_once(lesson: Lesson) -> None:
    tap(lesson, "test", "ohms_operator")
    tap(lesson, "test", "ohms_operator")
    assert LessonStep.objects.count() == 1


def test_a_repair_that_does_not_help_costs_its_minutes_and_it_goes_on(lesson: Lesson) -> None:
    page = tap(lesson, "repair", "battery")
    assert "That did not help." in page
    assert "Mended." not in page


def test_at_the_end_it_says_what_it_was_what_told_most_and_what_the_program_took(lesson: Lesson) -> None:
    tap(lesson, "test", "ohms_operator")
    page = tap(lesson, "repair", "new_lead")
    assert "Mended." in page
    assert WORDS["LEAD_OPEN"] in page
    assert f"The program takes {minutes_in_words(under(lesson).best.minutes)} min" in page
    assert "What told most" in page
    assert "Not asked before the leaf was run" in page  # what keeps people from harm was left out
    assert "Prove it once it is mended" in page


def test_after_the_end_nothing_is_added(lesson: Lesson) -> None:
    tap(lesson, "repair", "new_lead")
    tap(lesson, "test", "ohms_operator")
    assert LessonStep.objects.count() == 1


def test_to_stop_ends_it_and_costs_what_somebody_else_takes(lesson: Lesson) -> None:
    page = tap(lesson, "stop")
    assert "Not found: somebody else had to come." in page
    assert LessonStep.objects.get().minutes == BOOK.referral


def test_to_stop_at_a_hanging_cable_is_right(world: World) -> None:
    page = tap(begun(world, fault="CABLE_OFF"), "stop")
    assert "Stopped rightly" in page
    assert "You took 0 min" in page


@pytest.mark.parametrize(
    ("kind", "name"), [("test", "nothing"), ("repair", ""), ("look", "x"), ("stop", "x"), ("", ""), ("test", "<i>")]
)
def test_a_step_that_there_is_not_is_refused(lesson: Lesson, kind: str, name: str) -> None:
    assert "There is no such step" in tap(lesson, kind, name, status=422)
    assert not LessonStep.objects.exists()


def test_the_class_finds_it_for_a_day(world: World, lesson: Lesson, monkeypatch: pytest.MonkeyPatch) -> None:
    later = timezone.now() + teaching.LASTS + timedelta(minutes=1)
    monkeypatch.setattr("django.utils.timezone.now", lambda: later)
    assert Client().get(f"/class/{lesson.code}/").status_code == 404
    assert "open for a day" in text(world.client("owner").get(f"/lessons/{lesson.pk}/"))


@pytest.mark.parametrize("code", ["ZZZZZZ", "x", "' or 1=1", "%00", "A" * 300])
def test_a_code_that_there_is_not_finds_nothing(db: None, code: str) -> None:
    assert Client().get(f"/class/{code}/").status_code in {404, 400}


def test_guessing_codes_is_slowed_down(lesson: Lesson, monkeypatch: pytest.MonkeyPatch) -> None:
    caches["near"].clear()
    monkeypatch.setattr(board, "A_MINUTE", 3)
    client = Client()
    got = [client.get("/class/ZZZZZZ/").status_code for _ in range(4)]
    assert got == [404, 404, 404, 429]


def test_every_page_of_a_lesson_says_nothing_of_a_site(world: World, lesson: Lesson) -> None:
    tap(lesson, "repair", "new_lead")
    client, site = world.client("owner"), Site.objects.get()
    names = [site.name, *site.openings.values_list("tag", flat=True)]
    pages = [f"/lessons/{lesson.pk}/{part}" for part in ("", "attendance/", "handout/")]
    for address in (*pages, f"/class/{lesson.code}/"):
        main = text(client.get(address)).partition("<main")[2].partition("</main>")[0]
        assert not [name for name in names if re.search(rf"\b{re.escape(name)}\b", main)], address
    fields = [each for model in (Lesson, LessonStep, Attendance) for each in model._meta.get_fields()]
    assert not {"site", "opening"} & {each.name for each in fields}


def test_the_trainer_sees_what_is_hidden_and_where_the_class_finds_it(world: World, lesson: Lesson) -> None:
    page = text(world.client("advisor").get(f"/lessons/{lesson.pk}/"))
    assert f"/class/{lesson.code}/" in page
    assert WORDS["LEAD_OPEN"] in page
    assert "The class has not begun." in page


def test_a_member_who_trains_nobody_sees_no_lesson(world: World, lesson: Lesson) -> None:
    assert world.client("technician").get(f"/lessons/{lesson.pk}/").status_code == 403
    assert world.client("stranger").get(f"/lessons/{lesson.pk}/").status_code == 404
    assert lesson.code not in text(world.client("stranger").get("/lessons/"))
    assert lesson.code in text(world.client("owner").get("/lessons/"))


def test_a_trainer_of_two_organisations_chooses_which(world: World) -> None:
    both = person("both", world.dealer, "advisor")
    Membership.objects.create(user=both, organisation=world.other, role="owner")
    client = signed_in(both)
    assert 'name="organisation"' in text(client.get("/lessons/new/"))
    client.post("/lessons/new/", {"seed": "2", "organisation": str(world.other.pk)})
    assert Lesson.objects.get().organisation == world.other


def test_the_handout_says_what_it_was_and_what_holds(
    world: World, lesson: Lesson, django_assert_max_num_queries: Any
) -> None:
    tap(lesson, "repair", "new_lead")
    with django_assert_max_num_queries(20):
        page = text(world.client("owner").get(f"/lessons/{lesson.pk}/handout/"))
    assert page.count('<section class="sheet" lang="en"') == 1
    assert f"It was: {WORDS['LEAD_OPEN']}" in page
    assert "No device is bridged" in page
    assert "Is anyone hurt or trapped?" in page
    assert "Until it is done and tested: closing only by a held control in full view, or out of use." in page


def test_the_handout_is_a_tagged_file_as_well(world: World, lesson: Lesson) -> None:
    response = world.client("owner").get(f"/lessons/{lesson.pk}/handout.pdf")
    assert response["Content-Type"] == "application/pdf"
    assert response.content.startswith(b"%PDF")
    assert b"StructTreeRoot" in response.content
    assert response["Content-Disposition"] == f'attachment; filename="lesson-{lesson.code.lower()}.pdf"'


def test_every_lesson_begun_is_in_the_trail(world: World, lesson: Lesson) -> None:
    event = Event.objects.get(verb="lesson begun")
    assert (event.organisation, event.who, event.site) == (world.dealer, world.people["owner"], None)


@pytest.mark.parametrize("model", [Lesson, LessonStep, Attendance])
def test_nothing_of_a_lesson_is_changed_or_deleted(world: World, model: Any) -> None:
    attended(bare_lesson(world.dealer, world.people["owner"]), world.people["owner"])
    with pytest.raises(DatabaseError, match="only added to"), transaction.atomic():
        model.objects.update(at=timezone.now())
    with pytest.raises(DatabaseError, match="only added to"), transaction.atomic():
        model.objects.all()._raw_delete("default")


def test_what_an_earlier_version_knew_is_still_shown(world: World) -> None:
    lesson = bare_lesson(world.dealer, world.people["owner"])
    LessonStep.objects.create(lesson=lesson, kind="test", name="gone", outcome="lost", minutes=1)
    page = text(world.client("owner").get(f"/lessons/{lesson.pk}/"))
    assert "gone" in page
    assert "lost" in page
