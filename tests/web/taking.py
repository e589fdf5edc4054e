"""What the tests of taking share: sending as a page does, and reading what a page holds."""

from __future__ import annotations

import re
import uuid
from html import unescape
from typing import Any

import pytest
from django.test import Client

from sillwright.web.records.log import Head
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.surveys import facts_of, site_facts

from .conftest import World


@pytest.fixture(autouse=True)
def quick_studies(monkeypatch: pytest.MonkeyPatch) -> None:
    """The band of the contact from few points: what is asked and said does not hang on them."""
    monkeypatch.setattr("sillwright.web.taking.facts.POINTS", 16)


def opening_of(world: World, tag: str) -> Opening:
    """The opening with this tag."""
    return world.site.openings.get(tag=tag)


def address(opening: Opening, name: str = "facts") -> str:
    """The address of a page of an opening."""
    return f"/openings/{opening.pk}/{name}/"


def heads(opening: Opening, path: str) -> tuple[Head, ...]:
    """The readings of a fact that stand."""
    return facts_of(opening).heads.get(path, ())


def seen(opening: Opening, path: str) -> str:
    """What a page shows of a fact, as a form sends it."""
    return ",".join(head.id for head in heads(opening, path))


def site_seen(site: Site, path: str) -> str:
    """The same of a fact of the site."""
    return ",".join(head.id for head in site_facts(site).heads.get(path, ()))


def say(client: Client, opening: Opening, fact: str, **more: Any) -> Any:
    """Send a form about a fact as its card does."""
    data = {"id": str(uuid.uuid4()), "fact": fact, "seen": seen(opening, fact), **more}
    return client.post(address(opening, "say"), data)


def say_json(client: Client, opening: Opening, fact: str, **more: Any) -> Any:
    """Send the same as a page does that goes on without loading anew."""
    data = {"id": str(uuid.uuid4()), "fact": fact, "seen": seen(opening, fact), **more}
    return client.post(address(opening, "say"), data, content_type="application/json")


def words(response: Any) -> str:
    """What a page says, without its markup."""
    text = re.sub(r"<(script|style|template|svg)\b.*?</\1>", " ", response.content.decode(), flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())


def card_of(response: Any, path: str) -> str:
    """The markup of one card of a page."""
    text = response.content.decode()
    start = text.index(f'id="f-{path}"')
    ends = [at for mark in ('id="f-', 'id="s-', 'id="thumb"') if (at := text.find(mark, start + 5)) > 0]
    return text[start : min(ends, default=len(text))]
