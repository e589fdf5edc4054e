"""What stands against ordering a length: missing, told, assumed, nominal, or contradicted by another size."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from sillwright.base.finding import Finding
from sillwright.base.words import N_, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import Block, Body
from sillwright.takeoff.blocking.blocks import block, titles
from sillwright.takeoff.lengths.measure_how import WHAT


def lengths(opening: Opening, bodies: Sequence[Body], asked: Iterable[Finding]) -> Iterator[Block]:
    """What the lengths themselves lack."""
    missing = tuple(dict.fromkeys(fact for body in bodies for fact in body.missing))
    if missing:
        yield block(
            "length_missing",
            N_("Measurements are missing: {what}."),
            N_("Take them on site; the take-off says how."),
            *missing,
            what=[Sentence(WHAT[fact]) for fact in missing],
        )
    counts = tuple(body.place for body in bodies if body.count is None)
    if counts:
        yield block(
            "zones_unknown",
            N_("How many bodies this gate needs is not known: its zones are not listed, or one lacks its gap."),
            N_("List its zones with their gaps, or say that it has none."),
            "zones",
        )
    yield from _unconfirmed(opening, bodies)
    yield from _nominal(opening, bodies, asked)
    if any(each.id == "takeoff.guide_bent" for body in bodies for each in body.findings):
        yield block(
            "guide_bent",
            N_("A guide is bent."),
            N_("Have it straightened, and measure at the floor, at chest height and at the head again."),
            "door.guide_clear.floor",
            "door.guide_clear.chest",
            "door.guide_clear.head",
        )
    for each in (each for body in bodies for each in body.findings):
        if each.id in {"takeoff.cannot_be", "takeoff.bar_as_clear"}:
            yield block("cannot_be", N_("{text}"), N_("Measure both again."), *each.facts, text=each.text)


def _unconfirmed(opening: Opening, bodies: Sequence[Body]) -> Iterator[Block]:
    for origin, said in (
        ("assumed", N_("A length rests on an assumption.")),
        ("told", N_("A length was told and nobody measured it.")),
        ("support", N_("A length was told and nobody measured it.")),
    ):
        facts = tuple(dict.fromkeys(f for body in bodies if body.origin == origin for f in body.measured))
        if facts:
            yield block(
                "length_assumed" if origin == "assumed" else "length_told",
                said,
                N_("Measure it on site: {facts}."),
                *facts,
                facts=titles(opening, facts),
            )


def _nominal(opening: Opening, bodies: Sequence[Body], asked: Iterable[Finding]) -> Iterator[Block]:
    """ASK-4: a whole number of feet that the length rests on and nobody measured."""
    used = {fact for body in bodies for fact in body.measured}
    facts = tuple(path for each in asked if each.id == "ASK-4" for path in each.facts if path in used)
    if facts:
        yield block(
            "nominal_width",
            N_("A width is a whole number of feet that nobody measured: nominal, perhaps."),
            N_("Measure it: {facts}."),
            *facts,
            facts=titles(opening, facts),
        )


def explained(opening: Opening, *about: str) -> bool:
    """Whether a statement about one of these facts or questions explains it."""
    names = {each.casefold() for each in about}
    return any((each.about.value or "").strip().casefold() in names for each in opening.statements)


QUESTIONS = {
    "ASK-2": N_("Panel and opening do not fit each other: one of them may be the other."),
    "ASK-6": N_("Width and height may be swapped."),
}


def questions(opening: Opening, asked: Iterable[Finding]) -> Iterator[Block]:
    """Open questions on a size; a statement about the fact or the question answers them."""
    for each in asked:
        if each.id in QUESTIONS and not explained(opening, each.id, *each.facts):
            yield block(
                "panel_or_opening" if each.id == "ASK-2" else "swapped",
                QUESTIONS[each.id],
                N_("Measure again; where it is so, keep a statement about it that says why."),
                *each.facts,
            )
