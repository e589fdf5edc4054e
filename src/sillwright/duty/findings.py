"""What this chapter has to say of an opening, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from sillwright.base.finding import Finding, Level
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.duty import evidence, rulebook
from sillwright.duty.model import Answer, DeviceStanding, RuleVerdict
from sillwright.survey.model import Opening, Site

BOARD_RULE = date(2010, 8, 29)  # ANSI/UL 325, 2010 revision; second-hand
LISTING_COUNTS = {"us_commercial", "us_residential", "us_gate"}
PRACTICE = Source(document="trade practice", sure="practice")
_BAD_STATES = {
    "dead": N_("The {kind} {name} is dead."),
    "torn_off": N_("The {kind} {name} is torn off."),
    "defeated": N_("The {kind} {name} has been defeated."),
}
_KINDS = {
    "sensing_edge": N_("sensing edge"),
    "air_edge": N_("air edge"),
    "photo_eye": N_("photo-eye"),
    "light_curtain": N_("light curtain"),
    "presence": N_("presence sensor"),
    "motion": N_("motion sensor"),
    "loop": N_("loop detector"),
    "inherent": N_("force sensing of the operator"),
    "guard": N_("guard"),
    "unknown": N_("device"),
}


def kind_in_words(kind: str | None) -> Sentence:
    """The kind of a device as a phrase."""
    return Sentence(_KINDS.get(kind or "unknown", _KINDS["unknown"]))


def duty_findings(
    site: Site,
    opening: Opening,
    answer: Answer,
    regime: str | None,
    no_rules: bool,
    rules: Sequence[RuleVerdict],
    devices: Sequence[DeviceStanding],
) -> Iterator[Finding]:
    """Every finding of this chapter, in no particular order of weight."""
    yield from _left_in(opening)
    yield from _not_working(opening)
    yield from _answer_finding(opening, answer, no_rules)
    yield from _place_and_use(opening)
    yield from _operator(opening, regime)
    yield from _ancillary(devices, listing_counts=regime in LISTING_COUNTS)
    levels = {rule.id: rule for rule in rulebook.rules()}
    for verdict in rules:
        if verdict.verdict == "fails":
            rule = levels[verdict.id]
            yield Finding(
                id=rule.id,
                level=rule.level,
                text=Sentence(N_("Not met: {rule}"), {"rule": verdict.asks}),
                do=verdict.remedy,
                place=_place(opening, rule.place),
                sources=(rule.source,),
            )
    yield from _texts(site, opening, regime)


def _place(opening: Opening, place: str | None) -> str | None:
    if place == "protection":
        first = next((each for each in opening.protection if each.id.value), None)
        return f"protection.{first.id.value}" if first else "bottom"
    return "zone.0" if place == "zone" else place


def _answer_finding(opening: Opening, answer: Answer, no_rules: bool) -> Iterator[Finding]:
    held = opening.operator.closing_control.value == "held"
    if no_rules:
        yield _say(
            "duty.no_rules",
            "act",
            N_("No rules are known here for this place."),
            do=N_(
                "Ask the authority having jurisdiction which text applies; until then close only while someone holds the control in full view."
            ),
            facts=("site.country",),
        )
    elif answer == "no":
        level: Level = "note" if held else "stop"
        yield _say(
            "duty.powered_closing",
            level,
            N_("This leaf may not close under power unless someone holds the control in full view."),
            why=N_(
                "As it stands today, what would stop it before or at a person is missing, not working or not watched."
            ),
            do=N_("Leave it closing only while held.")
            if held
            else N_(
                "Set the operator to constant pressure in view, or take it out of use until what is missing is fitted and tested."
            ),
            place="leaf",
        )
    elif answer == "yes":
        yield _say(
            "duty.powered_closing",
            "good",
            N_("By the facts taken down, this leaf may close under power without someone holding the control."),
            why=N_(
                "The operator's instructions and the authority having jurisdiction decide; test every device before leaving."
            ),
            place="leaf",
        )
    else:
        yield _say(
            "duty.powered_closing",
            "act",
            N_("Whether this leaf may close under power is not known yet."),
            why=N_("An unknown never counts in favour of closing."),
            do=N_("Close only while someone holds the control in full view until the open questions are answered."),
            place="leaf",
        )
    if held and not no_rules:
        yield _say(
            "duty.held",
            "note",
            N_("Today it closes only while the control is held; that is a setting and changes no answer here."),
            facts=("operator.closing_control",),
            place="operator",
        )


def _left_in(opening: Opening) -> Iterator[Finding]:
    for part in opening.temporary_parts:
        yield _say(
            "duty.temporary_part",
            "stop",
            N_("A temporary part is in place: {what}."),
            {"what": part.what.value or part.place.value or "?"},
            why=N_("A substitute part or jumper makes the operator see a device that protects nobody."),
            do=N_(
                "Keep people away and the leaf from closing by itself; a technician books the part out with a photo of the terminals. Ask since when, and who."
            ),
            facts=("temporary_parts",),
            place=_device_place(part.of.value),
        )
    for defeat in opening.defeats:
        yield _say(
            "duty.defeated",
            "stop",
            N_("A device has been defeated: {what}."),
            {"what": defeat.what.value or "?"},
            why=N_("What was done to it takes the protection away from everyone who passes."),
            do=N_(
                "Take the leaf out of powered closing, restore the device, test it, and find out why it was done."
            ),
            facts=("defeats",),
            place=_device_place(defeat.of.value),
        )


def _device_place(name: str | None) -> str:
    return f"protection.{name}" if name else "operator"


def _not_working(opening: Opening) -> Iterator[Finding]:
    for device in opening.protection:
        about = {"kind": kind_in_words(device.kind.value), "name": device.id.value or ""}
        where = f"protection.{device.id.value}" if device.id.value else "bottom"
        state = device.state.value
        if state in _BAD_STATES and device.state.known:
            text = _BAD_STATES[state]
            yield _say(
                "duty.device_not_working", "stop", text, about, do=_REPAIR, facts=(device.state.path,), place=where
            )
        elif state == "missing":
            text = N_("The {kind} {name} is no longer there.")
            yield _say(
                "duty.device_missing", "act", text, about, do=_REPAIR, facts=(device.state.path,), place=where
            )
        if evidence.read_as_failed(opening, device):
            text = N_("A reading shows that the {kind} {name} does not work.")
            yield _say("duty.reading", "stop", text, about, do=_REPAIR, facts=("readings",), place=where)
    for test in evidence.failed_tests(opening):
        text = N_("{test} was not met on {day}.")
        values = {"test": test.what.value or "?", "day": str(test.on.value or "?")}
        yield _say("duty.test_not_met", "stop", text, values, do=_REPAIR, facts=("tests",), place="leaf")
    if opening.as_found.value == "closes_on_objects":
        yield _say(
            "duty.closes_on_objects",
            "stop",
            N_("As found, the leaf closes on objects."),
            why=N_("Nothing stops it at a person either."),
            do=N_(
                "Take it out of powered closing now: leave it closed with power off and tagged, or open and guarded."
            ),
            facts=("as_found",),
            place="bottom",
        )


_REPAIR = N_(
    "Take the leaf out of powered closing until the device is repaired or replaced and tested, two people, full view."
)


def _place_and_use(opening: Opening) -> Iterator[Finding]:
    use, door = opening.use, opening.door
    if use.only_exit.value is True:
        yield _say(
            "HAZ-10",
            "act",
            N_("This opening is the only way out."),
            why=N_("If the operator, its power or a device fails, people are locked in; in a fire that can kill."),
            do=N_(
                "Provide another way out, or a manual release within reach that everybody there has practised; never take this leaf out of use closed while people are inside."
            ),
            facts=("use.only_exit",),
            place="leaf",
        )
    if door.kind.value == "rolling_fire":
        yield _say(
            "duty.fire_door",
            "note",
            N_("This is a fire door: closing in alarm follows NFPA 80, daily powered use the operator standard."),
            why=N_(
                "A device that keeps it open in alarm lets fire spread; a device left off lets it close on people every day."
            ),
            do=N_(
                "Leave the release, the governor and the drop test to persons qualified for fire doors; order parts through the maker by serial and label."
            ),
            facts=("door.kind",),
            place="leaf",
            sources=(Source(document="NFPA 80", sure="second-hand"),),
        )
    elif door.fire_label.given and (door.fire_label.readable.value is not None or door.fire_label.number.value):
        yield _say(
            "duty.fire_label",
            "act",
            N_("The leaf carries a fire label, though it was taken down as another kind of leaf."),
            do=N_("Ask whether it is a fire door before anything is ordered or set."),
            facts=("door.fire_label",),
            place="leaf",
        )
    area = opening.surroundings.classified_area.value
    if area and area.lower() not in {"none", "no", "false"}:
        yield _say(
            "duty.classified_area",
            "stop",
            N_("The opening lies in a classified area: {area}."),
            {"area": area},
            why=N_("An electric part that is not listed for the area can ignite what is in the air."),
            do=N_(
                "Propose and fit no electric part here before the owner's document names class, division or zone, and the part is listed for it."
            ),
            facts=("surroundings.classified_area",),
            place="leaf",
        )


def _operator(opening: Opening, regime: str | None) -> Iterator[Finding]:
    operator = opening.operator
    made, board = operator.made, operator.board_made
    if made.standing == "none there":
        yield _say(
            "duty.plate_unreadable",
            "act",
            N_("Somebody looked for the operator's date and could not read it: the date is unknown."),
            do=N_(
                "Look for a date on board, motor or papers, ask support with a photo, or treat it as new."
            ),
            facts=("operator.made",),
            place="operator",
        )
    if board.known and board.value is not None:
        yield _say(
            "duty.newer_board",
            "note",
            N_(
                "A newer board ({board}) sits in this operator: the board's own instructions decide which devices are listed."
            ),
            {"board": str(board.value)},
            do=N_("Read the instructions of the board, not those of the operator."),
            facts=("operator.board_made",),
            place="operator",
        )
    elif regime == "us_commercial" and made.known and made.value is not None and made.value.last < BOARD_RULE:
        yield _say(
            "duty.older_installation",
            "act",
            N_(
                "The operator was made before 29 August 2010: the rule on watched devices does not reach it, and its devices may die unseen."
            ),
            why=N_(
                "It is not forbidden while it works as its own instructions say, but nobody notices when it stops doing so."
            ),
            do=N_(
                "Say so on paper, test every device at each visit, and quote an operator and devices that watch each other. Ask whether the board was ever replaced."
            ),
            facts=("operator.made",),
            place="operator",
            sources=(Source(document="ANSI/UL 325", edition="2010 revision", sure="second-hand"),),
        )


def _ancillary(devices: Sequence[DeviceStanding], *, listing_counts: bool) -> Iterator[Finding]:
    for each in devices:
        if each.kind in {"inherent", "guard", "loop", "motion"}:
            continue
        about = {"kind": kind_in_words(each.kind), "name": each.name}
        if each.watched == "no":
            yield _say(
                "duty.ancillary",
                "note",
                N_("The {kind} {name} is not watched by the operator: it helps, but may die unseen."),
                about,
                do=N_("Test it at every visit and say so on paper."),
                facts=(f"{each.path}.circuit",),
                place=each.path,
                sources=(Source(id="older-two-wire", document="trade practice", sure="practice"),),
            )
        elif listing_counts and each.listed == "unknown":
            yield _say(
                "duty.listing_not_read",
                "act",
                N_("Whether the operator's instructions list the {kind} {name} is not known."),
                about,
                why=N_(
                    "The weakest link of the chain decides: operator or newer board, converter, transmitter, receiver, device."
                ),
                do=N_(
                    "Find the list in the instructions; take down title, page, who read it and when, with a photo."
                ),
                facts=("operator.lists_devices", "operator.instructions"),
                place=each.path,
                sources=(
                    Source(
                        id="ul325-system", document="ANSI/UL 325", clause="as applied in the trade", sure="practice"
                    ),
                ),
            )


def _texts(site: Site, opening: Opening, regime: str | None) -> Iterator[Finding]:
    made = opening.operator.made.value
    for text in rulebook.texts():
        old = text.before is not None and made is not None and made.last <= text.before
        if regime in text.regimes and old and (site.country.value in text.where or text.where == ("EU",)):
            yield Finding(
                id=text.id, level="note", text=Sentence(text.says), place="operator", sources=(text.source,)
            )


def _say(
    name: str,
    level: Level,
    text: str,
    values: Mapping[str, object] | None = None,
    *,
    why: str | None = None,
    do: str | None = None,
    facts: tuple[str, ...] = (),
    place: str | None = None,
    sources: tuple[Source, ...] = (PRACTICE,),
) -> Finding:
    return Finding(
        id=name,
        level=level,
        text=Sentence(text, values or {}),
        why=Sentence(why) if why else None,
        do=Sentence(do) if do else None,
        facts=facts,
        place=place,
        sources=sources,
    )
