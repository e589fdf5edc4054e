"""A survey file about a site that is there: what is new comes in, what differs stands beside what was known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db import transaction
from django.http import HttpRequest

from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.model import Survey
from sillwright.web.accounts.models import User
from sillwright.web.records.audit import id_of, record
from sillwright.web.records.log import Head, write_all
from sillwright.web.records.matching import Heads, list_and_member, matched, members, says_the_same
from sillwright.web.records.models import Fact, Opening, Site
from sillwright.web.records.sites import LONGEST_TAG, in_order, make_opening, name_of
from sillwright.web.records.surveys import Facts, facts_of, site_facts, standing

Place = tuple[Opening | None, str]
"""A fact by its path, or a member of a list; of the site itself where the opening is None."""


@dataclass
class Came:
    """What came of a file."""

    openings: list[Opening] = field(default_factory=list)  # new ones
    facts: int = 0  # that nothing was known of
    beside: list[Place] = field(default_factory=list)  # one reading more now stands beside what was known
    contradicting: list[Place] = field(default_factory=list)  # of these, what now says two things
    again: int = 0  # readings that were known as they are


@transaction.atomic
def take_in_more(
    site: Site, survey: Survey, *, author: User, device: str = "", request: HttpRequest | None = None
) -> Came:
    """Add what a file says to a site, all of it or nothing.

    Nothing is replaced. A reading that was known as it is adds nothing; a member of a list that the file leaves out
    is told to be gone, beside what tells of it. Raises :class:`Refused` where something cannot be kept.
    """
    taking = _Taking(site, author, device, request)
    record(request, "file taken in", "", who=author, organisation=site.organisation, site=site)
    taking.add(None, (each for each in entries_of(survey.site, "site") if each.path != "site.name"))
    there = {each.tag: each for each in site.openings.all()}
    for about in survey.openings:
        tag = name_of(str(about.tag.value), LONGEST_TAG)
        if tag not in there:
            there[tag] = make_opening(site, tag, author=author, request=request)
            taking.came.openings.append(there[tag])
        taking.add(there[tag], (each for each in entries_of(about) if each.path != "tag"))
    return taking.came


@dataclass
class _Taking:
    site: Site
    author: User
    device: str
    request: HttpRequest | None
    came: Came = field(default_factory=Came)

    def add(self, opening: Opening | None, entries: Iterable[Entry]) -> None:
        heads = standing(Fact.objects.filter(site=self.site, opening=opening).order_by("pk"))
        told = matched(entries, heads)
        wanted, new, beside = [], set(), dict[str, None]()
        for each in [*told, *_left_out(told, heads)]:
            here = heads.get(each.path, ())
            if any(_known(each, head) for head in here) or (here and each.says == "unknown"):
                self.came.again += 1
                continue
            wanted.append(each)
            if each.says == "removed" or any(head.says != "unknown" for head in here):
                beside[each.path] = None
            else:
                new.add(each.path)
        if not wanted:
            return
        said = in_order(wanted, self.device, opening.tag if opening else "")
        write_all(self.site, opening, said, author=self.author, request=id_of(self.request))
        self.came.facts += len(new)
        self.came.beside += [(opening, path) for path in beside]
        self.came.contradicting += [(opening, path) for path in self._contradicting(opening, {*_paths(wanted)})]

    def _contradicting(self, opening: Opening | None, written: set[str]) -> list[str]:
        """Facts, and lists as a whole, that the file made say two things."""
        facts: Facts = facts_of(opening) if opening else site_facts(self.site)
        rebuilt = facts.rebuilt
        about = rebuilt.survey.openings[0] if opening else rebuilt.survey.site
        found = [listing.path for _, listing in about.listings() if listing.standing == "two readings"]
        found += [rebuilt.named(fact.path) for _, fact in about.facts() if fact.standing == "two readings"]
        return [path for path in found if path in written]


def _paths(entries: Iterable[Entry]) -> Iterable[str]:
    """The facts that entries speak of, and the lists that they go into."""
    for each in entries:
        yield each.path
        yield list_and_member(each.path)[0]


def _known(entry: Entry, head: Head) -> bool:
    """Whether a reading adds nothing to one that stands: it agrees, and is no better founded."""
    founded = entry.origin not in {None, "assumed"} and head.origin in {"", "assumed"}
    return says_the_same(entry, head) and not founded


def _left_out(told: Iterable[Entry], heads: Heads) -> list[Entry]:
    """Members that are known and that a list of the file, which is complete, does not have."""
    named = members(each.path for each in told if each.origin != "assumed")
    return [
        Entry(path=f"{listed}.{key}", says="removed")
        for listed, keys in members(heads).items()
        for key in keys
        if listed in named and key not in named[listed]
    ]
