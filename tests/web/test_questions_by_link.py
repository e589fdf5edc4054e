"""A question by a link: whoever holds it sees this question alone, and answers once."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import pytest
from django.core.cache import caches
from django.test import Client
from django.utils import timezone

from sillwright.web.accounts.models import Membership
from sillwright.web.asking.limits import A_MINUTE
from sillwright.web.records.arriving import path_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Event, Fact, Opening, Question, Site
from sillwright.web.records.questions import Answered, answer, make_link, question_of

from .api_callers import photo_of
from .asked import answers, asked, heads, link_to, said
from .conftest import World
from .photographs import jpeg

HEADERS = {"Cache-Control": "no-store", "X-Robots-Tag": "noindex, nofollow", "Referrer-Policy": "same-origin"}


@pytest.fixture(autouse=True)
def _counted_from_nought() -> Iterator[None]:
    """Limits count in the memory of the process."""
    caches["near"].clear()
    yield
    caches["near"].clear()


def with_photo(world: World) -> tuple[Question, str]:
    """A question with a photo whose bytes are there."""
    photo = photo_of(world.opening, world.people["technician"], state="kept", width=64, height=48)
    file = path_of(photo.pk, "jpg")
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(jpeg())
    return link_to(world, photo=photo.pk)


def private(response: Any) -> bool:
    """Whether an answer is kept by nobody, found by no search engine, and told to no other site."""
    return all(response[name] == value for name, value in HEADERS.items())


def test_the_holder_sees_the_question_and_nothing_else_of_the_site(world: World) -> None:
    said(world, "operator.made", typed="the ninth month", origin="told")
    _question, address = link_to(world)
    response = Client().get(address)
    page = response.content.decode()
    assert private(response)
    for shown in ("Technician asks you", "When was it made?", world.site.name, world.opening.tag):
        assert shown in page
    typed = {
        head["typed"]
        for fact in Fact.objects.filter(site=world.site)
        for head in fact.heads
        if len(head.get("typed", "")) > 6 and re.search(r"[\d ]", head["typed"])  # no word of the form
    }
    assert "the ninth month" in typed
    assert [each for each in typed if each in page] == []
    for other in Opening.objects.exclude(pk=world.opening.pk):
        assert f">{other.tag}<" not in page
        assert str(other.pk) not in page
    assert str(world.opening.pk) not in page
    assert "aria-pressed" not in page


def test_a_choice_does_not_show_what_stands_now(world: World) -> None:
    _question, address = link_to(world, fact="door.kind")
    assert heads(world, "door.kind")
    page = Client().get(address).content.decode()
    assert 'value="sectional"' in page
    assert "aria-pressed" not in page


@pytest.mark.parametrize("origin", ["measured", "plate", "instructions", "photo", "assumed", "nonsense", ""])
def test_what_the_holder_answers_is_told_whatever_is_sent_with_it(world: World, origin: str) -> None:
    question, address = link_to(world)
    form = {"typed": "2009", "origin": origin, "known": "read from the plate", "by": "Owner", "on": "2026-03-04"}
    thanks = Client().post(address, form, follow=True)
    assert "Thank you, it is kept" in thanks.content.decode()
    assert private(thanks)
    (found,) = answers()
    assert (found.origin, found.by, found.author) == ("told", "Gate Keeper", world.people["technician"])
    assert found.evidence == f"question {question.pk}: read from the plate"
    event = Event.objects.get(verb="question answered")
    assert (event.who, "Gate Keeper" in event.what, "2009" in event.what) == (None, True, False)


def test_an_answer_is_given_once_and_a_second_tap_says_thank_you_again(world: World) -> None:
    _question, address = link_to(world)
    key = str(uuid.uuid4())
    client = Client()
    first, again = (client.post(address, {"typed": "2009", "key": key}) for _ in range(2))
    assert first.status_code == 302
    assert "it is kept" in again.content.decode()
    assert "it is kept" in client.get(first["Location"]).content.decode(), "a reload says it again"
    late = client.post(address, {"typed": "2010", "key": str(uuid.uuid4())})
    assert (late.status_code, client.get(address).status_code) == (404, 404)
    assert [each.typed for each in answers()] == ["2009"]


def test_two_holders_at_once_give_one_answer(world: World) -> None:
    question, _address = link_to(world)
    stale = Question.objects.select_related("opening__site__organisation", "by").get(pk=question.pk)
    answer(question, Answered(typed="2009"), by=None, writes=False)
    with pytest.raises(Refused, match="answered already"):
        answer(stale, Answered(typed="2010"), by=None, writes=False)
    assert [each.typed for each in answers()] == ["2009"]


def test_a_value_that_cannot_be_read_is_kept_as_it_was_typed(world: World) -> None:
    _question, address = link_to(world, fact="door.clear_width")
    assert Client().post(address, {"typed": "as wide as two trucks"}).status_code == 302
    assert heads(world, "door.clear_width")[-1]["typed"] == "as wide as two trucks"


def test_what_is_not_kept_stays_in_the_form_with_the_reason(world: World) -> None:
    _question, address = link_to(world, fact="operator.model")
    client = Client()
    for form in ({"typed": " "}, {"typed": "x", "known": "y" * 101}, {"typed": "x" * 4001}, {"typed": "a\x00b"}):
        page = client.post(address, form)
        assert page.status_code == 422
        assert 'role="alert"' in page.content.decode()
    assert 'value="ab"' in page.content.decode()
    assert not answers()


def _bare(response: Any) -> bytes:
    """An answer without the number of its request and the token of its forms."""
    return re.sub(rb"[0-9a-f]{16}|csrfmiddlewaretoken[^>]*", b"", response.content)


def test_ended_withdrawn_answered_and_unknown_links_are_alike_byte_for_byte(world: World) -> None:
    ended, first = link_to(world)
    Question.objects.filter(pk=ended.pk).update(ends=timezone.now() - timedelta(seconds=1))
    withdrawn, second = link_to(world)
    world.client("technician").post(f"/questions/{withdrawn.pk}/withdraw/")
    done, third = link_to(world)
    answer(done, Answered(typed="2009"), by=None, writes=False)
    client = Client()
    for method, form in (("get", {}), ("post", {"typed": "2010"})):
        for ending in ("", "photo/") if method == "get" else ("",):
            never = getattr(client, method)(f"/asked/{'A' * 43}/{ending}", form)
            for address in (first, second, third, f"/asked/{done.digest}/"):
                response = getattr(client, method)(address + ending, form)
                assert (response.status_code, private(response)) == (404, True)
                assert _bare(response) == _bare(never)
    assert [each.typed for each in answers()] == ["2009"]


def test_a_link_ends_with_the_right_to_write_of_whoever_asked(world: World) -> None:
    _question, address = link_to(world)
    client = Client()
    assert client.get(address).status_code == 200
    Membership.objects.filter(user=world.people["technician"]).update(role="reader")
    assert client.get(address).status_code == 404
    assert client.post(address, {"typed": "2009"}).status_code == 404
    assert not answers()


def test_a_link_ends_where_its_opening_or_site_is_put_away(world: World) -> None:
    _question, address = link_to(world)
    client = Client()
    for model, key in ((Opening, world.opening.pk), (Site, world.site.pk)):
        model.objects.filter(pk=key).update(put_away=timezone.now())
        assert client.get(address).status_code == 404
        model.objects.filter(pk=key).update(put_away=None)
    assert client.get(address).status_code == 200


def test_the_secret_is_shown_once_and_kept_nowhere(world: World) -> None:
    question = asked(world, to=None, name="Gate Keeper")
    client = world.client("technician")
    page = client.post(f"/questions/{question.pk}/link/", {"days": "7"}).content.decode()
    found = re.search(r"/asked/([\w-]{43})/", page)
    assert found
    token = found[1]
    assert question_of(token) == question
    assert token not in client.get(f"/questions/{question.pk}/").content.decode()
    assert token not in client.get("/questions/").content.decode()
    assert not Question.objects.filter(digest=token).exists()
    assert not Event.objects.filter(what__contains=token).exists()
    assert Event.objects.filter(verb="question link made").count() == 1


def test_a_new_link_ends_the_one_before(world: World) -> None:
    question, first = link_to(world)
    token = make_link(question, 1, by=world.people["technician"])
    assert (Client().get(first).status_code, Client().get(f"/asked/{token}/").status_code) == (404, 200)


@pytest.mark.parametrize("days", ["", "0", "2", "90", "-1", "1e3", "9" * 5000])
def test_a_link_lasts_one_of_three_spans(world: World, days: str) -> None:
    question = asked(world, to=None, name="Gate Keeper")
    page = world.client("technician").post(f"/questions/{question.pk}/link/", {"days": days})
    assert page.status_code == 422
    assert Question.objects.get().digest is None


@pytest.mark.parametrize(("who", "status"), [("stranger", 404), ("reader", 403), ("friend", 403), ("owner", 403)])
def test_only_whoever_asked_makes_a_link_since_its_answer_is_written_in_that_name(
    world: World, who: str, status: int
) -> None:
    question = asked(world, to=None, name="Gate Keeper")
    assert world.client(who).post(f"/questions/{question.pk}/link/", {"days": "7"}).status_code == status
    with pytest.raises(Refused):
        make_link(question, 7, by=world.people["owner"])
    assert Question.objects.get().digest is None


def test_a_question_to_a_person_has_no_link(world: World) -> None:
    question = asked(world)
    assert world.client("technician").post(f"/questions/{question.pk}/link/", {"days": "7"}).status_code == 422
    assert "For 7 days" not in world.client("technician").get(f"/questions/{question.pk}/").content.decode()


def test_the_photo_is_shown_to_the_holder_of_the_link_alone_and_no_longer_than_the_question(world: World) -> None:
    question, address = with_photo(world)
    client = Client()
    assert f'src="{address}photo/"' in client.get(address).content.decode()
    response = client.get(f"{address}photo/")
    assert (response.status_code, response.content[:2], private(response)) == (200, b"\xff\xd8", True)
    assert client.get(f"/photos/{question.photo_id}/").status_code == 302
    world.client("technician").post(f"/questions/{question.pk}/withdraw/")
    assert client.get(f"{address}photo/").status_code == 404


def test_a_photo_that_is_gone_from_the_disk_is_no_failure(world: World) -> None:
    question, address = with_photo(world)
    assert question.photo
    path_of(question.photo.pk, "jpg").unlink()
    assert Client().get(f"{address}photo/").status_code == 404


def test_markup_is_only_text_for_the_holder_too(world: World) -> None:
    trick = '"><script>alert(1)</script>'
    _question, address = link_to(world, name=trick, words=trick)
    client = Client()
    pages = [client.get(address), client.post(address, {"typed": "", "known": trick, "on": trick, "year": trick})]
    client.post(address, {"typed": trick, "known": trick})
    pages.append(world.client("technician").get("/questions/"))
    assert all("<script>alert" not in each.content.decode() for each in pages)


def test_links_cannot_be_guessed_without_end(world: World) -> None:
    _question, address = link_to(world)
    client = Client()
    for _ in range(A_MINUTE):
        assert client.get("/asked/guess/").status_code == 404
    late = client.get(address)
    assert (late.status_code, late["Retry-After"], private(late)) == (429, "60", True)
    assert client.get(address, REMOTE_ADDR="192.0.2.7").status_code == 200


def test_a_form_without_its_token_is_not_taken(world: World) -> None:
    _question, address = link_to(world)
    client = Client(enforce_csrf_checks=True)
    assert client.post(address, {"typed": "2009"}).status_code == 403
    page = client.get(address).content.decode()
    token = re.search(r'csrfmiddlewaretoken" value="([^"]+)"', page)
    assert token
    assert client.post(address, {"typed": "2009", "csrfmiddlewaretoken": token[1]}).status_code == 302
