"""Survey files out: YAML with every reading, a spreadsheet of what fits in rows, and the empty spreadsheet."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.paper.writing import slug
from sillwright.survey.as_text import survey_text
from sillwright.survey.entries import Entry
from sillwright.survey.filled import filled_workbook
from sillwright.survey.template import template
from sillwright.web.answers.files import as_file
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_at, reader_for
from sillwright.web.records.log import Head
from sillwright.web.records.models import Fact, Site
from sillwright.web.records.seen import fetched

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def entries_in(site: Site) -> tuple[list[Entry], dict[str, list[Entry]]]:
    """What is known of a site, and of its openings by tag, in walking order."""
    tags = {each.pk: each.tag for each in site.openings.filter(put_away=None)}
    of_site: list[Entry] = []
    openings: dict[str, list[Entry]] = {tag: [] for tag in tags.values()}
    for fact in Fact.objects.filter(site=site).order_by("pk"):
        told = [Head(**each).entry(fact.path) for each in fact.heads]
        if fact.opening_id is None:
            of_site += told
        elif fact.opening_id in tags:
            openings[tags[fact.opening_id]] += told
    return of_site, openings


@require_safe
def site_survey(request: HttpRequest, id: UUID) -> HttpResponse:
    """The site as a survey file."""
    site = fetched(Site.objects.all(), request.user, id)
    head = _("%(name)s, written on %(day)s.") % {"name": site.name, "day": date.today().isoformat()}
    text = survey_text(site.name, site.country, *entries_in(site), head=head)
    return as_file(text.encode(), "application/yaml", f"{slug(site.name)}.yaml", download=True)


@require_safe
def site_sheet(request: HttpRequest, id: UUID) -> HttpResponse:
    """The site as a spreadsheet, one opening a row."""
    site = fetched(Site.objects.all(), request.user, id)
    units = reader_for(person(request), site).units
    content = filled_workbook(site.name, site.country, *entries_in(site), units=units)
    return as_file(content, WORKBOOK, f"{slug(site.name)}.xlsx", download=True)


@require_safe
def survey_template(request: HttpRequest) -> HttpResponse:
    """The spreadsheet to fill in."""
    reader = reader_at("US", person(request).units)
    return as_file(template(reader.units), WORKBOOK, "openings.xlsx", download=True)
