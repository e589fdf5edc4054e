"""Eyes, curtains, sensors, loops, radio links and converters come into a quote with their price and their hours."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.catalogue import demo
from sillwright.catalogue.parts import Device, Work
from sillwright.takeoff.ordering import Choice, order_lines, priced_device, priced_work, totals
from sillwright.takeoff.ordering.devices import KINDS, counted_twice, offered_devices
from sillwright.takeoff.ordering.work import WORK, work_in_words

from .orders import CATALOGUE, said, take_off


@pytest.mark.parametrize(
    ("name", "kind", "hours"),
    [
        ("Eye class E", "photo eye", "1.75"),
        ("Light curtain class H", "light curtain", "3.00"),
        ("Presence sensor class N", "presence sensor", "1.50"),
        ("Motion sensor class O", "motion sensor", "1.00"),
        ("Loop detector class P", "loop", "3.50"),
        ("Radio link class R", "radio link", "1.00"),
        ("Converter class V", "converter", "0.50"),
    ],
)
def test_each_kind_is_priced_with_the_hours_of_fitting_it(name, kind, hours):
    bought, work = priced_device(name, demo(), tag="B2")
    assert said(bought.what) == f"{name} ({kind})"
    assert (bought.quantity, bought.tag, work.tag) == (1, "B2", "B2")
    assert work.quantity == Decimal(hours)
    assert work.unit == "hour"
    assert totals([bought, work], "USD").complete


def test_the_second_eye_takes_the_hours_of_another_beam():
    bought, first, second = priced_device("Eye class E", demo(), quantity=3)
    assert bought.amount(2) == Decimal("570.00")
    assert (first.quantity, second.quantity) == (Decimal("1.75"), Decimal("3.00"))


def test_where_the_catalogue_knows_no_other_beam_every_eye_takes_the_hours_of_the_first():
    work = tuple(each for each in demo().work if each.what != "second_beam")
    _bought, hours = priced_device("Eye class E", replace(demo(), work=work), quantity=2)
    assert hours.quantity == Decimal("3.50")


def test_a_device_without_a_price_and_work_without_hours_leave_the_total_open():
    bare = Device(name="Loop of the yard", kind="loop")
    bought, work = priced_device("Loop of the yard", replace(CATALOGUE, devices=(bare,)), quantity=2)
    assert (bought.price, work.price) == (None, None)
    assert said(work.no_price) == "the catalogue has no hours for this work"
    assert work.quantity == 2
    assert not totals([bought, work], "USD").complete


def test_what_the_catalogue_does_not_have_is_refused_with_what_it_has():
    with pytest.raises(UnknownName, match="did you mean “Loop detector class P”"):
        priced_device("Loop detector clas P", demo())
    with pytest.raises(UnknownName):
        priced_device("Edge class B", demo())  # an edge comes from the take-off, not from a list


@pytest.mark.parametrize("quantity", [0, -1, 100, 10**9, True, 1.5, float("nan"), "2"])
def test_a_quantity_is_a_whole_number_from_1(quantity):
    with pytest.raises(OutOfRange, match="a whole number from 1 to 99"):
        priced_device("Eye class E", demo(), quantity=quantity)


def test_every_piece_of_work_of_the_shipped_catalogue_has_words_without_an_id():
    for each in demo().work:
        assert "_" not in said(work_in_words(each.what))
        assert each.what in WORK
    assert {kind for kind, _part in offered_devices(demo()).values()} == set(KINDS)


def test_work_of_a_catalogue_that_the_program_does_not_know_keeps_its_own_words():
    assert said(work_in_words("paint_the_{frame}")) == "paint the {frame}"
    night = replace(CATALOGUE, work=(Work(what="night_work", hours=1),), devices=())
    assert offered_devices(night) == {}


def twice(ticked=(), devices=None, lines=(), catalogue=None):
    found = counted_twice("B2", ticked, devices or {}, lines, catalogue or demo())
    return [said(each) for each in found]


def test_work_that_is_ticked_and_comes_with_a_device_too_is_said_with_both_entries():
    (found,) = twice(["photo_eye", "test"], {"Eye class E": 1})
    assert found == (
        "B2: the work “fit and test a photo eye” is ticked, and the device “Eye class E” brings its hours along. "
        "Take the tick away, unless both are meant."
    )


@pytest.mark.parametrize("name", offered_devices(demo()))
def test_that_holds_for_every_device_that_a_catalogue_offers(name):
    kind, _part = offered_devices(demo())[name]
    assert len(twice([kind], {name: 1})) == 1
    assert twice([each for each in WORK if each not in {kind, "second_beam"}], {name: 3}) == []


def test_another_beam_is_brought_along_by_a_second_eye_only():
    assert twice(["second_beam"], {"Eye class E": 1}) == []
    assert len(twice(["second_beam"], {"Eye class E": 2})) == 1
    none = replace(demo(), work=tuple(each for each in demo().work if each.what != "second_beam"))
    assert len(twice(["photo_eye"], {"Eye class E": 2}, catalogue=none)) == 1


def test_a_converter_of_the_edge_that_is_a_device_too_is_said_with_both_entries():
    (edge,) = order_lines("B2", take_off(), demo().profiles[0], demo(), Choice(converter="Converter class V"))
    (found,) = twice(devices={"Converter class V": 1}, lines=[edge])
    assert found.startswith("B2: “Converter class V” stands among the parts of the edge B2 already")
    assert twice(devices={"Eye class E": 1}, lines=[edge]) == []


def test_nothing_chosen_is_counted_twice():
    assert twice() == []
    assert twice(["photo_eye"], {"not in the catalogue": 2}) == []


def test_hours_say_for_which_device_they_are_so_that_two_lines_are_never_the_same():
    _bought, hours = priced_device("Eye class E", demo())
    assert said(hours.what) == "Eye class E: fit and test a photo eye, 2 persons"
    assert said(hours.what) != said(priced_work("photo_eye", demo()).what)
