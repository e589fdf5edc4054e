"""A paper that says that a leaf may close, in somebody's hand when that is not so any more."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from sillwright.web.records.links import make_link
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Paper
from sillwright.web.records.papers import make_paper

from .conftest import World
from .test_papers_made import US, _folder, paper_of  # noqa: F401 (each test has a folder of its own)

pytestmark = pytest.mark.usefixtures("_folder")
WARNED = "Facts were written down after this paper was made."


def _dead(world: World, **where: Any) -> None:
    opening = where.get("opening", world.opening)
    write(world.site, opening, Said(**where.get("said", {"fact": "protection.e1.state", "typed": "dead"})),
          author=world.people["technician"])  # fmt: skip


def _shared(world: World, paper: Paper) -> str:
    token = make_link(paper, 30, by=world.people["owner"])[1]
    return Client().get(reverse("shared", args=[token])).content.decode()


def test_who_opens_a_link_is_told_that_facts_were_written_after_the_paper(world: World) -> None:
    paper = paper_of(world)
    assert WARNED not in _shared(world, paper)
    _dead(world)
    assert WARNED in _shared(world, paper)


def test_facts_of_the_site_itself_count_and_those_of_another_door_do_not(world: World) -> None:
    paper = paper_of(world)
    _dead(world, opening=world.site.openings.get(tag="D4"), said={"fact": "use.children", "typed": "yes"})
    assert WARNED not in _shared(world, paper)
    _dead(world, opening=None, said={"fact": "site.coldest", "typed": "1 degF"})
    assert WARNED in _shared(world, paper)


def test_the_list_of_papers_says_which_are_older_than_the_facts(world: World) -> None:
    paper_of(world)
    address, client = reverse("papers", args=[world.opening.pk]), world.client("technician")
    assert "Older than the facts" not in client.get(address).content.decode()
    _dead(world)
    assert "Older than the facts" in client.get(address).content.decode()


def test_a_paper_made_anew_is_no_older_than_the_facts_even_where_it_says_the_same(world: World) -> None:
    first = paper_of(world)
    _dead(world, said={"fact": "use.observed.by", "typed": "nobody whom the elevation names"})
    again = make_paper("elevation", world.site, world.opening, by=world.people["owner"], reader=US)
    assert again.digest == first.digest
    assert WARNED not in _shared(world, again)
