"""Surveys from the table of facts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q

from sillwright.survey.entries import Entry, Rebuilt, survey_from_entries
from sillwright.web.records.log import Head
from sillwright.web.records.models import Fact, Opening, Site


@dataclass(frozen=True)
class Facts:
    """The facts of one opening and of its site, and the survey they make."""

    rebuilt: Rebuilt
    heads: dict[str, tuple[Head, ...]]  # by path, oldest first


def facts_of(opening: Opening) -> Facts:
    """What is known of an opening."""
    heads = standing(Fact.objects.filter(Q(opening=opening) | Q(site=opening.site_id, opening=None)).order_by("pk"))
    entries = [head.entry(path) for path, told in heads.items() for head in told]
    here = [each for each in entries if not each.path.startswith("site.")]
    return Facts(_rebuilt(opening.site, {opening.tag: here}, entries), heads)


def site_facts(site: Site) -> Facts:
    """What is known of the site itself."""
    heads = standing(Fact.objects.filter(site=site, opening=None).order_by("pk"))
    entries = [head.entry(path) for path, told in heads.items() for head in told]
    return Facts(_rebuilt(site, {}, entries), heads)


def survey_of(site: Site, openings: Iterable[Opening]) -> Rebuilt:
    """The survey of a site with some of its openings, in their order."""
    of_site, told = entries_of_site(site, openings)
    return _rebuilt(site, told, of_site)


def entries_of_site(site: Site, openings: Iterable[Opening]) -> tuple[list[Entry], dict[str, list[Entry]]]:
    """What stands of a site, and of some of its openings by tag, in their order."""
    wanted = list(openings)
    told: dict[object, list[Entry]] = {None: [], **{each.pk: [] for each in wanted}}
    rows = list(Fact.objects.filter(site=site).order_by("pk"))
    gone = _replaced(rows)
    for row in rows:
        if row.opening_id in told:
            told[row.opening_id] += [Head(**each).entry(row.path) for each in row.heads if each["id"] not in gone]
    return told[None], {each.tag: told[each.pk] for each in wanted}


def standing(facts: Iterable[Fact]) -> dict[str, tuple[Head, ...]]:
    """The readings that stand, by the path of their fact; those that another fact's observation replaces do not."""
    rows = list(facts)
    gone = _replaced(rows)
    heads = {row.path: tuple(Head(**each) for each in row.heads if each["id"] not in gone) for row in rows}
    return {path: told for path, told in heads.items() if told}


def _replaced(rows: Iterable[Fact]) -> set[str]:
    """What an observation of another fact replaces: a member that was taken away takes its facts along."""
    return {name for row in rows for name in row.awaited}


def _rebuilt(site: Site, openings: dict[str, list[Entry]], of_site: list[Entry]) -> Rebuilt:
    return survey_from_entries(site.name, of_site, openings, site.country)
