"""Questions that the take-off asks: ASK-9 to ASK-12 of the trade. Each is asked, nothing is silently corrected."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from sillwright.base.fact import Fact
from sillwright.base.finding import Finding, Level
from sillwright.base.scale import INCH
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.profile import Profile
from sillwright.survey.devices import OhmReading, Protection
from sillwright.survey.model import Opening, Statement
from sillwright.survey.questions import named
from sillwright.takeoff.found import found
from sillwright.takeoff.lengths.measures import above
from sillwright.takeoff.lengths.repeats import too_far_apart
from sillwright.takeoff.ways.wires import CONDUCTORS

EDGES = {"sensing_edge", "air_edge"}
TALLER = (float(INCH / 2), float(INCH * 5 / 4))
"""How much taller than the old seal a new body is before it is worth a note, and before something is to be done."""
SAME_VALUE = 0.05
"""End elements whose values lie nearer to each other are the same part, read or rounded differently."""
SOLD = (1e3, 1.2e3, 2.2e3, 3.3e3, 4.7e3, 5.6e3, 6.8e3, 8.2e3, 10e3, 12e3, 15e3, 22e3)
"""Values that end elements are sold with, in ohms; from memory. A reading between them tells of no other one."""
_LAST = r"(last (time|one|order|edge|body|seal)|previous|before)"
_BODY = r"(one|edge|body|seal|strip)"
_THERE = rf"((old|existing|present|current) {_BODY}|{_BODY} (that is |that's )?there)"
AS_LAST_TIME = re.compile(
    rf"\b(same|like|as|identical)\b[^.;]{{0,24}}\b{_LAST}\b"
    rf"|\b(same|like|identical|copy)\b[^.;]{{0,24}}\b{_THERE}\b"
    r"|\bsame again\b|\b(re-?order|repeat) (it|the|our|last|order|as)\b"
    r"|\b(same|identical|copy of)\b[^.;]{0,24}\b(door|opening|gate) \w*\d",
    re.IGNORECASE,
)
"""Orders by what was ordered before, by what hangs there, or by another opening: none of them is a measurement."""
ABOUT_OTHERS = re.compile(r"^(operator|use|station|stations|floor|box|control|controls|incident|zones|readings)\b")
A_PHOTO = re.compile(r"\b(photo|picture|image)s?\b", re.IGNORECASE)
LEFT, RIGHT = re.compile(r"\bleft\b", re.IGNORECASE), re.compile(r"\bright\b", re.IGNORECASE)
AN_END = re.compile(r"\b(ends?|edge|body|lead)\b", re.IGNORECASE)


def asks(
    opening: Opening, profile: Profile | None = None, input: OperatorInput | None = None
) -> tuple[Finding, ...]:
    """ASK-9 to ASK-12 of an opening, of the profile chosen for it and of the operator's input where they are known.

    ASK-5 too, of wide leaves: measurements that the survey takes for the same, more than 1/2 in apart.

    Source: trade rules of thumb, from memory.
    """
    return (
        *asks_of_wires(opening, profile, input),
        *_taller(opening, profile),
        *_as_last_time(opening),
        *_photo(opening),
        *_repeats(opening),
    )


def asked(findings: Iterable[Finding]) -> tuple[str, ...]:
    """The ids of the questions among findings, each once, in the order of their numbers.

    >>> from sillwright.base.words import Sentence
    >>> told = [Finding(id=each, level="act", text=Sentence("")) for each in ("ASK-12", "ASK-2", "x", "ASK-12")]
    >>> asked(told)
    ('ASK-2', 'ASK-12')
    """
    names = {each.id for each in findings if re.fullmatch(r"ASK-\d{1,3}", each.id)}
    return tuple(sorted(names, key=lambda name: int(name[4:])))


def _ask(
    name: str,
    level: Level,
    text: str,
    values: dict[str, Any],
    *,
    do: str,
    facts: tuple[str, ...],
    place: str = "lead",
) -> Finding:
    return replace(found(name, level, text, values, do=do, facts=facts, place=place), id=name)


def edges(opening: Opening) -> tuple[Protection, ...]:
    """The electric edges that are there or were."""
    return tuple(each for each in opening.protection if each.kind.value == "sensing_edge")


def wires_told(
    opening: Opening, profile: Profile | None, input: OperatorInput | None
) -> dict[int, tuple[str, ...]]:
    """How many wires the body has, by whoever says so: the edge there, the profile chosen, the operator's input.

    What somebody assumes says nothing. A converter may stand between body and input, so that an input only counts
    where none is known.
    """
    told: dict[int, list[str]] = {}

    def says(wires: int | None, who: str) -> None:
        if wires is not None:
            told.setdefault(wires, []).append(who)

    for each in edges(opening):
        if each.wires.known and each.wires.value is not None:
            says(round(each.wires.value), each.wires.path)
        elif each.circuit.known:
            says(CONDUCTORS.get(each.circuit.value or ""), each.circuit.path)
    if profile is not None and len(profile.circuits) == 1:
        says(CONDUCTORS.get(profile.circuits[0]), "profile")
    if not converted(opening):
        if input is not None:
            says(CONDUCTORS.get(input.circuit or ""), "input")
        elif len(opening.operator.inputs) == 1 and (circuit := opening.operator.inputs.items[0].circuit).known:
            says(CONDUCTORS.get(circuit.value or ""), circuit.path)
    return {wires: tuple(who) for wires, who in told.items()}


def asks_of_wires(
    opening: Opening, profile: Profile | None = None, input: OperatorInput | None = None
) -> tuple[Finding, ...]:
    """ASK-9: wires and end element that do not fit what they are joined to."""
    return (*_wires(opening, profile, input), *_end_element(opening, profile, input))


def _repeats(opening: Opening) -> Iterator[Finding]:
    for spec, fact in too_far_apart(opening.facts()):
        told = [
            Sentence(
                N_("{value} ({by})"), {"value": Amount(each.value, "m"), "by": each.by or Sentence(N_("measured"))}
            )
            for each in fact.readings
            if each.value is not None
        ]
        yield _ask(
            "ASK-5",
            "act",
            N_("Two measurements of the {what} lie more than 1/2 in (13 mm) apart: {readings}."),
            {"what": Sentence(named(spec, fact.path)), "readings": told},
            do=N_("Settle it with the people who took them down, or measure again; neither is used for an order."),
            facts=(fact.path,),
            place="bottom",
        )


def _wires(opening: Opening, profile: Profile | None, input: OperatorInput | None) -> Iterator[Finding]:
    """ASK-9: more wires at the body than in the cord, or two that say differently of the body."""
    told = wires_told(opening, profile, input)
    cord = opening.cord.conductors
    paths = tuple(dict.fromkeys(path for who in told.values() for path in who if "." in path))
    if told and cord.value is not None and max(told) > cord.value:
        yield _ask(
            "ASK-9",
            "act",
            N_("The body has {wires} wires, the cord {cord} conductors."),
            {"wires": max(told), "cord": f"{cord.value:g}"},
            do=N_("Stop the order: take a cord with as many conductors, or the body that the input asks for."),
            facts=(*paths, cord.path),
            place="cord",
        )
    if len(told) > 1:
        yield _ask(
            "ASK-9",
            "act",
            N_("Edge, profile and input do not agree on the wires of the body: {wires}."),
            {"wires": sorted(told)},
            do=N_("Stop the order: read the terminals of the operator, and count the wires of the body."),
            facts=paths,
        )


def _end_element(opening: Opening, profile: Profile | None, input: OperatorInput | None) -> Iterator[Finding]:
    """ASK-9: an end element of another value than the one the operator's input expects."""
    for each in edges(opening):
        wanted, path = _expected(opening, input, each.input.value)
        ohms = each.resistance.value
        if ohms is not None and wanted is not None and not _same(ohms, wanted):
            yield _other_value(ohms, wanted, each.resistance.path, path)
    yield from _metered(opening, input)
    wanted, path = _expected(opening, input)
    offered = profile.end_elements if profile else ()
    if wanted is not None and offered and not any(_same(each, wanted) for each in offered):
        yield _other_value(offered[0], wanted, path)


def _metered(opening: Opening, input: OperatorInput | None) -> Iterator[Finding]:
    """ASK-9: an edge that reads at rest like another end element than the one its input expects.

    Of readings over the years the latest counts: what was read before has dried, worn on, or was of another edge.
    Where the element in the edge is known to be the one that the input expects, nothing is asked: what is read then
    tells of water or a bad joint, and the bands of readings say which.
    """
    known = {str(each.id.value): each for each in edges(opening)}
    for each in opening.readings:
        of = known.get(str(each.of.value)) if each.of.value is not None else None
        if each.of.value is None and len(known) == 1:
            of = next(iter(known.values()))
        ohms = each.ohms.value
        if of is None or of.circuit.value not in {"resistor", None} or ohms is None or each.pressed.value:
            continue
        if any(_later(other, each) for other in opening.readings):
            continue
        wanted, path = _expected(opening, input, of.input.value)
        if wanted is None or _same(ohms, wanted) or not any(_same(ohms, value) for value in SOLD):
            continue
        if of.resistance.known and of.resistance.value is not None and _same(of.resistance.value, wanted):
            continue
        yield _ask(
            "ASK-9",
            "act",
            N_("The meter reads {ohms} at rest, the operator's input expects {wanted}: which end element is in?"),
            {"ohms": Amount(ohms, "ohm"), "wanted": Amount(wanted, "ohm")},
            do=N_(
                "Stop the order. Read it again at the edge alone and dry; take the end element that the "
                "instructions of the operator name."
            ),
            facts=tuple(one for one in (each.ohms.path, path) if one),
        )


def _later(other: OhmReading, one: OhmReading) -> bool:
    """Whether the same was read again at rest on a later day."""
    if other.pressed.value or other.ohms.value is None or other.of.value != one.of.value:
        return False
    return one.on.value is not None and other.on.value is not None and other.on.value.first > one.on.value.last


def _other_value(ohms: float, wanted: float, *facts: str) -> Finding:
    return _ask(
        "ASK-9",
        "act",
        N_("The end element is {ohms}, the operator's input expects {wanted}."),
        {"ohms": Amount(ohms, "ohm"), "wanted": Amount(wanted, "ohm")},
        do=N_("Stop the order: take the end element that the instructions of the operator name."),
        facts=tuple(path for path in facts if path),
    )


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= SAME_VALUE * max(one, other)


def _expected(opening: Opening, input: OperatorInput | None, name: str | None = None) -> tuple[float | None, str]:
    """The end element that the input expects, and the fact that says so; None where inputs expect several.

    ``name`` is that of the terminal an edge is joined to, where somebody wrote it down.
    """
    if input is not None:
        return input.resistance, ""
    if converted(opening):
        return None, ""
    named = [each for each in opening.operator.inputs if name is not None and each.name.value == name]
    told = [each.resistance for each in named or opening.operator.inputs if each.resistance.value is not None]
    return (told[0].value, told[0].path) if len(told) == 1 else (None, "")


def converted(opening: Opening) -> bool:
    """Whether a converter stands between the edge and the operator, so that their circuits need not be the same."""
    return bool(opening.converters.items) or any(each.through.value for each in edges(opening))


def _taller(opening: Opening, profile: Profile | None) -> Iterator[Finding]:
    """ASK-10: a body taller than the seal that was there."""
    old = opening.door.bottom.old_height
    if profile is None or old.value is None:
        return
    more = profile.height - old.value
    if not above(more, TALLER[0]) and abs(more - TALLER[0]) > 1e-9:
        return
    yield _ask(
        "ASK-10",
        "act" if above(more, TALLER[1]) else "note",
        N_("The new body is {more} taller than the old seal."),
        {"more": Amount(more, "m")},
        do=N_(
            "Look at the lower limit, the overlap of the top seal, the latch, the slack of cables, the dock lip."
        ),
        facts=(old.path,),
        place="bottom",
    )


def same_as_last(opening: Opening) -> tuple[Statement, ...]:
    """Statements by which somebody orders what was ordered before."""
    return tuple(
        each
        for each in opening.statements
        if AS_LAST_TIME.search(each.words.value or "")
        and not ABOUT_OTHERS.search((each.about.value or "").casefold())
    )


def last_body_known(opening: Opening) -> bool:
    """Whether the last body is on record: measured, its wires and ohms known, both ends on photos."""
    for each in edges(opening):
        wires = each.wires.known or each.circuit.known
        needs = each.circuit.value in {"resistor", None}
        ohms = each.resistance.known or any(
            one.of.value == each.id.value and one.ohms.known for one in opening.readings
        )
        shots = [one for one in opening.photos if AN_END.search(f"{one.shot.value or ''} {one.of.value or ''}")]
        measured = each.length.known and each.length.origin == "measured"
        if measured and wires and (ohms or not needs) and len(shots) >= 2:
            return True
    return False


def _as_last_time(opening: Opening) -> Iterator[Finding]:
    for each in same_as_last(opening)[:1]:
        yield _ask(
            "ASK-11",
            "note" if last_body_known(opening) else "act",
            N_("Somebody said “{words}”."),
            {"words": each.words.value},
            do=N_("Ask for the last body's own measurement, its wires and ohms, and a photo of both ends."),
            facts=(each.words.path,),
            place="bottom",
        )


def photo_against_form(opening: Opening) -> tuple[str, str] | None:
    """The end that a photo shows and the one that the form says, where they differ."""
    end: Fact[str] = opening.lead.end
    shown = [each.value for each in end.readings if each.origin == "photo" and each.value is not None]
    said = [each.value for each in end.readings if each.origin != "photo" and each.value is not None]
    for each in opening.statements:
        words, about = each.words.value or "", each.about.value or ""
        left, right = bool(LEFT.search(words)), bool(RIGHT.search(words))
        if A_PHOTO.search(words) and left != right and "lead" in f"{words} {about}".casefold():
            shown.append("left" if left else "right")
    return next(((one, other) for one in shown for other in said if one != other), None)


def _photo(opening: Opening) -> Iterator[Finding]:
    """ASK-12: both are shown, and neither is taken for the other."""
    differing = photo_against_form(opening)
    if differing is None:
        return
    words = {"left": N_("left"), "right": N_("right"), "both": N_("both ends")}
    shown, said = (Sentence(words[each]) for each in differing)
    yield _ask(
        "ASK-12",
        "act",
        N_("The photo shows the lead: {shown}. The form says: {said}."),
        {"shown": shown, "said": said},
        do=N_("Look at the photo and the form side by side; was one of them taken from outside?"),
        facts=("lead.end",),
    )
