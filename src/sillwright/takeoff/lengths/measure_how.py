"""How each measurement that a length rests on is taken, in a sentence for whoever holds the tape."""

from __future__ import annotations

from sillwright.base.words import N_

FACT_OF = {
    "panel_width": "door.panel_width",
    "guide_clear_floor": "door.guide_clear.floor",
    "seat_length": "door.bottom.seat_length",
    "leaf_width": "door.leaf_width",
    "clear_width": "door.clear_width",
    "meets": "door.meets",
    "underside": "door.underside",
    "underside_open": "zones",
    "leaf_top": "door.leaf_top",
    "leaf_length": "door.leaf_length",
    "leaf_height": "door.leaf_height",
    "serial": "door.serial",
}
"""The fact behind a measurement that the calculation misses."""
HOW = {
    "door.panel_width": N_(
        "Measure the bottom panel, stile to stile, along its bottom edge at the retainer; not the opening, not "
        "track to track."
    ),
    "door.guide_clear.floor": N_(
        "Measure the clear between the guide faces at the floor, at chest height and at the head; not the bar over "
        "all, the slats or the coil."
    ),
    "door.bottom.seat_length": N_("Measure the pocket of the bottom beam; a check, not an order."),
    "door.leaf_width": N_("Measure the bottom of the leaf, end to end."),
    "door.clear_width": N_("Measure the clear width between the jambs."),
    "door.meets": N_("Look whether the closed leaf overlaps the opening or closes between the jambs."),
    "door.underside": N_("Measure the gap below the closed leaf, at both ends."),
    "zones": N_("Measure the gap below the leaf along its whole swing, and name it among the zones."),
    "door.leaf_top": N_("Measure the top of the leaf above grade."),
    "door.leaf_length": N_("Measure the leaf from hinge to tip; not half of the opening."),
    "door.leaf_height": N_("Measure the height of the leaf."),
    "door.serial": N_("Read the door's serial plate and send it with a photo."),
}
"""By fact: where to hold the tape, and what is not to be measured in its place."""
WHAT = {
    "door.panel_width": N_("width of the bottom panel"),
    "door.guide_clear.floor": N_("clear between the guides"),
    "door.bottom.seat_length": N_("length of the pocket"),
    "door.leaf_width": N_("width of the leaf"),
    "door.clear_width": N_("clear width"),
    "door.meets": N_("way the leaf closes"),
    "door.underside": N_("gap below the leaf"),
    "zones": N_("gap below the leaf along its swing"),
    "door.leaf_top": N_("top of the leaf above grade"),
    "door.leaf_length": N_("length of the leaf"),
    "door.leaf_height": N_("height of the leaf"),
    "door.serial": N_("serial number"),
}
"""By fact: what it is called in a sentence."""
