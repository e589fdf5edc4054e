"""What speaks against a length: dead strips, bent guides, missing measurements, sizes that cannot be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from sillwright.base.finding import Finding, Level
from sillwright.base.scale import INCH, SIXTEENTH
from sillwright.base.words import N_, Amount, Sentence
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Body
from sillwright.takeoff.found import found
from sillwright.takeoff.lengths._length import verdict
from sillwright.takeoff.lengths.length_facts import GUIDED, Basis
from sillwright.takeoff.lengths.length_model import LengthResult
from sillwright.takeoff.lengths.measure_how import HOW, WHAT
from sillwright.takeoff.lengths.measures import ROUND_OFF, above, number, source
from sillwright.takeoff.lengths.rules_of_length import guide_heights, guides_bent

SAME = SIXTEENTH * (1 + 1e-9)
DEEPEST = float(12 * INCH)
"""Both guides together, where they stand between the jambs: no guide of a leaf is deeper than 6 in."""
GUIDE_FACTS = ("door.guide_clear.floor", "door.guide_clear.chest", "door.guide_clear.head")


def metres(value: float) -> Amount:
    """A length inside a sentence."""
    return Amount(value, "m")


def body_findings(site: Site, body: Body, basis: Basis, lengths: Sequence[float | None]) -> Iterator[Finding]:
    """What is to be said of one body; ``lengths`` are those that each reading gives."""
    yield from _two_lengths(body, lengths)
    yield from _measure(body)
    yield from _dead_strip(site, body)
    yield from _joint(body)
    yield from _nothing_answers(body)
    yield from _how_many(body)
    yield from _guides(body, basis)
    yield from _brackets(body, basis)
    if body.rule == "LEN-6":
        yield found(
            "fire_door_parts",
            "act",
            N_("The length is for information: parts of a labelled fire door come through the door's maker."),
            {},
            do=N_("Give that maker the door's serial and label number, and order there."),
            facts=("door.serial", "door.fire_label.number"),
            place="bottom",
        )


def _two_lengths(body: Body, lengths: Sequence[float | None]) -> Iterator[Finding]:
    told = sorted({round(each, 9) for each in lengths if each is not None})
    if body.body is not None or len(told) < 2:
        return
    yield found(
        "two_lengths",
        "act",
        N_("The readings do not give one length: {lengths}."),
        {"lengths": [metres(each) for each in told]},
        do=N_("Settle the readings, or measure again; neither length is ordered."),
        facts=body.measured,
        place="bottom",
    )


def _measure(body: Body) -> Iterator[Finding]:
    for fact in body.missing:
        text = N_("Not known: {what}. No length can be told without it.")
        if body.body is not None:
            text = N_("Not known: {what}. The length rests on something else in its place.")
        elif body.rule == "LEN-7":
            text = N_("Not known: {what}. A fabric door's edge is ordered by it, not by a length.")
        yield found(
            "measure",
            "note" if body.rule == "LEN-6" else "act",
            text,
            {"what": Sentence(WHAT[fact])},
            do=HOW[fact],
            facts=(fact,),
            place="bottom",
        )


def _dead_strip(site: Site, body: Body) -> Iterator[Finding]:
    strips = [each for each in (body.dead_left, body.dead_right) if each is not None]
    worst = max(strips, default=None)
    found_out = verdict(worst)
    if worst is None or found_out in {None, "within"} or body.informs_only:
        return
    text = {
        "act": N_("Up to {strip} at a side of the opening would not answer; at most 2 in (51 mm) may."),
        "just met": N_("Up to {strip} at a side of the opening would not answer: 2 in (51 mm) is just met."),
        "note": N_("Up to {strip} at a side of the opening would not answer, close to the 2 in (51 mm) that may."),
    }[str(found_out)]
    do = N_("Choose a body with shorter dead ends, or one that reaches farther.")
    if not body.dead_known:
        do = N_("2 in (51 mm) is taken for each dead end; the data sheet of the body decides.")
    elif found_out != "act":
        do = N_("Keep the body centred; a shift to one side is added there.")
    level: Level = "act" if found_out == "act" else "note"
    said = found("dead_strip", level, text, {"strip": metres(worst)}, do=do, facts=body.measured, place="bottom")
    why = N_("At each end of the opening 2 in (51 mm) need not answer, by the US rule for residential operators.")
    if site.country.value != "US":
        why = N_("The 2 in (51 mm) are a rule of the US; here they serve as a rule of thumb.")
    yield replace(said, why=Sentence(why), sources=(*said.sources, source("edge-dead-end")))


def _joint(body: Body) -> Iterator[Finding]:
    if body.pieces < 2 or body.joint_dead is None or not above(body.joint_dead, number("edge-dead-end")):
        return
    told = {"count": body.pieces, "strip": metres(body.joint_dead)}
    yield found(
        "joint",
        "act",
        N_("{count} pieces: each joint leaves {strip} that does not answer, more than 2 in (51 mm)."),
        told,
        do=N_("Choose a body with shorter dead ends or one that is made in one piece; cover the joints otherwise."),
        facts=body.measured,
        place="bottom",
    )


def _nothing_answers(body: Body) -> Iterator[Finding]:
    if body.sensing is None or above(body.sensing, 0.0) or body.informs_only:
        return
    yield found(
        "no_sensing",
        "act",
        N_("A body of {body} answers nowhere: its dead ends take all of it."),
        {"body": metres(body.piece or body.body or 0.0)},
        do=N_("Choose a body with shorter dead ends, or look at the measurements again."),
        facts=body.measured,
        place="bottom",
    )


def _how_many(body: Body) -> Iterator[Finding]:
    if body.count is not None:
        return
    text = {
        "trailing": N_("Whether the gate's tail comes within 16 in (406 mm) of anything fixed is not known."),
        "post": N_("How many posts, fence ends and walls the gate passes within 16 in (406 mm) is not known."),
    }.get(body.place, N_("Whether the gap below the leaf needs a body is not known."))
    yield found(
        "count",
        "act",
        text,
        {},
        do=N_("List the zones of the gate with their gaps, or say that it has none."),
        facts=("zones",),
        place="bottom",
    )


def _guides(body: Body, basis: Basis) -> Iterator[Finding]:
    if basis.case.kind not in GUIDED or not guides_bent(basis.case) or body.body is None:
        return
    clear = guide_heights(basis.case)
    if above(max(clear), min(clear)):
        said = N_(
            "A guide is bent: the clear is {least} to {most}. {body} fits between them now and after straightening."
        )
    else:
        said = N_("A guide is called bent, and the clear was read as {least} all the same: {body} by that.")
    yield found(
        "guide_bent",
        "act",
        said,
        {"least": metres(min(clear)), "most": metres(max(clear)), "body": metres(body.body)},
        do=N_("Have the guide straightened, measure again, then order."),
        facts=GUIDE_FACTS,
        place="guide.left",
    )


def _brackets(body: Body, basis: Basis) -> Iterator[Finding]:
    if basis.case.kind != "sectional" or body.body is None or body.channel is None:
        return
    if above(body.body, body.channel):
        yield found(
            "brackets",
            "note",
            N_("The brackets take {less} of the channel; the body may run past it to {body}."),
            {"less": metres(body.body - body.channel), "body": metres(body.body)},
            do=N_("Look whether a bracket stands below the channel: the body ends there then."),
            facts=("door.bottom.brackets.left", "door.bottom.brackets.right"),
            place="bottom",
        )


def opening_findings(
    opening: Opening, computed: Sequence[tuple[Basis, LengthResult]], body: float | None
) -> Iterator[Finding]:
    """What the sizes of an opening say against each other, for the body that matters most."""
    yield from _impossible(opening)
    yield from _as_bar(opening)
    yield from _between_jambs(opening)
    yield from _as_opening(opening)
    yield from _edge_there(opening, body)
    if opening.door.kind.value == "high_speed":
        yield from _pocket(computed)


def _cannot_be(text: str, values: dict[str, Any], facts: tuple[str, ...]) -> Finding:
    do = N_("Measure both again; one of them is wrong.")
    return found("cannot_be", "act", text, values, do=do, facts=facts, place="leaf")


def _impossible(opening: Opening) -> Iterator[Finding]:
    """Sizes that cannot be together, whoever took them down."""
    door = opening.door
    leaf, width, kind = door.leaf_width.value, door.clear_width.value, door.kind.value
    bar, seat = door.bottom.bar_overall.value, door.bottom.seat_length.value
    facts = ("door.leaf_width", "door.clear_width", "door.meets")
    if kind == "one_piece" and leaf is not None and width is not None:
        told = {"leaf": metres(leaf), "width": metres(width)}
        if door.meets.value == "between_jambs" and leaf > width + ROUND_OFF:
            yield _cannot_be(N_("A leaf {leaf} wide cannot close between jambs {width} apart."), told, facts)
        if door.meets.value == "overlaps" and leaf < width - ROUND_OFF:
            yield _cannot_be(N_("A leaf {leaf} wide cannot overlap an opening {width} wide."), told, facts)
    clear = [fact.value for fact in _clear_facts(opening) if fact.value is not None]
    if kind in GUIDED and bar is not None and clear and bar < min(clear) - SAME:
        told = {"bar": metres(bar), "clear": metres(min(clear))}
        said = N_("A bottom bar of {bar} over all cannot reach into guides {clear} apart.")
        yield _cannot_be(said, told, ("door.bottom.bar_overall", *GUIDE_FACTS))
    if kind in GUIDED and width is not None and clear and above(width - max(clear), DEEPEST):
        told = {"width": metres(width), "clear": metres(max(clear))}
        said = N_("Guides {clear} apart cannot stand in an opening {width} wide: no guide is so deep.")
        yield _cannot_be(said, told, ("door.clear_width", *GUIDE_FACTS))
    if kind in GUIDED and bar is not None and seat is not None and seat > bar + SAME:
        told = {"bar": metres(bar), "seat": metres(seat)}
        said = N_("The flat seat, {seat}, cannot be longer than the bar over all, {bar}.")
        yield _cannot_be(said, told, ("door.bottom.bar_overall", "door.bottom.seat_length"))
    if door.kind.value in {"slide_gate", "swing_gate"}:
        yield from _gate_top(opening)


def _gate_top(opening: Opening) -> Iterator[Finding]:
    door = opening.door
    top, tall, gap = door.leaf_top.value, door.leaf_height.value, door.underside.value
    if top is None or gap is None:
        return
    if top <= gap + ROUND_OFF:
        told = {"top": metres(top), "gap": metres(gap)}
        said = N_("The top of the leaf, {top}, cannot lie below its underside, {gap}.")
        yield _cannot_be(said, told, ("door.leaf_top", "door.underside"))
    elif tall is not None and abs(gap + tall - top) > float(INCH):
        told = {"top": metres(top), "sum": metres(gap + tall)}
        said = N_("The top of the leaf is {top} above grade; its height on the gap below it gives {sum}.")
        yield _cannot_be(said, told, ("door.leaf_top", "door.leaf_height", "door.underside"))


def _clear_facts(opening: Opening) -> tuple[Any, ...]:
    clear = opening.door.guide_clear
    return clear.floor, clear.chest, clear.head


def _as_bar(opening: Opening) -> Iterator[Finding]:
    """The bar over all, written down as the clear between the guides."""
    bar = opening.door.bottom.bar_overall.value
    clear = [fact.value for fact in _clear_facts(opening) if fact.value is not None]
    if opening.door.kind.value not in GUIDED or bar is None or not clear:
        return
    if abs(bar - min(clear)) <= SAME:
        yield found(
            "bar_as_clear",
            "act",
            N_("The clear between the guides is the bar over all, {bar}; but a bar reaches into the guides."),
            {"bar": metres(bar)},
            do=HOW["door.guide_clear.floor"],
            facts=("door.bottom.bar_overall", *GUIDE_FACTS),
            place="bottom",
        )


def _between_jambs(opening: Opening) -> Iterator[Finding]:
    """Guides that stand in the opening, so that light comes through between them and not between the jambs."""
    width = opening.door.clear_width.value
    clear = [fact.value for fact in _clear_facts(opening) if fact.value is not None]
    if opening.door.kind.value not in GUIDED or width is None or not clear:
        return
    if above(width - max(clear), SAME) and not above(width - max(clear), DEEPEST):
        yield found(
            "guides_in_opening",
            "note",
            N_("The guides are {clear} apart in an opening {width} wide: light comes through between the guides."),
            {"clear": metres(max(clear)), "width": metres(width)},
            do=N_("Look that the guides stand between the jambs; on the face of the wall one of the two is wrong."),
            facts=("door.clear_width", *GUIDE_FACTS),
            place="guide.left",
        )


def _as_opening(opening: Opening) -> Iterator[Finding]:
    """The opening, written down as the panel."""
    door = opening.door
    panel, width = door.panel_width.value, door.clear_width.value
    if door.kind.value == "sectional" and panel is not None and width is not None and abs(panel - width) <= SAME:
        yield found(
            "panel_is_opening",
            "note",
            N_("Panel and opening are both {panel}: was one of them copied from the other?"),
            {"panel": metres(panel)},
            do=HOW["door.panel_width"],
            facts=("door.panel_width", "door.clear_width"),
            place="bottom",
        )


def _edge_there(opening: Opening, body: float | None) -> Iterator[Finding]:
    """The edge that is there, longer than fits: it was ordered by something else."""
    if body is None or opening.door.is_gate:
        return
    for edge in opening.protection:
        long = edge.length.value
        if edge.kind.value in {"sensing_edge", "air_edge"} and long is not None and long > body + SAME:
            yield found(
                "edge_too_long",
                "act" if opening.door.kind.value in GUIDED else "note",
                N_("The edge there is {long}, {over} longer than fits: do not order by it."),
                {"long": metres(long), "over": metres(long - body)},
                do=N_("Order by the leaf, and ask whether the old edge ever worked well."),
                facts=(edge.length.path,),
                place="bottom",
            )
    yield from _edge_short(opening)


def _edge_short(opening: Opening) -> Iterator[Finding]:
    """The edges that are there, too short to reach both jambs wherever they sit, whatever their dead ends."""
    there = [each for each in opening.protection if each.kind.value in {"sensing_edge", "air_edge"}]
    there = [each for each in there if each.state.value not in {"missing", "torn_off"}]
    lengths = [each.length.value for each in there]
    clear = [fact.value for fact in _clear_facts(opening) if fact.value is not None]
    width = opening.door.clear_width.value
    if width is None or not lengths or None in lengths:
        return
    light = min([width, *clear]) if opening.door.kind.value in GUIDED else width
    long = sum(each for each in lengths if each is not None)
    if above(light - long, 2 * number("edge-dead-end")):
        said = found(
            "edge_too_short",
            "act",
            N_("The edge there is {long}, the opening {width}: at a side more than {most} does not answer."),
            {"long": metres(long), "width": metres(light), "most": metres(number("edge-dead-end"))},
            do=N_("Press it 2 in (51 mm) from each jamb; quote an edge that reaches from jamb to jamb."),
            facts=(*(each.length.path for each in there), "door.clear_width"),
            place="bottom",
        )
        yield replace(said, sources=(*said.sources, source("edge-dead-end")))


def _pocket(computed: Sequence[tuple[Basis, LengthResult]]) -> Iterator[Finding]:
    for _, result in computed:
        each = result.bodies[0]
        if each.pocket_least is None or each.pocket_most is None:
            continue
        told = {"least": metres(each.pocket_least), "most": metres(each.pocket_most)}
        yield found(
            "pocket",
            "note",
            N_("A body for this pocket is usually {least} to {most} long: a check, not an order."),
            told,
            do=N_("Order by the door's serial number."),
            facts=("door.bottom.seat_length", "door.serial"),
            place="bottom",
        )
