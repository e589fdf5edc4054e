"""The advice on a call: harm first, who may do what, why, what changed, what does not fit, what to watch."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.base.errors import UnknownName
from sillwright.base.words import Reader, Sentence, render
from sillwright.trouble import advise
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.model import FaultModel, Move, Who

from .fault_models import at_random, small
from .test_posterior import some_call

SOUND = (("crooked", "no"),)


def said(sentences: tuple[Sentence, ...]) -> str:
    return " | ".join(render(each, Reader()) for each in sentences)


def technician(*answers: tuple[str, str | None], symptom: str = "HELD", **others: object) -> Call:
    return replace(Call(who="technician", symptom=symptom, answers=(*SOUND, *answers)), **others)  # type: ignore[arg-type]


def next_of(advice: Advice) -> tuple[str, str]:
    assert advice.next is not None
    return advice.next.kind, advice.next.id


@pytest.mark.parametrize("who", [None, "owner", "shift_lead", "technician"])
@pytest.mark.parametrize("symptom", [None, "HELD", "NOTHING"])
def test_what_keeps_people_from_harm_is_asked_first_whatever_is_likely(
    who: Who | None, symptom: str | None
) -> None:
    model = small()
    harmless = replace(model.tests[0], likelihood=(), minutes=1000.0)  # it tells nothing and takes a day
    advice = advise(replace(model, tests=(*model.tests[1:], harmless)), Call(who=who, symptom=symptom))
    assert next_of(advice) == ("test", "crooked")
    assert advice.next is not None
    assert said(advice.next.why) == "What keeps people from harm comes first."
    assert advice.others == ()


def test_not_known_is_an_answer_but_never_a_good_one() -> None:
    advice = advise(small(), Call(symptom="HELD", answers=(("crooked", None),)))
    assert next_of(advice) != ("test", "crooked")
    assert "Not known never counts as good: look before anybody runs the leaf." in said(advice.cautions)


@given(st.integers(0, 5000))
@settings(max_examples=40)
def test_nobody_is_asked_what_he_may_not_do_or_what_is_ruled_out_or_was_asked(seed: int) -> None:
    model = at_random(seed)
    never = replace(model.tests[0], needs=(Move(fact="rain", value="yes", factor=0.0),))
    model = replace(model, tests=(never, *model.tests[1:]))
    tests = {test.id: test for test in model.tests}
    order: tuple[Who, ...] = ("owner", "shift_lead", "technician")
    for who in (None, *order):
        call = replace(some_call(model, seed), who=who)
        advice = advise(model, call, ahead=1)
        steps = [*([advice.next] if advice.next else []), *advice.others]
        for step in steps:
            assert step.id not in dict(call.answers)
            assert step.id not in call.repaired
            if step.kind == "test":
                assert order.index(tests[step.id].who) <= order.index(who or "owner")
                assert not (step.id == "T0" and call.facts == (("rain", "yes"),))


def test_a_step_that_the_complaint_rules_out_by_itself_is_not_asked() -> None:
    model = small()
    told = replace(model.symptoms[0], tells=(("eye", "none"),))
    model = replace(model, symptoms=(told, model.symptoms[1]))
    steps = advise(model, technician())
    asked = [next_of(steps)[1], *(each.id for each in steps.others)]
    assert "lamp" not in asked


def test_one_test_that_settles_it_is_asked_and_the_repair_follows() -> None:
    model = small()
    first = advise(model, technician())
    assert next_of(first) == ("test", "lamp")
    assert first.next is not None
    assert "“the cord is broken inside” and “the eye is out of line”" in said(first.next.why)
    then = advise(model, technician(("lamp", "yes")))
    assert next_of(then) == ("repair", "eye")
    assert then.do[0] == "Clean and align the eye."
    assert then.prove == ("Walk through the beam.",)
    assert then.next is not None
    assert then.next.expected_minutes < first.next.expected_minutes


def test_steps_that_come_close_stand_in_the_order_of_their_minutes() -> None:
    advice = advise(small(), technician())
    assert advice.next is not None
    minutes = [advice.next.expected_minutes, *(each.expected_minutes for each in advice.others)]
    assert len(minutes) > 2
    assert minutes == sorted(minutes)
    assert all(each.why == () for each in advice.others)


def test_an_owner_who_can_tell_no_more_is_sent_a_technician_with_the_parts() -> None:
    advice = advise(small(), Call(who="owner", symptom="HELD", answers=(*SOUND, ("lamp", "no"))))
    assert next_of(advice) == ("repair", "cord")
    assert advice.next is not None
    assert "A technician does it, nobody else." in said(advice.next.why)
    assert advice.bring[:2] == ("cord", "connectors")
    lead = advise(small(), Call(who="owner", symptom="HELD", answers=(*SOUND, ("lamp", "yes"))))
    assert lead.next is not None
    assert "The shift lead or a technician does it, nobody else." in said(lead.next.why)


def test_a_likely_mechanical_danger_stops_everybody() -> None:
    advice = advise(small(), Call(who="technician", symptom="NOTHING", answers=(("crooked", "yes"),)))
    assert advice.next is None
    assert advice.stop is not None
    assert "Nobody touches the control" in render(advice.stop, Reader())
    assert advice.others == ()


def test_a_possible_mechanical_danger_keeps_the_leaf_where_it_is() -> None:
    """Not known whether it hangs crooked: the step that runs the leaf is not offered, whatever it would tell."""
    model = small()
    best = replace(model.tests[2], minutes=0.1, likelihood=(("CORD_BROKEN", (0.0, 1.0)),), otherwise=(1.0, 0.0))
    model = replace(model, tests=(*model.tests[:2], best, model.tests[3]))
    unsure = advise(model, Call(who="technician", symptom="NOTHING", answers=(("crooked", None),)))
    assert unsure.stop is None
    assert "half" not in [next_of(unsure)[1], *(each.id for each in unsure.others)]
    assert "nobody runs it" in said(unsure.cautions)
    sound = advise(model, technician(symptom="NOTHING"))
    assert next_of(sound) == ("test", "half")
    assert "nobody runs it" not in said(sound.cautions)


def test_it_says_what_the_last_answers_changed() -> None:
    advice = advise(small(), technician(("lamp", "yes"), ("half", "yes"), ("ohms", "open")))
    because = [render(each, Reader()) for each in advice.because]
    assert because[0] == (
        "“What does the meter read?” – “open”: “the cord is broken inside” is now more likely than "
        "“the eye is out of line”; before it was less."
    )
    assert "speaks for “the cord is broken inside” and against" in because[1]


def test_it_says_when_an_answer_changes_little_and_when_one_is_not_known() -> None:
    advice = advise(small(), Call(symptom="HELD", answers=(*SOUND, ("lamp", None))))
    assert said(advice.because) == "“Is the lamp of the eye out?” – not known; that changes nothing."
    model = small()
    dull = replace(model.tests[1], likelihood=())
    model = replace(model, tests=(model.tests[0], dull, *model.tests[2:]))
    advice = advise(model, Call(symptom="HELD", answers=(*SOUND, ("lamp", "no"))))
    assert said(advice.because) == "“Is the lamp of the eye out?” – “no” changes little."


def test_what_keeps_people_from_harm_is_not_said_to_change_little() -> None:
    advice = advise(small(), Call(symptom="HELD", answers=SOUND))
    assert advice.because == ()


def test_it_says_which_answer_was_changed() -> None:
    call = technician(("lamp", "no"), ("half", "no"), ("lamp", "yes"))
    because = said(advise(small(), call).because)
    assert "“Is the lamp of the eye out?” – first “no”, now “yes”. The last answer counts." in because
    assert "first" not in said(advise(small(), technician(("lamp", "yes"), ("lamp", "yes"))).because)
    taken_back = said(advise(small(), technician(("lamp", "no"), ("lamp", None))).because)
    assert "first “no”, now “not known”" in taken_back


def contradicting() -> FaultModel:
    """Three tests that all tell the cord, nearly for sure."""
    model = small()
    sure = [
        replace(model.tests[3], id=f"again{number}", question=f"Meter {number}?", needs=()) for number in range(3)
    ]
    rows = (("CORD_BROKEN", (0.01, 0.01, 0.98)), ("WET_EDGE", (0.01, 0.98, 0.01)))
    tests = [replace(test, likelihood=rows, otherwise=(0.98, 0.01, 0.01)) for test in sure]
    return replace(model, tests=(model.tests[0], *tests), pairs=())


def test_the_one_answer_that_does_not_fit_is_named() -> None:
    answers = (("again0", "open"), ("again1", "open"), ("again2", "low"))
    advice = advise(contradicting(), technician(*answers))
    assert advice.surprises == ("again2",)
    assert "“Meter 2?” – “too low” does not fit the other answers. Ask it again." in said(advice.because)


def test_answers_that_fit_are_no_surprise() -> None:
    for outcome in ("open", "low", "right"):
        answers = tuple((f"again{number}", outcome) for number in range(3))
        assert advise(contradicting(), technician(*answers)).surprises == ()


def test_where_two_contradict_each_other_both_are_named_and_nothing_crashes() -> None:
    model = contradicting()
    never = (("CORD_BROKEN", (0.0, 0.0, 1.0)), ("WET_EDGE", (0.0, 1.0, 0.0)))
    tests = tuple(replace(test, likelihood=never, otherwise=(1.0, 0.0, 0.0)) for test in model.tests[1:])
    model = replace(model, tests=(model.tests[0], *tests), unlisted=0.0)
    advice = advise(model, technician(("again0", "open"), ("again1", "low")))
    assert set(advice.surprises) == {"again0", "again1"}
    assert sum(each.probability for each in advice.suspects) == pytest.approx(1)
    none = advise(model, technician(("again0", "open"), ("again1", "low"), ("again2", "right")))
    assert set(none.surprises) >= {"again0", "again1", "again2"}


def test_it_warns_while_the_leaf_may_close_on_somebody_unnoticed() -> None:
    advice = advise(small(), technician())
    assert "nobody leaves it closing by itself" in said(advice.cautions)
    aligned = advise(small(), technician(("lamp", "yes"), ("half", "no"), ("ohms", "right")))
    assert "closing by itself" not in said(aligned.cautions)


def test_a_complaint_of_harm_takes_it_out_of_service() -> None:
    assert "out of service" in said(advise(small(), technician(symptom="NOTHING")).cautions)
    assert "out of service" not in said(advise(small(), technician()).cautions)


def test_the_cautions_of_the_step_come_first() -> None:
    model = small()
    advice = advise(model, technician(("lamp", "no"), ("half", "yes"), ("ohms", "open")))
    assert next_of(advice) == ("repair", "cord")
    assert render(advice.cautions[0], Reader()) == "Lock out the power."
    quick = replace(model.tests[3], minutes=1.0)
    advice = advise(replace(model, tests=(model.tests[0], quick)), technician(repaired=("eye",)))
    assert next_of(advice) == ("test", "ohms")
    assert render(advice.cautions[0], Reader()) == "Power locked out before the box is opened."


def test_substitute_parts_that_are_in_hold_everything_up() -> None:
    advice = advise(small(), technician(booked_in=("red tag 7", "<b>8</b>")))
    assert advice.blocked_by == ("red tag 7", "<b>8</b>")
    assert "The substitute part “red tag 7” is still in." in said(advice.cautions)


def test_a_repair_that_did_not_help_is_not_advised_again() -> None:
    once = advise(small(), technician(("lamp", "yes"), repaired=("eye",)))
    assert next_of(once) != ("repair", "eye")
    assert "Clean and align the eye." not in once.do


def test_when_nothing_is_left_to_try_somebody_else_has_to_look() -> None:
    every = ("cord", "edge", "eye", "door")
    here = advise(small(), technician(repaired=every))
    assert next_of(here) == ("stop", "further")
    assert here.next is not None
    assert "Somebody who knows this door has to look." in said(here.next.why)
    assert here.do == here.bring == ()
    caller = advise(small(), Call(who="owner", symptom="HELD", answers=SOUND, repaired=every))
    assert caller.next is not None
    assert "A technician has to look on site." in said(caller.next.why)


def test_where_no_plan_pays_yet_the_question_that_tells_most_a_minute_is_asked() -> None:
    """Everything is far dearer than somebody else, until the fault is known: one answer would not be enough."""
    model = fault_book()
    harm = tuple((test.id, "no") for test in model.tests if test.stage == "harm")
    advice = advise(replace(model, referral=60.0), Call(who="technician", answers=harm), ahead=1)
    assert advice.next is not None
    assert advice.next.kind == "test"


def test_all_suspects_together_are_sure_and_shares_fall() -> None:
    advice = advise(small(), technician(("half", "yes")))
    chances = [each.probability for each in advice.suspects]
    assert sum(chances) == pytest.approx(1)
    assert chances == sorted(chances, reverse=True)
    shares = [share for _, share in advice.shares]
    assert shares == sorted(shares, reverse=True)
    assert {name for name, _ in advice.shares} == {fault.id for fault in small().faults}


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (Call(symptom="HEDL"), "symptom: nothing here is called “HEDL”; did you mean “HELD”?"),
        (
            Call(answers=(("lamp", "yes"), ("lmap", "no"))),
            "answers[1].test: nothing here is called “lmap”; did you mean",
        ),
        (
            Call(answers=(("lamp", "maybe"),)),
            "answers[0].outcome: nothing here is called “maybe”; known here: no, yes",
        ),
        (Call(facts=(("rian", "yes"),)), "facts[0].fact: nothing here is called “rian”; did you mean “rain”?"),
        (
            Call(facts=(("rain", "perhaps"),)),
            "facts[0].value: nothing here is called “perhaps”; known here: no, yes",
        ),
        (Call(repaired=("cordd",)), "repaired[0]: nothing here is called “cordd”; did you mean “cord”?"),
        (Call(symptom="x" * 10_000), "symptom: nothing here is called “" + "x" * 80 + "”"),
        (Call(symptom="{count}"), "symptom: nothing here is called “{count}”"),
    ],
    ids=lambda value: value[:30] if isinstance(value, str) else "",
)
def test_what_the_model_does_not_have_is_refused_with_its_place_and_the_nearest(call: Call, message: str) -> None:
    with pytest.raises(UnknownName) as raised:
        advise(small(), call)
    assert str(raised.value).startswith(message)


@pytest.mark.parametrize(("who", "outcome"), [*product(["owner", "technician"], [0, -1])])
def test_a_call_to_the_model_that_ships_comes_to_an_end(who: Who, outcome: int) -> None:
    """Whatever is answered: always the first outcome, or always the last; every repair fails."""
    model = fault_book()
    tests = {test.id: test for test in model.tests}
    call = Call(who=who, symptom="CALL-05")
    for _ in range(len(model.tests) + len(model.repairs) + 1):
        advice = advise(model, call, ahead=1, engine="kernel")
        assert sum(each.probability for each in advice.suspects) == pytest.approx(1)
        if advice.next is None or advice.next.kind == "stop":
            return
        if advice.next.kind == "test":
            test = tests[advice.next.id]
            call = replace(call, answers=(*call.answers, (test.id, test.outcomes[outcome].id)))
        else:
            call = replace(call, repaired=(*call.repaired, advice.next.id))
    raise AssertionError("it does not end")
