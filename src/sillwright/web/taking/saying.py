"""What a page sends: one observation, a reading that is chosen, or the undoing of the last one."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.errors import UnknownName
from sillwright.survey.questions import spec_at
from sillwright.web.accounts.models import User
from sillwright.web.records.log import Refused, Said, place_of, write_all
from sillwright.web.records.models import Observation
from sillwright.web.records.text import unkept
from sillwright.web.taking.lists import list_of
from sillwright.web.taking.subject import Subject

Fields = Mapping[str, str]
LOOKED_FOR = ("protection", "zones")
"""Lists of which nobody knows is another answer than that somebody looked and there is none."""
NAMES = (
    "id", "key", "fact", "says", "typed", "choose", "year", "month", "day", "origin", "by", "on", "evidence",
    "seen", "device", "at", "take", "undo", "page",
)  # fmt: skip


def fields_of(request: HttpRequest) -> Fields:
    """What was sent, as a form or as JSON; a form calls the id ``key``, since it has an id itself.

    Raises :class:`Refused` where it cannot be read.
    """
    if request.content_type != "application/json":
        found = {name: request.POST[name] for name in NAMES if name in request.POST}
        return {**found, "id": found.get("id") or found.get("key", "")}
    try:
        sent = json.loads(request.body)
    except (ValueError, RecursionError):
        raise Refused(_("This cannot be read.")) from None
    if not isinstance(sent, dict):
        raise Refused(_("This cannot be read."))
    found = {name: _text(name, sent[name]) for name in NAMES if sent.get(name) is not None}
    return {**found, "id": found.get("id") or found.get("key", "")}


def _text(name: str, value: Any) -> str:
    if isinstance(value, list) and name == "seen":
        return ",".join(_text("", each) for each in value)
    if not isinstance(value, str):
        raise Refused(_("%(name)s: text is wanted here.") % {"name": name})
    return value


def typed_in(fields: Fields) -> str:
    """The value as it was typed, or chosen by one tap: dates may come in parts, words of a list one a line."""
    typed = fields.get("choose") or fields.get("typed", "")
    if not typed and fields.get("year", "").strip():
        parts = [fields.get(name, "").strip() for name in ("year", "month", "day")]
        while parts and not parts[-1]:
            parts.pop()
        return "-".join(part.zfill(2) if part.isdigit() else part for part in parts)
    try:
        many = spec_at(fields.get("fact", "")).kind in {"texts", "points"}
    except UnknownName:
        many = False
    return "; ".join(line.strip() for line in typed.splitlines() if line.strip()) if many else typed.strip()


def shown_again(typed: str) -> str:
    """What was typed without the signs that no page can hold, for the field that shows it again."""
    return "".join(sign for sign in typed if not unkept(sign))


def said_in(fields: Fields, device: str) -> Said:
    """The observation that was sent. Raises :class:`Refused` with the reason in words."""
    says = fields.get("says") or "value"
    return Said(
        id=_uuid(fields["id"]) if fields.get("id") else uuid.uuid4(),
        fact=fields.get("fact", ""),
        says=says,
        typed=typed_in(fields) if says == "value" else "",
        origin=fields.get("origin", "") if says != "unknown" else "",  # nobody measured what nobody knows
        by=fields.get("by", "").strip(),
        on=fields.get("on", "").strip(),
        evidence=fields.get("evidence", "").strip(),
        device=fields.get("device", "").strip() or device,
        at=_moment(fields.get("at", "")),
        replaces=ids_in(fields.get("seen", "")),
    )


def ids_in(words: str) -> tuple[str, ...]:
    """Ids parted by commas. Raises :class:`Refused` where one is none."""
    return tuple(str(_uuid(each)) for each in words.split(",") if each.strip())


def _uuid(words: str) -> uuid.UUID:
    try:
        return uuid.UUID(words.strip())
    except ValueError:
        raise Refused(_("This is no id.")) from None


def _moment(words: str) -> datetime:
    try:
        told = datetime.fromisoformat(words) if words else timezone.now()
        return (told if told.tzinfo else told.replace(tzinfo=UTC)).astimezone(UTC)
    except (ValueError, OverflowError):  # not a moment, or one at the ends of the calendar
        raise Refused(_("“at” is a moment like 2026-03-04T10:15:00Z.")) from None


def keep(subject: Subject, fields: Fields, device: str, author: User, request: str = "") -> Observation:
    """Keep what was sent, and answer with the observation that says it.

    Raises :class:`Refused` where it cannot be kept.
    """
    if fields.get("id") and (fields.get("undo") or fields.get("take")):
        before = _by_id(subject, fields["id"])
        if before is not None:  # the second tap on the same button
            return before
    if fields.get("undo"):
        wanted = undoing(subject, fields, device)
    elif fields.get("take"):
        wanted = [_taken(subject, fields, device)]
    else:
        wanted = [said_in(fields, device)]
    try:
        kept = write_all(subject.site, subject.opening, wanted, author=author, request=request)
    except Refused:
        before = _by_id(subject, str(wanted[0].id))
        if before is not None and not _alike(before, wanted[0]):
            words = _("This form was sent before with another answer. Press again to change what is kept now.")
            raise Refused(words) from None
        raise
    subject.again()
    return kept[0]


def _by_id(subject: Subject, key: str) -> Observation | None:
    return Observation.objects.filter(pk=_uuid(key), site=subject.site, opening=subject.opening).first()


def _alike(before: Observation, said: Said) -> bool:
    return (before.fact, before.says, before.typed) == (said.fact, said.says, said.typed)


def _logged(subject: Subject, key: str) -> Observation:
    found = _by_id(subject, key)
    if found is None:
        raise Refused(_("Nothing like that was written here."))
    return found


def again(found: Observation, **more: Any) -> Said:
    """The same once more, as a new observation."""
    names = ("fact", "says", "typed", "origin", "by", "on", "evidence")
    return Said(**{name: getattr(found, name) for name in names}, **more)


def _taken(subject: Subject, fields: Fields, device: str) -> Said:
    """One of the readings that were shown, chosen: it replaces all of them."""
    sent = said_in({**fields, "says": "unknown"}, device)
    found = _logged(subject, fields["take"])
    if found.fact != sent.fact:
        raise Refused(_("This reading is one of another fact."))
    return again(found, id=sent.id, device=sent.device, at=sent.at, replaces=sent.replaces)


def undoing(subject: Subject, fields: Fields, device: str) -> list[Said]:
    """What stood before an observation, said again; where nothing stood, that it is not known.

    Raises :class:`Refused` where something newer stands.
    """
    undone = _logged(subject, fields["undo"])
    key = _uuid(fields["id"]) if fields.get("id") else uuid.uuid4()
    if str(undone.id) not in {head.id for head in subject.heads(undone.fact)}:
        raise Refused(_("Something newer stands there. Change it on its card."))
    before = Observation.objects.filter(pk__in=undone.replaces, site=subject.site, opening=subject.opening)
    found = [again(each, replaces=(str(undone.id),)) for each in before.order_by("at", "id")]
    if not any(each.fact == undone.fact for each in found) and undone.says != "removed":
        found = [*_nothing(subject, undone), *found]
    if not found:
        raise Refused(_("Nothing stood there before."))
    now = timezone.now()
    return [
        replace(each, id=key if number == 0 else uuid.uuid5(key, str(number)), device=device, at=now)
        for number, each in enumerate(found)
    ]


def _nothing(subject: Subject, undone: Observation) -> list[Said]:
    """That nothing was there before: a new member goes away again, any other fact is not known."""
    listed, key = list_of(undone.fact)
    if listed is not None:
        inside = [name for name in subject.facts.heads if name.startswith(f"{listed.name}.{key}.")]
        if inside == [undone.fact]:
            gone = Said(fact=f"{listed.name}.{key}", says="removed", replaces=(str(undone.id),))
            alone = listed.name in LOOKED_FOR and subject.members(listed) == (key,)
            return [gone, Said(fact=listed.name, says="unknown")] if alone else [gone]
    return [Said(fact=undone.fact, says="unknown", replaces=(str(undone.id),))]


def removal(subject: Subject, listed: str, key: str, said: Said) -> Said:
    """That a member is not there any more: it replaces everything that was said of it."""
    here = f"{listed}.{key}"
    seen = (
        head.id for name, told in subject.facts.heads.items() if f"{name}.".startswith(f"{here}.") for head in told
    )
    return replace(said, fact=here, says="removed", typed="", replaces=tuple(seen))


def device_of(request: HttpRequest) -> str:
    """A short label of the device: phone, tablet or desk."""
    agent = request.headers.get("User-Agent", "")
    if "iPad" in agent or "Tablet" in agent or ("Android" in agent and "Mobile" not in agent):
        return "tablet"
    return "phone" if "Mobi" in agent else "desk"


def is_fact(path: str) -> bool:
    """Whether a path names a single fact that is kept."""
    return place_of(path) == "fact"
