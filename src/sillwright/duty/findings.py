"""What this chapter has to say of an opening: which sentence of ``data/findings.toml`` applies, and to what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from sillwright.base import data
from sillwright.base.finding import Finding, Level
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.duty import evidence, rulebook
from sillwright.duty.dated import deciding_dates
from sillwright.duty.devices import place_of
from sillwright.duty.held import TRAINED_ONLY, closes_unseen, found_by_tap, held_as_it_should_be
from sillwright.duty.model import Answer, DeviceStanding, RuleVerdict
from sillwright.survey.classified import area_of
from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Listing

BOARD_RULE = date(2010, 8, 29)  # ANSI/UL 325, 2010 revision; second-hand
LISTING_COUNTS = {"us_commercial", "us_residential", "us_gate"}
PRACTICE = Source(document=N_("trade practice"), sure="practice")
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
    rules: Sequence[RuleVerdict],
    devices: Sequence[DeviceStanding],
) -> Iterator[Finding]:
    """Every finding of this chapter; what is wrong before what follows from it."""
    yield from _left_in(opening)
    yield from _not_working(opening)
    held = held_as_it_should_be(opening, regime)
    yield from _answer(opening, _variant(answer, regime, held), rulebook.known_at(site))
    yield from _place_and_use(opening)
    yield from _controls(opening, rules)
    yield from _operator(opening, regime)
    yield from _standing(opening, devices, listing_counts=regime in LISTING_COUNTS)
    yield from _rules(rules, held)
    yield from _texts(site, opening, regime)


def _say(
    name: str,
    values: Mapping[str, object] | None = None,
    *,
    place: str | None = None,
    facts: tuple[str, ...] = (),
    **other: Any,
) -> Finding:
    """A finding by its row; ``duty.powered_closing.no`` is a variant of ``duty.powered_closing``."""
    row = data.table("sillwright.duty", "findings")[name]
    said = {key: Sentence(row[key], values or {}) for key in ("text", "why", "do") if key in row}
    given = {
        "id": ".".join(name.split(".")[:2]),
        "level": row["level"],
        "facts": facts or tuple(row.get("facts", ())),
        "place": place or row.get("place"),
        "sources": (Source(**row["source"]) if "source" in row else PRACTICE,),
        **said,
    }
    return Finding(**{**given, **other})


def _left_in(opening: Opening) -> Iterator[Finding]:
    for part in _told(opening.temporary_parts):
        what = part.what.value or part.place.value or "?"
        yield _say("duty.temporary_part", {"what": what}, place=_device_place(opening, part.of.value))
    for defeat in _told(opening.defeats):
        yield _say(
            "duty.defeated", {"what": defeat.what.value or "?"}, place=_device_place(opening, defeat.of.value)
        )


def _told(listing: Listing[Any]) -> Iterator[Any]:
    """What somebody found, in either reading of a list; not what was only assumed."""
    if listing.standing != "assumed":
        yield from listing.items
        seen = {item.signature(): item for items in listing.rivals for item in items}
        yield from seen.values()


def _device_place(opening: Opening, name: str | None) -> str:
    there = {each.id.value for each in opening.protection}
    return f"protection.{name}" if name in there else "operator"


def _not_working(opening: Opening) -> Iterator[Finding]:
    for device in _told(opening.protection):
        about = {"kind": kind_in_words(device.kind.value), "name": device.id.value or ""}
        where = place_of(device) or "bottom"
        state = device.state.value if device.state.known else None
        if state in {"dead", "torn_off", "defeated"}:
            yield _say(f"duty.device_not_working.{state}", about, facts=(device.state.path,), place=where)
        elif state == "missing":
            yield _say("duty.device_missing", about, facts=(device.state.path,), place=where)
        if evidence.read_as_failed(opening, device, tuple(_told(opening.readings))).value:
            yield _say("duty.reading", about, place=where)
    for test in evidence.failed_tests(tuple(_told(opening.tests))):
        yield _say("duty.test_not_met", {"test": test.what.value or "?", "day": str(test.on.value or "?")})
    for test in evidence.unclear_tests(tuple(_told(opening.tests))):
        yield _say("duty.test_unclear", {"test": test.what.value or "?", "day": str(test.on.value or "?")})
    if opening.as_found.known and opening.as_found.value == "closes_on_objects":
        yield _say("duty.closes_on_objects")


def _variant(answer: Answer, regime: str | None, held: bool) -> str:
    """Which row says the answer: by who may hold a control here, and whether it is held so already."""
    place = "_europe" if regime == TRAINED_ONLY and answer != "yes" else ""
    return f"{answer}{place}" + ("_held" if held and answer == "no" else "")


def _answer(opening: Opening, variant: str, rules_known: bool) -> Iterator[Finding]:
    if not rules_known:
        yield _say("duty.no_rules")
        return
    yield _say(f"duty.powered_closing.{variant}")
    if opening.operator.closing_control.value == "held":
        yield _say("duty.found_by_tap" if found_by_tap(opening) else "duty.held")
    elif variant == "yes" and opening.as_found.known and opening.as_found.value == "only_held":
        yield _say("duty.found_only_held")


def _place_and_use(opening: Opening) -> Iterator[Finding]:
    door, label = opening.door, opening.door.fire_label
    if opening.use.only_exit.value is True:
        yield _say("HAZ-10")
    if door.kind.value == "rolling_fire":
        yield _say("duty.fire_door")
    elif label.readable.value is not None or label.number.value is not None:
        yield _say("duty.fire_label")
    area = opening.surroundings.classified_area
    if area.value and area_of(area) == "open":
        yield _say("duty.classified_area.open", {"area": area.value})
    elif area.value and area_of(area) != "ordinary":
        yield _say("duty.classified_area", {"area": area.value})


def _controls(opening: Opening, rules: Sequence[RuleVerdict]) -> Iterator[Finding]:
    told = any(rule.id == "ul325-constant-pressure" and rule.verdict == "fails" for rule in rules)
    if closes_unseen(opening) and not told:
        yield _say("duty.station_out_of_view")
    area = any(each.kind.value in {"light_curtain", "presence"} for each in opening.protection)
    if opening.operator.closing_control.value in {"timer", "automatic", "unattended"} and not area:
        yield _say("duty.closes_by_itself")


def _operator(opening: Opening, regime: str | None) -> Iterator[Finding]:
    made, board = opening.operator.made, opening.operator.board_made
    if made.standing == "none there":
        yield _say("duty.plate_unreadable")
    dates = deciding_dates(opening.operator)
    if board.known and board.value is not None and board.value in dates:
        yield _say("duty.newer_board", {"board": str(board.value)})
    assumed = "assumed" in {made.standing, board.standing}
    if regime == "us_commercial" and dates and not assumed and all(date.last < BOARD_RULE for date in dates):
        yield _say("duty.older_installation")


def _standing(opening: Opening, devices: Sequence[DeviceStanding], *, listing_counts: bool) -> Iterator[Finding]:
    for each in devices:
        if each.kind in {"inherent", "guard", "loop", "motion"}:
            continue
        about = {"kind": kind_in_words(each.kind), "name": each.name}
        if each.watched == "no":
            yield _say(
                "duty.ancillary", about, facts=(f"{each.path}.circuit",), place=_device_place(opening, each.name)
            )
        elif listing_counts and each.listed == "unknown":
            yield _say("duty.listing_not_read", about, place=_device_place(opening, each.name))
        elif each.monitored == "yes" and opening.operator.inputs.standing == "not asked":
            yield _say("duty.input_not_seen", about)


def _rules(verdicts: Sequence[RuleVerdict], held_so: bool) -> Iterator[Finding]:
    rules = {rule.id: rule for rule in rulebook.rules()}
    for verdict in verdicts:
        if verdict.verdict == "fails":
            rule = rules[verdict.id]
            held = rule.held if held_so else ""
            level: Level = "note" if held else rule.level
            yield _say(
                "duty.rule",
                {"rule": verdict.asks},
                place=verdict.place,
                facts=verdict.rests_on,
                id=rule.id,
                level=level,
                do=Sentence(held) if held else verdict.remedy,
                sources=(rule.source,),
            )


def _texts(site: Site, opening: Opening, regime: str | None) -> Iterator[Finding]:
    board = opening.operator.board_made.value
    made = board or opening.operator.made.value
    for text in rulebook.texts():
        old = text.before is not None and made is not None and made.last <= text.before
        if regime in text.regimes and old and (site.country.value in text.where or text.where == ("EU",)):
            yield Finding(
                id=text.id,
                level="note",
                text=Sentence(text.says),
                facts=(opening.operator.board_made.path if board else opening.operator.made.path,),
                place="operator",
                sources=(text.source,),
            )
