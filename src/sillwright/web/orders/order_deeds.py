"""What is done with an order: released, parted, acknowledged and answered; its sheet; what came, and claims."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.base.errors import DocumentError, InputError
from sillwright.base.words import Reader
from sillwright.web.answers.files import as_file
from sillwright.web.answers.limits import one_too_many
from sillwright.web.answers.papers import MOST_A_MINUTE, handed_out
from sillwright.web.orders.acknowledging import (
    agreed_of,
    answer_from,
    compared,
    line_built,
    notes_of,
    pasted,
    uploaded,
)
from sillwright.web.orders.catalogues import read
from sillwright.web.orders.entered import Entries
from sillwright.web.orders.fields import Field, Options, mistakes_by_field, shown
from sillwright.web.orders.files import MEDIA, OF_ORDER, agreed_content, name_of, order_content
from sillwright.web.orders.installing import install_content
from sillwright.web.orders.models import Order
from sillwright.web.orders.order_pages import order_page, orders_of
from sillwright.web.orders.orders import (
    Ordered,
    line_of,
    lines_now,
    note,
    refuse_unless_released,
    release_order,
    split,
    take_catalogue,
)
from sillwright.web.orders.pressed import release_again
from sillwright.web.orders.quotes import catalogue_at
from sillwright.web.orders.received import (
    ORIGINS,
    PHOTOS,
    asks_of,
    asks_of_claim,
    claim_from,
    goods_in_from,
    origin_name,
)
from sillwright.web.orders.showing import line_shown
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.people.who import person
from sillwright.web.photos.listed import photos_of
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import key_in

MOST_DIFFERENCES = 500


def _order(request: HttpRequest, id: UUID, deed: Any = "read") -> Order:
    found: Order = fetched(orders_of(), request.user, id, deed)  # type: ignore[arg-type]
    return found


def _try(request: HttpRequest, row: Order, deed: Callable[[], Any]) -> HttpResponse | None:
    """Do it; the page of the order with what is wrong, and what was typed, where it cannot be done."""
    reader = reader_for(person(request), row.site)
    try:
        deed()
    except DocumentError as error:
        words = " ".join(dict.fromkeys(mistakes_by_field(error, reader).values()))
    except InputError as error:
        words = error.in_words(reader)
    except Refused as refused:
        words = str(refused)
    else:
        return None
    fresh = orders_of().get(pk=row.pk)
    fresh.may_write, fresh.may_manage = row.may_write, row.may_manage  # type: ignore[attr-defined]
    return order_page(request, fresh, status=422, wrong=words, typed=request.POST.dict())


@require_POST
def order_release(request: HttpRequest, id: UUID) -> HttpResponse:
    """Release an order: nothing stands against it, and somebody answers for that."""
    row = _order(request, id, "manage")
    said = Entries(request.POST, "", reader_for(person(request), row.site))
    name = said.text("name") or person(request).name

    def deed() -> None:
        said.refuse()
        on = timezone.localdate()
        seen = request.POST.get("seen", "")
        try:
            release_order(row, said.reader, seen=seen, on=on, name=name, by=person(request), request=request)
        except Refused:
            if not release_again(row, person(request)):
                raise
        messages.success(request, _("It is released. Its sheet stays as it is."))

    return _try(request, row, deed) or redirect("order", id=id)


@require_POST
def order_split(request: HttpRequest, id: UUID) -> HttpResponse:
    """What something stands against, in an order of its own."""
    row = _order(request, id, "write")

    def deed() -> None:
        made = split(row, by=person(request), request=request)
        told = {"label": made.label}
        messages.success(
            request, _("%(label)s holds what cannot be released yet; this order holds the rest.") % told
        )

    return _try(request, row, deed) or redirect("order", id=id)


@require_POST
def order_catalogue(request: HttpRequest, id: UUID) -> HttpResponse:
    """An order on the version of the catalogue that counts now."""
    row = _order(request, id, "write")

    def deed() -> None:
        take_catalogue(row, catalogue_at(row.site), by=person(request), request=request)

    return _try(request, row, deed) or redirect("order", id=id)


@require_safe
def order_file(request: HttpRequest, id: UUID, ending: str) -> HttpResponse:
    """An order as a file: the sheet as it was released, or as it is now."""
    row = _order(request, id)
    if ending not in OF_ORDER:
        raise Http404
    kept = row.notes.filter(kind="release").select_related("paper").first() if ending == "pdf" else None
    if kept is not None and kept.paper is not None:
        return handed_out(request, kept.paper)
    reader, found = reader_for(person(request), row.site), lines_now(row)

    def make() -> bytes:
        settled = agreed_of(row, found.plain) if ending == "json" else None
        return order_content(ending, row, found.plain, found.sketches(reader), reader, settled=settled)

    return _made_now(request, make, MEDIA[ending], name_of(row, ending))


@require_safe
def order_agreed(request: HttpRequest, id: UUID) -> HttpResponse:
    """The order as agreed, as a sheet; the page of the order while nothing is agreed yet."""
    row = _order(request, id)
    settled = agreed_of(row, lines_now(row).plain)
    if settled is None:
        messages.info(request, _("Nothing is agreed yet: every difference of the acknowledgement wants an answer."))
        return redirect("order", id=id)
    reader = reader_for(person(request), row.site)
    return _made_now(
        request, lambda: agreed_content(row, settled, reader), MEDIA["pdf"], name_of(row, "pdf", "agreed")
    )


@require_safe
def install_sheet(request: HttpRequest, id: UUID, line: int) -> HttpResponse:
    """What the crew reads at the opening of a line: as it is ordered, or agreed, and not as it might be chosen."""
    row = _order(request, id)
    found = line_of(lines_now(row).lines, line)
    if found is None:
        raise Http404
    reader, name = reader_for(person(request), row.site), name_of(row, "pdf", f"install-{found.line.tag}")
    return _made_now(request, lambda: install_content(row, found, reader), MEDIA["pdf"], name)


def _made_now(request: HttpRequest, make: Callable[[], bytes], media: str, name: str) -> HttpResponse:
    """A paper that is made and not kept; refused where many were made just now, or where it has to wait."""
    if one_too_many(request, "papers", MOST_A_MINUTE):
        words = _("Many papers were made just now. Wait a minute, then try again.")
        return refusal(request, 429, _("Too many papers"), words)
    try:
        content = make()
    except Refused as waits:
        return refusal(request, 422, _("No paper yet"), str(waits))
    return as_file(content, media, name)


# what the maker confirmed


@require_POST
def order_acknowledgement(request: HttpRequest, id: UUID) -> HttpResponse:
    """What the maker confirmed, pasted or as a file."""
    row = _order(request, id, "write")

    def deed() -> None:
        file = request.FILES.get("file")
        told = uploaded(file.read(), str(file.name or "")) if file else pasted(request.POST.get("text", ""))
        note(row, "acknowledgement", told, by=person(request), request=request)

    return _try(request, row, deed) or redirect("order", id=id)


@require_POST
def order_answer(request: HttpRequest, id: UUID) -> HttpResponse:
    """Answers to differences: which holds, and why. What is left open stays so."""
    row = _order(request, id, "write")

    def deed() -> None:
        refuse_unless_released(row)
        found = compared(lines_now(row).plain, notes_of(row))
        if found is None:
            raise Refused(_("There is no acknowledgement yet."))
        if request.POST.get("of") != str(found.note.pk):
            raise Refused(_("A newer acknowledgement came; look at its differences."))
        answers = []
        for at in range(MOST_DIFFERENCES):
            about = request.POST.get(f"id-{at}")
            holds = request.POST.get(f"holds-{at}", "")
            if about is None:
                break
            words = request.POST.get(f"words-{at}", "").strip()
            if holds:
                who = {"name": person(request).name, "on": timezone.localdate()}
                answers.append(answer_from(found, about, holds, words, **who))  # type: ignore[arg-type]
        if not answers:
            raise Refused(_("Say which holds: what was ordered, or what was confirmed."))
        for each in answers:
            note(row, "answer", each, by=person(request), request=request)

    return _try(request, row, deed) or redirect("order", id=id)


# what came, and what failed


@require_http_methods(["GET", "HEAD", "POST"])
def goods_in(request: HttpRequest, id: UUID, line: int) -> HttpResponse:
    """What is looked at on an edge that came."""
    row, ordered = _line(request, id, line)
    options, keys = _photos(request, row, ordered)
    profiles = [(each.name, each.name) for each in read(row.catalogue).profiles]
    known = [("", gettext_lazy("not looked at")), *profiles]
    reader = reader_for(person(request), row.site)
    asks = asks_of(ordered.line, known, options)

    def keep() -> None:
        told = {**goods_in_from(request.POST, keys, reader), "form": str(key_in(request))}
        note(row, "goods_in", told, line=line, by=person(request), request=request)

    return _asked(request, row, ordered, reader, asks, keep, "orders/goods_in_page.html")


@require_http_methods(["GET", "HEAD", "POST"])
def claim(request: HttpRequest, id: UUID, line: int) -> HttpResponse:
    """What is known of an edge that failed."""
    row, ordered = _line(request, id, line)
    options, keys = _photos(request, row, ordered)
    reader = reader_for(person(request), row.site)
    asks = asks_of_claim(options, reader)

    def keep() -> None:
        told = {**claim_from(request.POST, keys, reader), "form": str(key_in(request))}
        note(row, "claim", told, line=line, by=person(request), request=request)

    return _asked(request, row, ordered, reader, asks, keep, "orders/claim_page.html")


def _line(request: HttpRequest, id: UUID, number: int) -> tuple[Order, Ordered]:
    """The line of a released order. Raises :class:`Http404` where there is none."""
    row = _order(request, id, "write")
    found = line_built(row, number)
    if found is None:
        raise Http404
    return row, found


def _photos(request: HttpRequest, row: Order, ordered: Ordered) -> tuple[Options, list[str]]:
    """The photos of a line's opening, to choose one."""
    opening = Opening.objects.get(pk=ordered.opening)
    found = photos_of(opening, reader_for(person(request), row.site))
    words = _("Photo %(number)d, %(day)s: %(what)s")
    options = [
        (str(each.photo.pk), words % {"number": each.number, "day": each.day, "what": each.words}) for each in found
    ]
    return [("", gettext_lazy("none")), *options], [key for key, _words in options]


def _asked(
    request: HttpRequest,
    row: Order,
    ordered: Ordered,
    reader: Reader,
    asks: Any,
    keep: Callable[[], None],
    template: str,
) -> HttpResponse:
    told: dict[str, Any] = {}
    wrongs: dict[str, str] = {}
    if request.method == "POST":
        try:
            keep()
        except DocumentError as error:
            wrongs = mistakes_by_field(error, reader)
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            messages.success(request, _("Kept."))
            return redirect("order", id=row.pk)
    typed = request.POST.dict()
    told |= {
        "order": row,
        "key": key_in(request),
        "site": row.site,
        "line": line_shown(ordered.line, reader),
        "opening": ordered.opening,
        "fields": [_with_origin(each, typed) for each in shown(asks, typed, wrongs)],
        "origins": ORIGINS,
        "words": typed.get("words", ""),
        "wrongs": wrongs,
    }
    return render(request, template, told, status=422 if request.method == "POST" else 200)


def _with_origin(field: Field, typed: Mapping[str, Any]) -> Field:
    """A photo says itself how it is known; everything else is seen, told or assumed."""
    said = "" if field.ask.name in PHOTOS else typed.get(origin_name(field.ask.name), "measured")
    return replace(field, origin=said)
