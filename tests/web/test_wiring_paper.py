"""The wiring sheet among the papers that the pages make."""

from __future__ import annotations

from pathlib import Path

import pytest

from sillwright.base.words import Reader
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Paper
from sillwright.web.records.papers import content_of, make_paper

from .conftest import World


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, settings: object) -> None:
    """Each test keeps its papers in a folder of its own."""
    storages = {**settings.STORAGES}  # type: ignore[attr-defined]
    storages["default"] = {**storages["default"], "OPTIONS": {"location": tmp_path}}
    settings.STORAGES = storages  # type: ignore[attr-defined]


def test_an_opening_has_a_wiring_sheet(world: World) -> None:
    opening = world.site.openings.get(tag="B1")
    paper = make_paper("wiring", world.site, opening, by=world.people["technician"], reader=Reader())
    assert content_of(paper).startswith(b"%PDF-")
    assert (paper.name, paper.media) == ("lanternfield-ferry-yard-b1-wiring.pdf", "application/pdf")


def test_the_page_makes_it_at_the_press_of_a_button(world: World) -> None:
    address = f"/openings/{world.site.openings.get(tag='B1').pk}/papers/"
    client = world.client("technician")
    assert 'value="wiring"' in client.get(address).content.decode()
    assert client.post(address, {"kind": "wiring"}).status_code == 302
    assert Paper.objects.get().kind == "wiring"


def test_a_site_as_a_whole_has_none(world: World) -> None:
    with pytest.raises(Refused):
        make_paper("wiring", world.site, None, by=world.people["technician"], reader=Reader())
