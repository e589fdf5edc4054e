"""The fixed words of the report: headings, table heads, the model of the contact in words."""

from __future__ import annotations

from sillwright.base.words import N_

LABELS: dict[str, str] = {
    "viewpoint": N_("Sides are said inside, looking out."),
    "page": N_("page {page} of {pages}"),
    "cautions": N_("Before anybody works here"),
    "openings": N_("What each opening comes to"),
    "opening": N_("Opening"),
    "answer": N_("Answer"),
    "first": N_("What to do first"),
    "enforced": N_("Who looks at this, by which text"),
    "signatures": N_("Signatures"),
    "owner": N_("For the owner: name"),
    "prepared": N_("Prepared by: name"),
    "signature": N_("signature"),
    "date": N_("date"),
    "notes": N_("Notes"),
    "findings": N_("Findings, heaviest first"),
    "no_findings": N_("Nothing was found to report."),
    "why": N_("Why:"),
    "act": N_("Do:"),
    "ask": N_("What to ask next, in this order"),
    "fact": N_("Not known"),
    "reason": N_("Why it matters"),
    "reply": N_("Answer, by whom, on"),
    "devices": N_("Protective devices and what they count as"),
    "wired": N_("How it is wired"),
    "supply": N_("Accessory supply"),
    "shows": N_("What a meter shows"),
    "shows_how": N_("Power locked out, one conductor lifted where the meter is; ohms, not the beeper."),
    "ohms": N_("Ohm readings so far"),
    "wiring_sheet": N_("The wiring sheet draws every device from terminal to far end, with room to write."),
    "order": N_("What to order"),
    "blocked": N_("What stands against it"),
    "releases": N_("What releases it"),
    "lead": N_("Lead and way to the operator"),
    "fitting": N_("Channel, weight, height and floor"),
    "on_floor": N_("Profiles on this floor"),
    "profiles": N_("Profiles of the catalogue"),
    "appendix": N_("Engineer's appendix"),
    "appendix_intro": N_(
        "What the answers rest on, so that they can be checked by hand: inputs and where they come from, "
        "assumptions, formulas, limits, rules and sources. Numbers are computed in SI units and shown in the "
        "reader's."
    ),
    "model": N_("How the contact is computed"),
    "model_motion": N_(
        "A closing leaf of moving mass m meets a force gauge. y is its travel after the touch, F the contact "
        "force, N what the drive adds to its motion:"
    ),
    "alt_motion": N_("m times the second derivative of y equals N minus F of y"),
    "model_drive": N_(
        "The drive follows its own path u through a stiffness and a damping; it pushes and lifts no "
        "harder than its limits:"
    ),
    "alt_drive": N_(
        "N equals k d times u minus y plus c d times their difference in speed, held between minus the lift "
        "limit and the push limit"
    ),
    "lift": N_("lift"),
    "push": N_("push"),
    "model_force": N_(
        "The edge's force-travel curve and the gauge's stiffness act one behind the other, and never pull:"
    ),
    "edge": N_("edge"),
    "obstruction": N_("obstruction"),
    "alt_force": N_("the inverse stiffness is the sum of the edge's and the obstruction's; F is never negative"),
    "model_limits": N_(
        "When the edge has been pressed by its actuation travel, and its response and the operator's reaction "
        "have passed, the drive slows to rest, waits and opens. The middle case takes the middle of every "
        "input; the band takes all inputs over their ranges. Outside these assumptions the model gives no "
        "number. A prediction is not a force record."
    ),
    "contact": N_("Contact of the closing leaf with a force gauge"),
    "inputs": N_("Inputs of the contact"),
    "assumptions": N_("Assumptions"),
    "rules": N_("Rules and verdicts"),
    "facts": N_("Facts as they were taken down"),
    "facts_how": N_("As used (“as written”; where it comes from, where that was recorded)."),
    "also_asked": N_("Also not known"),
    "sources": N_("Sources"),
}
"""By the name under which the template asks for them."""
