"""The pages of an organisation's catalogue: its versions, a new one, a version as a file."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.words import Reader, retold
from sillwright.catalogue import Catalogue, demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.web.accounts.members import membership_of
from sillwright.web.accounts.models import Membership
from sillwright.web.accounts.roles import MAY
from sillwright.web.answers.files import as_file
from sillwright.web.orders.catalogues import bring, newest_of, read
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_at
from sillwright.web.records.log import Refused

MOST_SHOWN = 100  # mistakes
COUNTED = (
    ("profiles", gettext_lazy("edge profiles")),
    ("channels", gettext_lazy("channels")),
    ("cords", gettext_lazy("coiled cords")),
    ("reels", gettext_lazy("reels")),
    ("radios", gettext_lazy("radio links")),
    ("converters", gettext_lazy("converters")),
    ("devices", gettext_lazy("eyes, curtains, sensors, loops")),
    ("inputs", gettext_lazy("inputs of operators")),
    ("work", gettext_lazy("pieces of work with their hours")),
)


class Unusable(Exception):
    """A file that cannot be brought: what is wrong with it, line by line."""

    def __init__(self, words: str, mistakes: tuple[Mistake, ...] = ()) -> None:
        super().__init__(words)
        self.mistakes = mistakes


@require_http_methods(["GET", "HEAD", "POST"])
def catalogue(request: HttpRequest, id: UUID) -> HttpResponse:
    """The versions of an organisation's catalogue; a post brings a new one."""
    mine = membership_of(person(request), id)
    may_bring = mine.role in MAY["manage"]
    told: dict[str, Any] = {}
    if request.method == "POST":
        if not may_bring:
            raise PermissionDenied
        told = _brought(request, mine)
        if not told:
            return redirect("catalogue", id=id)
    newest = newest_of(mine.organisation)
    told |= {
        "organisation": mine.organisation,
        "may_bring": may_bring,
        "newest": newest,
        "counts": _counts(read(newest)) if newest else [],
        "versions": CatalogueVersion.objects.filter(organisation=mine.organisation).select_related("by"),
    }
    return render(request, "orders/catalogue_page.html", told, status=422 if "wrong" in told else 200)


def _brought(request: HttpRequest, mine: Membership) -> dict[str, Any]:
    """Keep what was brought; what is wrong with it, where it cannot be kept."""
    try:
        made = bring(mine.organisation, _catalogue_in(request), person(request), request=request)
    except (Unusable, Refused) as error:
        mistakes: tuple[Mistake, ...] = getattr(error, "mistakes", ())
        reader = _reader(request)
        return {
            "wrong": str(error),
            "mistakes": [_in_words(each, reader) for each in mistakes[:MOST_SHOWN]],
            "more": max(0, len(mistakes) - MOST_SHOWN),
        }
    messages.success(request, _("Version %(number)s counts from now on.") % {"number": made.number})
    return {}


def _catalogue_in(request: HttpRequest) -> Catalogue:
    """The catalogue in an uploaded file, or the invented one where that is asked for. Raises :class:`Unusable`."""
    if request.POST.get("take") == "demo":
        return demo()
    file = request.FILES.get("file")
    if file is None:
        raise Unusable(_("Choose a catalogue file first: YAML, JSON or XLSX, at most 2 MB."))
    try:
        return catalogue_of(file.read(), str(file.name or "")[:80])
    except DocumentError as error:
        raise Unusable(_("This file was not taken in; nothing was changed."), error.mistakes) from None
    except InputError as error:
        raise Unusable(error.in_words(_reader(request))) from None


def _reader(request: HttpRequest) -> Reader:
    return reader_at("US", person(request).units, person(request).language)


def _in_words(each: Mistake, reader: Reader) -> dict[str, Any]:
    words = {name: retold(getattr(each, name), reader) for name in ("message", "got", "accepted")}
    return {"line": each.line, "path": each.path, **words}


def _counts(held: Catalogue) -> list[tuple[int, str]]:
    return [(len(getattr(held, name)), str(words)) for name, words in COUNTED if getattr(held, name)]


@require_safe
def catalogue_file(request: HttpRequest, id: UUID, number: int) -> HttpResponse:
    """One version as the file that it is."""
    mine = membership_of(person(request), id)
    found = CatalogueVersion.objects.filter(organisation=mine.organisation, number=number).first()
    if found is None:
        raise Http404
    return as_file(found.content.encode(), "application/yaml", f"catalogue-{found.number}.yaml")
