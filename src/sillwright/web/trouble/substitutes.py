"""Substitute parts: booked in with the number of their red tag, and out with a photo of the terminals.

While one is in, no call about its opening is closed and no paper of it is made. The facts of the opening say the
same (``temporary_parts``), so that the study, the walk and the list of the evening stop at it as well.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User
from sillwright.web.records.audit import id_of, record
from sillwright.web.records.log import Refused, Said, write_all
from sillwright.web.records.models import Opening, Photo, Site
from sillwright.web.records.surveys import facts_of
from sillwright.web.records.text import unkept
from sillwright.web.trouble.models import LONGEST_NUMBER, LONGEST_PLACE, Substitute, SubstituteOut

LIST = "temporary_parts"
MOST_IN = 20  # at one opening at once


def still_in(openings: Iterable[Any]) -> list[Substitute]:
    """The parts that are in at these openings, given by id, oldest first."""
    rows = Substitute.objects.filter(opening__in=list(openings), out=None)
    return list(rows.select_related("opening", "by"))


def refuse_while_in(openings: Iterable[Any]) -> None:
    """Raise :class:`Refused` where a substitute part is in at one of these openings, given by id."""
    found = still_in(openings)
    if found:
        where = "; ".join(named(each) for each in found)
        words = _("A substitute part is in: %(where)s. Take it out and book it out first, with a photo. ")
        more = _("Until then no paper of the opening is made and no call about it is closed.")
        raise Refused(words % {"where": where} + more)


def named(part: Substitute) -> str:
    """A part in words: opening, number of the tag, place."""
    told = {"tag": part.opening.tag, "number": part.number, "place": part.place}
    return _("%(tag)s, red tag %(number)s at %(place)s") % told


def book_in(
    opening: Opening, key: uuid.UUID, number: str, place: str, *, by: User, request: HttpRequest | None = None
) -> Substitute:
    """Book a part in; the same form sent twice books it once. Raises :class:`Refused`."""
    number, place = _fit(number, _("Number on the red tag"), LONGEST_NUMBER), _fit(place, _("Place"), LONGEST_PLACE)
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=opening.site_id)  # one booking at a time
        before = Substitute.objects.filter(pk=key).first()
        if before is not None:
            return _same(before, opening, number, place)
        _refuse_a_second(opening, number)
        made = Substitute(id=key, site_id=opening.site_id, opening=opening, number=number, place=place, by=by)
        made.member = "m" + key.hex[:12]
        made.save(force_insert=True)
        _write_in(made, request)
        _record(request, "part booked in", made, by)
    return made


def _fit(words: str, name: str, most: int) -> str:
    words = " ".join(words.split())
    if not words:
        raise Refused(_("%(name)s: this is missing.") % {"name": name})
    if len(words) > most:
        raise Refused(_("%(name)s: at most %(most)d signs.") % {"name": name, "most": most})
    if sign := unkept(words):
        raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    return words


def _same(before: Substitute, opening: Opening, number: str, place: str) -> Substitute:
    if (before.opening_id, before.number, before.place) != (opening.pk, number, place):
        raise Refused(_("This form was sent before with something else in it. Load the page again."))
    return before


def _refuse_a_second(opening: Opening, number: str) -> None:
    there = Substitute.objects.filter(site=opening.site_id, out=None).select_related("opening")
    for each in there:
        if each.number.casefold() == number.casefold():
            words = _("Red tag %(number)s is in already: %(where)s. Each part has a number of its own.")
            raise Refused(words % {"number": number, "where": named(each)})
    if sum(each.opening_id == opening.pk for each in there) >= MOST_IN:
        raise Refused(_("An opening has at most %(most)d parts in at once.") % {"most": MOST_IN})


def _write_in(part: Substitute, request: HttpRequest | None) -> None:
    """The facts of the opening say that it is there."""
    opening, day = part.opening, timezone.localdate(part.at).isoformat()
    whole = tuple(head.id for head in facts_of(opening).heads.get(LIST, ()))  # "looked, there is none"
    # The sentence is a fact of the survey and stays as it was written, whoever reads it.
    told = {"what": "substitute part", "place": part.place, "number": part.number, "by": part.by.name, "on": day}
    said = [
        Said(fact=f"{LIST}.{part.member}.{name}", typed=typed, origin="measured", replaces=())
        for name, typed in told.items()
    ]
    said[0] = replace(said[0], replaces=whole)
    write_all(opening.site, opening, said, author=part.by, request=id_of(request))


def book_out(part: Substitute, photo: Photo, *, by: User, request: HttpRequest | None = None) -> SubstituteOut:
    """Book a part out; out it is once. Raises :class:`Refused` where the photo does not show that."""
    if photo.opening_id != part.opening_id or photo.state != "kept":
        raise Refused(_("The photo of the terminals is not here yet. Take one, then book the part out."))
    if photo.received < part.at:
        raise Refused(_("This photo is older than the part. Take one of the terminals as they are now."))
    with transaction.atomic():
        Site.objects.select_for_update().get(pk=part.site_id)
        before = SubstituteOut.objects.filter(substitute=part).first()
        if before is not None:
            return before
        made = SubstituteOut.objects.create(substitute=part, photo=photo, by=by)
        _write_out(part, by, request)
        _record(request, "part booked out", part, by)
    return made


def _write_out(part: Substitute, by: User, request: HttpRequest | None) -> None:
    """The facts of the opening no longer say that it is there."""
    here = f"{LIST}.{part.member}"
    heads = facts_of(part.opening).heads
    seen = (head.id for name, told in heads.items() if f"{name}.".startswith(f"{here}.") for head in told)
    said = Said(fact=here, says="removed", replaces=tuple(seen))
    write_all(part.site, part.opening, [said], author=by, request=id_of(request))


def _record(request: HttpRequest | None, verb: str, part: Substitute, by: User) -> None:
    about = {"organisation": part.site.organisation, "site": part.site, "opening": part.opening}
    record(request, verb, part.number, who=by, **about)
