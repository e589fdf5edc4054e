"""Asking somebody about one fact: the answer stands beside what others wrote, with the name of who gave it."""

from __future__ import annotations

import re
import uuid
from typing import Any

import pytest
from django.core import mail
from django.test import override_settings

from sillwright.survey.questions import question_at
from sillwright.web.accounts.models import Membership
from sillwright.web.records.models import Event, Fact, Question
from sillwright.web.records.questions import LONGEST, Answered, answer
from sillwright.web.records.sites import share
from sillwright.web.records.surveys import facts_of
from sillwright.web.records.telling import BY_CONSOLE

from .api_callers import photo_of
from .asked import FACT, answers, asked, heads, said
from .conftest import World
from .test_entries import sent


def ask_address(world: World, fact: str = FACT) -> str:
    """Where something is asked about the first opening."""
    return f"/openings/{world.opening.pk}/ask/{fact}/"


def test_the_form_begins_with_the_words_of_the_fact_and_names_who_can_be_asked(world: World) -> None:
    page = world.client("technician").get(ask_address(world)).content.decode()
    assert question_at(FACT).ask in page
    for name in ("Owner, Harbour Doors", "Reader, Harbour Doors", "Friend, Pier Owners"):
        assert name in page
    assert "Stranger" not in page
    assert "Technician, Harbour Doors" not in page, "nobody asks himself"


def test_a_technician_asks_an_advisor_and_the_answer_stands_with_its_origin(world: World) -> None:
    technician, advisor = world.client("technician"), world.client("advisor")
    made = technician.post(ask_address(world), {"words": "Which month?", "to": str(world.people["advisor"].pk)})
    assert made.status_code == 302
    facts = technician.get(f"/openings/{world.opening.pk}/facts/{FACT}/").content.decode()
    assert "Technician asked Advisor" in facts
    assert "No answer yet" in facts
    assert "Which month?" in advisor.get("/questions/").content.decode()
    before = len(heads(world))
    sent_form = {"typed": "2014-05", "origin": "plate", "known": "my file of 2014", "on": "2026-03-04"}
    assert advisor.post(made["Location"], sent_form).status_code == 302
    question = Question.objects.get()
    found = heads(world)[-1]
    assert {name: found[name] for name in ("typed", "origin", "by", "author", "on")} == {
        "typed": "2014-05", "origin": "plate", "by": "Advisor", "author": "Advisor", "on": "2026-03-04",
    }  # fmt: skip
    assert found["evidence"] == f"question {question.pk}: my file of 2014"
    assert len(heads(world)) == before + 1, "what others wrote stands beside it"
    assert "Answered by Advisor" in technician.get(f"/openings/{world.opening.pk}/facts/{FACT}/").content.decode()
    verbs = Event.objects.filter(opening=world.opening).order_by("pk").values_list("verb", flat=True)
    assert [each for each in verbs if "answered" in each or each == "asked"] == ["asked", "question answered"]


def test_an_answer_that_contradicts_is_a_second_reading_until_a_person_settles_it(world: World) -> None:
    fact = "door.clear_width"
    said(world, fact, typed="10 ft", origin="measured", replaces=tuple(each["id"] for each in heads(world, fact)))
    question = asked(world, fact=fact)
    answer(question, Answered(typed="12 ft", origin="told"), by=world.people["advisor"], writes=True)
    assert [each["typed"] for each in heads(world, fact)] == ["10 ft", "12 ft"]
    opening = facts_of(world.opening).rebuilt.survey.openings[0]
    assert opening.door.clear_width.standing == "two readings"
    page = world.client("technician").get(f"/questions/{question.pk}/").content.decode()
    assert "Different things were written" in page


def test_an_answer_takes_the_place_of_what_nobody_knew_when_it_was_asked_and_of_nothing_later(
    world: World,
) -> None:
    fact = "operator.board_made"
    said(world, fact, says="unknown")
    question = asked(world, fact=fact)
    later = said(world, fact, who="technician", says="unknown")
    answer(question, Answered(typed="2019-03", origin="plate"), by=world.people["advisor"], writes=True)
    assert [(each["says"], each["id"] == str(later.pk)) for each in heads(world, fact)] == [
        ("unknown", True),
        ("value", False),
    ]


@pytest.mark.parametrize(
    ("form", "says", "origin"),
    [
        ({"says": "unknown", "origin": "plate"}, "unknown", ""),
        ({"says": "none", "origin": "measured"}, "none", "measured"),
    ],
)
def test_nobody_knows_and_there_is_none_are_answers(
    world: World, form: dict[str, str], says: str, origin: str
) -> None:
    question = asked(world, fact="operator.model")
    world.client("advisor").post(f"/questions/{question.pk}/", {**form, "typed": "left in the field"})
    (found,) = answers()
    assert (found.says, found.typed, found.origin) == (says, "", origin)
    assert Question.objects.get().answered


def test_without_an_origin_an_answer_is_told_and_never_one_that_counts_as_read(world: World) -> None:
    question = asked(world)
    world.client("advisor").post(f"/questions/{question.pk}/", {"typed": "2014"})
    assert answers()[0].origin == "told"


@pytest.mark.parametrize(
    ("chosen", "kept"),
    [
        ("measured", "told"),
        ("plate", "told"),
        ("instructions", "told"),
        ("photo", "told"),
        ("support", "support"),
        ("", "told"),
    ],
)
def test_what_somebody_says_who_may_not_write_there_is_told(world: World, chosen: str, kept: str) -> None:
    question = asked(world, to=world.people["friend"])
    form = {"typed": "2011", "origin": chosen, "by": "The owner"}
    world.client("friend").post(f"/questions/{question.pk}/", form)
    (found,) = answers()
    assert (found.origin, found.by, found.author) == (kept, "Friend", world.people["technician"])


def test_a_reader_answers_what_is_asked_of_this_reader_and_nothing_else(world: World) -> None:
    mine, other = asked(world, to=world.people["reader"]), asked(world)
    reader = world.client("reader")
    assert reader.post(f"/questions/{other.pk}/", {"typed": "2011"}).status_code == 403
    assert "Send the answer" not in reader.get(f"/questions/{other.pk}/").content.decode()
    assert reader.post(f"/questions/{mine.pk}/", {"typed": "2011"}).status_code == 302
    assert [each.by for each in answers()] == ["Reader"]


def test_whoever_may_write_answers_for_an_absent_colleague_in_their_own_name(world: World) -> None:
    question = asked(world)
    world.client("owner").post(f"/questions/{question.pk}/", {"typed": "2012", "origin": "told", "by": "Advisor"})
    (found,) = answers()
    assert (found.by, found.author) == ("Advisor", world.people["owner"])


def test_nothing_is_written_in_the_name_of_somebody_who_may_not_write_any_more(world: World) -> None:
    question = asked(world, to=world.people["reader"])
    Membership.objects.filter(user=world.people["technician"]).update(role="reader")
    late = world.client("reader").post(f"/questions/{question.pk}/", {"typed": "2011"})
    assert late.status_code == 422
    assert "may not write here any more" in late.content.decode()
    assert not answers()
    assert Question.objects.get().answered is None


def test_a_wrong_value_is_kept_as_typed_and_said_to_be_of_no_use_yet(world: World) -> None:
    question = asked(world, fact="door.clear_width")
    world.client("advisor").post(f"/questions/{question.pk}/", {"typed": "rather wide", "origin": "told"})
    assert heads(world, "door.clear_width")[-1]["typed"] == "rather wide"
    page = world.client("technician").get(f"/questions/{question.pk}/").content.decode()
    assert "Kept as written, but it cannot be used" in page


def test_two_who_answer_at_once_give_one_answer_and_the_other_reads_what_was_not_kept(world: World) -> None:
    question = asked(world)
    world.client("advisor").post(f"/questions/{question.pk}/", {"typed": "2014"})
    late = world.client("owner").post(f"/questions/{question.pk}/", {"typed": "2015"})
    assert late.status_code == 422
    assert "answered already" in late.content.decode()
    assert "“2015”" in late.content.decode()
    assert [each.typed for each in answers()] == ["2014"]


def test_a_second_tap_on_the_same_button_changes_nothing(world: World) -> None:
    question, key = asked(world), str(uuid.uuid4())
    client = world.client("advisor")
    for _ in range(2):
        assert client.post(f"/questions/{question.pk}/", {"key": key, "typed": "2014"}).status_code == 302
    form = {"key": str(uuid.uuid4()), "words": "When?", "to": str(world.people["owner"].pk)}
    first, second = (client.post(ask_address(world), form)["Location"] for _ in range(2))
    assert first == second
    assert len(answers()) == 1


@pytest.mark.parametrize(("who", "status"), [("stranger", 404), ("reader", 403), ("friend", 403), ("advisor", 302)])
def test_who_may_ask_is_who_may_write(world: World, who: str, status: int) -> None:
    form = {"words": "When?", "to": str(world.people["owner"].pk)}
    assert world.client(who).post(ask_address(world), form).status_code == status
    assert Question.objects.count() == (status == 302)


def test_a_friend_with_whom_the_site_is_shared_for_writing_asks_too(world: World) -> None:
    share(world.site, world.other, "write", author=world.people["owner"])
    form = {"words": "When?", "to": str(world.people["owner"].pk)}
    assert world.client("friend").post(ask_address(world), form).status_code == 302


def test_a_question_is_nothing_to_strangers_and_ends_with_the_right_to_look(world: World) -> None:
    question = asked(world, to=world.people["reader"])
    stranger = world.client("stranger")
    assert stranger.get(f"/questions/{question.pk}/").status_code == 404
    assert stranger.post(f"/questions/{question.pk}/", {"typed": "1"}).status_code == 404
    Membership.objects.filter(user=world.people["reader"]).delete()
    reader = world.client("reader")
    assert reader.get(f"/questions/{question.pk}/").status_code == 404
    assert "When was it made?" not in reader.get("/questions/").content.decode()


@pytest.mark.parametrize(
    "form",
    [
        {"words": "When?", "to": "stranger"},
        {"words": "When?", "to": ""},
        {"words": "When?", "to": "no id"},
        {"words": "When?", "to": "link", "name": " "},
        {"words": " ", "to": "owner"},
        {"words": "a\x00b", "to": "owner"},
        {"words": "x" * (LONGEST["words"] + 1), "to": "owner"},
        {"words": "When?", "to": "link", "name": "x" * (LONGEST["name"] + 1)},
        {"words": "When?", "to": "owner", "photo": str(uuid.uuid4())},
        {"words": "When?", "to": "owner", "key": "no id"},
    ],
)
def test_what_cannot_be_asked_is_said_and_what_was_typed_stays(world: World, form: dict[str, str]) -> None:
    to = form["to"]
    sent_form = {**form, "to": str(world.people[to].pk) if to in world.people else to}
    page = world.client("technician").post(ask_address(world), sent_form)
    assert page.status_code == 422
    assert 'role="alert"' in page.content.decode()
    if len(form["words"]) < 10 and "\x00" not in form["words"]:
        assert f">{form['words']}</textarea>" in page.content.decode()
    assert not Question.objects.exists()


@pytest.mark.parametrize("fact", ["no.such.fact", "site.coldest", "protection", "tag", "door"])
def test_only_a_fact_of_an_opening_is_asked_about(world: World, fact: str) -> None:
    assert world.client("technician").get(ask_address(world, fact)).status_code == 404


def test_a_photo_of_another_opening_is_not_shown_with_a_question(world: World) -> None:
    there = photo_of(world.site.openings.order_by("position")[1], world.people["owner"], state="kept")
    here = photo_of(world.opening, world.people["owner"], state="kept")
    client, to = world.client("technician"), str(world.people["owner"].pk)
    page = client.get(ask_address(world)).content.decode()
    assert str(here.pk) in page
    assert str(there.pk) not in page
    form = {"words": "When?", "to": to}
    assert client.post(ask_address(world), {**form, "photo": str(there.pk)}).status_code == 422
    made = client.post(ask_address(world), {**form, "photo": str(here.pk)})
    assert f"/photos/{here.pk}/" in client.get(made["Location"]).content.decode()
    world.client("owner").post(made["Location"], {"typed": "2014"})
    assert answers()[0].evidence == f"question {Question.objects.get().pk}, photo {here.pk}"


def test_open_questions_stand_first_and_withdrawn_ones_last(world: World) -> None:
    first, second, third = (asked(world, words=f"Question {number}?") for number in (1, 2, 3))
    world.client("advisor").post(f"/questions/{third.pk}/", {"typed": "2014"})
    world.client("technician").post(f"/questions/{second.pk}/withdraw/")
    page = world.client("technician").get("/questions/").content.decode()
    assert re.findall(r"Question \d", page) == ["Question 1", "Question 3", "Question 2"]
    assert re.findall(r"Question \d", world.client("advisor").get("/questions/").content.decode()) == [
        "Question 1",
        "Question 3",
    ]
    assert str(first.pk) in page


def test_a_withdrawn_question_takes_no_answer_and_an_answered_one_is_not_withdrawn(world: World) -> None:
    gone, done = asked(world), asked(world)
    technician, advisor = world.client("technician"), world.client("advisor")
    technician.post(f"/questions/{gone.pk}/withdraw/")
    late = advisor.post(f"/questions/{gone.pk}/", {"typed": "2014"})
    assert (late.status_code, "was withdrawn" in late.content.decode()) == (422, True)
    advisor.post(f"/questions/{done.pk}/", {"typed": "2014"})
    technician.post(f"/questions/{done.pk}/withdraw/")
    assert Question.objects.get(pk=done.pk).withdrawn is None
    assert Event.objects.filter(verb="question withdrawn").count() == 1


def test_the_first_page_says_how_many_questions_wait(world: World) -> None:
    asked(world)
    asked(world)
    assert "2 questions wait for you" in world.client("advisor").get("/").content.decode()
    assert "wait for you" not in world.client("owner").get("/").content.decode()


def test_markup_in_a_question_and_an_answer_is_only_text(world: World) -> None:
    trick = "<script>alert(1)</script>"
    question = asked(world, to=None, name=trick, words=trick)
    pages: list[Any] = [world.client("technician").get(f"/questions/{question.pk}/")]
    answer(question, Answered(typed=trick, known=trick, on="<b>"), by=None, writes=False)
    for address in ("/questions/", f"/questions/{question.pk}/", f"/openings/{world.opening.pk}/facts/"):
        pages.append(world.client("technician").get(address))
    assert all(trick not in each.content.decode() for each in pages)
    assert heads(world)[-1]["typed"] == trick


def test_facts_of_an_opening_ask_once_for_all_their_questions(
    world: World, django_assert_max_num_queries: Any
) -> None:
    client, address = world.client("technician"), f"/openings/{world.opening.pk}/facts/"
    asked(world)
    client.get(address)
    with django_assert_max_num_queries(12) as captured:
        client.get(address)
    assert sum("records_question" in each["sql"] for each in captured) == 1


# by mail


def test_where_mail_is_sent_whoever_is_asked_gets_one_without_facts(
    world: World, django_capture_on_commit_callbacks: Any
) -> None:
    form = {"words": "When was it made?", "to": str(world.people["advisor"].pk), "key": str(uuid.uuid4())}
    with django_capture_on_commit_callbacks(execute=True):
        for _ in range(2):
            made = world.client("technician").post(ask_address(world), form)
    (letter,) = mail.outbox
    assert letter.to == ["advisor@people.example"]
    assert made["Location"] in letter.body
    for hidden in ("made", world.site.name, world.opening.tag, "2014"):
        assert hidden not in letter.body + letter.subject


@override_settings(EMAIL_BACKEND=BY_CONSOLE)
def test_where_no_mail_is_sent_nothing_is_shown_by_the_console(
    world: World, capsys: Any, django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        asked(world)
    assert "question" not in capsys.readouterr().out


@override_settings(
    EMAIL_BACKEND="django.core.mail.backends.smtp.EmailBackend", EMAIL_HOST="127.0.0.1", EMAIL_PORT=9
)
def test_a_mail_that_cannot_be_sent_holds_no_question_up(
    world: World, django_capture_on_commit_callbacks: Any
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        asked(world)
    assert Question.objects.count() == 1


# written without a signal


def entry_of(world: World, **more: Any) -> dict[str, Any]:
    """A question as a phone keeps it."""
    about = {"kind": "question", "id": str(uuid.uuid4()), "site": str(world.site.pk)}
    words = {"opening": str(world.opening.pk), "fact": FACT, "words": "Which year?", "at": "2026-03-04T10:15:00Z"}
    return {**about, **words, "name": "Gate Keeper", **more}


def test_a_question_written_without_a_signal_is_kept_once_and_its_link_is_made_later(world: World) -> None:
    entry = entry_of(world)
    assert [each["answer"] for each in sent(world, entry, entry)] == ["kept", "kept"]
    question = Question.objects.get()
    assert (question.name, question.digest, question.by) == ("Gate Keeper", None, world.people["technician"])
    page = world.client("technician").get(f"/questions/{question.pk}/").content.decode()
    assert "Make a link for Gate Keeper" in page
    made = world.client("technician").post(f"/questions/{question.pk}/link/", {"days": "1"}).content.decode()
    assert re.search(r"http://testserver/asked/[\w-]{43}/", made)


def test_a_question_whose_photo_is_still_on_the_phone_waits_for_it(world: World) -> None:
    photo = uuid.uuid4()
    entry = entry_of(world, photo=str(photo))
    assert [each["answer"] for each in sent(world, entry)] == ["later"]
    photo_of(world.opening, world.people["technician"], id=photo)
    assert [each["answer"] for each in sent(world, entry)] == ["kept"]


def test_a_wrong_question_of_a_phone_is_refused_with_its_reason(world: World) -> None:
    wrong: list[dict[str, Any]] = [
        {"fact": "no"}, {"words": ""}, {"name": ""}, {"to": str(world.people["stranger"].pk)},
        {"to": str(uuid.uuid4())}, {"colour": "red"}, {"words": "\x00"},
    ]  # fmt: skip
    found = sent(world, *(entry_of(world, **each) for each in wrong))
    assert [each["answer"] for each in found] == ["refused"] * len(wrong)
    assert all(each["why"] for each in found)
    for who in ("reader", "friend", "stranger"):
        assert [each["answer"] for each in sent(world, entry_of(world), who=who)] == ["refused"]
    assert not Question.objects.exists()


def test_another_question_with_an_id_that_is_taken_is_refused(world: World) -> None:
    entry = entry_of(world)
    other = [{**entry, "words": "Which month?"}, {**entry, "name": "Somebody"}]
    assert [each["answer"] for each in sent(world, entry, *other)] == ["kept", "refused", "refused"]
    assert Fact.objects.filter(opening=world.opening, path=FACT).count() <= 1
