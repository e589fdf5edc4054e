"""The fall of the sill from front to back, under the width of the body (FLOOR-8)."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.finding import Finding
from sillwright.base.scale import INCH
from sillwright.base.units import Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.floors.floor_findings import finding
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number
from sillwright.takeoff.round_about import values_of

PATH = "floor.fall"
OVER: Metre = float(2 * INCH)
"""The length over which the fall is measured."""


def tilts(opening: Opening) -> bool | None:
    """Whether the sill falls so much that the touch is tilted; None where nobody measured it.

    Of several readings the greatest counts: a touch that may be tilted is not known to be square.
    """
    falls = values_of(opening.floor.fall)
    return max(falls) / OVER > number("crossfall") + ROUND_OFF if falls else None


def fall_findings(opening: Opening) -> Iterator[Finding]:
    """What the fall of the sill asks of the profile, and whether its readings agree."""
    fact = opening.floor.fall
    if tilts(opening):
        told = {"fall": Amount(max(values_of(fact)), "m"), "over": Amount(OVER, "m")}
        text = N_("The sill falls by {fall} over {over}, front to back: that tilts the touch.")
        why = Sentence(N_("A flat body is pressed at its front or its back there, not in its middle."))
        do = N_("Choose a round-nosed profile.")
        yield finding("floor_fall", "note", Sentence(text, told), do=do, facts=(PATH,), why=why)
    if fact.standing == "two readings":
        said = Sentence(N_("Two readings of the sill's fall, front to back, do not agree; the greater counts."))
        yield finding("floor_fall_twice", "note", said, do=N_("Measure it again."), facts=(PATH,))
