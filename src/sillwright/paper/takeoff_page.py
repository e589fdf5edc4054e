"""What to order for an opening, as pages and papers say it: lengths, lead, way to the operator, floor, profiles."""

from __future__ import annotations

from typing import Any

from sillwright.base.fact import Reading
from sillwright.base.finding import Finding
from sillwright.base.words import N_
from sillwright.drawing.shapes import Drawing
from sillwright.paper.floor_words import floor_told
from sillwright.paper.voice import Voice, name_of, names_of_facts
from sillwright.study.model import OpeningStudy
from sillwright.takeoff.answer import Body, ProfileVerdict, TakeOff
from sillwright.takeoff.leads.lead_words import lead_in_words, lead_sketch
from sillwright.takeoff.ordering.install import resting
from sillwright.takeoff.ordering.money import with_currency

PLACES: dict[str, str] = {
    "bottom": N_("bottom edge"),
    "leading": N_("leading edge"),
    "trailing": N_("trailing edge"),
    "post": N_("post"),
    "tip": N_("tip"),
    "underside": N_("underside"),
}
FITS: dict[str, str] = {
    "fits": N_("fits"),
    "does not fit": N_("does not fit"),
    "not known": N_("not known"),
}
LENGTHS = (N_("Body"), N_("overall body"), N_("sensing"), N_("channel"), N_("pieces"), N_("dead strip left, right"))
MOST_REASONS = 3
"""Reasons of a profile that a page shows; the answer for programs has all of them."""
PROFILES = (N_("Profile"), N_("fits"), N_("price"), N_("why, or what is not known"))
NOTHING = N_("No length can be told yet: the measurement it comes from is missing.")
BLOCKED = N_("Not to be ordered yet. What stands against it, and what releases it:")
RELEASED = N_("Nothing that was taken down stands against the order.")
BY_SERIAL = N_("Ordered from the door's maker by its serial number, not by a length.")
DISAGREE = N_("No length can be told yet: readings contradict each other.")
CONFIRMED = N_("Confirmed by {by} on {on}.")
UNCONFIRMED = N_("Not confirmed: the order line carries a question mark and is not released.")


def takeoff_page(study: OpeningStudy, voice: Voice, sketch: int | str | None = None) -> dict[str, Any]:
    """The data of the section; every value is text, empty where there is nothing to say.

    ``sketch`` is the picture of the body lying face down, as the page shows pictures.
    """
    found = study.takeoff
    return {
        "headline": _headline(found, voice),
        "length_head": [voice.word(each) for each in LENGTHS],
        "lengths": [_lengths(each, voice) for each in found.bodies],
        "notes": [each for body in found.bodies for each in _notes(body, study, voice)],
        "advice": [_advised(each, voice) for each in found.advice],
        "blocked_line": voice.word(BLOCKED if found.blocked else RELEASED),
        "blocked": [[voice.of(each.reason), voice.of(each.releases)] for each in found.blocked],
        "lead": _lead(found, voice),
        "sketch": sketch,
        "way": _way(found, voice),
        "channel": [voice.of(found.channel.why)],
        "changes": _changes(found, voice),
        **floor_told(found.floor, voice),
        "rest": [voice.of(each) for each in resting()] if fitted(found) else [],
        "profile_head": [voice.word(each) for each in PROFILES],
        **_profiles(found.profiles, voice, found.currency),
    }


def _profiles(judged: tuple[ProfileVerdict, ...], voice: Voice, currency: str) -> dict[str, Any]:
    """The profiles row by row; what is said of every one of them stands once, above."""
    said = [[voice.of(each) for each in verdict.reasons] for verdict in judged]
    shared = [each for each in (said[0] if len(said) > 1 else []) if all(each in told for told in said)]
    return {
        "profiles_shared": shared,
        "profiles": [
            [
                verdict.name,
                voice.word(FITS[verdict.fits]),
                with_currency(verdict.price, currency) if verdict.price is not None else "–",
                _few([each for each in told if each not in shared], verdict, voice),
            ]
            for verdict, told in zip(judged, said, strict=True)
        ],
    }


def _few(reasons: list[str], verdict: ProfileVerdict, voice: Voice) -> str:
    told = reasons or ([voice.of(each) for each in verdict.remarks] if verdict.fits == "fits" else [])
    more = [voice(N_("And {count} more."), count=len(told) - MOST_REASONS)] if len(told) > MOST_REASONS else []
    return " ".join([*told[:MOST_REASONS], *more]) or "–"


def _headline(found: TakeOff, voice: Voice) -> str:
    main = found.bodies[0] if found.bodies else None
    if main is not None and main.rule == "LEN-7":
        return voice.word(BY_SERIAL)
    if main is None or main.body is None:
        disagree = any(each.id == "two_readings" for each in found.blocked) and not (main and main.missing)
        return voice.word(DISAGREE if disagree else NOTHING)
    length = voice.amount(main.body, "m")
    if main.informs_only:
        return voice(N_("Overall body {length}, for information only: not to be ordered from it."), length=length)
    if main.pieces > 1 and main.piece is not None:
        words = N_("Overall body {length} in {count} pieces of {piece}.")
        return voice(words, length=length, count=main.pieces, piece=voice.amount(main.piece, "m"))
    return voice(N_("Overall body {length}."), length=length)


def _lengths(body: Body, voice: Voice) -> list[str]:
    pieces = "–"
    if body.body is not None:
        pieces = "1"
        if body.pieces > 1:
            pieces = voice(N_("{count} × {length}"), count=body.pieces, length=voice.amount(body.piece, "m"))
    dead = [voice.amount(each, "m") for each in (body.dead_left, body.dead_right)]
    lengths = [voice.amount(each, "m") for each in (body.body, body.sensing, body.channel)]
    return [voice.word(PLACES[body.place]), *lengths, pieces, ", ".join(dead)]


def _notes(body: Body, study: OpeningStudy, voice: Voice) -> list[str]:
    names = names_of_facts(study.opening, voice)
    readings = {fact.path: fact.reading for _spec, fact in study.opening.facts()}
    notes = []
    if body.measured:
        facts = "; ".join(
            _with_origin(name_of(path, names, voice.reader), readings.get(path), voice) for path in body.measured
        )
        notes.append(voice(N_("It comes from: {facts}."), facts=facts))
    if body.usual_mistake:
        notes.append(voice.of(body.usual_mistake))
    return [*notes, *(voice.of(each) for each in body.assumptions)]


def _with_origin(name: str, reading: Reading[Any] | None, voice: Voice) -> str:
    """A fact with how it is known, by whom and when, as far as that was taken down."""
    if reading is None or not (reading.origin or reading.by or reading.on):
        return name
    return f"{name} ({voice.origin(reading)})"


def lead_picture(study: OpeningStudy, voice: Voice) -> Drawing | None:
    """The body lying face down with its lead; None where neither a body nor the end of its lead is known."""
    found = study.takeoff
    body = found.bodies[0] if found.bodies else None
    if body is None or body.body is None or found.lead.end is None or not fitted(found):
        return None
    return lead_sketch(found.lead, body, reader=voice.reader)


def fitted(found: TakeOff) -> bool:
    """Whether an edge is fitted by what is told here, not by the maker of the door."""
    return any(each.body is not None and not each.informs_only for each in found.bodies)


def _advised(finding: Finding, voice: Voice) -> str:
    return " ".join(words for words in (voice.of(finding.text), voice.of(finding.do)) if words)


def _lead(found: TakeOff, voice: Voice) -> list[str]:
    lead = found.lead
    inside, mirrored = lead_in_words(lead)
    said = CONFIRMED if lead.confirmed else UNCONFIRMED
    confirmed = voice(said, by=lead.confirmed_by, on=lead.confirmed_on)
    lines = [voice.of(lead.why), voice.of(inside), voice.of(mirrored), confirmed]
    return list(dict.fromkeys(line for line in lines if line))


def _way(found: TakeOff, voice: Voice) -> list[str]:
    return [voice.of(each) for each in (found.way.why, *found.way.alternatives)]


def _changes(found: TakeOff, voice: Voice) -> list[str]:
    new, lines = found.changes, []
    if new.added_weight is not None:
        lines.append(voice(N_("It adds {weight} to the leaf."), weight=voice.amount(new.added_weight, "kg")))
    if new.added_height is not None:
        words = N_("It changes the height of the bottom edge by {height}.")
        lines.append(voice(words, height=voice.amount(new.added_height, "m")))
    return [*lines, *([voice.of(new.sentence)] if new.sentence else [])]
