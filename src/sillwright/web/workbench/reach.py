"""What a page computes: whatever would hold this server for too long is refused before it is begun."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.errors import OutOfRange
from sillwright.circuit.margin_model import MarginCase
from sillwright.mechanics import contact
from sillwright.mechanics.model import ContactSpreadCase
from sillwright.takeoff.cutting.cutlist_model import CutlistCase

MOST_CONTACTS = 4_096
"""Contacts of one answer; a case with ranges needs its points times the ranges and two."""
MOST_PIECES = 500
"""Pieces of one cut list: some seconds of work."""
MOST_LOOPS = 10_000
"""Random loops of one answer, over all edges on the input."""
LONG = {"contact_spread", "cutlist", "diagnose", "margin"}
"""Calculations that wait for their turn."""


def within_reach(case: Any) -> None:
    """Raise :class:`OutOfRange` for what these pages leave to the command line."""
    if isinstance(case, ContactSpreadCase):
        _contacts(case)
    elif isinstance(case, CutlistCase):
        _pieces(case)
    elif isinstance(case, MarginCase):
        _loops(case)


def _contacts(case: ContactSpreadCase) -> None:
    rounds = len(case.ranges) + 2
    if case.points * rounds > MOST_CONTACTS:
        most = 2 ** ((MOST_CONTACTS // rounds).bit_length() - 1)
        words = _("points: more than these pages compute for so many ranges; {most} are accepted. ")
        raise OutOfRange(words.format(most=most) + _("The command line takes more."))
    contact(case.base)  # a motion that cannot be followed is refused here, before it is tried a thousand times


def _pieces(case: CutlistCase) -> None:
    count = sum(each.count for each in case.pieces)
    if count > MOST_PIECES:
        words = _("pieces: {count} in all; these pages cut at most {most}. ")
        raise OutOfRange(words.format(count=count, most=MOST_PIECES) + _("The command line takes more."))


def _loops(case: MarginCase) -> None:
    most = MOST_LOOPS // case.loop.devices
    if case.samples > most:
        words = _("samples: more than these pages compute for so many edges; {most} are accepted. ")
        raise OutOfRange(words.format(most=most) + _("The command line takes more."))
