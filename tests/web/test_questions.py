"""Asking somebody about one fact: the answer stands beside what others wrote, with the name of who gave it."""

from __future__ import annotations

import re
import uuid
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from sillwright.web.records.models import Event, Fact, Observation, Question
from sillwright.web.records.questions import Answered, Asked, answer, ask, make_link

from .conftest import World
from .test_entries import sent

FACT = "operator.made"


def asked(world: World, **more: object) -> Question:
    """A question of the technician to the advisor, unless said otherwise."""
    told = {"fact": FACT, "words": "When was it made?", "to": world.people["advisor"], **more}
    return ask(world.opening, Asked(**told), by=world.people["technician"])  # type: ignore[arg-type]


def heads(world: World, fact: str = FACT) -> list[dict[str, str]]:
    """The readings of a fact that stand."""
    found = Fact.objects.filter(opening=world.opening, path=fact).first()
    return found.heads if found else []


def link_to(world: World, **more: object) -> tuple[Question, str]:
    """A question to somebody without an account, and the address of its link."""
    question = asked(world, to=None, name="Gate keeper", **more)
    return question, f"/asked/{make_link(question, 7, by=world.people['technician'])}/"


def test_a_technician_asks_an_advisor_and_the_answer_stands_with_its_origin(world: World) -> None:
    address = f"/openings/{world.opening.pk}/ask/{FACT}/"
    technician, advisor = world.client("technician"), world.client("advisor")
    assert "Ask someone" in technician.get(address).content.decode()
    sent_form = {"words": "Which month?", "to": str(world.people["advisor"].pk)}
    made = technician.post(address, sent_form)
    assert made.status_code == 302
    assert "Which month?" in advisor.get("/questions/").content.decode()
    before = len(heads(world))
    advisor.post(made["Location"], {"typed": "2014-05", "origin": "plate", "known": "my file of 2014"})
    found = next(each for each in heads(world) if each.get("evidence", "").startswith("question "))
    assert (found["typed"], found["origin"], found["by"], found["author"]) == (
        "2014-05",
        "plate",
        "Advisor",
        "Advisor",
    )
    assert len(heads(world)) == before + 1, "what others wrote stands beside it"
    page = technician.get(f"/openings/{world.opening.pk}/facts/{FACT}/").content.decode()
    assert "Answered by Advisor" in page
    verbs = set(Event.objects.filter(opening=world.opening).values_list("verb", flat=True))
    assert {"asked", "question answered"} <= verbs


def test_an_answer_takes_the_place_of_nobody_knows(world: World) -> None:
    question = asked(world, fact="operator.board_made")
    from sillwright.web.records.log import Said, write

    write(world.site, world.opening, Said(fact="operator.board_made", says="unknown"), author=world.people["owner"])
    answer(question, Answered(typed="2019-03", origin="plate"), by=world.people["advisor"], writes=True)
    assert [each["typed"] for each in heads(world, "operator.board_made")] == ["2019-03"]


def test_by_a_link_somebody_without_an_account_tells_it_once(world: World) -> None:
    question, address = link_to(world)
    stranger = Client()
    page = stranger.get(address)
    assert page.status_code == 200
    assert (page["Cache-Control"], page["Referrer-Policy"]) == ("no-store", "no-referrer")
    assert "When was it made?" in page.content.decode()
    for fact in Fact.objects.filter(opening=world.opening).exclude(path=FACT):
        for head in fact.heads:
            if len(head.get("typed", "")) > 6:
                assert f">{head['typed']}<" not in page.content.decode(), "nothing else of the site is shown"
    thanks = stranger.post(address, {"typed": "2009", "origin": "measured", "known": "the invoice"})
    assert "Your answer is kept" in thanks.content.decode()
    found = Observation.objects.get(evidence__startswith=f"question {question.pk}")
    assert (found.origin, found.by, found.author) == ("told", "Gate keeper", world.people["technician"])
    assert stranger.get(address).status_code == 404
    assert stranger.post(address, {"typed": "2010"}).status_code == 404


def test_a_reader_answers_as_somebody_who_tells_it(world: World) -> None:
    question = asked(world, to=world.people["friend"])
    world.client("friend").post(f"/questions/{question.pk}/", {"typed": "2011", "origin": "measured"})
    found = Observation.objects.get(evidence__startswith="question ")
    assert (found.origin, found.by, found.author) == ("told", "Friend", world.people["technician"])


def test_a_wrong_value_is_kept_as_typed(world: World) -> None:
    question = asked(world)
    answer(question, Answered(typed="in spring, I think"), by=world.people["advisor"], writes=True)
    assert "in spring, I think" in [each["typed"] for each in heads(world)]


def test_ended_withdrawn_and_unknown_links_are_alike(world: World) -> None:
    ended, first = link_to(world)
    Question.objects.filter(pk=ended.pk).update(ends=timezone.now() - timedelta(seconds=1))
    withdrawn, second = link_to(world)
    world.client("technician").post(f"/questions/{withdrawn.pk}/withdraw/")
    clean = re.compile(rb"[0-9a-f]{16}|csrf[^>]*")
    answers = [Client().get(each) for each in (first, second, "/asked/nothing-of-the-kind/")]
    assert [each.status_code for each in answers] == [404, 404, 404]
    assert len({clean.sub(b"", each.content) for each in answers}) == 1


def test_a_new_link_ends_the_one_before(world: World) -> None:
    question, first = link_to(world)
    made = world.client("technician").post(f"/questions/{question.pk}/link/", {"days": "1"}).content.decode()
    second = re.search(r"/asked/[^\"/]+/", made)
    assert second
    assert (Client().get(first).status_code, Client().get(second[0]).status_code) == (404, 200)


def test_two_who_answer_at_once_give_one_answer(world: World) -> None:
    question = asked(world)
    advisor, owner = world.client("advisor"), world.client("owner")
    advisor.post(f"/questions/{question.pk}/", {"typed": "2014"})
    late = owner.post(f"/questions/{question.pk}/", {"typed": "2015"})
    assert late.status_code == 422
    assert "answered already" in late.content.decode()
    assert Observation.objects.filter(evidence__startswith="question ").count() == 1


@pytest.mark.parametrize(("who", "status"), [("stranger", 404), ("reader", 403), ("friend", 403), ("advisor", 302)])
def test_who_may_ask_is_who_may_write(world: World, who: str, status: int) -> None:
    sent_form = {"words": "When?", "to": str(world.people["owner"].pk)}
    assert world.client(who).post(f"/openings/{world.opening.pk}/ask/{FACT}/", sent_form).status_code == status


def test_nobody_is_asked_who_cannot_look_there(world: World) -> None:
    sent_form = {"words": "When?", "to": str(world.people["stranger"].pk)}
    refused = world.client("owner").post(f"/openings/{world.opening.pk}/ask/{FACT}/", sent_form)
    assert refused.status_code == 422
    assert not Question.objects.exists()


def test_markup_in_a_question_a_name_and_an_answer_is_only_text(world: World) -> None:
    trick = "<script>alert(1)</script>"
    question = asked(world, to=None, name=trick, words=trick)
    token = make_link(question, 1, by=world.people["technician"])
    pages = [Client().get(f"/asked/{token}/"), world.client("owner").get(f"/questions/{question.pk}/")]
    answer(question, Answered(typed=trick, words=trick), by=None, writes=False)
    pages += [world.client("owner").get(each) for each in ("/questions/", f"/openings/{world.opening.pk}/facts/")]
    assert all(trick not in each.content.decode() for each in pages)


def test_a_question_written_without_a_signal_is_kept_once(world: World) -> None:
    entry = {
        "kind": "question",
        "id": str(uuid.uuid4()),
        "opening": str(world.opening.pk),
        "site": str(world.site.pk),
    }
    entry |= {"fact": FACT, "words": "Which year?", "name": "Gate keeper", "at": "2026-03-04T10:15:00Z"}
    assert [each["answer"] for each in sent(world, entry, entry)] == ["kept", "kept"]
    assert Question.objects.get(pk=entry["id"]).name == "Gate keeper"
    wrong = [{**entry, "id": str(uuid.uuid4()), **more} for more in ({"fact": "no"}, {"words": ""}, {"name": ""})]
    assert [each["answer"] for each in sent(world, *wrong)] == ["refused"] * 3
