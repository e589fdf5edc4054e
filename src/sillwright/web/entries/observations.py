"""An observation that a device wrote down, of an opening or of a site itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from sillwright.web.api.operations.observations import Observed
from sillwright.web.entries.kinds import NotNow, Sender
from sillwright.web.records.log import write
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched


class Written(Observed):
    """An observation that says itself what it is about: an opening, or without one a site."""

    opening: UUID | None = None
    site: UUID


def take(sender: Sender, entry: Mapping[str, Any]) -> str:
    """Keep it."""
    written = Written.model_validate(entry)
    said = written.said(without=("opening", "site"))
    if written.opening is None:
        site = fetched(Site.objects.all(), sender.user, written.site, "write")
        write(site, None, said, author=sender.user, request=sender.request)
        return ""
    opening = opening_for(sender, written.opening)
    write(opening.site, opening, said, author=sender.user, request=sender.request)
    return ""


def opening_for(sender: Sender, key: UUID) -> Any:
    """The opening that an entry is about, for writing.

    Raises :class:`NotNow` where there is none: its own entry may still be on its way.
    """
    if not Opening.objects.filter(pk=key).exists():
        raise NotNow(_("The opening that this is about has not arrived."))
    return fetched(Opening.objects.select_related("site__organisation"), sender.user, key, "write")
