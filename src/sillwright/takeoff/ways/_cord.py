"""The coiled cord between a leaf and the box on the wall; a reel or radio where no cord fits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot, sqrt
from typing import Any

from sillwright.base import data
from sillwright.base.source import Source
from sillwright.base.units import Metre
from sillwright.base.words import N_, Amount, say
from sillwright.takeoff.ways.cord_model import CordCase, CordResult, CordStock, CordWay

ROUND_OFF: Metre = 1e-9  # 3.5 × 18 in is not 63 in in binary
SOURCES = (
    Source(document=N_("trade rules of thumb"), clause="CORD-1 … CORD-4, REEL-1", sure="memory", id="cord-stretch"),
    Source(document=N_("distance of a point that moves up a line"), sure="computed", id="cord-length"),
)


def cord(case: CordCase) -> CordResult:
    r"""Which coiled cord reaches from the box to the lead over the whole travel, and where the box is best.

    .. math:: L(y) = \sqrt{(y - h)^2 + d^2}, \qquad h_{best} = (h_0 + h_1) / 2 \text{ within reach}

    Parameters: lowest and highest place of the lead h0, h1 (m), level offset d (m) and height h (m) of the box, or
    none for the best; its reach (m), cords and reels that can be had (m), the most a cord may be drawn (1),
    conductors needed and heights (m) that the loop has to clear. Returns lengths in m and the ratio of the
    greatest length to the retracted one.

    Model: straight from box to lead, the lead straight up and down. The shortest cord is taken that is drawn no
    more than the ratio and no more than 0.8 of its rated extended length; being exactly at a limit counts as met.
    With the edge nearest the box the loop hangs half of the slack and 3 in lower than the lower end of the cord;
    worn limp at most (√(R² − d²) − |Δ|)/2, with Δ the difference in height of the ends, and no cord can hang
    lower than that. Valid for leaves that go straight up; a leaf that swings or folds out carries its lead away
    from the wall, and is not covered.

    Raises :class:`OutOfRange` for a box out of reach, and for a highest place that is not above the lowest.

    >>> found = cord(CordCase(highest=14 * 0.3048, offset=0.3048))
    >>> round(found.longest / 0.3048, 2), round(found.retracted / 0.3048, 1), round(found.ratio, 2)
    (7.07, 3.0, 2.36)

    Source: trade rules of thumb, from memory; the lengths are computed.
    """
    best = best_height(case)
    box = best if case.box_height is None else case.box_height
    longest = greatest_length(case, box)
    nearest = min(max(box, case.lowest), case.highest)  # the lead's place nearest to the box
    shortest = hypot(nearest - box, case.offset)
    chosen = next((each for each in _stock(case) if _reaches(each, case, longest)), None)
    cable = _reel(case)
    loop, limp = _loops(chosen.retracted, shortest, case.offset) if chosen else (None, None)
    bottom = None if loop is None or limp is None else min(box, nearest) - max(loop, limp)
    return CordResult(
        way=_way(chosen, cable),
        why=_why(case, chosen, longest, cable),
        retracted=chosen.retracted if chosen else None,
        ratio=longest / chosen.retracted if chosen else None,
        longest=longest,
        shortest=shortest,
        box_height=box,
        best_box_height=best,
        longest_at_best=greatest_length(case, best),
        slack_loop=loop,
        slack_loop_limp=limp,
        loop_bottom=bottom,
        reel_cable=cable,
        reel_cable_needed=cable_needed(case),
        case=case,
        notes=tuple(_notes(case, box, chosen, longest, bottom)),
        assumptions=tuple(_assumptions(case, chosen)),
        sources=SOURCES,
    )


def best_height(case: CordCase) -> Metre:
    """The height of the box at which the greatest length is least: the middle, or what of its reach is nearest."""
    middle = (case.lowest + case.highest) / 2
    if case.reach_lowest is not None:
        middle = max(middle, case.reach_lowest)
    return middle if case.reach_highest is None else min(middle, case.reach_highest)


def greatest_length(case: CordCase, box: Metre) -> Metre:
    """The greatest length between a box at this height and the lead."""
    return hypot(max(case.highest - box, box - case.lowest), case.offset)


def cable_needed(case: CordCase) -> Metre:
    """The cable of a reel at the head: travel, offset, and what stays wound."""
    return case.highest - case.lowest + case.offset + float(_table("reel")["stays_wound"])


def _table(name: str) -> Any:
    return data.table("sillwright.takeoff", "cord")[name]


def _stock(case: CordCase) -> tuple[CordStock, ...]:
    """The cords that can be had, the shortest first and of these the one with the fewest conductors."""
    table = _table("cord")
    had = case.stock or tuple(
        CordStock(retracted=each, conductors=table["conductors"]) for each in table["retracted"]
    )
    return tuple(sorted(had, key=lambda each: (each.retracted, each.conductors or 0)))


def _reaches(one: CordStock, case: CordCase, longest: Metre) -> bool:
    if case.conductors is not None and (one.conductors is None or one.conductors < case.conductors):
        return False
    allowed = case.most_ratio * one.retracted
    if one.extended is not None:
        allowed = min(allowed, _table("cord")["extended_share"] * one.extended)
    return longest <= allowed + ROUND_OFF


def _reel(case: CordCase) -> Metre | None:
    needed = cable_needed(case)
    had = sorted(case.reel_cables or _table("reel")["cables"])
    return next((float(each) for each in had if each >= needed - ROUND_OFF), None)


def _way(chosen: CordStock | None, cable: Metre | None) -> CordWay:
    if chosen:
        return "cord"
    return "radio" if cable is None else "reel"


def _loops(retracted: Metre, shortest: Metre, offset: Metre) -> tuple[Metre, Metre]:
    """How far the loop hangs below the cord's lower end: as the trade has it, and as low as a limp one could."""
    slack = retracted - shortest
    if slack <= 0:
        return 0.0, 0.0
    apart = sqrt(max(0.0, shortest**2 - offset**2))  # of the ends, up and down
    limp = (sqrt(retracted**2 - offset**2) - apart) / 2
    return slack / 2 + float(_table("cord")["loop_extra"]), limp


def _why(case: CordCase, chosen: CordStock | None, longest: Metre, cable: Metre | None) -> str:
    lengths = {"longest": Amount(longest, "m"), "most": f"{case.most_ratio:g}"}
    if chosen:
        said = N_("The {retracted} cord is the shortest that reaches {longest} drawn to {ratio} times its length.")
        ratio = f"{longest / chosen.retracted:.2f}"
        return say(said, retracted=Amount(chosen.retracted, "m"), longest=lengths["longest"], ratio=ratio)
    none = say(_why_none(case), **lengths)
    needed = Amount(cable_needed(case), "m")
    if cable is not None:
        said = N_("{none} A reel at the head needs {needed} of cable; the {cable} one has it.")
        return say(said, none=none, needed=needed, cable=Amount(cable, "m"))
    said = N_("{none} No reel has the {needed} of cable it would need. Radio needs neither.")
    return say(said, none=none, needed=needed)


def _why_none(case: CordCase) -> str:
    if not any(_reaches(each, case, 0.0) for each in _stock(case)):
        return N_("No cord has the conductors that are needed.")
    return N_("No cord reaches {longest} within {most} times its length and 0.8 of its rated extended length.")


def _notes(
    case: CordCase, box: Metre, chosen: CordStock | None, longest: Metre, bottom: Metre | None
) -> Iterator[str]:
    table = _table("cord")
    if box > case.highest + ROUND_OFF:
        yield say(N_("The box is above the travel of the lead: a cord never hangs from the operator."))
    more = longest - greatest_length(case, best_height(case))
    off = abs(box - (case.lowest + case.highest) / 2)
    if off > table["middle_share"] * (case.highest - case.lowest) + ROUND_OFF and more > ROUND_OFF:
        said = N_("At {box} the box is off the best height, {best}; the cord has to reach {more} farther.")
        yield say(said, box=Amount(box, "m"), best=Amount(best_height(case), "m"), more=Amount(more, "m"))
    if chosen is None or bottom is None:
        return
    least_rated = table["extended_share"] * table["rated"][0]
    if chosen.extended is None and longest > least_rated * chosen.retracted + ROUND_OFF:
        said = N_(
            "Read the rated extended length before it is ordered: a cord rated {rated} times is too short here."
        )
        yield say(said, rated=f"{table['rated'][0]:g}")
    if longest <= chosen.retracted + ROUND_OFF:
        yield say(N_("The cord is never drawn: it hangs slack over the whole travel."))
    yield from _snags(case, box, bottom)


def _snags(case: CordCase, box: Metre, bottom: Metre) -> Iterator[str]:
    if bottom <= ROUND_OFF:
        yield say(N_("With the edge nearest the box the loop can lie on the floor, where wheels catch it."))
    else:
        said = N_("With the edge nearest the box the loop can hang down to {bottom} above the floor.")
        yield say(said, bottom=Amount(bottom, "m"))
    caught = sorted(each for each in case.obstacles if bottom + ROUND_OFF < each < box)
    if caught:
        said = N_("There it can catch on what stands at {heights}; move the box, or guard it.")
        yield say(said, heights=tuple(Amount(each, "m") for each in caught))


def _assumptions(case: CordCase, chosen: CordStock | None) -> Iterator[str]:
    yield say(N_("The lead goes straight up and down, and the cord straight from the box to it."))
    if not case.stock:
        yield _sold(
            N_("The cords that the trade sells, {least} to {most}, from memory."), _table("cord")["retracted"]
        )
    if chosen and chosen.extended is None:
        low, high = _table("cord")["rated"]
        said = N_("The rated extended length is not stated; {low} to {high} times the retracted one is usual.")
        yield say(said, low=f"{low:g}", high=f"{high:g}")
    if chosen is None and not case.reel_cables:
        said = N_("The reels that the trade sells, with {least} to {most} of cable, from memory.")
        yield _sold(said, _table("reel")["cables"])


def _sold(said: str, lengths: Sequence[Metre]) -> str:
    return say(said, least=Amount(lengths[0], "m"), most=Amount(lengths[-1], "m"))
