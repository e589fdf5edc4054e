"""From the take-off of an opening to the lines of an order, with what still stands against releasing each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from sillwright.base.scale import INCH
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.profile import Profile
from sillwright.takeoff.answer import Block, Body, End, TakeOff
from sillwright.takeoff.leads.lead_findings import plain
from sillwright.takeoff.lengths.measures import number
from sillwright.takeoff.ordering.line import Choice, OrderLine, Ship, wires_of
from sillwright.takeoff.ordering.questions import Draft, questions

_ROUND_OFF = 1e-9
MOVING = ("bottom", "leading", "trailing", "tip", "underside")
"""Places on a leaf that moves: the signal needs a way to the operator."""


@dataclass(frozen=True)
class Job:
    """What all lines of an opening are made from."""

    tag: str
    take_off: TakeOff
    profile: Profile | None
    catalogue: Catalogue | None
    choice: Choice


def order_lines(
    tag: str,
    take_off: TakeOff,
    profile: Profile | None,
    catalogue: Catalogue | None = None,
    choice: Choice | None = None,
    first: int = 1,
) -> tuple[OrderLine, ...]:
    """One line for each body of an opening's take-off, numbered from ``first``.

    ``profile`` is the one that was chosen, None while none is; ``choice`` what a person chose beyond it. Nothing is
    filled in that was not found, told or chosen, but where the data sheet leaves one possibility only. What is
    missing or contradicts stands in ``blocked``: such a line cannot be released. The parts by which the signal goes
    to the operator stand once, with the first body that moves.

    Source: trade rules of thumb, from memory (lengths LEN-14, LEN-15, LEN-18; lead, the five facts).
    """
    job = Job(tag, take_off, profile, catalogue, choice or Choice())
    carrier = next((at for at, each in enumerate(take_off.bodies) if each.place in MOVING), 0)
    return tuple(
        _line(first + at, job, _draft(job, body, carries=at == carrier)) for at, body in enumerate(take_off.bodies)
    )


def _draft(job: Job, body: Body, *, carries: bool) -> Draft:
    """What is known of a line before its questions are asked."""
    lead, profile, choice = job.take_off.lead, job.profile, job.choice
    circuit = choice.circuit or _only(profile.circuits if profile else ())
    length, sensing = _of_each_piece(body, profile, lead.end)
    return Draft(
        body=body,
        take_off=job.take_off,
        profile=profile,
        catalogue=job.catalogue,
        choice=choice,
        ordered=sensing if profile and profile.order_word == "sensing" else length,
        piece=length,
        sensing=sensing,
        circuit=circuit,
        ship=choice.ship or _ship(length, profile),
        end_element=choice.end_element or _end_element(circuit, profile),
        exit=plain(lead.exit) if lead.exit else None,
        fin=profile.fin_side if profile else plain(lead.fin) if lead.fin else None,
        parts=_parts(job.take_off, choice) if carries else {},
    )


def _parts(take_off: TakeOff, choice: Choice) -> dict[str, str]:
    """The parts between leaf and operator, by what they are."""
    part = {take_off.way.kind: take_off.way.part or ""}
    kinds = {name: part.get(name, "") for name in ("cord", "reel", "radio")}
    return {**kinds, "box": choice.box, "converter": choice.converter}


def _line(number: int, job: Job, draft: Draft) -> OrderLine:
    body, lead, profile, choice, parts = draft.body, job.take_off.lead, draft.profile, draft.choice, draft.parts
    return OrderLine(
        number=number,
        tag=job.tag,
        place=body.place,
        profile=profile.name if profile else "",
        construction=profile.construction if profile else None,
        quantity=choice.quantity * (body.count or 1),
        units=choice.units,
        word=profile.order_word if profile else None,
        length=draft.ordered,
        body=draft.piece,
        sensing=draft.sensing,
        pieces=body.pieces,
        to_buy=_to_buy(body, profile),
        channel=_channel(job.take_off),
        channel_pieces=_channel_pieces(body, job.take_off),
        end=lead.end,
        exit=draft.exit,
        from_end=lead.from_end,
        lead_length=lead.length,
        fin=draft.fin,
        circuit=draft.circuit,
        wires=wires_of(draft.circuit),
        end_element=draft.end_element if draft.circuit == "resistor" else None,
        ship=draft.ship,
        **parts,
        confirmed_by=lead.confirmed_by,
        confirmed_on=lead.confirmed_on,
        note=choice.note,
        remarks=tuple(_remarks(draft)),
        blocked=_blocked(job.take_off, draft),
    )


def _channel(take_off: TakeOff) -> str:
    """The channel that is ordered; none where the one on the leaf stays."""
    return "" if take_off.channel.kind == "existing" else take_off.channel.part or ""


def _only(offered: tuple[str, ...]) -> str | None:
    return offered[0] if len(offered) == 1 else None


def _of_each_piece(body: Body, profile: Profile | None, end: End | None) -> tuple[float | None, float | None]:
    """Body length and sensing length of each piece; dead ends that no data sheet tells give no sensing length."""
    length = body.piece if body.pieces > 1 else body.body
    if length is None or profile is None or profile.ends is None:
        return length, None
    lead = profile.ends.lead
    return length, max(0.0, length - lead - (lead if end == "both" else profile.ends.far))


def _ship(length: float | None, profile: Profile | None) -> Ship | None:
    """Coiled where it can be, else straight where that is long enough."""
    if length is None or profile is None or profile.construction == "cut_on_site":
        return None if length is None or profile is None else "coiled"
    longest = profile.greatest
    if longest is None and profile.greatest_straight is None:
        longest = number("piece-coiled")
    if longest is not None and length <= longest + _ROUND_OFF:
        return "coiled"
    if profile.greatest_straight is not None and length <= profile.greatest_straight + _ROUND_OFF:
        return "straight"
    return None


def _end_element(circuit: str | None, profile: Profile | None) -> float | None:
    offered = profile.end_elements if profile and circuit == "resistor" else ()
    return offered[0] if len(offered) == 1 else None


def _to_buy(body: Body, profile: Profile | None) -> float | None:
    """LEN-15: one inch more for each piece, two per cent in all, up to the next quarter inch."""
    if profile is None or profile.construction != "cut_on_site" or body.body is None:
        return None
    wanted = (body.body + body.pieces * number("cut-allowance")) * (1 + number("cut-share"))
    quarter = float(INCH / 4)
    return float(ceil(wanted / quarter - _ROUND_OFF) * quarter)


def _channel_pieces(body: Body, take_off: TakeOff) -> tuple[float, ...]:
    """The pieces of the channel, where a new one goes onto this leaf."""
    if take_off.channel.kind == "existing" or take_off.channel.part is None:
        return ()
    if take_off.channel.pieces and body is take_off.bodies[0]:
        return take_off.channel.pieces
    return (body.channel,) if body.channel is not None else ()


def _remarks(draft: Draft) -> Iterator[Sentence]:
    body, profile, piece = draft.body, draft.profile, draft.piece
    if body.origin == "told":
        by = body.by or Sentence(N_("somebody"))
        yield Sentence(N_("The length was told by {by}; nobody measured it."), {"by": by})
    if body.pieces > 1:
        yield Sentence(
            N_("Pieces are wired in series; the end element sits in the far end of the last piece only.")
        )
    elif draft.circuit == "resistor":
        yield Sentence(N_("The end element sits in the far end of the body, never at the operator."))
    if profile is not None and profile.construction == "cut_on_site" and piece is not None:
        values = {"length": Amount(piece, "m"), "plugs": 2 * body.pieces, "leads": body.pieces}
        yield Sentence(
            N_("Cut to {length} on site after the roll has rested: {plugs} plugs, leads {leads}."), values
        )
    if profile is not None and profile.fin_side != "none":
        yield Sentence(N_("The fin points toward the weather; the sealed tube is never trimmed."))
    elif profile is not None and draft.fin_wanted not in {None, "none"}:
        yield Sentence(N_("This profile has no fin."))


def _blocked(take_off: TakeOff, draft: Draft) -> tuple[Block, ...]:
    """What the take-off says and what this line asks, each once."""
    found = {each.id: each for each in take_off.blocked}
    for each in questions(draft):
        found.setdefault(each.id, each)
    return tuple(found.values())
