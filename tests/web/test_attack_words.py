"""Words that somebody typed to harm or to mislead others: formulas in tables, signs that nobody sees."""

from __future__ import annotations

import csv
import io

import pytest
from django.urls import reverse

from sillwright.web.people.trail import plain
from sillwright.web.records.log import Refused
from sillwright.web.records.sites import make_opening, rename

from .conftest import World


@pytest.mark.parametrize(
    "name", ["=1+1", 'Yard";=1+1', "Yard;=1+1", 'Yard;"=1+1', "Yard|@x", "\uff1d1+1", "Yard; +1"]
)
def test_no_name_becomes_a_formula_whichever_sign_a_program_parts_cells_by(world: World, name: str) -> None:
    rename(world.site, name, author=world.people["owner"])
    table = world.client("owner").get(reverse("trail_table", args=[world.dealer.pk])).getvalue().decode()  # type: ignore[attr-defined]
    for parted in (",", ";", "\t", "|"):
        cells = [
            cell for line in csv.reader(io.StringIO(table.lstrip("\ufeff")), delimiter=parted) for cell in line
        ]
        assert not [cell for cell in cells if cell.lstrip(' "')[:1] in {"=", "+", "-", "@", "\uff1d"} and cell]


def test_plain_words_stay_as_they_are() -> None:
    words = ["Bay 1, north", "10 ft 6 in", "a-b; c", "2026-03-04T10:15:00+00:00"]
    assert plain(words) == words


def test_two_openings_whose_tags_look_alike_are_not_made(world: World) -> None:
    for tag in ("B1\u200b", "\u202dB1\u202c", "B\u00ad1", "\ufeffB1"):
        with pytest.raises(Refused, match="already"):
            make_opening(world.site, tag, author=world.people["technician"])


def test_a_name_turns_no_sentence_round(world: World) -> None:
    rename(world.site, "Yard \u202ednuor denrut", author=world.people["owner"])
    assert world.site.name == "Yard dnuor denrut"
    with pytest.raises(Refused, match="wanted"):
        rename(world.site, "\u200b\u202e", author=world.people["owner"])


def test_a_name_in_any_writing_is_kept(world: World) -> None:
    for name in (
        "\u0645\u062e\u0632\u0646 \u06f1",
        "\u5009\u5eab",
        "Tor f\u00fcr S\u00fcd",
        "\u0645\u06cc\u200c\u062e",
    ):
        rename(world.site, name, author=world.people["owner"])
        assert world.site.name == name
