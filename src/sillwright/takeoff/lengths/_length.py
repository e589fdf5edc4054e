"""How long the body of an edge is, and everything that follows from it, for every kind of leaf."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil

from sillwright.base.source import Source
from sillwright.base.words import N_, Phrase, say
from sillwright.takeoff.lengths.length_model import PLACES, EdgeLengths, LengthCase, LengthResult, Verdict
from sillwright.takeoff.lengths.measure_how import FACT_OF, HOW, WHAT
from sillwright.takeoff.lengths.measures import ROUND_OFF, above, down, just, number, sources
from sillwright.takeoff.lengths.rules_of_length import GUIDED, Cut, cuts, guide_heights, metres
from sillwright.takeoff.lengths.usual_mistakes import usual_mistake


def length(case: LengthCase) -> LengthResult:
    r"""How long the edge of a leaf is: body, sensing and channel length, pieces, and the strip its ends leave.

    .. math::
        B = down(P), \quad B = down(min(G_{min} - 2 c, A)), \quad dead = max(0, e + (W - B) / 2 \pm shift)

    Parameters: kind of leaf and its measures by kind, all in m: panel P and brackets, clear between the guides G
    at up to three heights and the flat seat A, width of leaf and opening W, of gates the gap below, top, height
    and length; dead ends e of the body, how far it sits off centre, the longest piece that can be had, and what
    the number on the order means. Returns one body for a door and several for a gate, lengths in m, pieces as
    counts, and for each what was missing, assumed, and what the usual wrong measurement would have given.

    Model: lengths are rounded down to the quarter inch, never up; a length that is a quarter keeps it. The body
    lies centred unless a shift says otherwise. An unknown dead end counts as 2 in. Over the longest piece a body
    is cut into n = ceil(B / limit) equal pieces with 1/8 in between, in series. Dead strips are told for leaves
    that move up and down, against the daylight W: the opening, or the clear between guides that stand in it; 2 in
    at each side is just met. Valid for the kinds it names; a fabric door has no generic length, and a fire door's
    is for information only.

    Raises :class:`OutOfRange` when the case is made: a number that is none, or lies outside its range.

    Source: trade rules of thumb LEN-1 to LEN-18, from memory; 16 CFR 1211.12(a)(3) for the 2 in, read.

    >>> found = length(LengthCase(kind="sectional", panel_width=126 * 0.0254, clear_width=124 * 0.0254,
    ...                           dead_end_lead=0.0381, dead_end_far=0.0381))
    >>> round(found.body_length / 0.0254, 2), round(found.bodies[0].dead_left / 0.0254, 3)
    (126.0, 0.5)
    """
    found = cuts(case)
    bodies = tuple(_finished(each, case) for each in found)
    main = bodies[0]
    return LengthResult(
        body_length=main.body_length,
        channel_length=main.channel_length,
        order_length=main.order_length,
        piece_count=main.piece_count,
        dead_left=main.dead_left,
        dead_right=main.dead_right,
        bodies=bodies,
        case=case,
        notes=_once([note for each in found for note in each.notes], _notes(case, bodies)),
        assumptions=_once([said for each in found for said in each.assumptions], _assumptions(case, bodies)),
        sources=_sources(found, bodies),
    )


def _once(*said: Iterable[Phrase]) -> tuple[Phrase, ...]:
    return tuple(dict.fromkeys(each for part in said for each in part))


def dead_ends(case: LengthCase) -> tuple[float, float]:
    """Dead ends at the lead and away from it; 2 in where the data sheet is not there."""
    unknown = number("dead-end-unknown")
    lead = unknown if case.dead_end_lead is None else case.dead_end_lead
    far = unknown if case.dead_end_far is None else case.dead_end_far
    return lead, lead if case.lead_end == "both" else far


def piece_limit(case: LengthCase) -> float:
    """The longest piece that can be had: as told, else as it usually ships."""
    if case.piece_limit is not None:
        return case.piece_limit
    return number("piece-coiled" if case.ships == "coiled" else "piece-straight")


def _finished(cut: Cut, case: LengthCase) -> EdgeLengths:
    lead, far = dead_ends(case)
    gap, limit = number("joint-gap"), piece_limit(case)
    pieces = 1 if cut.body is None else max(1, ceil((cut.body - ROUND_OFF) / limit))
    piece = None if cut.body is None else down((cut.body - (pieces - 1) * gap) / pieces)
    sensing = None if piece is None else max(0.0, piece - lead - far)
    laid = None if piece is None else pieces * piece + (pieces - 1) * gap
    left, right = _dead_strips(case, laid if cut.across else None)
    to_buy = _to_buy(case, cut.body, pieces)
    return EdgeLengths(
        place=cut.place,
        rule=cut.rule,
        body_length=cut.body,
        sensing_length=None if sensing is None else pieces * sensing,
        channel_length=cut.body if cut.channel is None else cut.channel,
        order_length=piece if case.order_word == "body" else sensing,
        order_word=case.order_word,
        clearance=cut.clearance,
        piece_count=pieces,
        piece_length=piece,
        joint_dead=lead + far + gap if pieces > 1 else None,
        dead_left=left,
        dead_right=right,
        verdict_left=verdict(left),
        verdict_right=verdict(right),
        starts_at=cut.starts_at,
        ends_at=cut.ends_at,
        count=cut.count,
        informs_only=cut.informs_only,
        pocket_least=cut.pocket[0] if cut.pocket else None,
        pocket_most=cut.pocket[1] if cut.pocket else None,
        purchase_length=to_buy,
        plugs=2 * pieces if to_buy is not None else 0,
        leads=pieces if to_buy is not None else 0,
        end_elements=1 if to_buy is not None else 0,
        missing=cut.missing,
        usual_mistake=usual_mistake(case, cut),
    )


def _to_buy(case: LengthCase, body: float | None, pieces: int) -> float | None:
    """What to buy for a body that is cut on site: its length and 1 in for every piece, and 2 % more."""
    if case.construction != "cut_on_site" or body is None:
        return None
    return (body + pieces * number("cut-allowance")) * (1 + number("cut-share"))


def _dead_strips(case: LengthCase, laid: float | None) -> tuple[float | None, float | None]:
    """The strip inside the opening that does not answer, left and right; the lead's side unknown, the worse."""
    daylight = daylight_width(case)
    if laid is None or daylight is None:
        return None, None
    lead, far = dead_ends(case)
    at_left = lead if case.lead_end in {"left", "both"} else far if case.lead_end == "right" else max(lead, far)
    at_right = lead if case.lead_end in {"right", "both"} else far if case.lead_end == "left" else max(lead, far)
    bare = (daylight - laid) / 2
    return max(0.0, at_left + bare + case.shift), max(0.0, at_right + bare - case.shift)


def daylight_width(case: LengthCase) -> float | None:
    """How wide light comes through: the opening, or the guides where they stand in it, at their widest.

    Guides between the jambs cover the opening beside them; nobody is caught where there is no gap.
    """
    clear = guide_heights(case) if case.kind in GUIDED else ()
    return case.clear_width if case.clear_width is None or not clear else min(case.clear_width, max(clear))


def verdict(strip: float | None) -> Verdict | None:
    """What a dead strip comes to: act above 2 in, a note above 1-1/2 in, exactly 2 in (51 mm) is just met.

    >>> [verdict(each * 0.0254) for each in (1.5, 1.625, 2, 2.125)]
    ['within', 'note', 'just met', 'act']
    """
    if strip is None:
        return None
    limit = number("edge-dead-end")
    if above(strip, limit):
        return "act"
    if just(strip, limit):
        return "just met"
    return "note" if above(strip, number("dead-strip-note")) else "within"


def _notes(case: LengthCase, bodies: tuple[EdgeLengths, ...]) -> Iterator[Phrase]:
    for number_of, each in enumerate(bodies):
        yield from _said_of_place(each, first=number_of == 0)
        if each.informs_only and each.rule == "LEN-6":
            yield say(
                N_(
                    "For information only: parts of a labelled fire door come through the door's maker; give "
                    "the door's serial and label number."
                )
            )
        if each.piece_count > 1:
            yield from _said_of_pieces(case, each)
    strips = [(each.dead_left, each.dead_right) for each in bodies if each.dead_left is not None]
    for left, right in strips:
        yield from _said_of_strips(left or 0.0, right or 0.0)


def _said_of_place(body: EdgeLengths, *, first: bool) -> Iterator[Phrase]:
    """What a body lacks, a body beside the first one, and one that its dead ends leave nothing of."""
    where = say(PLACES[body.place])
    if body.body_length is None and body.rule != "LEN-7":
        for name in body.missing:
            fact = FACT_OF[name]
            said = N_("{where}: not known is the {what}, and with it the length. {how}")
            yield say(said, where=where, what=say(WHAT[fact]), how=say(HOW[fact]))
    elif body.body_length is not None and not first:
        yield say(N_("{where}: {length} besides."), where=where, length=metres(body.body_length))
    if body.count is None:
        yield say(N_("{where}: how many there are, or whether one is needed, is not known."), where=where)
    elif body.count > 1:
        yield say(N_("{where}: {count} of them."), where=where, count=body.count)
    if body.sensing_length is not None and not above(body.sensing_length, 0.0):
        yield say(N_("{where}: the dead ends leave nothing that answers."), where=where)


def _said_of_pieces(case: LengthCase, body: EdgeLengths) -> Iterator[Phrase]:
    told = {"count": body.piece_count, "each": metres(body.piece_length or 0.0), "limit": metres(piece_limit(case))}
    yield say(
        N_(
            "{count} pieces of {each}, as one piece is at most {limit}; wired in series, the end element in the "
            "far end of the last one only."
        ),
        **told,
    )
    strip = body.joint_dead or 0.0
    if above(strip, number("edge-dead-end")):
        yield say(
            N_("Each joint leaves {strip} that does not answer, more than the 2 in (51 mm) held against the ends."),
            strip=metres(strip),
        )


def _said_of_strips(left: float, right: float) -> Iterator[Phrase]:
    words = {
        "act": N_("{side}: {strip} inside the opening does not answer, more than 2 in (51 mm)."),
        "just met": N_("{side}: {strip} inside the opening does not answer; 2 in (51 mm) is just met."),
        "note": N_(
            "{side}: {strip} inside the opening does not answer, close to the 2 in (51 mm) that are the most."
        ),
    }
    for side, strip in ((N_("Left"), left), (N_("Right"), right)):
        found = words.get(verdict(strip) or "")
        if found:
            yield say(found, side=say(side), strip=metres(strip))


def _assumptions(case: LengthCase, bodies: tuple[EdgeLengths, ...]) -> Iterator[Phrase]:
    if all(each.body_length is None for each in bodies):
        return
    if None in (case.dead_end_lead, case.dead_end_far):
        two = metres(number("dead-end-unknown"))
        yield say(N_("Dead end of the body {two} where nobody told it; its data sheet decides."), two=two)
    elif case.lead_end is None and not just(case.dead_end_lead or 0.0, case.dead_end_far or 0.0):
        yield say(N_("The end of the lead is not known: the longer dead end is taken at both."))
    longest = max(each.body_length or 0.0 for each in bodies)
    if case.piece_limit is None and above(longest, number("piece-straight")):
        yield say(N_("One piece is at most {limit}, as it usually ships."), limit=metres(piece_limit(case)))


def _sources(found: tuple[Cut, ...], bodies: tuple[EdgeLengths, ...]) -> tuple[Source, ...]:
    names = ["trade-rules", *(name for each in found for name in each.sources)]
    if any(each.dead_left is not None for each in bodies):
        names += ["dead-strip-note", "edge-dead-end"]
    return sources(names)
