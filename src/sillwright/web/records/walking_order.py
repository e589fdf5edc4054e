"""The order in which the openings of a site are walked."""

from __future__ import annotations

from django.db import transaction
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Event, Opening, Site


@transaction.atomic
def move(opening: Opening, after: Opening | None, *, author: User, request: str = "") -> None:
    """Walk to an opening right after another one; where there is none, first of all.

    Done twice it is done once. Raises :class:`Refused` where the other one is of another site, or the same one.
    """
    if after is not None and (after.site_id != opening.site_id or after.pk == opening.pk):
        raise Refused(_("A door is moved behind another door of the same site."))
    Site.objects.select_for_update().get(pk=opening.site_id)  # one order at a time
    before = list(Opening.objects.filter(site_id=opening.site_id))
    order = [each for each in before if each.pk != opening.pk]
    at = 0 if after is None else 1 + next(at for at, each in enumerate(order) if each.pk == after.pk)
    order.insert(at, opening)
    if [each.pk for each in order] == [each.pk for each in before]:
        return
    for position, each in enumerate(order):
        each.position = position
    Opening.objects.bulk_update(order, ["position"])
    Event.objects.create(
        who=author,
        organisation_id=opening.site.organisation_id,
        site_id=opening.site_id,
        opening=opening,
        verb="moved",
        what=_("first") if after is None else f"→ {after.tag}",
        request=request,
    )
