"""An opening that a device made: in a walk nobody waits for a signal to note the next door."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _
from pydantic import Field

from sillwright.web.api.reading import Asked
from sillwright.web.entries.kinds import Sender
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import LONGEST_TAG, make_opening, name_of

MOST_ALIKE = 50


class Made(Asked):
    """A new opening of a site, at the end of its walk."""

    id: UUID
    site: UUID
    tag: str = Field(max_length=LONGEST_TAG)
    at: str = ""


def take(sender: Sender, entry: Mapping[str, Any]) -> str:
    """Make it. Where another opening has its tag, both stay: this one gets a number, and its author is told."""
    made = Made.model_validate(entry)
    site = fetched(Site.objects.select_related("organisation"), sender.user, made.site, "write")
    found = Opening.objects.filter(pk=made.id).first()
    if found is not None:
        if found.site_id != site.pk:
            raise Refused(_("Another opening has this id."))
        return ""
    wanted = name_of(made.tag, LONGEST_TAG)
    tag = _free(site, wanted)
    make_opening(site, tag, author=sender.user, key=made.id)
    if tag == wanted:
        return ""
    return _("There was an opening “%(tag)s” already; this one is kept as “%(new)s”.") % {"tag": wanted, "new": tag}


def _free(site: Site, wanted: str) -> str:
    taken = set(site.openings.values_list("tag", flat=True))
    if wanted not in taken:
        return wanted
    names = (f"{wanted[: LONGEST_TAG - 5]} ({number})" for number in range(2, MOST_ALIKE))
    free = next((name for name in names if name not in taken), None)
    if free is None:
        raise Refused(_("This site has an opening “%(tag)s” already.") % {"tag": wanted})
    return free
