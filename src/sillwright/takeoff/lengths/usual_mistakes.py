"""What the measurement that is usually taken in its place would have given."""

from __future__ import annotations

from sillwright.base.words import N_, Phrase, say
from sillwright.takeoff.lengths.length_model import LengthCase
from sillwright.takeoff.lengths.measures import above, down
from sillwright.takeoff.lengths.rules_of_length import Cut, metres

OPENING = {
    "bottom": N_("The opening's width would have given {wrong}, {difference} {way}."),
    "leading": N_("The gate's opening would have given {wrong}, {difference} {way}."),
    "underside": N_("Half of the opening's width would have given {wrong}, {difference} {way}."),
}
BAR = N_("The bottom bar over all would have given {wrong}, {difference} {way}.")
LONGER, SHORTER = N_("too long"), N_("too short")


def usual_mistake(case: LengthCase, cut: Cut) -> Phrase | None:
    """What the usual wrong measurement would have given for a body; None where it is not known or comes out right.

    Sectional, one-piece: the opening. Between guides: the bar over all, else the opening. A slide gate's leading
    edge: the gate's opening. A swing gate's underside: half of the opening.
    """
    if cut.body is None or cut.rule == "LEN-7":
        return None
    guides = cut.rule in {"LEN-4", "LEN-6"}
    if guides and case.bar_overall is not None:
        wrong, said = down(case.bar_overall), BAR
    elif case.clear_width is not None and cut.place in OPENING:
        wrong, said = down(case.clear_width / (2 if cut.place == "underside" else 1)), OPENING[cut.place]
    else:
        return None
    apart = wrong - cut.body
    if not above(abs(apart), 0.0):
        return None
    told = {"wrong": metres(wrong), "difference": metres(abs(apart)), "way": say(LONGER if apart > 0 else SHORTER)}
    if guides and apart > 0:
        return say(N_("{what} It would stand in the guides."), what=say(said, **told))
    return say(said, **told)
