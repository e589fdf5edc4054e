"""What closed calls teach: counts beside what the shares are worth."""

from __future__ import annotations

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.trouble.answer import Call
from sillwright.trouble.checking import check_model
from sillwright.trouble.learning import Closed, learn
from sillwright.trouble.posterior import believe, marginals

from .fault_models import at_random, small


def shares(model: object, call: Call | None = None) -> dict[str, float]:
    belief = believe(model, call or Call())  # type: ignore[arg-type]
    found = marginals(belief.frame, belief.weights)
    return dict(zip([each.id for each in belief.frame.model.faults], found.tolist(), strict=True))


def test_no_closed_call_changes_nothing() -> None:
    learned, account = learn(small(), ())
    assert shares(learned) == pytest.approx(shares(small()))
    assert all(each.before == pytest.approx(each.after) and each.counted == 0 for each in account)


def test_a_hundred_calls_of_one_fault_weigh_as_much_as_the_shares_that_are_worth_a_hundred() -> None:
    """Share of the eye alone 0.95 x 0.38 = 0.361 of 100 calls; with 100 more it is 136.1 of 200."""
    closed = (Closed(symptom="HELD", faults=("EYE_ALIGN",)),) * 100
    learned, account = learn(small(), closed, worth=100.0)
    (eye,) = [each for each in account if each.fault == "EYE_ALIGN"]
    alone = (1 - 0.02 - 0.05) * 0.38
    assert (eye.before, eye.pseudo, eye.counted) == pytest.approx((alone, 100 * alone, 100))
    assert eye.after == pytest.approx((100 * alone + 100) / 200)
    assert shares(learned)["EYE_ALIGN"] == pytest.approx(eye.after + 0.02 / 2)
    # Only the callers of this complaint had it: among the others the shares stay as they were.
    assert shares(learned, Call(symptom="NOTHING"))["CABLE_OFF"] == pytest.approx(
        shares(small(), Call(symptom="NOTHING"))["CABLE_OFF"], rel=0.1
    )


def test_a_listed_pair_counts_as_a_pair_and_any_other_half_for_each() -> None:
    closed = (
        Closed(symptom="HELD", faults=("WET_EDGE", "CORD_BROKEN")),
        Closed(symptom="NOTHING", faults=("CORD_BROKEN", "CABLE_OFF")),
    )
    account = {each.fault: each.counted for each in learn(small(), closed)[1]}
    assert account["CORD_BROKEN+WET_EDGE"] == 1
    assert account["CORD_BROKEN"] == account["CABLE_OFF"] == 0.5
    assert account["WET_EDGE"] == 0


def test_calls_with_none_of_these_make_the_rest_less_sure() -> None:
    learned, account = learn(small(), (Closed(symptom="HELD", faults=()),) * 50, worth=50.0)
    assert learned.unlisted == pytest.approx((50 * 0.02 + 50) / 100)
    assert account[-1].fault == ""
    assert account[-1].counted == 50


def test_a_call_without_a_complaint_counts_for_those_that_its_fault_has() -> None:
    learned, _ = learn(small(), (Closed(symptom=None, faults=("CORD_BROKEN",)),) * 10)
    before, after = (shares(each, Call(symptom="HELD"))["CORD_BROKEN"] for each in (small(), learned))
    assert after > before
    assert shares(learned, Call(symptom="NOTHING"))["CORD_BROKEN"] > 0.4


def test_a_fault_that_no_such_complaint_had_before_is_learned_as_its_cause() -> None:
    learned, _ = learn(small(), (Closed(symptom="HELD", faults=("CABLE_OFF",)),))
    assert dict(learned.symptoms[0].causes)["CABLE_OFF"] > 0
    assert shares(learned, Call(symptom="HELD"))["CABLE_OFF"] > 0


@given(st.integers(0, 500), st.lists(st.integers(0, 5), max_size=30), st.floats(0.5, 1e4))
def test_what_is_learned_adds_up_and_tends_to_what_was_counted(seed: int, found: list[int], worth: float) -> None:
    model = at_random(seed)
    closed = tuple(Closed(symptom="S0" if at % 2 else None, faults=(f"F{at}",)) for at in found)
    learned, account = learn(model, closed, worth=worth)
    check_model(learned)
    assert sum(each.after for each in account) == pytest.approx(1)
    assert sum(each.counted for each in account) == pytest.approx(len(found))
    many, told = learn(model, closed * 200, worth=1.0)
    assert shares(many)["F0"] == pytest.approx(found.count(0) / max(len(found), 1), abs=1.0 if not found else 0.05)
    assert len(told) == len(account)


@pytest.mark.parametrize("worth", [0.0, -1.0, nan, float("inf")])
def test_shares_that_are_worth_nothing_are_refused(worth: float) -> None:
    with pytest.raises(OutOfRange, match=r"worth: .* is out of range; above 0 is accepted"):
        learn(small(), (), worth=worth)


def test_what_is_not_in_the_model_is_refused_with_its_place() -> None:
    with pytest.raises(UnknownName, match=r"closed\[1\].faults: nothing here is called “EYE”"):
        learn(small(), (Closed(symptom=None, faults=()), Closed(symptom=None, faults=("EYE",))))
    with pytest.raises(UnknownName, match=r"closed\[0\].symptom: .*did you mean “HELD”"):
        learn(small(), (Closed(symptom="HELDD", faults=()),))
    for faults in (("EYE_ALIGN", "EYE_ALIGN"), ("EYE_ALIGN", "WET_EDGE", "CORD_BROKEN")):
        with pytest.raises(OutOfRange, match="one fault is accepted, or two different ones, or none"):
            learn(small(), (Closed(symptom=None, faults=faults),))
