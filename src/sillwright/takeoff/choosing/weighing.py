"""How much an edge adds to a leaf, and what that asks of the springs."""

from __future__ import annotations

from typing import Literal

from sillwright.base import data
from sillwright.base.units import Kilogram, Metre
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening
from sillwright.takeoff.round_about import values_of

ROUND_OFF: Kilogram = 1e-9
BALANCED = {"sectional", "rolling", "grille", "rolling_fire", "one_piece"}

Weight = Literal["little", "check balance", "change springs"]


def added_weight(profile: Profile, length: Metre | None) -> Kilogram | None:
    """The weight of a body of this length with its channel; None where either is not known."""
    if profile.weight_per_metre is None or length is None:
        return None
    return profile.weight_per_metre * length


def weighed(opening: Opening, added: Kilogram) -> Weight:
    """What an added weight asks of the springs, by the lightest that the leaf may be.

    Source: trade rules of thumb (PRO-8), from memory.
    """
    table = data.table("sillwright.takeoff", "profiles")["weight"]
    if added > table["spring_change"] + ROUND_OFF:
        return "change springs"
    masses = values_of(opening.door.leaf_mass) if opening.door.kind.value in BALANCED else ()
    share = bool(masses) and added > table["share"] * min(masses) + ROUND_OFF
    return "check balance" if share or added > table["little"] + ROUND_OFF else "little"
