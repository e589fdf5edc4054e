"""What stands on every sheet of this chapter before anybody opens a box."""

from __future__ import annotations

from sillwright.base.words import N_, Sentence

CAUTIONS = (
    Sentence(
        N_("Lock the power out and tag it before any cover is opened; try the control to see that it is dead.")
    ),
    Sentence(
        N_("The operator's own instructions and the device's decide; where they say otherwise, they are right.")
    ),
    Sentence(
        N_("Wiring to the mains is for a licensed electrician; springs, cables and brackets for a door technician.")
    ),
    Sentence(
        N_("No part is ever put across terminals to make a leaf run. What was lent for a test is booked out again.")
    ),
    Sentence(
        N_("Afterwards two people test every device with the whole leaf in view, before anybody else uses it.")
    ),
)
METER = (
    Sentence(N_("Readings: power locked out, one conductor lifted at the board, ohms, not the beeper.")),
    Sentence(N_("Fingers on both probes add their own; hold one probe with a clip.")),
    Sentence(
        N_("Press the edge while you read: an open reading looks the same at a sound plain edge and at a dead one.")
    ),
)
