"""What is taken down: an opening, or a site's own facts. Both are shown and written by the same pages."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any
from uuid import UUID

from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from sillwright.base.fact import Fact
from sillwright.base.words import Reader
from sillwright.survey.entries import survey_from_entries
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.spec import Spec
from sillwright.web.accounts.roles import Deed
from sillwright.web.prepared import Prepared
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Head
from sillwright.web.records.models import Opening, Photo, Question, Site
from sillwright.web.records.seen import allowed, fetched
from sillwright.web.records.surveys import Facts, facts_of, site_facts
from sillwright.web.taking.lists import MemberList, list_of

Known = tuple[Spec, Fact[Any]]


@dataclass
class Subject:
    """An opening with its site, or a site alone, as one person reads it."""

    site: Site
    opening: Opening | None
    may_write: bool
    reader: Reader
    author: str
    _facts: Facts | None = field(default=None, repr=False)

    @cached_property
    def facts(self) -> Facts:
        """What is known now."""
        return facts_of(self.opening) if self.opening else site_facts(self.site)

    def again(self) -> None:
        """Forget what was read; something was written."""
        self.__dict__.pop("facts", None)
        self.__dict__.pop("known", None)

    @property
    def about(self) -> OpeningFacts | None:
        """The facts of the opening as a survey has them."""
        openings = self.facts.rebuilt.survey.openings
        return openings[0] if openings else None

    @cached_property
    def known(self) -> Mapping[str, Known]:
        """Every fact there is, by the path under which it is written."""
        rebuilt = self.facts.rebuilt
        group = self.about or rebuilt.survey.site
        return {rebuilt.named(fact.path): (spec, fact) for spec, fact in group.facts()}

    def fact(self, path: str) -> Fact[Any]:
        """What the readings of one fact come to."""
        if path in self.known:
            return self.known[path][1]
        listed, key = list_of(path)
        if listed is None or path not in self.facts.heads:
            return Fact(path=path)
        return self._apart(f"{listed.name}.{key}.", path)

    def _apart(self, member: str, path: str) -> Fact[Any]:
        """A fact of a member whose list is in dispute: read as if the member were there."""
        entries = [
            head.entry(name) for name, told in self.facts.heads.items() if name.startswith(member) for head in told
        ]
        rebuilt = survey_from_entries("-", [], {"-": entries})
        found = {rebuilt.named(fact.path): fact for _, fact in rebuilt.survey.openings[0].facts()}
        return found.get(path, Fact(path=path))

    def heads(self, path: str) -> tuple[Head, ...]:
        """The readings of one fact that stand."""
        return self.facts.heads.get(path, ())

    def before(self, path: str) -> str:
        """The readings of one fact that stand as they were written, as JSON; empty where there are none."""
        told = [each.as_json() for each in self.heads(path)]
        return json.dumps(told, ensure_ascii=False) if told else ""

    def members(self, listed: MemberList | str) -> tuple[str, ...]:
        """The keys of a list's members, in the order in which they were written."""
        prefix = f"{listed if isinstance(listed, str) else listed.name}."
        keys = (
            name.removeprefix(prefix).partition(".")[0]
            for name in self.facts.heads
            if name.startswith(prefix) and name.count(".") > prefix.count(".")
        )
        return tuple(dict.fromkeys(keys))

    @cached_property
    def photos(self) -> Mapping[str, Sequence[Photo]]:
        """The photos of the opening by the fact that they are evidence of, newest first."""
        found: dict[str, list[Photo]] = {}
        for each in Photo.objects.filter(opening=self.opening, state="kept").exclude(fact="").order_by("-taken"):
            found.setdefault(each.fact, []).append(each)
        return found

    @cached_property
    def questions(self) -> Mapping[str, Question]:
        """The question about each fact of the opening that was asked last and not withdrawn."""
        rows = Question.objects.filter(opening=self.opening, withdrawn=None).select_related("by", "to", "answer")
        return {each.fact: each for each in rows.order_by("received", "id")}

    @property
    def kind(self) -> str | None:
        """The kind of leaf."""
        return self.about.door.kind.value if self.about else None

    @property
    def key(self) -> UUID:
        """The key of what is taken down."""
        return self.opening.pk if self.opening else self.site.pk

    def address(self, name: str, *more: object) -> str:
        """The address of a page about it: ``facts``, ``fact``, ``say``, ``read_back``, ``group``, ``list``."""
        return reverse(name if self.opening else f"site_{name}", args=[self.key, *more])

    @property
    def say_address(self) -> str:
        """Where an observation is sent."""
        return self.address("say")

    @property
    def drawn_address(self) -> str:
        """Where the card of a fact is drawn anew."""
        return self.address("drawn")

    @property
    def read_address(self) -> str:
        """Where a text is read back."""
        return self.address("read_back")

    @property
    def today(self) -> str:
        """The day of the server; a page puts the day of its device there."""
        return timezone.localdate().isoformat()


_OPENING = Prepared(Opening, ["id"], "site")


def opening_subject(request: HttpRequest, key: UUID, deed: Deed = "read") -> Subject:
    """The opening with this key, for a deed; a stranger gets 404, a reader who writes 403."""
    opening = allowed(_OPENING.get(key), request.user, deed)
    return Subject(opening.site, opening, opening.may_write, reader_of(request, opening.site), _name(request))


def site_subject(request: HttpRequest, key: UUID, deed: Deed = "read") -> Subject:
    """The site with this key, for a deed; a stranger gets 404, a reader who writes 403."""
    site = fetched(Site.objects.all(), request.user, key, deed)
    return Subject(site, None, site.may_write, reader_of(request, site), _name(request))


def reader_of(request: HttpRequest, site: Site) -> Reader:
    """How the person reads at a site."""
    return reader_for(request.user, site, request.session.get("units", ""))  # type: ignore[arg-type]


def _name(request: HttpRequest) -> str:
    return str(request.user)
