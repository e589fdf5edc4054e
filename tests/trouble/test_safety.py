"""Before any fault: nobody is hurt, nobody runs a leaf that may fall, the opening is left as well as can be had."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import UnknownName
from sillwright.base.words import Reader, render
from sillwright.trouble.answer import Call
from sillwright.trouble.model import Who
from sillwright.trouble.safety import ANSWERS, make_safe, questions, read_back, states

NAMES = [each.id for each in questions()]
WHO: tuple[Who | None, ...] = (None, "owner", "shift_lead", "technician")


def call(*answers: str, who: Who | None = "owner", facts: tuple[tuple[str, str], ...] = ()) -> Call:
    """A call with answers, "hurt:no closed:yes"."""
    pairs = [each.split(":") for text in answers for each in text.split()]
    return Call(who=who, harm=tuple((name, answer) for name, answer in pairs), facts=facts)


def said(given_call: Call) -> str:
    """Everything that is said on a call."""
    return " ".join(render(each, Reader()) for each in make_safe(given_call).sentences)


def asked(given_call: Call) -> str | None:
    """The next question of a call."""
    question = make_safe(given_call).next
    return question.id if question else None


def test_the_first_question_is_whether_anyone_is_hurt() -> None:
    assert asked(Call()) == "hurt"
    assert render(questions()[0].words, Reader()) == "Is anyone hurt or trapped?"


def test_hurt_ends_the_questions_with_the_emergency_number_and_nobody_runs_the_leaf() -> None:
    found = make_safe(call("hurt:yes"))
    assert (found.next, found.state, found.may_run) == (None, "emergency", False)
    assert render(found.sentences[0], Reader()).startswith("Call the emergency number now.")
    assert "Do not run the leaf" in said(call("hurt:yes"))


def test_nobody_having_looked_is_not_nobody_hurt() -> None:
    found = make_safe(call("hurt:unknown hanging:no only_way_out:no fire_door:no"))
    assert (found.state, found.may_run) == ("as_it_is", False)
    assert "Send somebody to look now" in said(call("hurt:unknown"))


@pytest.mark.parametrize("answer", ["yes", "unknown"])
def test_what_may_fall_is_touched_by_nobody(answer: str) -> None:
    begun = call(f"hurt:no hanging:{answer}")
    assert make_safe(begun).may_run is False
    assert "Nobody touches the control" in said(begun)
    ended = call(f"hurt:no hanging:{answer} only_way_out:no fire_door:no")
    assert make_safe(ended).state == "as_it_is"
    assert "power" not in said(call(f"hurt:no hanging:{answer}", who="owner")), "an owner goes nowhere near it"


def test_not_known_whether_a_cable_hangs_says_so() -> None:
    assert "Not known counts as yes" in said(call("hurt:no hanging:unknown"))
    assert "Not known counts as yes" not in said(call("hurt:no hanging:yes"))


ENDS = [
    ("only_way_out:no closed:yes fire_door:no", "closed"),
    ("only_way_out:yes closed:yes fire_door:no", "watched_exit"),
    ("only_way_out:unknown closed:yes fire_door:no", "watched_exit"),
    ("only_way_out:no closed:no guard:yes fire_door:no", "open"),
    ("only_way_out:no closed:no guard:no trained:yes fire_door:no", "close_once"),
    ("only_way_out:no closed:no guard:no trained:no fire_door:no", "barred"),
    ("only_way_out:no closed:no guard:no trained:unknown fire_door:no", "barred"),
    ("only_way_out:yes closed:no guard:no trained:yes fire_door:no", "barred"),
    ("only_way_out:unknown closed:unknown guard:unknown trained:yes fire_door:no", "barred"),
]


@pytest.mark.parametrize(("answers", "state"), ENDS)
def test_the_opening_is_left_in_the_first_state_that_can_be_had(answers: str, state: str) -> None:
    found = make_safe(call("hurt:no hanging:no", answers))
    assert (found.next, found.state) == (None, state)
    assert found.sentences[0] == states()[state]


def test_it_is_never_closed_on_the_only_way_out() -> None:
    for answers in product(ANSWERS, repeat=len(NAMES)):
        found = make_safe(Call(harm=tuple(zip(NAMES, answers, strict=True))))
        given_answers = dict(zip(NAMES, answers, strict=True))
        if given_answers["only_way_out"] != "no":
            assert found.state not in {"closed", "close_once"}


def test_only_what_changes_something_is_asked() -> None:
    assert asked(call("hurt:no hanging:no only_way_out:no closed:yes")) == "fire_door"
    assert asked(call("hurt:no hanging:no only_way_out:no closed:no")) == "guard"
    assert asked(call("hurt:no hanging:no only_way_out:no closed:no guard:yes")) == "fire_door"
    assert asked(call("hurt:no hanging:no only_way_out:no closed:no guard:no")) == "trained"
    assert asked(call("hurt:no hanging:yes")) == "only_way_out"
    assert asked(call("hurt:no hanging:yes only_way_out:no")) == "fire_door"


def test_a_way_out_is_spoken_of_and_nobody_is_let_out_by_a_leaf_that_may_fall() -> None:
    ended = "hanging:yes only_way_out:yes fire_door:no"
    assert "The leaf is not run to let them out." in said(call("hurt:no", ended))
    assert "a way out that works" in said(call("hurt:no hanging:no only_way_out:yes"))
    assert "a way out that works" not in said(call("hurt:no hanging:no only_way_out:no"))


def test_a_gate_runs_from_a_fixed_control_if_at_all() -> None:
    gate = call("hurt:no hanging:no", facts=(("leaf", "gate"),))
    assert "only from a fixed control that somebody holds" in said(gate)
    assert "fixed control" not in said(call("hurt:no hanging:no", facts=(("leaf", "door"),)))


@pytest.mark.parametrize("answer", ["yes", "unknown"])
def test_a_fire_door_is_told_to_the_fire_watch(answer: str) -> None:
    ended = call(f"hurt:no hanging:no only_way_out:no closed:yes fire_door:{answer}")
    assert "fire watch" in said(ended)
    assert "fire watch" not in said(call("hurt:no hanging:no only_way_out:no closed:yes fire_door:no"))


@pytest.mark.parametrize("who", WHO)
def test_everybody_is_told_never_to_bridge_anything_from_the_first_question_on(who: Who | None) -> None:
    for answers in ("", "hurt:yes", "hurt:no hanging:no"):
        assert "Never bridge" in said(call(answers, who=who))


def test_a_finished_call_is_written_down_and_read_back() -> None:
    ended = call("hurt:no hanging:no only_way_out:no closed:yes fire_door:no")
    assert said(ended).endswith("Write down the time, who called, what was said and how the opening was left. "
                                "Read it back.")  # fmt: skip
    assert "Write down" not in said(call("hurt:no"))
    told = [render(each, Reader()) for each in read_back(ended)]
    assert told[0] == "Is anyone hurt or trapped? – no."
    assert len(told) == 5


def test_each_is_spoken_to_as_what_he_is() -> None:
    end = "hurt:no hanging:no only_way_out:no closed:yes fire_door:no"
    to_owner, to_lead, to_technician = (said(call(end, who=who)) for who in WHO[1:])
    assert "Leave every cover closed" in to_owner
    assert "this shift and the next" in to_lead
    assert "Lock the power out" in to_technician
    assert said(call(end, who=None)) == to_owner


def test_of_two_answers_the_later_counts() -> None:
    assert make_safe(call("hurt:yes hurt:no")).state is None
    assert make_safe(call("hurt:no hurt:yes")).state == "emergency"


@pytest.mark.parametrize("pair", [("pulse", "yes"), ("hurt", "maybe"), ("hurt", ""), ("<b>", "yes")])
def test_what_was_never_asked_is_refused(pair: tuple[str, str]) -> None:
    with pytest.raises(UnknownName):
        make_safe(Call(harm=(pair,)))
    with pytest.raises(UnknownName):
        read_back(Call(harm=(pair,)))


def test_the_states_are_tried_in_their_order() -> None:
    order = list(states())
    assert order.index("closed") < order.index("open") < order.index("close_once")
    assert {state for _, state in ENDS} | {"emergency", "as_it_is"} == set(order)


@given(st.lists(st.tuples(st.sampled_from(NAMES), st.sampled_from(sorted(ANSWERS)))), st.sampled_from(WHO))
def test_whatever_is_told_there_is_a_question_or_a_state(told: list[tuple[str, str]], who: Who | None) -> None:
    found = make_safe(Call(who=who, harm=tuple(told)))
    assert (found.next is None) != (found.state is None)
    answers = dict(told)
    if (answers.get("hurt"), answers.get("hanging")) != ("no", "no") or found.next:
        assert not found.may_run
    if found.next is not None:
        assert found.next.id not in answers


@given(st.lists(st.sampled_from(sorted(ANSWERS)), min_size=len(NAMES), max_size=len(NAMES)))
def test_answering_what_is_asked_comes_to_an_end(answers: list[str]) -> None:
    told: list[tuple[str, str]] = []
    for answer in answers:
        question = make_safe(Call(harm=tuple(told))).next
        if question is None:
            break
        told.append((question.id, answer))
    assert make_safe(Call(harm=tuple(told))).state is not None


@given(st.lists(st.sampled_from(sorted(ANSWERS)), min_size=len(NAMES), max_size=len(NAMES)))
def test_a_leaf_runs_only_by_a_trained_hand_or_beside_a_watched_exit(answers: list[str]) -> None:
    told = dict(zip(NAMES, answers, strict=True))
    found = make_safe(Call(harm=tuple(told.items())))
    if found.may_run:
        assert (told["hurt"], told["hanging"]) == ("no", "no")
        assert told["closed"] == "yes" or told["trained"] == "yes"
