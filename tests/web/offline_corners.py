"""Openings on which two workings-out of an order could part: limits met exactly, readings apart, odd letters."""

from __future__ import annotations

from sillwright.survey.entries import Entry


def _twice(path: str, *typed: str) -> list[Entry]:
    return [Entry(path=path, typed=each, origin="measured") for each in typed]


APART = [("left", "7 in", "9 in"), ("right", "7 in", "9 in")]
CORNERS: dict[str, list[Entry]] = {
    "a panel measured twice, once in feet with a decimal point": [
        Entry(path="door.kind", typed="sectional"),
        *_twice("door.panel_width", "10 ft 6 in", "10.6 ft", "10 ft 6-1/8 in"),
    ],
    "a panel measured on three days, a sixteenth of an inch apart": [
        Entry(path="door.kind", typed="sectional"),
        *_twice("door.panel_width", "126-1/16 in", "126 in", "126-1/16 in"),
    ],
    "a wide panel measured an inch apart": [
        Entry(path="door.kind", typed="sectional"),
        *_twice("door.panel_width", "20 ft 3 in", "20 ft 2 in"),
    ],
    "readings that contradict each other in more ways than are computed": [
        *_twice("door.kind", "rolling", "grille"),
        *_twice("door.clear_width", "10 ft", "12 ft"),
        *_twice("door.guide_clear.floor", "14 ft", "15 ft"),
        *_twice("door.guide_clear.chest", "13 ft", "14 ft"),
        *_twice("door.guide_clear.head", "16 ft", "17 ft"),
        *_twice("door.bottom.seat_length", "9 ft", "16 ft"),
        *_twice("door.bottom.bar_overall", "15 ft", "18 ft"),
    ],
    "three readings of every measurement, of which the ends alone are computed": [
        *_twice("door.kind", "rolling"),
        *_twice("door.clear_width", "10 ft", "11 ft", "12 ft"),
        *_twice("door.guide_clear.floor", "14 ft", "15 ft", "16 ft"),
        *_twice("door.guide_clear.chest", "14 ft", "15 ft", "16 ft"),
        *_twice("door.guide_clear.head", "14 ft", "15 ft", "16 ft"),
        *_twice("door.bottom.seat_length", "6 ft", "7 ft", "8 ft"),
    ],
    "more ways than are computed, the first of them alike": [
        *_twice("door.kind", "rolling"),
        *_twice("door.clear_width", "10 ft", "12 ft"),
        *_twice("door.guide_clear.floor", "8 ft", "15 ft"),
        *_twice("door.guide_clear.chest", "13 ft", "14 ft"),
        *_twice("door.guide_clear.head", "16 ft", "17 ft"),
        *_twice("door.bottom.seat_length", "6 ft", "7 ft"),
        *_twice("door.bottom.bar_overall", "15 ft", "18 ft"),
        *(
            Entry(path=f"door.guide_clear.{height}", typed="as high as it goes", origin="told")
            for height in ("floor", "chest", "head")
        ),
    ],
    "a gap below a swing gate that nobody can have measured": [
        Entry(path="door.kind", typed="swing_gate"),
        Entry(path="door.leaf_height", typed="5 ft"),
        Entry(path="door.leaf_length", typed="8 ft"),
        Entry(path="door.underside", typed="2 in"),
        Entry(path="zones.z1.place", typed="underside"),
        Entry(path="zones.z1.gap", typed="11 m"),
    ],
    "a slide gate with a tail of which one gap is missing and the other is close": [
        Entry(path="door.kind", typed="slide_gate"),
        Entry(path="door.underside", typed="2 in"),
        Entry(path="door.leaf_top", typed="84 in"),
        Entry(path="zones.z1.place", typed="tail and wall"),
        Entry(path="zones.z1.gap", typed="10 in"),
        Entry(path="zones.z2.place", typed="tail and post"),
    ],
    "boxes at two heights that reach as far as each other": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="door.clear_height", typed="14 ft"),
        *_twice("box.height", "5 ft", "9 ft"),
        *_twice("box.offset", "1 ft", "2 ft"),
    ],
    "walls of which two readings leave room on neither side for sure": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="door.clear_height", typed="14 ft"),
        Entry(path="operator.side", typed="left"),
        Entry(path="operator.kind", typed="jackshaft"),
        *(each for side, *apart in APART for each in _twice(f"free_wall.{side}", *apart)),
    ],
    "a wall free by exactly 8 in, in metres and in inches": [
        Entry(path="door.kind", typed="rolling"),
        Entry(path="operator.side", typed="left"),
        Entry(path="free_wall.left", typed="0.2032 m"),
        Entry(path="free_wall.right", typed="8 in"),
    ],
    "a cord drawn to exactly its limit": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="door.clear_height", typed="112 in"),  # less 49 in are 63 in, a little more in binary
        Entry(path="box.height", typed="49 in"),
        Entry(path="box.offset", typed="0 in"),
    ],
    "an operator in the middle, a box on either side, a wall station on the left": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="operator.kind", typed="trolley"),
        Entry(path="box.side", typed="left"),
        Entry(path="box.side", typed="right"),
        Entry(path="stations.s1.place", typed="left jamb"),
    ],
    "guides that are fine, in letters that hang together": [
        Entry(path="door.kind", typed="rolling"),
        Entry(path="door.guide_clear.floor", typed="12 ft"),
        Entry(path="door.guide_condition", typed="ﬁne"),
    ],
    "a travel of exactly 16 ft where a reel begins": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="door.clear_height", typed="4.8768 m"),
        Entry(path="box.offset", typed="1 ft"),
    ],
    "a high door in a place as cold as 0 degF": [
        Entry(path="door.kind", typed="sectional"),
        Entry(path="door.clear_height", typed="18 ft"),
        Entry(path="surroundings.cold_side", typed="5 degF"),
        Entry(path="surroundings.warm_side", typed="-1 degF"),
    ],
}
