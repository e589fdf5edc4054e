"""A call, page by page: harm first, each only what he may do, nothing kept of a stranger, nothing lost."""

from __future__ import annotations

import html
import re
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.conf import LazySettings
from django.http import HttpResponse
from django.test import Client

from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.safety import make_safe, questions
from sillwright.web.records.models import Opening
from sillwright.web.trouble.address import At
from sillwright.web.trouble.advised import Compiler, basis_for, whole
from sillwright.web.trouble.shown import share_in_words

from .conftest import World

SAFE = "harm=hurt:no&harm=hanging:no&harm=only_way_out:no&harm=closed:yes&harm=fire_door:no"
FAR = f"{SAFE}&left=1&symptom=CALL-01"
BOOK = fault_book()
WHO = {"owner": 0, "shift_lead": 1, "technician": 2}


def shown(query: str = "", client: Client | None = None, status: int = 200) -> str:
    """The page of a call, as text with its marks undone."""
    response = (client or Client()).get(f"/trouble/?{query}")
    assert response.status_code == status, response.content
    return html.unescape(response.content.decode())


def headline(page: str) -> str:
    """The first heading of a page."""
    found = re.search(r"<h1>(.*?)</h1>", page, re.DOTALL)
    assert found
    return found[1].strip()


def answers(page: str) -> dict[str, str]:
    """The answers of a page, with the query that each leads to."""
    found = re.findall(r'<li[^>]*><a class="button" href="/trouble/\?([^"]*)"[^>]*>(.*?)</a>', page)
    return {words: query for query, words in found}


def test_a_call_starts_with_nothing_known_and_no_account(db: None) -> None:
    page = shown()
    assert headline(page) == "First: nobody gets hurt"
    assert "Is anyone hurt or trapped?" in page
    assert set(answers(page)) == {"Yes", "No", "Don’t know"}
    assert not Client().get("/trouble/").cookies


def test_somebody_who_is_hurt_ends_every_other_question(db: None) -> None:
    page = shown("harm=hurt:yes&symptom=CALL-01&who=technician&left=1")
    assert headline(page).startswith("Call the emergency number now.")
    assert not answers(page)
    assert "What is likely so far" not in page


@pytest.mark.parametrize("answer", ["yes", "unknown"])
def test_a_cable_that_hangs_or_may_hang_ends_the_search_for_a_fault(db: None, answer: str) -> None:
    query = f"harm=hurt:no&harm=hanging:{answer}&harm=only_way_out:no&harm=fire_door:no&who=technician&left=1"
    page = shown(f"{query}&symptom=CALL-01")
    assert headline(page).startswith("Leave the leaf as it is")
    assert not answers(page)


def test_who_is_there_is_asked_before_what_the_door_does_and_after_harm(db: None) -> None:
    assert headline(shown(SAFE)) == "Who is at the door?"
    assert headline(shown(f"{SAFE}&who=owner")).startswith("Leave it closed, power off")
    assert headline(shown(f"{SAFE}&who=owner&left=1")) == "What does the door do?"


def test_the_first_question_about_the_door_is_whether_it_closes_on_somebody(db: None) -> None:
    assert headline(shown(f"{FAR}&who=technician")).startswith("Has it closed onto something")


def test_what_takes_a_door_out_of_service_stands_first_among_the_complaints(db: None) -> None:
    page = shown(f"{SAFE}&who=owner&left=1")
    first = next(each for each in BOOK.symptoms if each.harm)
    listed = list(answers(page))
    assert {each.words for each in BOOK.symptoms} | {"None of these, or don’t know"} == set(listed)
    assert listed.index(first.words) < listed.index("It closes only while the button is held.")


def test_what_takes_a_door_out_of_service_is_said_before_the_answers(db: None) -> None:
    harm = next(each for each in BOOK.symptoms if each.harm)
    page = shown(f"{SAFE}&left=1&who=owner&symptom={harm.id}")
    assert page.index("Take it out of service before anything else") < page.index('class="answers')


def test_every_page_has_dont_know_and_an_unknown_answer_leads_on(db: None) -> None:
    query = f"{FAR}&who=owner"
    seen = set()
    for _step in range(12):
        page = shown(query)
        if 'class="end"' in page:
            break
        assert headline(page) not in seen
        seen.add(headline(page))
        query = answers(page)["Don’t know"]
    else:
        raise AssertionError("it asks for ever")
    assert len(seen) > 2


@pytest.mark.parametrize("who", ["owner", "shift_lead"])
def test_nobody_but_a_technician_is_asked_to_open_or_measure_anything(db: None, who: str) -> None:
    tests = {each.question: each for each in BOOK.tests}
    query = f"{FAR}&who={who}"
    for _step in range(12):
        page = shown(query)
        if 'class="end"' in page:
            break
        asked = tests[headline(page)]
        assert WHO[asked.who] <= WHO[who]
        assert asked.stage not in {"move", "measure", "substitute"}
        query = next(iter(answers(page).values()))
    assert headline(page) == "A technician has to come"
    assert "Done, and it did not help" not in page
    assert "bring" in page


def test_an_answer_moves_the_shares_and_says_what_it_changed(db: None) -> None:
    before = shown(f"{FAR}&who=owner")
    after = shown(f"{FAR}&who=owner&a=closes_on_objects:no&a=eye_lamps:receiver_off")
    assert "What is likely so far" in before
    assert "The eye does not see its partner" in after
    assert 'role="status">“' in after


def test_the_way_back_leads_to_the_same_page(db: None) -> None:
    first = shown(f"{FAR}&who=owner&t=5")
    shown(answers(first)["No."])
    again = shown(f"{FAR}&who=owner&t=5")
    one, other = (re.sub(r"t=\d{10}", "", each) for each in (first, again))  # a call begun anew begins now
    assert one == other


def test_a_changed_answer_keeps_all_the_others(db: None) -> None:
    query = f"{FAR}&who=owner&a=closes_on_objects:no&a=eye_lamps:dark&t=5"
    page = shown(query)
    assert "change=closes_on_objects" in page
    asked = shown(f"{query}&change=closes_on_objects")
    assert headline(asked).startswith("Has it closed onto something")
    assert 'aria-current="true">No.' in asked
    told = parse_qs(answers(asked)["Yes."])
    assert told["a"] == ["closes_on_objects:yes", "eye_lamps:dark"]
    assert "change" not in told


def test_changing_an_answer_about_harm_asks_again_how_the_opening_is_left(db: None) -> None:
    page = shown(f"{FAR}&who=owner&change=closed")
    told = parse_qs(answers(page)["No"])
    assert "left" not in told
    assert "closed:no" in told["harm"]


def test_answers_that_do_not_fit_together_are_named(db: None) -> None:
    query = f"{FAR}&who=technician&a=closes_on_objects:no&a=ohms_pressed_edge:answers&a=ohms_pressed:answers"
    assert "does not fit the others" not in shown(query)
    page = shown(f"{query}&a=cord_look:torn")
    assert "An answer does not fit the others." in page
    assert "does not fit the others</span>" in page


@pytest.mark.parametrize(
    "query",
    [
        "a=cable_slak:no",
        "symptom=CALL-99",
        "who=king",
        "bridge=1",
        "change=cable_slack",
        f"{FAR}&who=owner&a=ohms_operator:right",
    ],
)
def test_what_was_never_asked_is_refused_on_a_page_that_leads_on(db: None, query: str) -> None:
    page = shown(query, status=422)
    assert headline(page) == "This call cannot be read"
    assert 'href="/trouble/"' in page


def test_markup_in_an_address_stays_text(db: None) -> None:
    response = Client().get("/trouble/", {"symptom": "<script>alert(1)</script>"})
    assert response.status_code == 422
    assert b"<script>alert" not in response.content


def test_a_repair_that_did_not_help_is_not_advised_again(db: None) -> None:
    query = f"{FAR}&who=technician&a=closes_on_objects:no&a=ohms_operator:open&a=ohms_box:open"
    page = shown(query)
    for _step in range(6):
        if 'class="end"' in page:
            break
        page = shown(next(iter(answers(page).values())))
    name = headline(page)
    again = shown(answers(page)["Done, and it did not help"])
    assert headline(again) != name
    assert "Made; it did not help." in again


def test_the_end_says_what_to_bring_to_do_and_how_to_prove_it(db: None) -> None:
    query = f"{FAR}&who=technician&a=closes_on_objects:yes&a=ohms_pressed:no_change"
    page = shown(query)
    for _step in range(6):
        if 'class="end"' in page:
            break
        page = shown(next(iter(answers(page).values())))
    for heading in ("Bring", "Do", "Prove it afterwards"):
        assert f"<h2>{heading}</h2>" in page
    assert 'class="caution"' in page


def test_no_page_of_any_step_says_how_to_get_round_a_device(db: None) -> None:
    told = [each.question + each.how for each in BOOK.tests] + [each.words for each in BOOK.repairs]
    for words in told:
        assert not re.search(
            r"\b(bridge|jumper|bypass|tape)\b (it|the (input|terminal|device|edge|eye))", words, re.I
        ), words


def test_what_contradicts_itself_is_taken_for_the_worse(db: None) -> None:
    """Nothing hangs, it was said first; then somebody sees the cable. The complaint has no such fault."""
    page = shown(f"{FAR}&who=technician&a=closes_on_objects:no&a=cable_slack:yes")
    assert headline(page) == "Stop: nobody runs this door"
    assert not answers(page)
    back = shown(f"{FAR}&who=technician&a=closes_on_objects:no&a=cable_slack:no")
    assert "Stop" not in headline(back)


def test_an_answer_after_a_repair_stands_behind_it_and_can_be_changed(db: None) -> None:
    query = f"{FAR}&who=technician&a=closes_on_objects:no&r=new_cord&a=eye_lamps:dark:1"
    page = shown(query)
    told = page[page.index("answers so far") :]
    assert told.index("Made; it did not help.") < told.index("Which lamps are lit on the eye")
    changed = shown(f"{query}&change=eye_lamps")
    assert all("eye_lamps%3A" in each or "eye_lamps:" in each for each in answers(changed).values())
    assert all(each.split("eye_lamps:")[1].split("&")[0].endswith(":1") for each in answers(changed).values())


ODD = ["", "\0", "-", "a:b:c", "hurt:no:1", "<script>", "9" * 79, "é\u202e", "%00", "eye_lamps:dark:-1", "a" * 5000]


@pytest.mark.parametrize("page", ["/trouble/", "/trouble/first/"])
@pytest.mark.parametrize("name", ["who", "harm", "symptom", "a", "f", "r", "opening", "t", "left", "change", "x"])
def test_whatever_an_address_says_there_is_a_page_that_says_what_would_be_right(
    db: None, page: str, name: str
) -> None:
    client = Client()
    for odd in ODD:
        response = client.get(page, {name: [odd, odd][: 1 + (name == "a")]})
        assert response.status_code in {200, 302, 422}, odd
        if response.status_code == 422:
            assert "This call cannot be read" in response.content.decode()
            assert "<script>" not in response.content.decode().replace('<script type="module"', "")


def test_a_stranger_leaves_nothing_behind(db: None, django_assert_num_queries: Any) -> None:
    client = Client()
    with django_assert_num_queries(0):
        client.get(f"/trouble/?{FAR}&who=owner")
    assert not client.cookies


def test_a_stranger_who_asks_too_often_waits(db: None) -> None:
    client = Client()
    for _time in range(120):
        assert client.get("/trouble/").status_code == 200
    response = client.get("/trouble/")
    assert response.status_code == 429
    assert response["Retry-After"] == "60"


def test_where_the_workbench_is_closed_a_call_asks_for_an_account(db: None, settings: LazySettings) -> None:
    settings.OPEN_WORKBENCH = False
    assert Client().get("/trouble/").status_code == 302
    assert Client().get("/trouble/first/").status_code == 200  # nobody signs in before somebody is safe


def test_a_call_at_an_opening_needs_an_account_and_the_right_to_see_it(world: World) -> None:
    query = f"opening={world.opening.pk}"
    assert Client().get(f"/trouble/?{query}").status_code == 302
    shown(query, world.client("stranger"), status=404)
    assert "Calls" in shown(query, world.client("reader"))


def test_the_facts_of_an_opening_count_and_an_answer_of_the_call_comes_before_them(world: World) -> None:
    basis = basis_for(None, None)
    call = whole(At(opening=world.opening.pk), basis, world.opening)
    assert ("leaf", "door") in call.facts
    gate = Opening.objects.get(site=world.site, tag="G1")
    assert ("leaf", "gate") in whole(At(), basis, gate).facts
    told = whole(At(call=Call(facts=(("leaf", "gate"),))), basis, world.opening)
    assert [value for name, value in told.facts if name == "leaf"] == ["gate"]


def test_who_says_that_nothing_hangs_is_not_asked_four_times_more(db: None) -> None:
    call = whole(At(call=Call(harm=(("hanging", "no"),))), basis_for(None, None), None)
    assert dict(call.answers) == dict.fromkeys(("cable_slack", "leaf_crooked", "spring_gap", "grinding"), "no")
    call = whole(At(call=Call(harm=(("hanging", "unknown"),))), basis_for(None, None), None)
    assert call.answers == ()
    told = Call(harm=(("hanging", "no"),), answers=(("grinding", "yes"),))
    assert dict(whole(At(call=told), basis_for(None, None), None).answers)["grinding"] == "yes"


def test_a_part_is_booked_in_before_a_step_that_takes_one_is_answered(world: World) -> None:
    asked = next(each for each in BOOK.tests if each.stage == "substitute")
    query = f"{FAR}&who=technician&a={asked.id}:-&change={asked.id}"
    page = shown(query)
    assert "A substitute part is booked in first" in page
    assert set(answers(page)) == {"Not done"}
    at_opening = shown(f"{query}&opening={world.opening.pk}", world.client("technician"))
    address = re.search(r'href="(/openings/[^"]*/substitutes/\?call=[^"]*)"', at_opening)
    assert address
    client = world.client("technician")
    assert "Back to the call" in client.get(address[1]).content.decode()
    form = {"call": parse_qs(urlsplit(address[1]).query)["call"][0], "number": "17", "place": "board"}
    back = client.post(f"/openings/{world.opening.pk}/substitutes/", form)
    assert back["Location"].startswith("/trouble/?who=technician&harm=hurt:no")
    asked_now = html.unescape(client.get(back["Location"]).content.decode())
    assert "Book the part in" not in asked_now
    other = client.post(
        f"/openings/{world.opening.pk}/substitutes/", {**form, "number": "18", "call": "//evil.example"}
    )
    assert other["Location"].startswith("/trouble/?")


def test_shares_are_said_in_words_and_numbers() -> None:
    assert share_in_words(0.5) == "as likely as not (50 %)"
    assert share_in_words(0.049) == "hardly (5 %)"


def test_the_compiled_engine_is_used_once_it_is_there(
    settings: LazySettings, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Any] = []
    monkeypatch.setattr("sillwright.web.trouble.advised.advise", lambda *told, **how: asked.append(how))
    compiler = Compiler()
    assert compiler.engine() == "plain"
    settings.COMPILES = True
    compiler.engine()
    for _time in range(100):
        if compiler.engine() == "kernel":
            break
    compiler._done.wait(5)
    assert compiler.engine() == "kernel"
    assert asked == [{"engine": "kernel"}]


# the page that a phone keeps


def test_the_first_page_is_the_same_for_everybody(world: World) -> None:
    bodies = {world.client(who).get("/trouble/first/").content for who in ("owner", "stranger", None)}
    assert len(bodies) == 1
    assert b'name="person"' not in bodies.pop()


def _ways(branch: dict[str, Any], told: tuple[tuple[str, str], ...] = ()) -> Any:
    yield told, branch
    for answer, then in branch.get("to", {}).items():
        yield from _ways(then, (*told, (branch["ask"], answer)))


def test_every_way_through_the_kept_questions_is_what_the_server_would_say(db: None) -> None:
    import json

    from sillwright.base.words import ENGLISH, render

    page = html.unescape(Client().get("/trouble/first/").content.decode())
    found = json.loads(re.search(r'data-tree="(\{.*?\})" data-book', page)[1])  # type: ignore[index]
    count = 0
    for told, branch in _ways(found["tree"]):
        wanted = make_safe(Call(harm=told))
        assert branch.get("ask") == (wanted.next.id if wanted.next else None)
        said = [found["texts"][number] for number in branch["say"]]
        assert said == [render(each, ENGLISH) for each in wanted.sentences]
        count += 1
    assert count > 100
    assert {each.id for each in questions()} == set(re.findall(r'data-question="(\w+)"', page))


def test_the_kept_lists_ask_first_what_the_server_asks_first_and_never_what_it_would_not_ask(db: None) -> None:
    import json

    from sillwright.trouble.choosing import choose, may
    from sillwright.trouble.posterior import believe
    from sillwright.web.trouble.list_book import list_book

    book, tests = json.loads(list_book("en")), {each.id: each for each in BOOK.tests}
    assert book["lists"].keys() == {each.id for each in BOOK.symptoms}
    for who in WHO:
        call = Call(who=who, symptom="CALL-01")  # type: ignore[arg-type]
        for name in (each for each in book["harm"] if may(call.who, tests[each].who)):
            choices = choose(BOOK, call, believe(BOOK, call), ahead=1)
            assert (choices.harm, BOOK.tests[choices.best.at].id) == (True, name)
            call = Call(
                who=call.who, symptom="CALL-01", answers=(*call.answers, (name, tests[name].outcomes[0].id))
            )
    for listed in book["lists"].values():
        assert not {tests[name].stage for name in listed} & {"harm", "move", "substitute"}
    assert {name: told["who"] for name, told in book["tests"].items()} == {each.id: each.who for each in BOOK.tests}
    page = html.unescape(Client().get("/trouble/first/").content.decode())
    assert f'data-book="{list_book("en")}"' in page


def test_without_a_script_the_form_leads_to_the_call(db: None) -> None:
    response = Client().get("/trouble/first/?harm.hurt=no&harm.hanging=no&who=owner&symptom=")
    assert response.status_code == 302
    address = urlsplit(response["Location"])
    assert address.path == "/trouble/"
    told = parse_qs(address.query)
    assert told["harm"] == ["hurt:no", "hanging:no"]
    assert told["who"] == ["owner"]
    assert int(told["t"][0]) > 0
    refused: HttpResponse = Client().get("/trouble/first/?harm.hrt=no")  # type: ignore[assignment]
    assert refused.status_code == 422
