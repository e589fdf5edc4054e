"""Plausibility questions: asked, never silently corrected.

Numbers from memory, typical, to be confirmed on site (rule ids ASK-1 to ASK-8 of the trade).
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sillwright.base.fact import Fact, Reading
from sillwright.base.finding import Finding, Level
from sillwright.base.quantity import inches_after_the_point
from sillwright.base.scale import FOOT, INCH, SIXTEENTH
from sillwright.base.source import Source
from sillwright.base.words import N_, Amount, Sentence
from sillwright.survey.model import WHO, Opening, Site
from sillwright.survey.questions import named
from sillwright.survey.spec import Group, Spec

ROUND_OFF = 1e-9  # metre
PANEL_WIDER_AT_MOST = float(6 * INCH)
BAR_OVER_GUIDES = (float(INCH * 3 / 2), float(6 * INCH))
GUIDES_DIFFER = float(INCH * 3 / 8)
REPEATS_DIFFER = float(INCH / 2)
WIDEST_SHAPE = 2.5  # width over height
TALLEST_SHAPE = 2.0  # height over width

_MEMORY = (Source(document=N_("trade rules of thumb"), sure="memory"),)


def plausibility(opening: Opening, site: Site | None = None) -> tuple[Finding, ...]:
    """The questions that the facts of an opening and its site raise, and the facts that contradict each other.

    Source: trade rules of thumb, from memory (ASK-1 to ASK-8).
    """
    asked_of_site = () if site is None else (*_differing(site), *_temperatures(site.coldest, site.hottest))
    return asked_of_site + tuple(
        question
        for asked in (
            _decimal_feet,
            _panel_or_opening,
            _bar_over_guides,
            _nominal,
            _two_readings,
            _swapped,
            _bent_guide,
            _lead_side,
            _who_passes,
            _two_sides,
            _means,
            _alike,
        )
        for question in asked(opening)
    )


def _ask(
    name: str,
    level: Level,
    text: str,
    values: dict[str, Any],
    *,
    do: str,
    facts: tuple[str, ...],
    place: str | None = "leaf",
) -> Finding:
    return Finding(
        id=name,
        level=level,
        text=Sentence(text, values),
        do=Sentence(do),
        facts=facts,
        place=place,
        sources=_MEMORY,
    )


def _metres(value: float) -> Amount:
    return Amount(value, "m")


def _decimal_feet(opening: Opening) -> Iterator[Finding]:
    for spec, fact in opening.facts():
        for reading in fact.readings:
            if reading.doubtful and reading.value is not None:
                yield _in_feet(spec, fact, reading.typed, reading.value)


def _in_feet(spec: Spec, fact: Fact[Any], typed: str, feet: float) -> Finding:
    other = inches_after_the_point(typed)
    values = {"what": Sentence(named(spec, fact.path)), "typed": typed, "feet": _metres(feet)}
    if other is not None and abs(float(other) - feet) > SIXTEENTH / 2:
        text = N_("The {what} was written “{typed}”: {inches}, or {typed} = {feet}?")
        values["inches"] = _metres(float(other))
    else:
        text = N_("The {what} was written “{typed}”, feet with a decimal point: is {feet} meant?")
    outranked = fact.known and fact.reading is not None and not fact.reading.doubtful
    do = N_("Ask whoever took it down, or measure again; nothing is ordered by it until then.")
    level: Level = "note" if outranked else "act"
    return _ask("ASK-1", level, text, values, do=do, facts=(fact.path,), place=_place(fact.path))


def _panel_or_opening(opening: Opening) -> Iterator[Finding]:
    door = opening.door
    panel, width = door.panel_width.value, door.clear_width.value
    if door.kind.value != "sectional" or panel is None or width is None:
        return
    if panel < width - ROUND_OFF or panel > width + PANEL_WIDER_AT_MOST + ROUND_OFF:
        yield _ask(
            "ASK-2",
            "act",
            N_("Panel {panel}, opening {width}: is that the panel or the opening?"),
            {"panel": _metres(panel), "width": _metres(width)},
            do=N_(
                "Measure the bottom panel, stile to stile along its bottom edge; it is usually 0 to 4 in wider than the opening."
            ),
            facts=("door.panel_width", "door.clear_width"),
            place="bottom",
        )


def _guides(opening: Opening) -> list[float]:
    clear = opening.door.guide_clear
    return [fact.value for fact in (clear.floor, clear.chest, clear.head) if fact.value is not None]


def _bar_over_guides(opening: Opening) -> Iterator[Finding]:
    bar, guides = opening.door.bottom.bar_overall.value, _guides(opening)
    if opening.door.kind.value not in {"rolling", "rolling_fire", "grille"} or bar is None or not guides:
        return
    over = bar - min(guides)
    if BAR_OVER_GUIDES[0] - ROUND_OFF <= over <= BAR_OVER_GUIDES[1] + ROUND_OFF:
        yield _ask(
            "ASK-3",
            "act",
            N_(
                "The bottom bar is {over} longer than the clear between the guides: was it measured over the guides?"
            ),
            {"over": _metres(over)},
            do=N_("Use the clear between the guide faces, not the bar over all."),
            facts=("door.bottom.bar_overall", "door.guide_clear.floor"),
            place="bottom",
        )


def _nominal(opening: Opening) -> Iterator[Finding]:
    door = opening.door
    titled = {fact.path: spec.title for spec, fact in opening.facts()}
    for fact in (door.clear_width, door.panel_width, door.leaf_width):
        if fact.value is None or fact.origin == "measured":
            continue
        feet = fact.value / float(FOOT)
        if abs(feet - round(feet)) * float(FOOT) <= ROUND_OFF:
            yield _ask(
                "ASK-4",
                "note",
                N_("The {what} is a whole number of feet ({width}): nominal or measured?"),
                {"what": Sentence(titled[fact.path]), "width": _metres(fact.value)},
                do=N_("Treat it as told until somebody has measured it."),
                facts=(fact.path,),
            )


def _two_readings(opening: Opening) -> Iterator[Finding]:
    yield from _differing(opening)
    for listed, listing in opening.listings():
        if listing.standing == "two readings":
            yield _ask(
                "survey.two_readings",
                "act",
                N_("Two readings of the list of {what} do not agree."),
                {"what": Sentence(listed.title)},
                do=N_("Settle it with the people who took it down, or look again; neither is used for an order."),
                facts=(listing.path,),
                place=None,
            )


def _differing(group: Group) -> Iterator[Finding]:
    for spec, fact in group.facts():
        if fact.standing != "two readings":
            continue
        telling = [each for each in fact.readings if each.value is not None or each.origin is not None]
        said = [_reading(spec, each) for each in telling]
        measured = [each.value for each in telling if each.origin == "measured" and each.value is not None]
        repeated = spec.unit == "m" and len(measured) > 1 and max(measured) - min(measured) > REPEATS_DIFFER
        yield _ask(
            "ASK-5" if repeated else "survey.two_readings",
            "act",
            N_("Two readings of the {what} do not agree: {readings}."),
            {"what": Sentence(named(spec, fact.path)), "readings": said},
            do=N_("Settle it with the people who took it down, or measure again; neither is used for an order."),
            facts=(fact.path,),
            place=_place(fact.path),
        )


def _reading(spec: Spec, reading: Reading[Any]) -> Sentence:
    value: Any = reading.value
    if value is None:
        value = Sentence(N_("none there"))
    elif spec.kind == "quantity":
        value = Amount(value, spec.unit)
    elif spec.kind == "choice":
        value = Sentence(value.replace("_", " "))
    known = [_origin(reading), *(word for word in (reading.by, reading.on) if word)]
    return Sentence(N_("{value} ({known})"), {"value": value, "known": known})


ORIGIN_IN_WORDS = {
    "measured": N_("measured"),
    "plate": N_("read from a plate"),
    "instructions": N_("read in instructions"),
    "photo": N_("seen on a photo"),
    "support": N_("told by support"),
    "told": N_("told"),
    "assumed": N_("assumed"),
    None: N_("origin not recorded"),
}


def _origin(reading: Reading[Any]) -> Sentence:
    return Sentence(ORIGIN_IN_WORDS[reading.origin])


def _place(path: str) -> str | None:
    first = path.split(".")[0].split("[")[0]
    if first == "protection":
        return ".".join(path.split(".")[:2]) if "." in path and "[" not in path else "bottom"
    return {
        "door": "leaf",
        "operator": "operator",
        "lead": "lead",
        "box": "box",
        "cord": "cord",
        "floor": "floor",
    }.get(first)


def _swapped(opening: Opening) -> Iterator[Finding]:
    door = opening.door
    width, height = door.clear_width.value, door.clear_height.value
    if door.kind.value not in {"sectional", "rolling"} or width is None or height is None:
        return
    if width > WIDEST_SHAPE * height + ROUND_OFF or height > TALLEST_SHAPE * width + ROUND_OFF:
        yield _ask(
            "ASK-6",
            "act",
            N_("The opening is {width} wide and {height} high: are width and height swapped?"),
            {"width": _metres(width), "height": _metres(height)},
            do=N_("Ask, or look at the photo taken from inside."),
            facts=("door.clear_width", "door.clear_height"),
        )


def _bent_guide(opening: Opening) -> Iterator[Finding]:
    guides = _guides(opening)
    if len(guides) > 1 and max(guides) - min(guides) > GUIDES_DIFFER + ROUND_OFF:
        yield _ask(
            "ASK-7",
            "act",
            N_("The clear between the guides differs by {difference} over the height: a guide is bent."),
            {"difference": _metres(max(guides) - min(guides))},
            do=N_("Have the guide straightened, measure again, then order."),
            facts=("door.guide_clear.floor", "door.guide_clear.chest", "door.guide_clear.head"),
            place="guide.left",
        )


def _lead_side(opening: Opening) -> Iterator[Finding]:
    end: Fact[str] = opening.lead.end
    side: Fact[str] = opening.operator.side
    explained = any(each.about.value in {"lead", "lead.end"} for each in opening.statements)
    if explained or end.value not in {"left", "right"} or side.value is None or end.value == side.value:
        return
    yield _ask(
        "ASK-8",
        "note",
        N_("The lead leaves on the {end}, the operator is on the {side}: why?"),
        {"end": Sentence(end.value), "side": Sentence(side.value)},
        do=N_("Give one line of reason (a statement about the lead), or turn the lead to the operator's side."),
        facts=("lead.end", "operator.side"),
        place="lead",
    )


def _who_passes(opening: Opening) -> Iterator[Finding]:
    for stream in (*opening.use.intended, *opening.use.traffic):
        who = stream.who.value
        sized = all(fact.value is not None for fact in (stream.height, stream.depth, stream.speed))
        if who is not None and who not in WHO and not sized:
            yield _ask(
                "survey.who",
                "note",
                N_("Nothing is known of the size of “{who}” that passes here."),
                {"who": who},
                do=N_(
                    "Give its height, depth and speed, or a word the program knows: adult, child, car, truck, forklift …"
                ),
                facts=(stream.path,),
                place="floor",
            )


def _two_sides(opening: Opening) -> Iterator[Finding]:
    yield from _temperatures(opening.surroundings.cold_side, opening.surroundings.warm_side)


def _temperatures(cold: Fact[float], warm: Fact[float]) -> Iterator[Finding]:
    if cold.value is not None and warm.value is not None and cold.value > warm.value:
        yield _ask(
            "survey.temperatures",
            "act",
            N_("The colder temperature, {cold}, lies above the warmer, {warm}: are they swapped?"),
            {"cold": Amount(cold.value, "K"), "warm": Amount(warm.value, "K")},
            do=N_("Write the lowest and the highest that are to be expected, each in its place."),
            facts=(cold.path, warm.path),
            place=None,
        )


def _means(opening: Opening) -> Iterator[Finding]:
    """Means of a zone that are no device taken down here: a slip of the pen takes a means away."""
    if opening.protection.standing != "known":
        return
    there = {str(each) for device in opening.protection for each in (device.id.value, device.kind.value)}
    for number, zone in enumerate(opening.zones):
        for word in zone.means.value or ():
            if word not in there:
                yield _ask(
                    "survey.means",
                    "act",
                    N_(
                        "Zone number {number} names “{word}” as a means, which no device taken down here is called."
                    ),
                    {"number": number + 1, "word": word},
                    do=N_("Write the id or the kind of a device as it stands under protection, or add the device."),
                    facts=(zone.means.path,),
                    place=f"zone.{number}",
                )


def _alike(opening: Opening) -> Iterator[Finding]:
    """Names of devices and links that the list of the instructions holds but for capitals, gaps and hyphens."""
    listed = opening.operator.lists_devices
    exact = set(listed.value or ())
    known = {_letters(each): each for each in sorted(exact) if _letters(each)}
    for device in opening.protection:
        names: list[tuple[Fact[Any], Any]] = [(device.model, device.model.value)]
        names += [(device.through, each) for each in device.through.value or ()]
        for fact, word in names:
            other = known.get(_letters(str(word))) if word else None
            if other is not None and word not in exact:
                yield _ask(
                    "survey.name_alike",
                    "act",
                    N_("“{name}” is taken down, and the instructions list “{other}”: are they the same?"),
                    {"name": str(word), "other": other},
                    do=N_("Read the name on the device again, and write it as the instructions print it."),
                    facts=(fact.path, listed.path),
                    place=_place(fact.path),
                )


def _letters(name: str) -> str:
    return "".join(each for each in name.casefold() if each.isalnum())
