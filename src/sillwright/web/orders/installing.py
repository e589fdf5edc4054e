"""The install sheet of what an order holds for an opening."""

from __future__ import annotations

from django.utils import timezone

from sillwright import __version__
from sillwright.base.words import Reader
from sillwright.paper.install_sheet import install_sheet_of
from sillwright.web.orders.acknowledging import agreed_of
from sillwright.web.orders.models import Order
from sillwright.web.orders.orders import Ordered, lines_now
from sillwright.web.orders.taken import sheaf_of
from sillwright.web.trouble.substitutes import refuse_while_in


def install_content(row: Order, ordered: Ordered, reader: Reader) -> bytes:
    """The sheet for the opening of a line, with all its lines as they are built.

    Raises :class:`Refused` while a substitute part is in there, :class:`OutputError` where it cannot be set.
    """
    refuse_while_in([ordered.opening])
    found = lines_now(row)
    sheaf = sheaf_of(row.site, row.site.openings.filter(pk=ordered.opening), row.catalogue)
    settled = agreed_of(row, found.plain)
    built = {each.line.number: each.line for each in settled.lines if each.dropped is None} if settled else None
    here = [each.line for each in found.lines if each.opening == ordered.opening]
    lines = tuple(here if built is None else (built[each.number] for each in here if each.number in built))
    taken = sheaf.openings[ordered.opening]
    profile = sheaf.profile(lines[0].profile if lines else ordered.line.profile)
    return install_sheet_of(
        taken.facts,
        sheaf.with_profile(taken, profile),
        profile,
        lines,
        reader,
        made_on=timezone.localdate(),
        version=__version__,
        reference=row.label,
    )
