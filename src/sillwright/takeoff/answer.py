"""What the take-off of one opening answers: lengths, lead, channel, way to the operator, floor, profiles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import Sentence

if TYPE_CHECKING:
    from sillwright.takeoff.floors.floor_model import FloorVerdict, Stretch

Place = Literal["bottom", "leading", "trailing", "post", "tip", "underside"]
End = Literal["left", "right", "both"]
WayKind = Literal["cord", "reel", "radio", "fixed", "unknown"]
FloorCure = Literal["none", "limit", "taper", "scribe", "fin", "grind", "patch", "floor_work", "unknown"]
Fits = Literal["fits", "does not fit", "not known"]


@dataclass(frozen=True, kw_only=True)
class Body:
    """One edge body and its four lengths, in metres; None where the measurement is missing."""

    place: Place
    rule: str  # LEN-1 …
    body: float | None  # B: rubber without loose fins
    sensing: float | None  # S: the stretch that answers
    channel: float | None  # C: the rail
    pieces: int
    piece: float | None  # length of each piece
    dead_left: float | None  # dead strip inside the opening, each side
    dead_right: float | None
    measured: tuple[str, ...]  # the facts it came from
    origin: str  # measured, told, assumed …
    by: str
    usual_mistake: Sentence | None  # what the usual wrong measurement would have given
    informs_only: bool = False  # not for an order: the door's maker supplies it
    missing: tuple[str, ...] = ()  # facts that are missing or nobody has settled
    count: int | None = 1  # how many of it; None where that is not known
    order: float | None = None  # the number on the order, for each piece
    order_word: Literal["body", "sensing"] = "body"  # what that number means
    clearance: float | None = None  # to each side
    joint_dead: float | None = None  # dead strip at each joint of pieces
    starts_at: float | None = None  # upright bodies: from and to, above grade
    ends_at: float | None = None
    purchase: float | None = None  # cut on site: what to buy
    dead_known: bool = False  # whether a data sheet told the dead ends
    assumptions: tuple[Sentence, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Lead:
    """The five facts of the lead, inside looking out, and the rule that gave each."""

    end: End | None
    rule: str  # SIDE-1 …
    why: Sentence
    exit: str | None
    from_end: float | None
    length: float | None
    fin: str | None
    confirmed_by: str
    confirmed_on: str
    facts: tuple[str, ...] = ()  # what the end rests on
    advised: End | None = None  # the end that the rule alone would give
    findings: tuple[Finding, ...] = ()

    @property
    def confirmed(self) -> bool:
        """Whether somebody confirmed it, and when is written."""
        return bool(self.confirmed_by and self.confirmed_on)


@dataclass(frozen=True, kw_only=True)
class Way:
    """How the signal goes from the leaf to the operator: coiled cord, reel, radio or fixed wire."""

    kind: WayKind
    why: Sentence
    retracted: float | None = None  # of the cord, metres
    longest: float | None = None  # greatest length between box and lead
    shortest: float | None = None
    ratio: float | None = None  # longest over retracted
    cord: float | None = None  # retracted length of the cord that would do, also where a reel is preferred
    box_height: float | None = None  # where the box is best
    box_side: str | None = None
    fixed_wire: float | None = None  # from the box to the operator
    part: str | None = None  # catalogue name
    conductors: int | None = None
    alternatives: tuple[Sentence, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class ChannelAdvice:
    """Which kind of channel goes onto this leaf, and why."""

    kind: Literal["existing", "slide_in", "face_fixed", "two_part", "ask"]
    why: Sentence
    part: str | None = None  # catalogue name
    pieces: tuple[float, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Changes:
    """What the new edge changes at the leaf: weight, height, and the cut-out near the floor."""

    added_weight: float | None  # kg
    added_height: float | None  # m
    window: tuple[float, float] | None  # cut-out height between, for the board laid flat
    window_strict: tuple[float, float] | None  # for the one-inch object
    sentence: Sentence | None  # what shows an owner why the floor matters
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, kw_only=True)
class FloorFit:
    """How the leaf's straight edge lies on the floor, and the cure where no profile seals it."""

    unevenness: float | None  # highest − lowest against a level edge
    strip: float | None  # the narrowest strip about the best slope
    slope: float | None  # of that strip, rise over run
    highest_at: float | None  # x of the highest point
    cure: FloorCure
    why: Sentence
    findings: tuple[Finding, ...] = ()
    verdicts: tuple[FloorVerdict, ...] = ()  # profile by profile
    stretches: tuple[Stretch, ...] = ()  # what to do along the sill
    heights: tuple[tuple[float, float], ...] = ()  # the floor from left to right, above its lowest point


@dataclass(frozen=True, kw_only=True)
class ProfileVerdict:
    """One profile of the catalogue at this leaf: fits, or every reason why not."""

    name: str
    fits: Fits
    price: float | None
    reasons: tuple[Sentence, ...]  # against it, or what is not known
    remarks: tuple[Sentence, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Block:
    """Why an order cannot be released, and what releases it."""

    id: str  # stable: "fire_label", "two_readings", "lead_unconfirmed" …
    reason: Sentence
    releases: Sentence
    facts: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class TakeOff:
    """The take-off of one opening."""

    bodies: tuple[Body, ...]
    lead: Lead
    way: Way
    channel: ChannelAdvice
    changes: Changes
    floor: FloorFit
    profiles: tuple[ProfileVerdict, ...]
    blocked: tuple[Block, ...]
    findings: tuple[Finding, ...]
    advice: tuple[Finding, ...] = ()  # on the order alone, not on the opening as it stands
    profile: str | None = None  # the one that lengths and weights are told for
    currency: str = ""  # of the prices; empty without a catalogue
    assumptions: tuple[Sentence, ...] = ()
    sources: tuple[Source, ...] = ()
