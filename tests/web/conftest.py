"""A small invented world: two organisations, a person of each role, a site with openings."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from django.test import Client
from pytest_django import DjangoDbBlocker

from sillwright.survey.reading import read_survey
from sillwright.web import counting
from sillwright.web.accounts.models import Membership, Organisation, User
from sillwright.web.answers import pages
from sillwright.web.pages.again import Again
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.sites import share, take_in

from .backups import kept
from .browser import Served, browsing, serving

__all__ = ["kept"]

ROOT = Path(__file__).parents[2]
_MINUTES = count(1)
PASSWORD = "four words at a door"  # of people who live in tests only


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """On a database of its own only what asks the database is run: nothing else comes to anything new there."""
    if "SILLWRIGHT_TEST_DATABASE" not in os.environ:
        return
    left = [each for each in items if not _asks_the_database(each)]
    items[:] = [each for each in items if _asks_the_database(each)]
    config.hook.pytest_deselected(items=left)


def _asks_the_database(item: pytest.Item) -> bool:
    fixtures = set(getattr(item, "fixturenames", ()))
    return bool(fixtures & {"db", "transactional_db"}) or item.get_closest_marker("django_db") is not None


def person(name: str, organisation: Organisation | None = None, role: str = "owner") -> User:
    """A person, and what the person is in an organisation."""
    user = User.objects.create_user(f"{name}@people.example", PASSWORD, name=name.title())
    if organisation:
        Membership.objects.create(user=user, organisation=organisation, role=role)
    return user


def signed_in(user: User | None) -> Client:
    """A browser in which this person is signed in; with CSRF enforced it would need tokens."""
    client = Client()
    if user:
        client.force_login(user)
    return client


@dataclass
class World:
    """Two organisations. The site is the first one's; the second one's people may do what it is shared for."""

    dealer: Organisation
    other: Organisation
    people: dict[str, User]  # owner, advisor, technician, reader; friend_… of the other organisation; stranger
    site: Site

    @property
    def opening(self) -> Opening:
        """The first opening of the site."""
        return self.site.openings.order_by("position")[0]

    def client(self, who: str | None) -> Client:
        """A browser of somebody; None for nobody."""
        return signed_in(self.people[who] if who else None)


@pytest.fixture(scope="session")
def django_db_setup(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> None:
    """The world is made once; every test gets it back as it was made."""
    with django_db_blocker.unblock():
        if not Organisation.objects.exists():
            _make_world()


def _make_world() -> None:
    dealer = Organisation.objects.create(name="Harbour Doors", kind="dealer")
    other = Organisation.objects.create(name="Pier Owners", kind="owner")
    people = {role: person(role, dealer, role) for role in ("owner", "advisor", "technician", "reader")}
    person("friend", other, "owner")
    person("stranger", Organisation.objects.create(name="Elsewhere"), "owner")
    survey = read_survey(ROOT / "examples" / "ferry-yard.yaml")
    site = take_in(dealer, survey, author=people["owner"])
    share(site, other, "read", author=people["owner"])


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A server of the invented world, one for the tests of a file."""
    with serving(tmp_path_factory.mktemp("served")) as found:
        yield found


@pytest.fixture(scope="module")
def browser(served: Served) -> Iterator[Any]:
    """A browser for the tests of a file."""
    with browsing() as found:
        yield found


@pytest.fixture(autouse=True)
def _no_page_of_another_test(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test's database is rolled back, so that another one counts the same revisions anew."""
    monkeypatch.setattr(pages, "_PAGES", Again("answers/opening_page.html"))


@pytest.fixture(autouse=True)
def _a_minute_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is counted by the minute is counted in one, however slow the machine is, and not with another test's."""
    minute = next(_MINUTES) * counting.MINUTE
    monkeypatch.setattr(counting, "time", SimpleNamespace(time=lambda: minute))


@pytest.fixture
def world(db: None) -> World:
    """The invented world, with the example site taken in and shared for reading with the other organisation."""
    people = {user.email.partition("@")[0]: user for user in User.objects.all()}
    organisations = {each.name: each for each in Organisation.objects.all()}
    return World(organisations["Harbour Doors"], organisations["Pier Owners"], people, Site.objects.get())
