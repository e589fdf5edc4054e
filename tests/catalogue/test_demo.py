"""The invented catalogue: says that it is, has what the chapters need, and its numbers hang together."""

from __future__ import annotations

import subprocess
import sys

import pytest

from sillwright.catalogue import demo
from sillwright.catalogue.finding import profile, rate, work_for
from sillwright.catalogue.profile import Profile

INCH = 0.0254
FOOT = 12 * INCH
WORK = (
    "edge_factory_sealed", "edge_cut_on_site", "channel", "cord", "reel", "radio", "converter", "photo_eye",
    "second_beam", "light_curtain", "presence", "motion", "loop", "seal", "tapered_filler", "springs", "operator",
    "test", "planned_visit",
)  # fmt: skip


def test_it_says_that_it_is_invented():
    assert demo().invented
    assert "nvented" in demo().name


@pytest.mark.parametrize(
    ("name", "height", "answers", "after", "seat"),
    [
        ("Edge class A", 1, 1 / 8, 1 / 4, 1.25),
        ("Edge class B", 1.75, 3 / 16, 1 / 2, 1.5),
        ("Edge class C", 2.75, 1 / 4, 1.125, 2),
        ("Edge class D", 4.25, 3 / 8, 2.125, 2.5),
    ],
)
def test_the_four_classes_are_as_high_and_give_as_much_as_their_class(name, height, answers, after, seat):
    edge = profile(demo(), name)
    room = edge.curves[-1].curve
    assert edge.construction == "factory_sealed"
    assert edge.height == pytest.approx(height * INCH)
    assert edge.actuation_travel == pytest.approx(answers * INCH)
    assert room[-1][0] - edge.actuation_travel == pytest.approx(after * INCH)
    assert edge.seat == pytest.approx(seat * INCH)


def force_at_the_answer(edge: Profile, at: int = -1) -> float:
    return next(force for travel, force in edge.curves[at].curve if travel == pytest.approx(edge.actuation_travel))


@pytest.mark.parametrize(("letter", "least", "most"), [("A", 25, 45), ("B", 30, 60), ("C", 30, 60), ("D", 40, 80)])
def test_a_class_answers_to_the_force_of_its_class_at_room_temperature(letter, least, most):
    assert least <= force_at_the_answer(profile(demo(), f"Edge class {letter}")) <= most


COLD = {
    "epdm": {-31: 2.5, -20: 2.0, 0: 1.5, 32: 1.2, 70: 1.0},
    "silicone": {-31: 2.5, -20: 2.0, 0: 1.5, 32: 1.2, 70: 1.0},
    "tpe": {14: 2.0, 32: 1.5, 70: 1.0},
}


@pytest.mark.parametrize("edge", demo().profiles, ids=lambda edge: edge.name)
def test_cold_makes_a_body_stiffer_by_the_factors_of_its_material(edge):
    factors = COLD[edge.material]
    kelvin = {round((fahrenheit + 459.67) / 1.8, 2): factor for fahrenheit, factor in factors.items()}
    assert [round(each.temperature, 2) for each in edge.curves] == list(kelvin)
    warm = edge.curves[-1].curve
    for at, factor in zip(edge.curves, kelvin.values(), strict=True):
        assert [travel for travel, _ in at.curve] == [travel for travel, _ in warm]
        assert [force for _, force in at.curve] == pytest.approx([force * factor for _, force in warm])


def test_there_is_every_kind_of_body():
    edges = demo().profiles
    assert {each.construction for each in edges} == {"factory_sealed", "cut_on_site"}
    assert {"resistor", "four_wire", "plain", "diode_capacitor", "air", "optical"} == {
        circuit for each in edges for circuit in each.circuits
    }
    assert any("wash_down" in each.environments and each.construction == "factory_sealed" for each in edges)
    assert any("freezer" in each.environments and each.coldest < 234 for each in edges)
    assert not any("wash_down" in each.environments for each in edges if each.construction == "cut_on_site")
    assert {each.order_word for each in edges} == {"body", "sensing"}


def test_a_body_cut_on_site_has_shorter_dead_ends():
    ends = {each.name: each.ends for each in demo().profiles}
    sealed, cut = ends["Edge class B"], ends["Edge class B, cut on site"]
    assert sealed and cut and cut.lead < sealed.lead and cut.far < sealed.far  # noqa: PT018


def test_there_is_every_kind_of_channel_and_every_body_has_one():
    assert {each.fixing for each in demo().channels} == {"slide_in", "face_fixed", "two_part", "bottom_fixed"}
    assert all(each.channels for each in demo().profiles)


@pytest.mark.parametrize("conductors", [2, 4])
def test_cords_come_in_their_stock_lengths(conductors):
    cords = [each for each in demo().cords if each.conductors == conductors]
    assert [each.retracted for each in cords] == pytest.approx([FOOT * n for n in (1, 1.5, 2, 3, 4, 5, 6, 8)])
    assert all(4 <= each.extended / each.retracted <= 6 for each in cords)


def test_reels_come_in_their_stock_lengths():
    assert [each.cable for each in demo().reels] == pytest.approx([FOOT * n for n in (15, 20, 25, 30, 40)])


def test_every_kind_of_device_and_seal_is_there():
    assert {each.kind for each in demo().devices} == {"photo_eye", "light_curtain", "presence", "motion", "loop"}
    assert {each.kind for each in demo().seals} == {"floor_threshold", "side", "head", "brush", "tapered_filler"}


def test_everything_that_is_ordered_has_a_price():
    for listed in ("profiles", "channels", "cords", "reels", "boxes", "radios", "converters", "devices", "seals"):
        assert all(each.price and each.price.of(1.0) > 0 for each in getattr(demo(), listed))


def test_there_are_hours_for_the_work_and_rates_for_the_hours():
    assert [each.what for each in demo().work] == list(WORK)
    for each in demo().work:
        assert work_for(demo(), each.what).hours > 0
        assert rate(demo(), each.persons).price > 0
    assert rate(demo(), 0).price > 0


def test_one_listing_is_half_filled_to_show_what_becomes_of_it():
    listings = [listing for each in demo().inputs for listing in each.lists]
    assert sorted({listing.read for listing in listings}) == [False, True]


def test_thresholds_are_a_quarter_and_three_quarters_of_the_supply():
    for each in demo().inputs:
        if each.below and each.above and each.supply:
            assert (each.below.pressed, each.above.open) == (each.supply / 4, each.supply * 3 / 4)


def test_it_is_read_once_and_loads_no_heavy_part():
    assert demo() is demo()
    code = "import sys; from sillwright.catalogue import demo; demo(); print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=240)
    assert not {"numpy", "numba", "pint", "openpyxl", "xlsxwriter", "django"} & set(loaded.stdout.split())


def test_who_asks_only_for_the_models_reads_no_file():
    code = "import sys, sillwright.catalogue; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=240)
    assert not {"yaml", "pycountry", "sillwright.catalogue.reading"} & set(loaded.stdout.split())
