"""Cut lists of a van of sites: each piece says whose it is; rolls come in, factory-sealed edges never do."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from sillwright.base.errors import OutOfRange
from sillwright.base.words import Sentence
from sillwright.catalogue import demo
from sillwright.catalogue._demo import demo_text
from sillwright.catalogue.profile import Price
from sillwright.cli.main import sillwright
from sillwright.study.cut_lists import KERF, Wanted, cut_lists, in_none, labelled, unsettled
from sillwright.takeoff.answer import Block, ChannelAdvice

from ..takeoff.ordering.orders import body, take_off

WORDS = Sentence("Because.")
ROLLED = "Edge class B, cut on site"
FT = 0.3048


def door(*, profile: str | None = ROLLED, rail: tuple[float, ...] = (), **changes: float):
    """The take-off of a door with one body, and a new channel where there are pieces of one."""
    kind = ChannelAdvice(kind="face_fixed", why=WORDS, part="Channel class F", pieces=rail) if rail else None
    found = take_off(replace(body(), **changes), profile=profile)
    return replace(found, channel=kind) if kind else replace(found, channel=replace(found.channel, part=None))


def of(**doors):
    return labelled([("Quay", list(doors.items()))])


def test_pieces_of_one_site_are_called_by_their_opening_and_of_several_by_site_too():
    assert [each.label for each in of(B1=door())] == ["B1"]
    two = labelled([("Quay", [("B1", door())]), ("Yard", [("B1", door())])])
    assert [each.label for each in two] == ["Quay: B1", "Yard: B1"]


def test_two_sites_of_one_name_are_told_apart():
    two = labelled([("Quay", [("B1", door())]), ("Quay", [("B1", door())]), ("Yard", [])])
    assert [each.label for each in two] == ["Quay (1): B1", "Quay (2): B1"]


def test_a_van_shares_bars_between_its_sites():
    apart = [labelled([(name, [("B1", door(profile=None, rail=(1.8,)))])]) for name in ("Quay", "Yard")]
    (one,) = cut_lists(labelled([("Quay", [("B1", door(profile=None, rail=(1.8,)))]),
                                 ("Yard", [("B1", door(profile=None, rail=(1.8,)))])]), demo())  # fmt: skip
    (bar,) = one.result.bars
    assert [cut.label for cut in bar.cuts] == ["Quay: B1", "Yard: B1"]
    assert one.result.cost < sum(cut_lists(each, demo())[0].result.cost for each in apart)
    assert one.result.case.kerf == KERF


def test_a_body_that_is_cut_on_site_comes_from_the_roll_with_an_inch_more_and_two_percent_left():
    (found,) = cut_lists(of(B1=door(body=24 * FT), B2=door(body=24 * FT)), demo())
    assert (found.name, found.rolled, found.pieces) == (ROLLED, True, 2)
    assert found.result.case.kerf == pytest.approx(0.0254)
    assert found.result.case.trim_end == pytest.approx(2 * FT)
    (roll,) = found.result.bars
    assert roll.length == pytest.approx(100 * FT)  # 48 ft and their inch leave no two feet of 50
    assert found.result.cost == pytest.approx(15 * 100)


def test_what_just_fits_a_roll_is_cut_from_it():
    (found,) = cut_lists(of(B1=door(body=23.9 * FT), B2=door(body=23.9 * FT)), demo())
    assert [round(bar.length / FT) for bar in found.result.bars] == [50]


def test_pieces_and_several_edges_of_an_opening_are_all_cut():
    (found,) = cut_lists(of(B1=door(pieces=3, piece=2.0, body=6.01), B2=door(count=2, body=1.5)), demo())
    assert sorted(cut.length for bar in found.result.bars for cut in bar.cuts) == [1.5, 1.5, 2.0, 2.0, 2.0]


@pytest.mark.parametrize(
    "found",
    [door(profile="Edge class B"), door(profile=None), door(count=None), door(informs_only=True), door(body=None)],
    ids=["factory-sealed", "none chosen", "count unknown", "informs only", "length unknown"],
)
def test_what_is_not_cut_from_a_roll_is_in_no_list(found):
    assert cut_lists(of(B1=found), demo()) == ()
    assert in_none(of(B1=found, B2=door()), demo()) == ("B1",)


def test_a_roll_whose_lengths_nobody_entered_says_so():
    bare = tuple(replace(each, stock=()) for each in demo().profiles)
    (found,) = cut_lists(of(B1=door()), replace(demo(), profiles=bare))
    assert found.result is None
    assert "in which lengths it is sold" in found.why_not.template


def test_a_body_longer_than_every_roll_is_said():
    (found,) = cut_lists(of(B1=door(body=99 * FT)), demo())
    assert found.result is None
    assert "It cannot be cut" in found.why_not.template


def test_rolls_without_a_price_by_the_metre_are_counted_by_their_length():
    free = tuple(replace(each, price=Price(each=30.0)) if each.name == ROLLED else each for each in demo().profiles)
    (found,) = cut_lists(of(B1=door(body=3.0)), replace(demo(), profiles=free))
    assert found.result.cost == pytest.approx(50 * FT)


def test_a_factory_sealed_profile_has_no_rolls():
    sealed = next(each for each in demo().profiles if each.construction == "factory_sealed")
    with pytest.raises(OutOfRange, match="never cut"):
        replace(sealed, stock=(15.0,))


def test_what_something_stands_against_is_named():
    open_one = replace(door(), blocked=(Block(id="x", reason=WORDS, releases=WORDS),))
    assert unsettled(of(B1=door(), B2=open_one)) == ("B2",)
    assert cut_lists([Wanted(label="B1", take_off=door())], None) == ()


FILE = """format: sillwright-survey/1
site: {{name: {name}, country: US}}
openings:
  - tag: B1
    door:
      kind: sectional
      clear_width: {{value: 10 ft 4 in, from: measured}}
      clear_height: {{value: 10 ft, from: measured}}
      panel_width: {{value: 10 ft 6 in, from: measured}}
      side_room: {{left: 6 in, right: 6 in}}
      bottom: {{seat_width: 3 in, condition: rusted}}
"""


def test_the_command_takes_several_surveys_and_names_their_sites(tmp_path: Path):
    for name in ("Quay", "Yard"):
        (tmp_path / f"{name}.yaml").write_text(FILE.format(name=name))
    files = [str(tmp_path / "Quay.yaml"), str(tmp_path / "Yard.yaml")]
    (tmp_path / "catalogue.yaml").write_text(demo_text())
    ours = ["--catalogue", str(tmp_path / "catalogue.yaml")]
    done = CliRunner().invoke(sillwright, ["cut-list", *files, *ours])
    assert done.exit_code == 0, done.output
    assert "Quay: B1 10 ft 6 in" in done.output
    assert "Yard: B1 10 ft 6 in" in done.output
    assert "Something still stands against ordering" in done.output
    plain = CliRunner().invoke(sillwright, ["cut-list", *files, *ours, "--json"])
    assert plain.exit_code == 0
    assert '"label": "Yard: B1"' in plain.output
