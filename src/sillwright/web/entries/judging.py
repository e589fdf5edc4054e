"""Entries of many kinds judged one by one: a wrong one holds up no other, and one sent twice is kept once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import DataError, IntegrityError, transaction
from django.http import Http404
from django.utils.translation import gettext as _
from pydantic import ValidationError

from sillwright.web.api.reading import mistakes_of
from sillwright.web.entries.kinds import NotNow, Sender, kinds
from sillwright.web.records.log import Refused

Word = Literal["kept", "refused", "later"]


@dataclass(frozen=True)
class Judged:
    """What became of one entry."""

    index: int
    id: UUID | None
    answer: Word
    why: str = ""  # why it is not kept, or what its author should know of how it was kept


def judge(sender: Sender, entries: Sequence[Any]) -> list[Judged]:
    """Keep what can be kept, in the order given; each entry in a savepoint of its own."""
    with transaction.atomic():
        return [_judged(sender, index, each) for index, each in enumerate(entries)]


def _judged(sender: Sender, index: int, entry: Any) -> Judged:
    try:
        with transaction.atomic():
            note = _take(sender, entry)
    except NotNow as error:
        return Judged(index, id_of(entry), "later", str(error))
    except Refused as error:
        return Judged(index, id_of(entry), "refused", str(error))
    except ValidationError as error:
        return Judged(index, id_of(entry), "refused", _mistake(error))
    except Http404:
        return Judged(index, id_of(entry), "refused", _("You cannot see this opening, or it is not here."))
    except PermissionDenied:
        return Judged(index, id_of(entry), "refused", _("You may read here, not write."))
    except IntegrityError:
        return Judged(index, id_of(entry), "refused", _("Another entry has this id."))
    except (DataError, ValueError):
        return Judged(index, id_of(entry), "refused", _("This cannot be kept."))
    return Judged(index, id_of(entry), "kept", note)


def _take(sender: Sender, entry: Any) -> str:
    known = kinds()
    kind = entry.get("kind") if isinstance(entry, Mapping) else None
    if not isinstance(kind, str) or kind not in known:
        raise Refused(_("“kind” is one of %(kinds)s.") % {"kinds": ", ".join(sorted(known))})
    return known[kind](sender, {name: value for name, value in entry.items() if name != "kind"})


def _mistake(error: ValidationError) -> str:
    found = mistakes_of(error.errors(include_url=False), skip=0)[0]
    why = f"{found.path or _('The entry')}: {found.message}"
    return f"{why}; {found.accepted}" if found.accepted else why


def id_of(entry: Any) -> UUID | None:
    """The id that an entry has given itself; None where it is none."""
    try:
        return UUID(entry["id"])
    except (TypeError, KeyError, ValueError, AttributeError):
        return None
