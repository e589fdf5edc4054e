"""The trainer's pages: the lessons of an organisation, a new one, one lesson with its handout."""

from __future__ import annotations

import secrets
import uuid
from datetime import timedelta
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from sillwright import __version__
from sillwright.base.words import Reader, translate
from sillwright.paper.handout import BLANK, handout_paper
from sillwright.trouble.book import fault_book
from sillwright.trouble.lesson import LARGEST_SEED
from sillwright.web.accounts.members import membership_of
from sillwright.web.accounts.models import Membership
from sillwright.web.accounts.roles import MAY
from sillwright.web.answers.files import as_file
from sillwright.web.answers.limits import one_too_many
from sillwright.web.answers.papers import MOST_A_MINUTE
from sillwright.web.lesson.attending import counting, due_by
from sillwright.web.lesson.handout import CHOICES, handout_of, roll_of
from sillwright.web.lesson.models import Lesson
from sillwright.web.lesson.shown import complaint, how_it_ended, steps_of, was
from sillwright.web.lesson.teaching import LASTS, Wanted, begin, under
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.sites.mine import key_of
from sillwright.web.workbench.admission import Busy, a_turn

MOST_SHOWN = 50
AHEAD = timedelta(days=60)
"""Who is due again within that many days is named."""


@require_safe
def lessons(request: HttpRequest) -> HttpResponse:
    """The lessons of the organisations in which one is a trainer, newest first, and who is due again."""
    mine = [each.organisation for each in trains_in(request)]
    rows = Lesson.objects.filter(organisation__in=mine).select_related("by", "organisation")[:MOST_SHOWN]
    due = [each for body in mine for each in due_by(body, timezone.localdate() + AHEAD)]
    told = {
        "lessons": [{"row": each, "complaint": complaint(under(each), _reader(each))} for each in rows],
        "due": [{"day": day, "row": row, "over": day < timezone.localdate()} for day, row in due],
        "trains": bool(mine),
    }
    return render(request, "lesson/lessons_page.html", told)


def trains_in(request: HttpRequest) -> list[Membership]:
    """The memberships in which somebody is a trainer: whoever manages there."""
    rows = Membership.objects.filter(user=person(request), role__in=MAY["manage"])
    return list(rows.select_related("organisation").order_by("organisation__name"))


def lesson_for(request: HttpRequest, id: UUID) -> Lesson:
    """A lesson, for a trainer.

    Raises :class:`Http404` for strangers, :class:`PermissionDenied` for other members.
    """
    found = Lesson.objects.select_related("organisation", "by").filter(pk=id).first()
    if found is None:
        raise Http404
    if membership_of(person(request), found.organisation_id).role not in MAY["manage"]:
        raise PermissionDenied
    return found


def _reader(row: Lesson) -> Reader:
    return Reader(language=row.language)


@require_http_methods(["GET", "HEAD", "POST"])
def lesson_new(request: HttpRequest) -> HttpResponse:
    """Begin a lesson: by a number alone, or with the complaint, the circuit and the faults picked."""
    mine = trains_in(request)
    if not mine:
        raise PermissionDenied
    if request.method != "POST":
        return _new_page(request, mine)
    try:
        where = next(
            (each for each in mine if str(each.organisation_id) == request.POST.get("organisation")), mine[0]
        )
        with a_turn():
            made = begin(where.organisation, _wanted(request), by=person(request), request=request)
    except Refused as refused:
        return _new_page(request, mine, str(refused))
    except Busy:
        return _new_page(request, mine, _("Others compute here now. Try again in a few seconds."))
    return redirect("lesson", id=made.pk)


def _wanted(request: HttpRequest) -> Wanted:
    """The lesson that the form asks for. Raises :class:`Refused`."""
    told = request.POST
    seed = told.get("seed", "").strip()
    if not (seed.isascii() and seed.isdigit() and len(seed) < 11):
        raise Refused(_("Number: a whole number from 0 to %(most)d.") % {"most": LARGEST_SEED})
    circuit, language = told.get("circuit", ""), told.get("language", "en")
    return Wanted(
        id=key_of(told.get("key", "")),
        seed=int(seed),
        symptom=told.get("symptom") or None,
        faults=tuple(dict.fromkeys(each for each in told.getlist("fault") if each)),
        facts=(("circuit", circuit),) if circuit else (),
        language=language if language in dict(settings.LANGUAGES) else "en",
    )


def _new_page(request: HttpRequest, mine: list[Membership], wrong: str = "") -> HttpResponse:
    book, reader = fault_book(), Reader(language=person(request).language)
    told: dict[str, Any] = {
        "organisations": [each.organisation for each in mine],
        "symptoms": [(each.id, translate(each.words, reader)) for each in book.symptoms],
        "faults": sorted(
            ((each.id, translate(each.words, reader)) for each in book.faults), key=lambda one: one[1]
        ),
        "circuits": [(each, each.replace("_", " ")) for each in dict(book.facts)["circuit"]],
        "languages": settings.LANGUAGES,
        "largest": LARGEST_SEED,
        "seed": request.POST.get("seed", str(secrets.randbelow(10_000))),
        "typed": request.POST,
        "picked": [*request.POST.getlist("fault"), "", ""][:2],
        "key": uuid.uuid4(),
        "wrong": wrong,
    }
    return render(request, "lesson/new_page.html", told, status=422 if wrong else 200)


@require_safe
def lesson(request: HttpRequest, id: UUID) -> HttpResponse:
    """One lesson as its trainer sees it: the address for the class, what is hidden, what was done so far."""
    found = under(lesson_for(request, id))
    reader = _reader(found.row)
    address = request.build_absolute_uri(reverse("board", args=[found.row.code]))
    told = {
        "lesson": found.row,
        "address": address,
        "open": found.row.at > timezone.now() - LASTS,
        "complaint": complaint(found, reader),
        "was": was(found, reader),
        "steps": steps_of(found.course, reader),
        "minutes": found.course.minutes,
        "ended": how_it_ended(found.course, reader) if found.course.ended else "",
        "best": found.best,
        "best_steps": steps_of(found.best, reader),
        "there": len(counting(found.row)),
    }
    return render(request, "lesson/lesson_page.html", told)


def _asked(request: HttpRequest) -> tuple[str, bool]:
    """In which languages the handout is asked for, and whether with the list of who was there."""
    told = request.GET.get("in", "")
    return told if told in CHOICES else "en", request.GET.get("who") == "1"


@require_safe
def handout(request: HttpRequest, id: UUID) -> HttpResponse:
    """The handout as a page to print; who prints it chooses the languages."""
    found = under(lesson_for(request, id))
    choice, listed = _asked(request)
    told = {
        "lesson": found.row,
        "sheet": handout_of(found, choice),
        "roll": roll_of(found.row, choice) if listed else None,
        "blank": range(BLANK),
        "choice": choice,
        "choices": [("en", _("English")), ("es", _("Spanish")), ("both", _("English and Spanish"))],
    }
    return render(request, "lesson/handout_page.html", told)


@require_safe
def handout_file(request: HttpRequest, id: UUID) -> HttpResponse:
    """The handout as a PDF."""
    found = under(lesson_for(request, id))
    if one_too_many(request, "papers", MOST_A_MINUTE):
        words = _("Many papers were made just now. Wait a minute, then try again.")
        return refusal(request, 429, _("Too many papers"), words)
    choice, listed = _asked(request)
    content = handout_paper(
        handout_of(found, choice),
        company=found.row.organisation.name,
        made_on=timezone.localdate(),
        version=__version__,
        roll=roll_of(found.row, choice) if listed else None,
    )
    ending = {"en": "", "es": "-es", "both": "-en-es"}[choice]
    return as_file(content, "application/pdf", f"lesson-{found.row.code.lower()}{ending}.pdf")
