"""Pages of kept calls: those of an opening, one alone with how it ended, and keeping one."""

from __future__ import annotations

import uuid
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.base.words import Reader, translate
from sillwright.trouble.model import FaultModel
from sillwright.trouble.said import Named, advice_as_json, call_from
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import key_in, key_of
from sillwright.web.trouble.address import At, NotACall, moment_of, read
from sillwright.web.trouble.advised import advice_on, basis_for, fingerprint_of, whole
from sillwright.web.trouble.keeping import LONGEST_CALLER, NONE_OF_THESE, Told, end_call, keep_call
from sillwright.web.trouble.making_safe import left_in_words
from sillwright.web.trouble.models import LONGEST_WORDS, CallEnd, KeptCall
from sillwright.web.trouble.shown import answers_told
from sillwright.web.trouble.substitutes import still_in

A_PAGE = 50
MOST_OPENINGS = 300  # to choose from
LONGEST = {"caller": LONGEST_CALLER, "words": LONGEST_WORDS}


@require_safe
def calls(request: HttpRequest, id: UUID) -> HttpResponse:
    """The calls of an opening, the newest first, and the substitute parts that are in."""
    opening = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(person(request), opening.site)
    rows = KeptCall.objects.filter(opening=opening).select_related("author").prefetch_related("ends__by")
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    named = Named(basis_for(person(request), opening).model)
    told = {
        "opening": opening,
        "parts": still_in([opening.pk]),
        "page": page,
        "calls": [_listed(each, named, reader) for each in page],
        "begin": At(opening=opening.pk).address(),
    }
    return render(request, "trouble/calls_page.html", told)


def _listed(row: KeptCall, named: Named, reader: Reader) -> dict[str, Any]:
    symptom = named.symptoms.get(row.call.get("symptom") or "")
    ends = list(row.ends.all())
    last = ends[-1] if ends else None
    return {
        "row": row,
        "symptom": translate(symptom.words, reader) if symptom else _("None of the usual complaints"),
        "end": last,
        "found": found_in_words(last, named, reader) if last else "",
    }


def found_in_words(end: CallEnd, named: Named, reader: Reader) -> str:
    """What was found in the end."""
    if end.faults is None:
        return _("Nothing was found.")
    return " ".join(named.fault(each, reader) for each in end.faults) or _("It was none of the faults listed here.")


@require_http_methods(["GET", "HEAD", "POST"])
def call(request: HttpRequest, id: UUID) -> HttpResponse:
    """A kept call: what was told and advised, and how it ended; a form closes it."""
    deed: Any = "write" if request.method == "POST" else "read"
    rows = KeptCall.objects.select_related("site__organisation", "opening__site", "author")
    row = fetched(rows, request.user, id, deed)
    model = basis_for(person(request), row.opening).model
    if request.method != "POST":
        return _call_page(request, row, model)
    typed = {name: request.POST.get(name, "") for name in ("minutes", "words")}
    faults, known = request.POST.getlist("fault"), [each.id for each in model.faults]
    try:
        end_call(row, faults, **typed, known=known, by=person(request), request=request)
    except Refused as refused:
        return _call_page(request, row, model, {**typed, "faults": faults}, str(refused))
    messages.success(request, _("The call is closed. It counts for the shares of your next calls."))
    return redirect("call", id=id)


def _call_page(
    request: HttpRequest,
    row: KeptCall,
    model: FaultModel,
    typed: dict[str, Any] | None = None,
    wrong: str = "",
) -> HttpResponse:
    reader, named = reader_for(person(request), row.site), Named(model)
    ends = list(row.ends.select_related("by"))
    told: dict[str, Any] = {
        "row": row,
        **_listed(row, named, reader),
        "opening": row.opening,
        "may_write": row.may_write,  # type: ignore[attr-defined]  # as it was fetched
        "told": answers_told(
            At(call=call_from(row.call)), named, reader, kept=True, surprises=row.advice.get("surprises", ())
        ),
        "ends": [(each, found_in_words(each, named, reader)) for each in ends],
        "none_of_these": NONE_OF_THESE,
        "faults": _choices(row, named, reader),
        "parts": still_in([row.opening_id]),
        "same_model": row.fingerprint == fingerprint_of(model),
        "longest": LONGEST,
        "typed": typed or {},
        "wrong": wrong,
    }
    return render(request, "trouble/kept_page.html", told, status=422 if wrong else 200)


def _choices(row: KeptCall, named: Named, reader: Reader) -> list[tuple[str, str]]:
    """Every fault, those first that were likely when the call was kept."""
    likely = [name for each in row.advice.get("suspects", ()) for name in each["faults"]]
    first = [name for name in dict.fromkeys(likely) if name in named.faults]
    rest = sorted((translate(each.words, reader), name) for name, each in named.faults.items() if name not in first)
    return [(name, named.fault(name, reader)) for name in first] + [(name, words) for words, name in rest]


@require_http_methods(["GET", "HEAD", "POST"])
def keep(request: HttpRequest) -> HttpResponse:
    """Keep the call that the address tells of on an opening that the person may write."""
    query = QueryDict(request.POST.get("call", "")[:10_000]) if request.method == "POST" else request.GET
    basis = basis_for(person(request), None)
    try:
        at = read(query, basis.model, basis.questions)
    except NotACall as error:
        return refusal(request, 422, _("This call cannot be read"), str(error))
    if request.method != "POST":
        return _keep_page(request, at)
    typed = {name: request.POST.get(name, "") for name in ("caller", "words", "opening")}
    try:
        kept = _kept(request, at, typed)
    except Refused as refused:
        return _keep_page(request, at, typed, str(refused))
    messages.success(request, _("The call is kept. Read it back to whoever called."))
    return redirect("call", id=kept.pk)


def _kept(request: HttpRequest, at: At, typed: dict[str, str]) -> KeptCall:
    if not typed["opening"]:
        raise Refused(_("Choose the opening that the call is about."))
    rows = Opening.objects.select_related("site__organisation")
    opening = fetched(rows, request.user, key_of(typed["opening"]), "write")
    basis = basis_for(person(request), opening)
    reader = reader_for(person(request), opening.site)
    call = whole(at, basis, opening)
    advice = advice_as_json(Named(basis.model), advice_on(basis, call), reader)
    told = Told(
        id=key_in(request),
        call=replace(call, answers=at.call.answers),
        advice={**advice, "left": left_in_words(call, reader)},
        fingerprint=fingerprint_of(basis.model),
        started=moment_of(at),
        caller=typed["caller"],
        words=typed["words"],
    )
    return keep_call(opening, told, by=person(request), request=request)


def _keep_page(request: HttpRequest, at: At, typed: dict[str, str] | None = None, wrong: str = "") -> HttpResponse:
    rows = Opening.objects.filter(put_away=None, site__put_away=None).seen_by(person(request))
    rows = rows.filter(may_write=True).select_related("site").order_by("site__name", "position")[:MOST_OPENINGS]
    told = {
        "openings": list(rows),
        "chosen": str((typed or {}).get("opening") or at.opening or ""),
        "call": at.query,
        "back": at.address(),
        "key": uuid.uuid4(),
        "longest": LONGEST,
        "typed": typed or {},
        "wrong": wrong,
    }
    return render(request, "trouble/keep_page.html", told, status=422 if wrong else 200)
