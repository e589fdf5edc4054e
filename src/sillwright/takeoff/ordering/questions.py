"""What stands against releasing a line of an order: everything the maker would have to guess."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.profile import Profile
from sillwright.takeoff.answer import Block, Body, TakeOff
from sillwright.takeoff.leads.lead_findings import plain
from sillwright.takeoff.ordering.fields import CIRCUITS, EXITS, FINS
from sillwright.takeoff.ordering.line import Choice, Ship, wires_of

_ROUND_OFF = 1e-9
_SAME = 0.005  # of a resistance
UPRIGHT = {"leading", "trailing", "post", "tip"}


@dataclass(frozen=True, kw_only=True)
class Draft:
    """A line as far as it is known, before its questions are asked; lengths of each piece in metres."""

    body: Body
    take_off: TakeOff
    profile: Profile | None
    catalogue: Catalogue | None
    choice: Choice
    ordered: float | None
    piece: float | None
    sensing: float | None
    circuit: str | None
    ship: Ship | None
    end_element: float | None
    exit: str | None
    fin: str | None
    parts: dict[str, Any]  # between leaf and operator, by what they are

    @property
    def fin_wanted(self) -> str | None:
        """The side of the fin by the take-off, as the catalogue writes it."""
        return plain(self.take_off.lead.fin) if self.take_off.lead.fin else None


def questions(draft: Draft) -> Iterator[Block]:
    """Every question that a line raises by itself, each with what answers it."""
    for asked in (_length, _profile, _lead, _exit, _fin, _circuit, _end_element, _ship, _channel, _cord):
        yield from asked(draft)


def _block(name: str, reason: str, releases: str, facts: tuple[str, ...] = (), **values: Any) -> Block:
    return Block(id=name, reason=Sentence(reason, values), releases=Sentence(releases, values), facts=facts)


def _length(draft: Draft) -> Iterator[Block]:
    body = draft.body
    if body.informs_only:
        yield _block(
            "fire_label",
            N_("Parts of a labelled fire door come through the door's maker."),
            N_("Give that maker the door's serial and label number, and order there."),
        )
    if body.count is None:
        yield _block(
            "zones_unknown",
            N_("How many bodies this gate needs is not known."),
            N_("List its zones with their gaps, or say that it has none."),
            ("zones",),
        )
    if body.body is None:
        yield _block(
            "length_missing",
            N_("The body length is not known."),
            N_("Take the measurements that the take-off names."),
            body.measured,
        )
    elif draft.ordered is None and draft.profile is not None:
        yield _block(
            "sensing_missing",
            N_("{profile} is ordered by its sensing length, which is not known."),
            N_("Read the dead ends in its data sheet."),
            profile=draft.profile.name,
        )
    if body.origin == "assumed":
        yield _block(
            "length_assumed",
            N_("The length rests on an assumption."),
            N_("Measure it on site."),
            body.measured,
        )


def _profile(draft: Draft) -> Iterator[Block]:
    if draft.profile is None:
        yield _block("profile_missing", N_("No profile is chosen."), N_("Choose one that fits this leaf."))
        return
    name, piece = draft.profile.name, draft.piece
    verdict = next((each for each in draft.take_off.profiles if each.name == name), None)
    if verdict is None or verdict.fits == "not known":
        why = verdict.reasons[0] if verdict and verdict.reasons else Sentence(N_("It was not looked at."))
        yield _block(
            "profile_not_known",
            N_("Whether {profile} fits here is not known. {why}"),
            N_("Answer that, or choose a profile that fits."),
            profile=name,
            why=why,
        )
    elif verdict.fits == "does not fit":
        why = verdict.reasons[0] if verdict.reasons else Sentence(N_("The take-off says why."))
        yield _block(
            "profile_does_not_fit",
            N_("{profile} does not fit here. {why}"),
            N_("Choose a profile that fits."),
            profile=name,
            why=why,
        )
    if piece is not None and piece < draft.profile.least - _ROUND_OFF:
        yield _block(
            "too_short",
            N_("{profile} is not made as short as {length}."),
            N_("Choose another profile; its shortest piece is {least}."),
            profile=name,
            length=Amount(piece, "m"),
            least=Amount(draft.profile.least, "m"),
        )


def _lead(draft: Draft) -> Iterator[Block]:
    lead = draft.take_off.lead
    upright = draft.body.place in UPRIGHT and draft.exit == "down"
    end = "down" if upright else lead.end  # an upright body has one lower end
    missing = (
        ("lead_unknown", end, N_("At which end the lead comes out is not known."), "lead.end"),
        ("lead_from_end", lead.from_end, N_("How far from that end it leaves is not known."), "lead.from_end"),
        ("lead_length", lead.length, N_("The free length of the lead is not known."), "lead.length"),
    )
    for name, value, reason, fact in missing:
        if value is None:
            releases = N_("Settle it on site or from a photo, inside looking out.")
            yield _block(name, reason, releases, (fact,))
    if not lead.confirmed:
        yield _block(
            "lead_unconfirmed",
            N_("Nobody has confirmed the lead."),
            N_("Have it confirmed from a photo or on site: by whom, on which day."),
            ("lead.confirmed.by", "lead.confirmed.on"),
        )


def _exit(draft: Draft) -> Iterator[Block]:
    way_out, profile = draft.exit, draft.profile
    if way_out is None:
        yield _block(
            "lead_exit",
            N_("Where the lead comes out is not known."),
            N_("Say end, back, inside face or down."),
            ("lead.exit",),
        )
    elif profile is not None and way_out not in profile.exits:
        yield _block(
            "lead_exit",
            N_("{profile} is not offered with the lead {exit}."),
            N_("Choose one of: {offered}."),
            ("lead.exit",),
            profile=profile.name,
            exit=_said(EXITS, way_out),
            offered=[_said(EXITS, each) for each in profile.exits],
        )


def _said(words: dict[str, str], value: str) -> Sentence | str:
    return Sentence(words[value]) if value in words else value


def _fin(draft: Draft) -> Iterator[Block]:
    """A fin on another side than the take-off says. A profile without a fin leaves nothing to guess."""
    wanted, profile = draft.fin_wanted, draft.profile
    if profile is None or profile.fin_side == "none" or wanted in {None, profile.fin_side}:
        return
    if profile.fin_side == "both" and wanted == "outside":
        return
    yield _block(
        "fin_side",
        N_("The fin is wanted: {told}; {profile} has: {has}."),
        N_("Settle the side of the fin, or choose another profile."),
        ("lead.fin",),
        told=_said(FINS, wanted or "none"),
        profile=profile.name,
        has=_said(FINS, profile.fin_side),
    )


def _circuit(draft: Draft) -> Iterator[Block]:
    profile, circuit, joined = draft.profile, draft.circuit, draft.choice.input
    if circuit is None:
        yield _block(
            "circuit",
            N_("The circuit of the edge is not chosen."),
            N_("Choose the one that the operator's input takes, directly or through a converter."),
        )
    elif profile is not None and circuit not in profile.circuits:
        yield _block(
            "circuit",
            N_("{profile} is not offered as {circuit}."),
            N_("Choose one of: {offered}."),
            profile=profile.name,
            circuit=_said(CIRCUITS, circuit),
            offered=[_said(CIRCUITS, each) for each in profile.circuits],
        )
    elif joined is not None and circuit not in {joined.circuit, *joined.direct, *(by.circuit for by in joined.via)}:
        yield _block(
            "circuit_not_taken",
            N_("The input {input} of {operator} does not take an edge as {circuit}."),
            N_("Choose another circuit, or a converter."),
            input=joined.name,
            operator=joined.operator,
            circuit=_said(CIRCUITS, circuit),
        )


def _end_element(draft: Draft) -> Iterator[Block]:
    if draft.circuit != "resistor":
        return
    value, profile, joined = draft.end_element, draft.profile, draft.choice.input
    if value is None:
        yield _block(
            "end_element",
            N_("The value of the end element is not chosen."),
            N_("Read in the operator's instructions which value its input expects."),
        )
        return
    told: dict[str, Any] = {"ohms": Amount(value, "ohm")}
    if (
        profile is not None
        and profile.end_elements
        and not any(_same(value, each) for each in profile.end_elements)
    ):
        yield _block(
            "end_element_not_offered",
            N_("{profile} is not offered with {ohms} at its end."),
            N_("Choose one of: {offered}."),
            profile=profile.name,
            offered=[Amount(each, "ohm") for each in profile.end_elements],
            **told,
        )
    if joined is not None and joined.resistance is not None and not _same(value, joined.resistance):
        yield _block(
            "end_element_not_the_inputs",
            N_("The end element is {ohms}; the input expects {wanted}."),
            N_("Order {wanted}, or name the converter between them."),
            wanted=Amount(joined.resistance, "ohm"),
            **told,
        )


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= _SAME * other


def _ship(draft: Draft) -> Iterator[Block]:
    profile, piece = draft.profile, draft.piece
    if profile is None or piece is None:
        return
    limit = profile.greatest if draft.ship == "coiled" else profile.greatest_straight
    if draft.ship is None or (limit is not None and piece > limit + _ROUND_OFF):
        yield _block(
            "too_long",
            N_("A piece of {length} is longer than {profile} is shipped."),
            N_("Divide it into more pieces, or ask the maker."),
            length=Amount(piece, "m"),
            profile=profile.name,
        )


def _channel(draft: Draft) -> Iterator[Block]:
    channel, profile = draft.take_off.channel, draft.profile
    if channel.kind == "ask":
        yield _block(
            "channel",
            N_("Which channel carries the edge is not known. {why}"),
            N_("Look at the bottom of the leaf: slots, seat and room at the side."),
            why=channel.why,
        )
    elif channel.kind != "existing" and channel.part is None:
        yield _block("channel", N_("No channel is chosen."), N_("Choose one that carries the profile."))
    elif channel.part and profile is not None and profile.channels and channel.part not in profile.channels:
        yield _block(
            "channel_pair",
            N_("{channel} does not carry {profile}."),
            N_("Choose one of: {offered}."),
            channel=channel.part,
            profile=profile.name,
            offered=list(profile.channels),
        )


def _cord(draft: Draft) -> Iterator[Block]:
    """A body with more conductors than the cord that is to carry them (ASK-9)."""
    needed = wires_of(draft.circuit)
    cords = draft.catalogue.cords if draft.catalogue else ()
    cord = draft.parts.get("cord", "")
    has = next((each.conductors for each in cords if each.name == cord), draft.take_off.way.conductors)
    if cord and needed and has is not None and has < needed:
        yield _block(
            "cord_conductors",
            N_("The body needs {needed} conductors; the cord has {has}."),
            N_("Choose a cord with {needed} conductors."),
            needed=needed,
            has=has,
        )
