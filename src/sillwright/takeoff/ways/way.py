"""How the signal goes from the leaf to the operator: coiled cord, reel, radio or fixed wire, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sillwright.base import data
from sillwright.base.finding import Finding
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import CoiledCord
from sillwright.survey.classified import area_of
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import End, Way, WayKind
from sillwright.takeoff.round_about import coldest, values_of
from sillwright.takeoff.ways._cord import ROUND_OFF, cord
from sillwright.takeoff.ways.cord_model import CordCase, CordResult, CordStock
from sillwright.takeoff.ways.cord_there import cord_at_gate, cord_there, wires_there
from sillwright.takeoff.ways.way_findings import way_findings
from sillwright.takeoff.ways.wires import conductors, fixed_wire

_NO_PART = N_("No electric part is proposed until the owner's document says how the area is classified.")
_LISTED = N_("Radio counts as monitored only where edge, transmitter, receiver and input are listed together.")


def way(site: Site, opening: Opening, lead_end: End | None = None, catalogue: Catalogue | None = None) -> Way:
    """The way from the leaf to the operator for one opening, judged together with what hangs there now.

    ``lead_end`` is the end of the lead, inside looking out. Lengths are for the worst of what is known: the
    greatest of readings that do not agree, and where nobody took down the offset of the box, its usual range.

    Source: trade rules of thumb (CORD, REEL and SIDE), from memory.
    """
    kind = opening.door.kind.value
    if kind is None:
        return _not_told(N_("The kind of leaf is not known, and with it not what its lead has to follow."))
    if kind in GATES:
        return _gate(opening)
    if kind == "high_speed":
        said = N_(
            "A fabric leaf takes what its maker gives: a transmitter in the bottom beam, or a cord in the frame."
        )
        return _not_told(said)
    if not values_of(opening.door.clear_height):
        return _not_told(N_("The height of the opening is not known; the lead travels that far."))
    return _beside(site, opening, lead_end, catalogue)


def _not_told(said: str) -> Way:
    return Way(kind="unknown", why=Sentence(said))


def _gate(opening: Opening) -> Way:
    return Way(
        kind="radio",
        why=Sentence(N_("On a gate a coiled cord would drag over the ground: the moving leaf speaks by radio.")),
        conductors=conductors(opening),
        alternatives=(
            Sentence(N_("A cable carrier along the leaf, or a reel.")),
            Sentence(N_("Fixed wire, where the edge stands on the receiving post and not on the leaf.")),
            Sentence(_LISTED),
        ),
        findings=(*wires_there(opening), *cord_at_gate(opening)),
    )


@dataclass(frozen=True, kw_only=True)
class Reach:
    """The worst and the best of what the facts leave open, computed."""

    worst: CordResult
    mildest: CordResult
    cold: float | None
    side: str | None

    @property
    def one_cord(self) -> bool:
        """Whether the same cord is right whatever the open facts turn out to be."""
        return self.worst.retracted == self.mildest.retracted


def _beside(site: Site, opening: Opening, lead_end: End | None, catalogue: Catalogue | None) -> Way:
    """A leaf that goes up, with a wall beside it."""
    cold = coldest(site, opening)
    stock = _cords(catalogue, cold)
    found = _computed(opening, stock, catalogue)
    side = opening.box.side.value or (lead_end if lead_end in {"left", "right"} else None)
    worst = max(found, key=lambda each: each.longest)
    reach = Reach(worst=worst, mildest=min(found, key=lambda each: each.longest), cold=cold, side=side)
    kind, why = _choice(opening, reach)
    return Way(
        kind=kind,
        why=why,
        retracted=worst.retracted if kind == "cord" else None,
        longest=worst.longest,
        shortest=worst.shortest,
        ratio=worst.ratio if kind == "cord" else None,
        cord=None if _no_wall(opening) else worst.retracted,
        box_height=worst.best_box_height,
        box_side=side,
        fixed_wire=fixed_wire(opening, side, worst.box_height),
        part=_part(kind, reach, stock, catalogue, conductors(opening)) if _electric(opening) else None,
        conductors=conductors(opening),
        alternatives=_alternatives(opening, kind, worst),
        findings=_findings(opening, lead_end, reach, kind),
    )


def _findings(opening: Opening, lead_end: End | None, reach: Reach, kind: WayKind) -> tuple[Finding, ...]:
    both = (reach.mildest, reach.worst)
    return (
        *wires_there(opening),
        *cord_there(opening, lead_end, both),
        *way_findings(opening, kind, both, reach.cold, reach.side),
    )


def _computed(opening: Opening, stock: tuple[CoiledCord, ...], catalogue: Catalogue | None) -> list[CordResult]:
    """The cord for every combination that open facts leave: height, offset of the box, height of the box."""
    offsets = values_of(opening.box.offset) or _table("box")["offset"]
    boxes = values_of(opening.box.height) or (None,)
    had = tuple(
        CordStock(retracted=each.retracted, extended=each.extended, conductors=each.conductors) for each in stock
    )
    cables = tuple(each.cable for each in catalogue.reels) if catalogue else ()
    eyes = [each for each in opening.protection if each.kind.value == "photo_eye"]
    beams = tuple(height for each in eyes for height in values_of(each.height))
    return [
        cord(
            CordCase(
                highest=height,
                offset=offset,
                box_height=box,
                stock=had,
                reel_cables=cables,
                conductors=conductors(opening),
                obstacles=beams,
            )
        )
        for height in values_of(opening.door.clear_height)
        for offset in offsets
        for box in boxes
    ]


def _cords(catalogue: Catalogue | None, cold: float | None) -> tuple[CoiledCord, ...]:
    """The cords of the catalogue that bear the cold of the place."""
    frost = cold is not None and cold < _table("cord")["coldest"] - ROUND_OFF
    cords = [each for each in catalogue.cords if each.extended > each.retracted] if catalogue else []
    return tuple(
        each for each in cords if not frost or (each.coldest is not None and each.coldest <= (cold or 0.0))
    )


def _table(name: str) -> Any:
    return data.table("sillwright.takeoff", "cord")[name]


def _choice(opening: Opening, reach: Reach) -> tuple[WayKind, Sentence]:
    """Cord, reel or radio: the wall first, then the travel, then what fits."""
    worst, told = reach.worst, {"cord": reach.worst.why}
    if _no_wall(opening):
        said = N_("Neither side has the free wall for a box and a cord, {wall}: radio needs none.")
        return "radio", Sentence(said, {"wall": Amount(_table("wire")["free_wall"][0], "m")})
    far = worst.case.highest > _table("reel")["travel"] + ROUND_OFF
    if worst.way == "cord" and far and not _too_fast(opening) and worst.reel_cable is not None:
        frost = reach.cold is not None and reach.cold < _table("cord")["coldest"]
        travel = {**told, "travel": Amount(worst.case.highest, "m"), "most": Amount(_table("reel")["travel"], "m")}
        if not frost:
            said = N_("The lead travels {travel}; above {most} a reel keeps a cord out of the way.")
            return "reel", Sentence(said, travel)
        return "cord", Sentence(
            N_("{cord} Above {most} of travel a reel is usual, but the cold of this place is better for a cord."),
            travel,
        )
    if worst.way == "reel" and _too_fast(opening):
        said = N_("{cord} But the leaf opens faster than a reel winds up: radio.")
        return "radio", Sentence(said, told)
    return worst.way, Sentence("{cord}", told)


def _no_wall(opening: Opening) -> bool:
    walls = (values_of(opening.free_wall.left), values_of(opening.free_wall.right))
    return all(each and max(each) < _table("wire")["free_wall"][0] - ROUND_OFF for each in walls)


def _electric(opening: Opening) -> bool:
    """Whether an electric part may be proposed: not where the area may be classified (PRO-9)."""
    return area_of(opening.surroundings.classified_area) in {None, "ordinary"}


def _too_fast(opening: Opening) -> bool:
    """Whether the leaf is known to open faster than any usual reel winds up."""
    speeds = values_of(opening.door.opening_speed)
    return bool(speeds) and min(speeds) > _table("reel")["rewind"][1] + ROUND_OFF


def _part(
    kind: WayKind, reach: Reach, stock: tuple[CoiledCord, ...], catalogue: Catalogue | None, needed: int | None
) -> str | None:
    """The part of the catalogue by name; none while it is open which one is right."""
    if catalogue is None or needed is None or not reach.one_cord:
        return None
    if kind == "cord":
        fitting = [each for each in stock if each.retracted == reach.worst.retracted and each.conductors >= needed]
        return min(fitting, key=lambda each: each.conductors).name if fitting else None
    if kind == "reel":
        reels = [each for each in catalogue.reels if each.conductors >= needed]
        enough = [each for each in reels if each.cable >= reach.worst.reel_cable_needed - ROUND_OFF]
        return min(enough, key=lambda each: each.cable).name if enough else None
    return None


def _alternatives(opening: Opening, kind: WayKind, worst: CordResult) -> tuple[Sentence, ...]:
    said = [] if _electric(opening) else [Sentence(_NO_PART)]
    if kind == "cord" and worst.reel_cable is not None:
        needs = {"needed": Amount(worst.reel_cable_needed, "m"), "cable": Amount(worst.reel_cable, "m")}
        said.append(Sentence(N_("A reel at the head, {cable} of cable ({needed} needed)."), needs))
    if kind != "cord" and worst.way == "cord":
        said.append(Sentence("{cord}", {"cord": worst.why}))
    if opening.door.second_leaf.given:
        said.append(Sentence(N_("With two leaves in one opening radio keeps cords out of the other leaf's way.")))
    said.append(Sentence(_LISTED))
    if opening.door.kind.value in {"rolling", "grille", "rolling_fire"}:
        said.append(
            Sentence(N_("Try radio with the leaf open: the coil beside the transmitter costs 10 to 25 dB."))
        )
    return tuple(said)
