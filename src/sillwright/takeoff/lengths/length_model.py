"""What the length of an edge is computed from, and what the answer holds."""

from __future__ import annotations

from typing import ClassVar, Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Metre
from sillwright.base.words import N_, say

LeafKind = Literal[
    "sectional", "rolling", "grille", "rolling_fire", "high_speed", "one_piece", "slide_gate", "swing_gate"
]
Place = Literal["bottom", "leading", "trailing", "post", "tip", "underside"]
Guides = Literal["looked_at", "bent", "wind_locks", "not_looked_at"]
Meets = Literal["overlaps", "between_jambs"]
LeadEnd = Literal["left", "right", "both"]
Construction = Literal["factory_sealed", "cut_on_site"]
Ships = Literal["coiled", "straight"]
OrderWord = Literal["body", "sensing"]
Verdict = Literal["within", "note", "just met", "act"]
PLACES: dict[Place, str] = {
    "bottom": N_("bottom edge"),
    "leading": N_("leading edge"),
    "trailing": N_("trailing edge"),
    "post": N_("post"),
    "tip": N_("tip of the leaf"),
    "underside": N_("underside of the leaf"),
}


class LengthCase(Case):
    """A leaf as it was measured, and what is known of the body that goes onto it. Sides inside, looking out."""

    asks_of_decimal_feet: ClassVar[bool] = True

    kind: LeafKind = field(title="Kind of leaf")
    clear_width: Metre | None = field(default=None, above=0, at_most=60, title="Daylight width of the opening")
    panel_width: Metre | None = field(
        default=None, above=0, at_most=60, title="Bottom panel, stile to stile, along its bottom edge"
    )
    bracket_left: Metre | None = field(
        default=None, at_least=0, at_most=60, title="How far the left bottom bracket reaches into the retainer"
    )
    bracket_right: Metre | None = field(default=None, at_least=0, at_most=60, title="The same on the right")
    bracket_below_channel: bool | None = field(default=None, title="Whether a bracket stands below the channel")
    guide_clear_floor: Metre | None = field(
        default=None, at_least=0, at_most=60, title="Clear between the guide faces at the floor"
    )
    guide_clear_chest: Metre | None = field(default=None, at_least=0, at_most=60, title="The same at chest height")
    guide_clear_head: Metre | None = field(default=None, at_least=0, at_most=60, title="The same at the head")
    guide_condition: Guides = field(default="not_looked_at", title="How the guides are")
    seat_length: Metre | None = field(
        default=None,
        at_least=0,
        at_most=60,
        title="Flat seat below the bottom bar outside the guides; fabric: pocket",
    )
    bar_overall: Metre | None = field(default=None, at_least=0, at_most=60, title="Bottom bar over all")
    plugs_bigger: bool = field(default=False, title="End plugs bigger than the section of the channel")
    leaf_width: Metre | None = field(default=None, at_least=0, at_most=60, title="Width of a one-piece leaf")
    meets: Meets | None = field(default=None, title="One-piece: overlaps the opening, or closes between the jambs")
    underside: Metre | None = field(default=None, at_least=0, at_most=10, title="Gap below a gate's leaf, closed")
    underside_open: Metre | None = field(default=None, at_least=0, at_most=10, title="The same, fully open")
    leaf_top: Metre | None = field(default=None, at_least=0, at_most=40, title="Top of a gate's leaf above grade")
    leaf_length: Metre | None = field(default=None, at_least=0, at_most=60, title="Length of a gate's leaf")
    leaf_height: Metre | None = field(default=None, at_least=0, at_most=40, title="Height of a gate's leaf")
    post_count: int | None = field(
        default=None, at_least=0, at_most=10_000, title="Fixed posts that a slide gate passes within 16 in"
    )
    post_start: Metre = field(
        default=0.0508, at_least=0.0508, at_most=0.1016, title="Where the body on a post begins above grade"
    )
    tail_gap: Metre | None = field(
        default=None, at_least=0, at_most=60, title="From a slide gate's tail to anything fixed, fully open"
    )
    dead_end_lead: Metre | None = field(
        default=None, at_least=0, at_most=0.3, title="Dead end of the body at its lead"
    )
    dead_end_far: Metre | None = field(default=None, at_least=0, at_most=0.3, title="Dead end away from the lead")
    lead_end: LeadEnd | None = field(default=None, title="End at which the lead comes out")
    shift: Metre = field(
        default=0.0, at_least=-1, at_most=1, title="How far the body sits off centre, to the right"
    )
    construction: Construction = field(default="factory_sealed", title="Sealed by its maker, or cut on site")
    ships: Ships = field(default="coiled", title="How it ships")
    piece_limit: Metre | None = field(
        default=None, at_least=0.05, at_most=60, title="Longest piece that can be had"
    )
    order_word: OrderWord = field(default="body", title="What the number on the order means")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.kind != "one_piece" and self.meets is not None:
            raise OutOfRange(say(N_("{path}: belongs to a one-piece leaf"), path="LengthCase.meets"))


class EdgeLengths(Model):
    """One body of an edge and its lengths; null where a measurement is missing."""

    place: Place = field(title="Where it sits")
    rule: str = field(title="Rule it follows")
    body_length: Metre | None = field(title="Rubber without loose fins, B; of all pieces with their joints")
    sensing_length: Metre | None = field(title="The stretch that answers, S")
    channel_length: Metre | None = field(title="The rail, C")
    order_length: Metre | None = field(title="The number on the order, for each piece")
    order_word: OrderWord = field(title="What that number means")
    clearance: Metre | None = field(title="Clearance on each side")
    piece_count: int = field(title="Pieces")
    piece_length: Metre | None = field(title="Length of each piece")
    joint_dead: Metre | None = field(title="Dead strip at a joint of two pieces")
    dead_left: Metre | None = field(title="Dead strip inside the opening on the left")
    dead_right: Metre | None = field(title="Dead strip inside the opening on the right")
    verdict_left: Verdict | None = field(title="Verdict on the left strip")
    verdict_right: Verdict | None = field(title="Verdict on the right strip")
    starts_at: Metre | None = field(default=None, title="Where an upright body begins above grade")
    ends_at: Metre | None = field(default=None, title="Where an upright body ends above grade")
    count: int | None = field(default=1, title="How many of it; null where that is not known")
    informs_only: bool = field(default=False, title="For information, never for an order")
    pocket_least: Metre | None = field(default=None, title="Fabric: least length by its pocket, a check only")
    pocket_most: Metre | None = field(default=None, title="Fabric: greatest length by its pocket, a check only")
    purchase_length: Metre | None = field(default=None, title="Cut on site: what to buy")
    plugs: int = field(default=0, title="Cut on site: end plugs")
    leads: int = field(default=0, title="Cut on site: leads")
    end_elements: int = field(default=0, title="Cut on site: end elements, where the circuit has one")
    missing: tuple[str, ...] = field(default=(), title="Measurements that are missing")
    usual_mistake: str | None = field(default=None, title="What the usual wrong measurement would have given")


class LengthResult(Result):
    """The bodies of an edge for one leaf: one for a door, several for a gate. The first one's stand on top."""

    body_length: Metre | None = field(title="Body length; null = not known")
    channel_length: Metre | None = field(title="Channel length")
    order_length: Metre | None = field(title="The number on the order, for each piece")
    piece_count: int = field(title="Pieces")
    dead_left: Metre | None = field(title="Dead strip inside the opening on the left")
    dead_right: Metre | None = field(title="Dead strip inside the opening on the right")
    bodies: tuple[EdgeLengths, ...] = field(title="Every body with its lengths")
    case: LengthCase = field(title="The case as it was computed")
    notes: tuple[str, ...] = field(default=(), title="What else to look at")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the numbers come from")
