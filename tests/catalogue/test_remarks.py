"""What a catalogue leaves out is told, and is no mistake."""

from __future__ import annotations

import pytest

from sillwright.base.words import ENGLISH, render
from sillwright.catalogue.remarks import Remark, remarks

from .building import CURVE, edges, read

WHOLE = (
    "ends: {lead: 1 in, far: 1 in}, price: {each: 1}, weight_per_metre: 1, channels: [Rail], "
    "curves: [{temperature: 32 degF, curve: [[0, 0], [1 in, 100]]}]"
)
RAIL = "channels: [{name: Rail, fixing: slide_in, price: {per_foot: 5}}]\n"
MONEY = "work: [{what: cord, hours: 1}]\nrates: [{what: trip, price: 1}]\n"


def found(text: str) -> dict[str, Remark]:
    return {each.id: each for each in remarks(read(text))}


def test_a_whole_catalogue_leaves_nothing_out():
    assert not found(edges("E", more=WHOLE) + RAIL + MONEY)


@pytest.mark.parametrize(
    ("without", "id", "said"),
    [
        ("ends: {lead: 1 in, far: 1 in}, ", "no_ends", "2 in at each end is taken"),
        ("price: {each: 1}, ", "no_price", "a quote cannot count it"),
        ("weight_per_metre: 1, ", "no_weight", "what it adds is not known"),
        ("channels: [Rail], ", "no_channel", "which one carries it is not known"),
        (", curves: [{temperature: 32 degF, curve: [[0, 0], [1 in, 100]]}]", "no_curve", "force and overtravel"),
    ],
)
def test_what_a_profile_leaves_out_is_told_with_its_name(without, id, said):
    assert without in WHOLE
    told = found(edges("E", more=WHOLE.replace(without, "")) + edges("F", more=WHOLE)[10:] + RAIL + MONEY)
    assert list(told) == [id]
    assert (told[id].list, told[id].names) == ("profiles", ("E",))
    assert said in render(told[id].text, ENGLISH)


def test_a_profile_measured_only_warm_is_not_known_in_the_cold():
    warm = WHOLE.replace("32 degF", "33 degF")
    assert list(found(edges("E", more=warm) + RAIL + MONEY)) == ["no_cold_curve"]
    assert "no_cold_curve" in found(edges("E", more=CURVE))


def test_a_listing_without_who_read_it_does_not_count():
    row = "device: E, title: Instructions, page: '3', read_by: technician, on: 2026-01-04"
    start = "inputs: [{operator: J, name: edge, supply: 5 V, below: {pressed: 1 V}, above: {open: 4 V}, lists: [{"
    assert not found(MONEY + start + row + "}]}]")
    for part in row.split(", ")[1:]:
        told = found(MONEY + start + row.replace(f", {part}", "") + "}]}]")
        assert told["half_listing"].names == ("J, edge",)


def test_a_converter_that_gives_another_circuit_is_looked_at_again():
    converter = "converters: [{name: V, takes: [four_wire], gives: tested_contact, price: {each: 1}}]\n"
    row = "inputs: [{operator: J, name: edge, circuit: %s, via: [{converter: V, circuit: four_wire}]}]"
    assert "other_circuit" in found(converter + row % "pulse_two_wire")
    assert "other_circuit" not in found(converter + row % "tested_contact")


def test_an_input_that_pulses_needs_no_thresholds():
    row = "inputs: [{operator: J, name: edge, circuit: %s}]"
    assert "no_thresholds" in found(row % "resistor")
    assert "no_thresholds" not in found(row % "pulse_two_wire")


def test_without_work_and_rates_a_quote_counts_no_labour():
    assert list(found("")) == ["no_rates", "no_work"]


@pytest.mark.parametrize(("tax", "doubtful"), [("0", False), ("0.07", True), ("1", False), ("7.25", False)])
def test_a_tax_of_less_than_one_percent_is_perhaps_a_share(tax, doubtful):
    assert ("low_tax" in found(f"{MONEY}tax_percent: {tax}")) == doubtful


def test_a_price_of_nothing_is_a_price():
    assert "no_price" not in found("boxes: [{name: G, price: {}}]")
    assert found("boxes: [{name: G}]")["no_price"].list == "boxes"
