"""Writing to the log of observations: observation, current value and audit line in one transaction."""

from __future__ import annotations

import json
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import connection, transaction
from django.db.models import UUIDField
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.errors import UnknownName
from sillwright.base.fact import ORIGINS
from sillwright.survey.entries import SAYS, Entry
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.model import Site as SiteFacts
from sillwright.survey.questions import spec_at
from sillwright.survey.spec import ID, Group, GroupSpec
from sillwright.web.accounts.models import User
from sillwright.web.prepared import Prepared
from sillwright.web.records.audit import digest
from sillwright.web.records.merge import Register
from sillwright.web.records.models import LONGEST_PATH, LONGEST_TYPED, Event, Fact, Observation, Opening, Site
from sillwright.web.records.text import unkept

MOST_REPLACED = 60
MOST_HEADS = 200  # readings of one fact that stand side by side
AHEAD = timedelta(days=1)  # a clock further ahead than this is set to ours


@dataclass(frozen=True, kw_only=True)
class Head:
    """An observation as a fact keeps it: enough to show it and to study it without the log."""

    id: str
    says: str
    typed: str = ""
    origin: str = ""
    by: str = ""
    on: str = ""
    evidence: str = ""
    author: str = ""  # in words
    at: str = ""
    replaces: tuple[str, ...] = field(default=(), compare=False)

    def as_json(self) -> dict[str, str]:
        """What the table of facts holds."""
        return {name: value for name, value in vars(self).items() if name != "replaces" and value}

    @property
    def told(self) -> str:
        """The same as a line of JSON, for a page that goes on without a signal."""
        return json.dumps(self.as_json(), ensure_ascii=False)

    def entry(self, path: str) -> Entry:
        """What it says, as a survey takes it."""
        return Entry(
            path=path,
            says=self.says,  # type: ignore[arg-type]
            typed=self.typed,
            origin=self.origin or None,  # type: ignore[arg-type]
            by=self.by or None,
            on=self.on or None,
            evidence=self.evidence or None,
        )


class Refused(Exception):
    """An observation that cannot be kept, with the reason in words."""


@dataclass(frozen=True, kw_only=True)
class Said:
    """An observation as it comes in. ``id`` and ``at`` are made where it is written."""

    fact: str
    says: str = "value"
    typed: str = ""
    origin: str = ""
    by: str = ""
    on: str = ""
    evidence: str = ""
    device: str = ""
    id: uuid.UUID = field(default_factory=uuid.uuid4)
    at: datetime = field(default_factory=timezone.now)
    replaces: tuple[str, ...] = ()

    @classmethod
    def of(cls, entry: Entry, **more: Any) -> Said:
        """An entry of a survey file as an observation."""
        return cls(
            fact=entry.path,
            says=entry.says,
            typed=entry.typed,
            origin=entry.origin or "",
            by=(entry.by or "")[:200],
            on=(entry.on or "")[:40],
            evidence=(entry.evidence or "")[:200],
            **more,
        )


def fits(name: str, words: str, most: int) -> None:
    """Nothing, where these words can be kept. Raises :class:`Refused` with the reason."""
    if len(words) > most:
        raise Refused(_("%(name)s: at most %(most)d signs are kept.") % {"name": name, "most": most})
    if sign := unkept(words):
        raise Refused(_("%(name)s: the sign %(sign)s cannot be kept.") % {"name": name, "sign": sign})


def by_our_clock(at: datetime) -> datetime:
    """A moment of a device's clock as it is kept: one that is far ahead is set to ours."""
    now = timezone.now()
    return min(at, now) if at > now + AHEAD else at


_WORDS = {"typed": LONGEST_TYPED, "by": 200, "on": 40, "evidence": 200, "device": 100}


def checked(said: Said, *, of_site: bool) -> Said:
    """The observation, where it can be kept as it is. A wrong value is kept: what was typed is never lost.

    Raises :class:`Refused` with the reason.
    """
    if said.says not in SAYS:
        raise Refused(_("“says” is one of value, unknown, none, removed."))
    if said.origin and said.origin not in ORIGINS:
        raise Refused(_("“from” is one of %(origins)s.") % {"origins": ", ".join(ORIGINS)})
    for name, most in _WORDS.items():
        fits(name, getattr(said, name), most)
    if said.says == "value" and not said.typed.strip():
        raise Refused(_("There is no value; for a fact that nobody knows say “unknown”."))
    if said.says != "value" and said.typed:
        raise Refused(_("Only a value carries what was typed."))
    if len(said.replaces) > MOST_REPLACED:
        raise Refused(_("More observations are replaced at once than a fact has."))
    _check_path(said, of_site)
    return said


def _check_path(said: Said, of_site: bool) -> None:
    path = said.fact
    if len(path) > LONGEST_PATH or path.startswith("site.") != of_site or path in {"tag", "site.name"}:
        raise Refused(_("This is no fact that is kept here."))
    place = place_of(path)
    fits = {
        "fact": said.says in {"value", "unknown", "none"},
        "list": said.says in {"unknown", "none"},
        "member": said.says == "removed",
    }
    if not fits.get(place, False):
        raise Refused(_("This is no fact that is kept here.") if not place else _("This cannot be said of it."))


def place_of(path: str) -> str:
    """What a path names: ``fact``, ``list`` or ``member``; empty where it names nothing of a survey.

    >>> place_of("door.kind"), place_of("protection"), place_of("protection.e1"), place_of("colour")
    ('fact', 'list', 'member', '')
    """
    try:
        spec_at(path)
    except UnknownName:
        group: type[Group] = SiteFacts if path.startswith("site.") else OpeningFacts
        return _group_at(group, path.removeprefix("site.").split("."))
    names = path.split(".")
    return "fact" if all(ID.fullmatch(name) for name in names) and names[-1] != "id" else ""


def _group_at(group: type[Group], names: list[str]) -> str:
    while names:
        spec = group.specs.get(names.pop(0))
        if not isinstance(spec, GroupSpec):
            return ""
        if spec.many and len(names) <= 1:
            return ("member" if ID.fullmatch(names[0]) else "") if names else "list"
        if spec.many:
            del names[:1]
        group = spec.group
    return ""


def write(site: Site, opening: Opening | None, said: Said, *, author: User, request: str = "") -> Observation:
    """Keep one observation. Writing the same one again changes nothing.

    Raises :class:`Refused` where it cannot be kept, or where its id is taken by another one.
    """
    return write_all(site, opening, [said], author=author, request=request)[0]


def write_all(
    site: Site, opening: Opening | None, all_said: Iterable[Said], *, author: User, request: str = ""
) -> list[Observation]:
    """Keep several observations of one opening, or of a site where ``opening`` is None, all or none."""
    wanted = [checked(each, of_site=opening is None) for each in all_said]
    with transaction.atomic():
        _locked(site, opening)
        known = _known([each.id for each in wanted])
        new: list[Observation] = []
        kept = []
        for each in wanted:
            made = _observation(site, opening, each, author)
            if (found := known.get(each.id)) is not None:
                _same(found, made)
            else:
                new.append(made)
                known[made.id] = made
            kept.append(known[each.id])
        if new:
            _keep(site, opening, new, author, request)
    return kept


def _locked(site: Site, opening: Opening | None) -> None:
    """One writer at a time for an opening, or for a site's own facts; SQLite has one for all."""
    table, key = ("records_opening", opening.pk) if opening else ("records_site", site.pk)
    with connection.cursor() as cursor:
        asked = [_KEY.get_db_prep_value(key, connection)]
        cursor.execute(f"UPDATE {table} SET revision = revision + 1 WHERE id = %s", asked)  # noqa: S608 - of two names


_KEY = UUIDField()
_BY_ID = Prepared(Observation, ["id"])
_FACT = Prepared(Fact, ["opening", "path"])


def _known(keys: list[uuid.UUID]) -> dict[uuid.UUID, Observation]:
    """Those of the observations that were kept before. One alone is what a person writes, and asked for at once."""
    if len(keys) == 1:
        found = _BY_ID.get(keys[0])
        return {found.id: found} if found else {}
    return Observation.objects.in_bulk(keys)


def _facts(site: Site, opening: Opening | None, paths: set[str]) -> dict[str, Fact]:
    if opening is not None and len(paths) == 1:
        found = _FACT.get(opening.pk, *paths)
        return {found.path: found} if found else {}
    return {each.path: each for each in Fact.objects.filter(site=site, opening=opening, path__in=paths)}


def _observation(site: Site, opening: Opening | None, said: Said, author: User) -> Observation:
    now = timezone.now()
    at = said.at if said.at.tzinfo else said.at.replace(tzinfo=UTC)
    return Observation(
        id=said.id,
        site=site,
        opening=opening,
        fact=said.fact,
        says=said.says,
        typed=said.typed,
        origin=said.origin,
        by=said.by,
        on=said.on,
        evidence=said.evidence,
        author=author,
        device=said.device,
        at=by_our_clock(at),
        received=now,
        replaces=sorted(set(said.replaces)),
    )


_ALIKE = (
    "site_id",
    "opening_id",
    "fact",
    "says",
    "typed",
    "origin",
    "by",
    "on",
    "evidence",
    "author_id",
    "replaces",
)


def _same(found: Observation, again: Observation) -> None:
    if any(getattr(found, name) != getattr(again, name) for name in _ALIKE):
        raise Refused(_("Another observation has this id."))


def _keep(site: Site, opening: Opening | None, new: list[Observation], author: User, request: str) -> None:
    Observation.objects.bulk_create(new)
    facts = _facts(site, opening, {each.fact for each in new})
    events = []
    for each in new:
        fact = facts.setdefault(each.fact, Fact(site=site, opening=opening, path=each.fact))
        before = digest(_in_a_line(fact.heads)) if fact.heads else ""
        register = register_of(fact).with_one(head_of(each, author.name))
        if len(register.heads) > MOST_HEADS:
            raise Refused(_("Too many readings of this fact stand side by side; settle them first."))
        fact.heads = [head.as_json() for head in register.heads]  # type: ignore[attr-defined]
        fact.awaited = sorted(register.awaited)
        events.append(
            Event(
                who=author,
                organisation_id=site.organisation_id,
                site=site,
                opening=opening,
                verb="observed",
                what=each.fact,
                before=before,
                after=digest(_in_a_line(fact.heads)),
                request=request,
            )
        )
    known = [each for each in facts.values() if each.pk]
    if len(known) < len(facts):
        Fact.objects.bulk_create([each for each in facts.values() if not each.pk])
    if len(known) == 1:
        known[0].save(update_fields=["heads", "awaited"])
    elif known:
        Fact.objects.bulk_update(known, ["heads", "awaited"], batch_size=200)
    Event.objects.bulk_create(events)


def _in_a_line(heads: list[Mapping[str, str]]) -> str:
    return "\n".join(f"{each['id']} {each['says']} {each.get('typed', '')}" for each in heads)


def head_of(observation: Observation, author: str) -> Head:
    """The observation as a fact keeps it."""
    return Head(
        id=str(observation.id),
        says=observation.says,
        typed=observation.typed,
        origin=observation.origin,
        by=observation.by,
        on=observation.on,
        evidence=observation.evidence,
        author=author,
        at=observation.at.astimezone(UTC).isoformat(timespec="microseconds"),
        replaces=tuple(observation.replaces),
    )


def register_of(fact: Fact) -> Register:
    """What the table holds of a fact, as the merge takes it."""
    return Register(tuple(Head(**each) for each in fact.heads), frozenset(fact.awaited))
