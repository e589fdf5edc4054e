"""Survey files out: YAML with every reading, a spreadsheet of what fits in rows, and the empty spreadsheet."""

from __future__ import annotations

from datetime import date
from functools import partial
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.words import translate
from sillwright.paper.writing import slug
from sillwright.survey.as_text import survey_text
from sillwright.survey.entries import Entry
from sillwright.survey.filled import filled_workbook
from sillwright.survey.template import template
from sillwright.web.answers.files import as_file
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_at, reader_for
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.surveys import entries_of_site

WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def entries_in(site: Site) -> tuple[list[Entry], dict[str, list[Entry]]]:
    """What stands of a site, and of its openings by tag, in walking order; without what is put away."""
    return entries_of_site(site, site.openings.filter(put_away=None))


@require_safe
def site_survey(request: HttpRequest, id: UUID) -> HttpResponse:
    """The site as a survey file."""
    site = fetched(Site.objects.all(), request.user, id)
    words = partial(translate, reader=reader_for(person(request), site))
    head = _("%(name)s, written on %(day)s.") % {"name": site.name, "day": date.today().isoformat()}
    text = survey_text(site.name, site.country, *entries_in(site), head=head, translate=words)
    return as_file(text.encode(), "application/yaml", f"{slug(site.name)}.yaml", download=True)


@require_safe
def site_sheet(request: HttpRequest, id: UUID) -> HttpResponse:
    """The site as a spreadsheet, one opening a row."""
    site = fetched(Site.objects.all(), request.user, id)
    reader = reader_for(person(request), site)
    words = partial(translate, reader=reader)
    content = filled_workbook(site.name, site.country, *entries_in(site), units=reader.units, translate=words)
    return as_file(content, WORKBOOK, f"{slug(site.name)}.xlsx", download=True)


@require_safe
def survey_template(request: HttpRequest) -> HttpResponse:
    """The spreadsheet to fill in."""
    reader = reader_at("US", person(request).units, person(request).language)
    content = template(reader.units, partial(translate, reader=reader))
    return as_file(content, WORKBOOK, "openings.xlsx", download=True)
