"""A warranty claim is sorted by its evidence, and stays unknown where that is missing or contradicts itself."""

from __future__ import annotations

import re
from math import inf, nan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError
from sillwright.base.fact import Fact
from sillwright.base.words import N_
from sillwright.takeoff.ordering import sort_claim
from sillwright.takeoff.ordering.warranty import CAUSES, TITLES

from .orders import METRIC, m, said

NOTHING_WRONG: dict[str, Any] = {
    "date_code": "26-08", "fitted_on": "2026-03-09", "fitted_by": "Ben", "as_ordered": True, "right_order": True,
    "sealed": True, "cut_or_glued": False, "compression": m("1/8 in"), "box": True, "struck": False,
    "outside_its_data": False, "ohms": inf, "weather": "rain", "photo_left": True, "photo_right": True,
    "photo_closed": True,
}  # fmt: skip


def known(name: str, value: Any) -> Fact[Any]:
    return Fact(path=f"claim.{name}", standing="known", value=value)


def claim(**changes: Any) -> dict[str, Fact[Any]]:
    """A claim with nothing wrong but the reading; a change may be a value or a whole fact."""
    values = {**NOTHING_WRONG, **changes}
    return {name: each if isinstance(each, Fact) else known(name, each) for name, each in values.items()}


def sort(circuit: str = "resistor", **changes: Any) -> str:
    return sort_claim(claim(**changes), circuit, 10e3).sort


def test_a_reading_out_of_its_band_with_nothing_else_is_material():
    found = sort_claim(claim(), "resistor", 10e3)
    assert (found.sort, found.send) == ("material", ())
    assert "nothing points to order, fitting or use" in said(found.text)


@pytest.mark.parametrize(
    ("changes", "sorted_as"),
    [
        ({"as_ordered": False}, "order"),
        ({"right_order": False}, "order"),
        ({"cut_or_glued": True}, "fitting"),
        ({"compression": m("5/16 in")}, "fitting"),
        ({"box": False}, "fitting"),
        ({"struck": True}, "use"),
        ({"outside_its_data": True}, "use"),
        ({"ohms_before": inf}, "material"),
        ({"compression": m("1/4 in")}, "material"),
        ({"cut_or_glued": True, "sealed": False}, "material"),
    ],
)
def test_evidence_points_to_its_sort(changes, sorted_as):
    found = sort_claim(claim(**changes), "resistor", 10e3)
    assert found.sort == sorted_as
    pointing = [each.fact for each in found.evidence if each.points_to]
    assert pointing == [name for name in changes if name in pointing]


def test_evidence_that_points_two_ways_is_not_sorted():
    found = sort_claim(claim(struck=True, cut_or_glued=True), "resistor", 10e3)
    assert found.sort == "unknown"
    assert "more than one cause" in said(found.text)
    assert {each.points_to for each in found.evidence} == {None, "use", "fitting"}


def test_two_causes_of_one_sort_are_that_sort():
    assert sort(box=False, cut_or_glued=True) == "fitting"


@pytest.mark.parametrize("name", CAUSES)
def test_without_a_fact_that_may_point_elsewhere_it_is_unknown_and_says_what_to_send(name):
    found = sort_claim({key: fact for key, fact in claim().items() if key != name}, "resistor", 10e3)
    assert found.sort == "unknown"
    assert [said(each) for each in found.send] == [TITLES[name]]


@pytest.mark.parametrize("standing", ["assumed", "not known", "not asked"])
def test_an_assumption_is_not_evidence(standing):
    struck = Fact(path="claim.struck", standing=standing, value=False if standing == "assumed" else None)
    assert sort(struck=struck) == "unknown"


def test_two_readings_are_neither():
    twice = Fact(path="claim.struck", standing="two readings", rivals=(True, False))
    found = sort_claim(claim(struck=twice), "resistor", 10e3)
    assert found.sort == "unknown"
    assert [said(each) for each in found.send] == ["marks of a strike: settle the two readings"]
    assert "two readings: yes, no" in [said(each.said) for each in found.evidence]


def test_the_maker_needs_date_code_and_who_fitted_it():
    missing = {key: fact for key, fact in claim().items() if key not in {"date_code", "fitted_by"}}
    found = sort_claim(missing, "resistor", 10e3)
    assert found.sort == "unknown"
    assert [said(each) for each in found.send] == ["date code or batch", "fitted by"]
    assert sort_claim(missing | {"struck": known("struck", True)}, "resistor", 10e3).sort == "use"


def test_a_reading_in_its_band_says_nothing():
    found = sort_claim(claim(ohms=10e3), "resistor", 10e3)
    assert found.sort == "unknown"
    assert "say what the edge does" in said(found.text)


def test_a_circuit_whose_ohms_do_not_tell_is_not_sorted_by_ohms():
    assert sort_claim(claim(), "optical").sort == "unknown"
    assert sort_claim(claim(ohms=4e4), "plain").sort == "material"


def test_nothing_known_is_unknown_and_lists_what_to_send():
    found = sort_claim({}, None)
    assert found.sort == "unknown"
    assert len(found.send) == len(CAUSES) + 4
    assert len(found.evidence) == len(TITLES)
    assert {said(each.said) for each in found.evidence} == {"not known"}


def test_evidence_is_shown_in_the_readers_units():
    rows = {each.fact: said(each.said, METRIC) for each in sort_claim(claim(), "resistor", 10e3).evidence}
    assert (rows["compression"], rows["ohms"], rows["struck"]) == ("3.2 mm", "open", "no")


@pytest.mark.parametrize(
    ("name", "value"),
    [("struck", "no"), ("ohms", nan), ("ohms", -1.0), ("compression", True), ("box", 1), ("compression", "1/8 in")],
)
def test_a_value_of_another_kind_is_refused(name, value):
    with pytest.raises(InputError, match=f"claim, {name}: .* is not of its kind"):
        sort(**{name: value})


def test_an_unknown_fact_is_refused():
    with pytest.raises(InputError, match="no fact “stuck”; did you mean “struck”"):
        sort_claim({"stuck": known("stuck", True)}, "resistor")


def test_no_word_blames_anybody():
    words = " ".join(
        said(sort_claim(claim(**{name: True}), "resistor", 10e3).text) for name in ("struck", "cut_or_glued")
    )
    assert not re.search(r"fault|blame|careless|wrong|misuse", words, re.IGNORECASE)
    assert N_("fitting") in words


@given(st.lists(st.sampled_from(sorted(CAUSES)), unique=True), st.sampled_from([None, True]))
def test_less_evidence_never_sorts_what_more_did_not(taken, struck):
    """Taking facts away leaves a sort as it was, or makes it unknown."""
    whole = claim(**({"struck": True} if struck else {}))
    less = {name: fact for name, fact in whole.items() if name not in taken}
    assert sort_claim(less, "resistor", 10e3).sort in {"unknown", sort_claim(whole, "resistor", 10e3).sort}
