"""What people say of an opening beside its facts: remarks, how urgent it is, what is left out on purpose."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User
from sillwright.web.records.audit import digest
from sillwright.web.records.log import MOST_REPLACED, Refused, by_our_clock, fits
from sillwright.web.records.models import LONGEST_PATH, LONGEST_TYPED, Event, Opening, Remark

KINDS = tuple(kind for kind, _words in Remark.KINDS)
URGENCIES = tuple(word for word, _words in Remark.URGENCIES)


@dataclass(frozen=True, kw_only=True)
class Remarked:
    """A remark as it comes in; ``id`` and ``at`` are made where it is written."""

    id: uuid.UUID
    kind: str
    at: datetime
    about: str = ""
    words: str = ""
    device: str = ""
    replaces: tuple[str, ...] = ()


def checked(said: Remarked) -> Remarked:
    """The remark, where it can be kept as it is. Raises :class:`Refused` with the reason."""
    if said.kind not in KINDS:
        raise Refused(_("“kind” is one of %(kinds)s.") % {"kinds": ", ".join(KINDS)})
    if said.kind == "urgency" and said.words not in (*URGENCIES, ""):
        raise Refused(_("How urgent it is: one of %(words)s.") % {"words": ", ".join(URGENCIES)})
    if said.kind == "left" and not said.about:
        raise Refused(_("What is left out is not named."))
    if said.kind == "remark" and not said.words.strip() and not said.replaces:
        raise Refused(_("A remark has words."))
    for name, most in (("words", LONGEST_TYPED), ("about", LONGEST_PATH), ("device", 100)):
        fits(name, getattr(said, name), most)
    if len(said.replaces) > MOST_REPLACED:
        raise Refused(_("More remarks are replaced at once than there are."))
    return said


@transaction.atomic
def remark(opening: Opening, said: Remarked, *, author: User, request: str = "") -> Remark:
    """Keep a remark. Sent twice it is kept once. Raises :class:`Refused`."""
    wanted = checked(said)
    found = Remark.objects.filter(pk=said.id).first()
    if found is not None:
        if (found.opening_id, found.kind, found.about, found.words, found.author_id) != (
            opening.pk,
            wanted.kind,
            wanted.about,
            wanted.words,
            author.pk,
        ):
            raise Refused(_("Another remark has this id."))
        return found
    kept = Remark.objects.create(
        id=wanted.id,
        site_id=opening.site_id,
        opening=opening,
        kind=wanted.kind,
        about=wanted.about,
        words=wanted.words,
        author=author,
        device=wanted.device,
        at=by_our_clock(wanted.at),
        replaces=sorted(set(wanted.replaces)),
    )
    Event.objects.create(
        who=author,
        organisation_id=opening.site.organisation_id,
        site_id=opening.site_id,
        opening=opening,
        verb="remarked",
        what=f"{wanted.kind} {wanted.about}".strip(),
        after=digest(wanted.words),
        request=request,
    )
    return kept


def standing(remarks: Iterable[Remark]) -> list[Remark]:
    """The remarks that no other one replaces, oldest first; one without words only takes others back."""
    told = list(remarks)
    gone = {name for each in told for name in each.replaces if name != str(each.pk)}
    kept = [each for each in told if str(each.pk) not in gone and (each.words or each.kind == "left")]
    return sorted(kept, key=lambda each: (each.at, str(each.pk)))
