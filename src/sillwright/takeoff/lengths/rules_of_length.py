"""How long a body is on each kind of leaf: LEN-1 to LEN-13 of the trade, from memory, to be confirmed on site."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.takeoff.lengths.length_model import LengthCase, Place
from sillwright.takeoff.lengths.measures import ROUND_OFF, above, down, number, up_to


@dataclass(frozen=True, kw_only=True)
class Cut:
    """One body before it is cut into pieces: how long it may be and what was said on the way."""

    place: Place
    rule: str
    body: float | None
    channel: float | None = None  # where it differs from the body
    clearance: float | None = None
    count: int | None = 1
    starts_at: float | None = None
    ends_at: float | None = None
    informs_only: bool = False
    pocket: tuple[float, float] | None = None
    across: bool = True  # lies across an opening, so that its ends leave a dead strip there
    missing: tuple[str, ...] = ()
    notes: tuple[Phrase, ...] = ()
    assumptions: tuple[Phrase, ...] = ()
    sources: tuple[str, ...] = ()


GUIDED = ("rolling", "grille", "rolling_fire")


def metres(value: float) -> Amount:
    """A length inside a sentence."""
    return Amount(value, "m")


def cuts(case: LengthCase) -> tuple[Cut, ...]:
    """The bodies of a leaf by the rule of its kind, the most important one first."""
    return tuple(_positive(each) for each in RULES[case.kind](case))


def _positive(cut: Cut) -> Cut:
    """A body of no length is none: the measurements say so."""
    if cut.body is None or above(min(cut.body, cut.body if cut.channel is None else cut.channel), 0.0):
        return cut
    said = say(N_("By these measurements nothing is left for a body; look at them again."))
    return Cut(place=cut.place, rule=cut.rule, body=None, across=cut.across, notes=(*cut.notes, said))


def _sectional(case: LengthCase) -> Iterator[Cut]:
    if case.panel_width is None:
        yield Cut(place="bottom", rule="LEN-1", body=None, missing=("panel_width",))
        return
    body = down(case.panel_width)
    brackets = (case.bracket_left or 0.0) + (case.bracket_right or 0.0)
    channel = down(case.panel_width - brackets)
    notes, assumptions = [], []
    if None in (case.bracket_left, case.bracket_right):
        assumptions.append(say(N_("No bottom bracket reaches into the retainer; nobody looked at both.")))
    if above(brackets, 0.0):
        if case.bracket_below_channel:
            body = channel
            notes.append(say(N_("The brackets stand below the channel: the body ends with the channel.")))
        else:
            said = N_("The body runs past the channel only if no bracket stands below it.")
            notes.append(say(said))
    if case.bracket_below_channel is None and above(brackets, 0.0):
        assumptions.append(say(N_("No bracket stands below the channel; nobody looked.")))
    yield Cut(
        place="bottom",
        rule="LEN-1",
        body=body,
        channel=channel,
        notes=tuple(notes),
        assumptions=tuple(assumptions),
    )


def guide_heights(case: LengthCase) -> tuple[float, ...]:
    """The clear between the guides at the heights at which it was measured."""
    found = (case.guide_clear_floor, case.guide_clear_chest, case.guide_clear_head)
    return tuple(each for each in found if each is not None)


def guides_bent(case: LengthCase) -> bool:
    """Whether the clear differs over the height by more than 3/8 in, or somebody saw a bent guide."""
    clear = guide_heights(case)
    differs = len(clear) > 1 and above(max(clear) - min(clear), number("guides-differ"))
    return differs or case.guide_condition == "bent"


def clearance(case: LengthCase) -> float:
    """Side clearance on each side for a leaf between guides: by their clear, and by how they are (LEN-3)."""
    smallest = min(guide_heights(case))
    size = next(
        (name for name in ("clearance-small", "clearance-medium") if smallest <= up_to(name) + ROUND_OFF), ""
    )
    base = number(size or "clearance-large")
    straight = case.guide_condition == "looked_at" or (
        case.guide_condition == "not_looked_at" and len(guide_heights(case)) == 3
    )
    return base if straight and not guides_bent(case) else base + number("clearance-more")


def _between_guides(case: LengthCase, *, informs_only: bool = False) -> Iterator[Cut]:
    rule = "LEN-6" if informs_only else "LEN-4"
    clear = guide_heights(case)
    if not clear:
        yield Cut(place="bottom", rule=rule, body=None, missing=("guide_clear_floor",), informs_only=informs_only)
        return
    each_side = clearance(case)
    room = min(clear) - 2 * each_side
    body = down(min(room, case.seat_length) if case.seat_length is not None else room)
    channel = down(body - number("plug-over-channel")) if case.plugs_bigger else body
    yield Cut(
        place="bottom",
        rule=rule,
        body=body,
        channel=channel,
        clearance=each_side,
        informs_only=informs_only,
        notes=tuple(_said_of_guides(case, room)),
        assumptions=tuple(_assumed_of_guides(case)),
        sources=("clearance-small",),
    )


def _said_of_guides(case: LengthCase, room: float) -> Iterator[Phrase]:
    clear = guide_heights(case)
    if guides_bent(case):
        said = N_(
            "A guide is bent: {difference} between the heights. Have it straightened, measure again, then order."
        )
        if above(max(clear) - min(clear), number("guides-differ")):
            yield say(said, difference=metres(max(clear) - min(clear)))
        else:
            yield say(N_("Somebody saw a bent guide. Have it straightened, measure again, then order."))
    if case.seat_length is not None and case.seat_length < room - ROUND_OFF:
        yield say(
            N_("The flat seat, {seat}, decides; the guides would leave {room}."),
            seat=metres(case.seat_length),
            room=metres(down(room)),
        )


def _assumed_of_guides(case: LengthCase) -> Iterator[Phrase]:
    if case.guide_condition == "not_looked_at" and len(guide_heights(case)) < 3 and not guides_bent(case):
        more = metres(number("clearance-more"))
        yield say(N_("Nobody looked at the guides: {more} more clearance on each side."), more=more)
    if case.seat_length is None:
        yield say(N_("The flat seat below the bar is as long as the guides allow; nobody measured it."))


def _fire(case: LengthCase) -> Iterator[Cut]:
    yield from _between_guides(case, informs_only=True)


def _fabric(case: LengthCase) -> Iterator[Cut]:
    """A fabric door's edge is ordered by serial number: no length, a check against the pocket at most."""
    pocket = case.seat_length
    limits = None
    notes = [say(N_("A fabric door's edge has no generic length: order it by the door's serial number."))]
    if pocket is not None:
        limits = (down(pocket - 2 * number("pocket-most")), down(pocket - 2 * number("pocket-least")))
        if limits[0] <= 0:
            limits = None
    if limits is not None:
        said = N_("A body for this pocket is usually {least} to {most} long; a check, not an order.")
        notes.append(say(said, least=metres(limits[0]), most=metres(limits[1])))
    yield Cut(
        place="bottom",
        rule="LEN-7",
        body=None,
        pocket=limits,
        missing=("serial",),
        notes=tuple(notes),
        sources=("pocket-least",),
    )


def _one_piece(case: LengthCase) -> Iterator[Cut]:
    meets = case.meets or _meets_by_width(case)
    if meets is None:
        names = ("meets", "leaf_width", "clear_width")
        missing = tuple(name for name in names if getattr(case, name) is None)
        yield Cut(place="bottom", rule="LEN-8", body=None, missing=missing)
        return
    width = case.leaf_width if meets == "overlaps" else case.clear_width
    if width is None:
        name = "leaf_width" if meets == "overlaps" else "clear_width"
        yield Cut(place="bottom", rule="LEN-8", body=None, missing=(name,))
        return
    each_side = 0.0 if meets == "overlaps" else number("between-jambs")
    room = width - 2 * each_side
    notes: tuple[Phrase, ...] = ()
    if case.leaf_width is not None and case.leaf_width < room - ROUND_OFF:
        room = case.leaf_width
        notes = (say(N_("The leaf, {leaf} wide, is shorter than the jambs allow and decides."), leaf=metres(room)),)
    yield Cut(
        place="bottom",
        rule="LEN-8",
        body=down(room),
        clearance=each_side or None,
        missing=() if case.meets else ("meets",),
        notes=notes,
        assumptions=() if case.meets else (say(MEETS_BY_WIDTH[meets]),),
        sources=("between-jambs",) if each_side else (),
    )


MEETS_BY_WIDTH = {
    "overlaps": N_("The leaf is wider than the opening, so that it overlaps it."),
    "between_jambs": N_("The leaf is narrower than the opening, so that it closes between the jambs."),
}


def _meets_by_width(case: LengthCase) -> str | None:
    """What the widths say of how a one-piece leaf closes; nothing where they are equal."""
    if case.leaf_width is None or case.clear_width is None:
        return None
    if above(case.leaf_width, case.clear_width):
        return "overlaps"
    return "between_jambs" if above(case.clear_width, case.leaf_width) else None


def top_of(case: LengthCase) -> float | None:
    """The top of a gate's leaf above grade: as measured, else its height on the gap below it."""
    if case.leaf_top is not None:
        return case.leaf_top
    if case.leaf_height is None or case.underside is None:
        return None
    return case.underside + case.leaf_height


def _upright(place: Place, rule: str, starts: float, ends: float, count: int | None) -> Cut:
    ends = min(ends, number("gate-reach"))
    return Cut(
        place=place,
        rule=rule,
        body=down(ends - starts),
        starts_at=starts,
        ends_at=ends,
        count=count,
        across=False,
        sources=("above-underside", "gate-reach"),
    )


EDGES: tuple[tuple[Place, str], ...] = (("leading", "LEN-9"), ("trailing", "LEN-11"))


def _slide(case: LengthCase) -> Iterator[Cut]:
    """Leading edge, trailing edge where its tail comes near something, both faces of every post."""
    top = top_of(case)
    for place, rule in EDGES:
        count = 1 if place == "leading" else _tails(case)
        if count == 0:
            continue
        if case.underside is None or top is None:
            missing = ("underside",) if case.underside is None else ("leaf_top",)
            yield Cut(place=place, rule=rule, body=None, count=count, across=False, missing=missing)
            continue
        starts = max(case.underside + number("above-underside"), number("above-grade"))
        yield _upright(place, rule, starts, top, count)
    if case.post_count == 0:
        return
    faces = None if case.post_count is None else 2 * case.post_count
    if top is None:
        yield Cut(place="post", rule="LEN-10", body=None, count=faces, across=False, missing=("leaf_top",))
    else:
        yield _upright("post", "LEN-10", case.post_start, top, faces)


def _tails(case: LengthCase) -> int | None:
    if case.tail_gap is None:
        return None
    return 0 if above(case.tail_gap, number("gate-near")) else 1


def _swing(case: LengthCase) -> Iterator[Cut]:
    yield _tip(case)
    inside = [_in_zone(gap) for gap in (case.underside, case.underside_open)]
    if True in inside:
        if case.leaf_length is None:
            yield Cut(place="underside", rule="LEN-13", body=None, across=False, missing=("leaf_length",))
            return
        body = down(case.leaf_length - number("hinge-short") - number("tip-short"))
        gaps = ("ul325-gate-underside", "hinge-short")
        yield Cut(place="underside", rule="LEN-13", body=body, across=False, sources=gaps)
    elif None in inside:
        name = "underside" if case.underside is None else "underside_open"
        yield Cut(place="underside", rule="LEN-13", body=None, count=None, across=False, missing=(name,))


def _in_zone(gap: float | None) -> bool | None:
    low, high = number("ul325-gate-underside"), up_to("ul325-gate-underside")
    return None if gap is None else above(gap, low) and above(high, gap)


USUAL_GAP = 0.0508  # 2 in, typical below a swing gate's leaf


def _tip(case: LengthCase) -> Cut:
    """From an inch above the leaf's underside to an inch below its top, no higher than 72 in above grade."""
    if case.leaf_height is None:
        return Cut(place="tip", rule="LEN-12", body=None, across=False, missing=("leaf_height",))
    half = number("tip-short") / 2
    gap = USUAL_GAP if case.underside is None else case.underside
    cut = _upright("tip", "LEN-12", gap + half, gap + case.leaf_height - half, 1)
    if case.underside is not None:
        return cut
    said = say(N_("The gap below the leaf is {gap}; nobody measured it."), gap=metres(gap))
    return replace(cut, missing=("underside",), assumptions=(said,))


RULES: dict[str, Callable[[LengthCase], Iterator[Cut]]] = {
    "sectional": _sectional,
    "rolling": _between_guides,
    "grille": _between_guides,
    "rolling_fire": _fire,
    "high_speed": _fabric,
    "one_piece": _one_piece,
    "slide_gate": _slide,
    "swing_gate": _swing,
}
