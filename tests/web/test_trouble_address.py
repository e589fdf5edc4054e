"""A call as an address: everything is in it, nothing unknown is taken, and going back loses nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from django.http import QueryDict
from hypothesis import given
from hypothesis import strategies as st

from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.web.trouble.address import SAFE_ANSWERS, WHO, At, NotACall, begun, moment_of, read

QUESTIONS = ("hurt", "cable")
MODEL = fault_book()


def told(query: str) -> At:
    """The call that a query tells of."""
    return read(QueryDict(query), MODEL, QUESTIONS)


def test_an_empty_address_is_a_call_about_which_nothing_is_known() -> None:
    assert told("") == At()
    assert At().address() == "/trouble/"


def test_a_call_is_read_with_its_answers_in_their_order() -> None:
    at = told(
        "who=technician&harm=cable:no&harm=hurt:no&symptom=CALL-01&a=grinding:-&a=cable_slack:no&r=new_cord&t=5"
    )
    assert at.call == Call(
        who="technician",
        symptom="CALL-01",
        harm=(("cable", "no"), ("hurt", "no")),
        answers=(("grinding", None), ("cable_slack", "no")),
        repaired=("new_cord",),
    )
    assert at.started == 5


def test_an_answer_after_a_repair_says_so_and_keeps_its_place_when_it_is_changed() -> None:
    at = told("who=technician&symptom=CALL-01&a=cable_slack:no&r=new_cord&a=grinding:-:1")
    assert at.call.after == (("grinding", 1),)
    after = at.with_answer("spring_gap", "no").with_answer("cable_slack", "yes")
    assert after.call.after == (("grinding", 1), ("spring_gap", 1))
    assert parse_qsl(urlsplit(after.address()).query)[2:5] == [
        ("a", "cable_slack:yes"),
        ("a", "grinding:-:1"),
        ("a", "spring_gap:no:1"),
    ]


def test_none_of_these_is_another_thing_than_not_asked() -> None:
    assert told("symptom=-").symptom_known
    assert told("symptom=-").call.symptom is None
    assert not told("").symptom_known


def _answers() -> st.SearchStrategy[Any]:
    tests = st.lists(st.sampled_from(MODEL.tests), max_size=8, unique_by=lambda each: each.id)
    return tests.flatmap(
        lambda found: st.tuples(
            *(
                st.tuples(st.just(each.id), st.sampled_from([None, *(one.id for one in each.outcomes)]))
                for each in found
            )
        )
    )


@st.composite
def calls(draw: Any) -> At:
    """Any call that a technician can come to."""
    symptom = draw(st.sampled_from([None, *(each.id for each in MODEL.symptoms)]))
    call = Call(
        who="technician",
        symptom=symptom,
        harm=tuple((name, draw(st.sampled_from(SAFE_ANSWERS))) for name in QUESTIONS[: draw(st.integers(0, 2))]),
        answers=draw(_answers()),
        facts=tuple(
            (name, draw(st.sampled_from(values))) for name, values in MODEL.facts[: draw(st.integers(0, 3))]
        ),
        repaired=tuple(draw(st.sets(st.sampled_from([each.id for each in MODEL.repairs]), max_size=3))),
    )
    made = len(call.repaired)
    after = ((name, draw(st.integers(0, made))) for name, _ in call.answers)
    call = replace(call, after=tuple(each for each in after if each[1]))
    none = symptom is None and draw(st.booleans())
    return At(
        call=call, none_of_these=none, started=draw(st.integers(0, 10**10)), opening=draw(st.none() | st.uuids())
    )


@given(calls())
def test_every_call_comes_back_from_its_address_as_it_was(at: At) -> None:
    assert told(urlsplit(at.address()).query) == at


@given(calls(), st.sampled_from(MODEL.tests))
def test_an_answer_that_is_changed_stays_in_its_place_and_all_others_stay_as_they_were(at: At, test: Any) -> None:
    outcome = test.outcomes[-1].id
    after = at.with_answer(test.id, outcome)
    assert dict(after.call.answers)[test.id] == outcome
    before = [each for each in at.call.answers if each[0] != test.id]
    assert [each for each in after.call.answers if each[0] != test.id] == before
    if test.id in dict(at.call.answers):
        assert [name for name, _ in after.call.answers] == [name for name, _ in at.call.answers]


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("who=king", "Who is at the door: there is no “king”; known here: owner, shift_lead, technician"),
        ("symptom=CALL-99", "What the door does: there is no “CALL-99”; did you mean “CALL-"),
        ("a=cable_slak:no", "Question: there is no “cable_slak”; did you mean “cable_slack”?"),
        ("a=cable_slack:perhaps", "Answer: there is no “perhaps”"),
        ("a=cable_slack", "Answer: there is no “”"),
        ("a=cable_slack:no&a=cable_slack:yes", "“cable_slack” is answered twice"),
        ("harm=hrt:no", "Question of making safe: there is no “hrt”"),
        ("harm=hurt:perhaps", "Answer: there is no “perhaps”"),
        ("f=leef:door", "Fact: there is no “leef”; did you mean “leaf”?"),
        ("f=leaf:curtain", "Value: there is no “curtain”"),
        ("r=new_korde", "Repair: there is no “new_korde”; did you mean “new_cord”?"),
        ("a=cable_slack:no:1", "“cable_slack” is answered after more repairs than were made (1)"),
        ("r=new_cord&a=cable_slack:no:0", "“cable_slack”: after how many repairs, as a number above 0"),
        ("r=new_cord&a=cable_slack:no:x", "“cable_slack”: after how many repairs"),
        ("r=new_cord&a=cable_slack:no:", "“cable_slack”: after how many repairs"),
        ("opening=7", "Opening: this is no id of one"),
        ("a=" + "x" * 81, "a name has 80 signs at most"),
        ("who=owner&who=technician", "told twice"),
        ("bridge=yes", "Part of the address: there is no “bridge”"),
        ("&".join(["a=cable_slack:no"] * 201), "More is told here than can be asked"),
    ],
)
def test_what_was_never_asked_is_refused_and_the_nearest_name_is_said(query: str, words: str) -> None:
    with pytest.raises(NotACall) as refused:
        told(query)
    assert words in str(refused.value)


def test_an_owner_who_reads_ohms_was_never_asked_to() -> None:
    test = next(each for each in MODEL.tests if each.who == "technician")
    query = f"a={test.id}:{test.outcomes[0].id}"
    assert told(f"who=technician&{query}").call.answers
    with pytest.raises(NotACall, match="was never asked: it is not for whoever is at the door"):
        told(f"who=owner&{query}")


def test_whoever_takes_over_as_an_owner_leaves_a_technicians_readings_behind() -> None:
    least = {each.who: each for each in MODEL.tests}
    answers = tuple((each.id, each.outcomes[0].id) for each in (least["owner"], least["technician"]))
    at = At(call=Call(who="technician", answers=answers))
    after = at.with_who("owner", {each.id: each for each in MODEL.tests})
    assert after.call.answers == answers[:1]
    assert at.with_who("technician", {each.id: each for each in MODEL.tests}).call.answers == answers


@pytest.mark.parametrize("started", ["", "-5", "9" * 11, "9" * 30, "now", "٣"])
def test_a_moment_that_cannot_be_is_now(started: str) -> None:
    at = told(f"t={started}")
    assert abs((moment_of(at) - moment_of(At())).total_seconds()) < 5
    assert moment_of(begun()) <= moment_of(At())


def test_the_address_holds_no_more_than_names() -> None:
    at = told("who=owner&harm=hurt:no&a=cable_slack:no&t=7")
    pairs = parse_qsl(urlsplit(at.address()).query)
    assert pairs == [("who", "owner"), ("harm", "hurt:no"), ("a", "cable_slack:no"), ("t", "7")]
    assert set(WHO) == {"owner", "shift_lead", "technician"}
