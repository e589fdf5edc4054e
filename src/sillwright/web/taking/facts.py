"""Pages of facts: all of an opening or a site, a group, and one fact alone with its history."""

from __future__ import annotations

import uuid
from fractions import Fraction
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.dates import MONTHS
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_safe

from sillwright.base.words import render as in_words
from sillwright.web.records.answers import Studied, study_of
from sillwright.web.taking import history
from sillwright.web.taking.cards import Refusal, card
from sillwright.web.taking.groups import group_cards
from sillwright.web.taking.order import NOT_KEPT_HERE, Order, order, questions_of, site_cards, taken_down
from sillwright.web.taking.pictures import Pictures
from sillwright.web.taking.saying import is_fact
from sillwright.web.taking.subject import Subject, opening_subject, site_subject
from sillwright.web.taking.words import GROUPS

POINTS = 128  # of the band of the contact, which no page here shows: enough for what to measure next
FRACTIONS = tuple(str(Fraction(n, 16)) for n in range(1, 16))


@require_safe
def facts_page(request: HttpRequest, id: UUID) -> HttpResponse:
    """The facts of an opening as questions, in the order in which they matter."""
    subject = opening_subject(request, id)
    pictures = pictures_of(subject)
    studied = studied_of(subject)
    found = order(subject, studied, pictures)
    more = {
        "order": found,
        "headline": headline_of(subject, studied),
        "progress": progress_in_words(found.taken, found.matter),
        "groups": _groups(subject, found),
        "first_open": _first_open(found),
    }
    return page(request, "taking/facts_page.html", subject, pictures, more)


def _groups(subject: Subject, found: Order) -> list[tuple[str, Any, str]]:
    """The groups with their addresses; what the page has asked beside the questions is left out there."""
    beside = sorted(found.shown - set(questions_of(subject)))
    ending = f"?{urlencode({'without': ','.join(beside)})}" if beside else ""
    return [
        (name, title, reverse("facts_group", args=[subject.key, name]) + ending) for name, title in GROUPS.items()
    ]


def _first_open(found: Order) -> str:
    return next((each.ident for section in found.sections for each in section.cards if each.open), "")


@require_safe
def group_page(request: HttpRequest, id: UUID, name: str) -> HttpResponse:
    """The facts of one group that are not among the questions; alone with ``part``."""
    if name not in GROUPS:
        raise Http404
    subject = opening_subject(request, id)
    cards = group_cards(subject, name, frozenset(request.GET.get("without", "").split(",")))
    more = {"cards": cards, "title": GROUPS[name]}
    if "part" in request.GET:
        return render(request, "taking/_group.html", {"subject": subject, **more})
    return page(request, "taking/group_page.html", subject, pictures_of(subject), more)


@require_safe
def fact_page(request: HttpRequest, id: UUID, fact: str) -> HttpResponse:
    """One fact of an opening with its history; its card alone with ``part``."""
    return _fact(request, opening_subject(request, id), fact)


@require_safe
def site_fact_page(request: HttpRequest, id: UUID, fact: str) -> HttpResponse:
    """One fact of a site with its history; its card alone with ``part``."""
    return _fact(request, site_subject(request, id), fact)


def _fact(request: HttpRequest, subject: Subject, path: str) -> HttpResponse:
    if not is_fact(path) or path in NOT_KEPT_HERE or path.startswith("site.") != (subject.opening is None):
        raise Http404
    if "part" in request.GET:
        shown = card(subject, path, pictures_of(subject), page=request.GET.get("page", "facts"))
        return render(
            request,
            "taking/_card.html",
            {"subject": subject, "card": shown, "months": MONTHS.values(), "inner": True},
        )
    return fact_response(request, subject, path)


def fact_response(
    request: HttpRequest, subject: Subject, path: str, refusal: Refusal | None = None, status: int = 200
) -> HttpResponse:
    """The page of one fact; with what was refused, and why, where that is why it is shown."""
    pictures = pictures_of(subject)
    shown = card(subject, path, pictures, refusal=refusal, page="fact")
    more = {"card": shown, "history": history.of(subject, path), "first_open": "", "page": "fact"}
    return page(request, "taking/fact_page.html", subject, pictures, more, status=status)


@require_safe
def site_facts_page(request: HttpRequest, id: UUID) -> HttpResponse:
    """A site's own facts."""
    subject = site_subject(request, id)
    cards = site_cards(subject)
    first = next((each.ident for each in cards if each.open), "")
    more = {"cards": cards, "progress": progress_in_words(taken_down(subject), 0), "first_open": first}
    return page(request, "taking/site_facts_page.html", subject, None, more)


# what all of them share


def page(
    request: HttpRequest,
    template: str,
    subject: Subject,
    pictures: Pictures | None,
    more: dict[str, Any],
    *,
    status: int = 200,
) -> HttpResponse:
    """A page about a subject, with what was kept last where it comes from there."""
    told = {
        "subject": subject,
        "pictures": pictures,
        "months": MONTHS.values(),
        "fractions": FRACTIONS,
        "kept": history.kept(subject, request.GET.get("kept", "")),
        "undo_id": uuid.uuid4(),
        "page": "facts",
        "facts_address": subject.address("facts"),
        **more,
    }
    return render(request, template, told, status=status)


def pictures_of(subject: Subject) -> Pictures | None:
    """The pictures of an opening; a site has none."""
    return Pictures(subject.about, subject.reader) if subject.about else None


def studied_of(subject: Subject) -> Studied:
    """The opening studied as it stands now, as far as the order of questions and the sentence ask for."""
    return study_of(subject.opening, subject.facts, points=POINTS)  # type: ignore[arg-type]  # never of a site


def headline_of(subject: Subject, studied: Studied) -> str:
    """The opening's answer as a sentence; what is missing where there is none yet."""
    if studied.study:
        return in_words(studied.study.headline, subject.reader)
    names = ", ".join(card(subject, path, None).title.lower() for path in studied.missing)
    return _("There is no answer yet: first take down %(facts)s.") % {"facts": names}


def progress_in_words(taken: int, matter: int) -> str:
    """How far it is."""
    told = ngettext("%(n)d fact is taken down", "%(n)d facts are taken down", taken) % {"n": taken}
    if not matter:
        return f"{told}."
    asked = ngettext("%(n)d matters and is not known", "%(n)d matter and are not known", matter) % {"n": matter}
    return f"{told}, {asked}."
