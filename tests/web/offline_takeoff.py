"""What to order, worked out on both sides: openings as people might have measured them, and the answers."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from random import Random
from typing import Any

from sillwright.base.errors import DocumentError
from sillwright.base.fact import ORIGINS
from sillwright.base.words import Reader, render
from sillwright.survey.door import KINDS
from sillwright.survey.entries import Entry, survey_from_entries
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Way
from sillwright.takeoff.leads.lead import lead
from sillwright.takeoff.leads.lead_words import lead_in_words
from sillwright.takeoff.lengths.bodies import bodies
from sillwright.takeoff.ways.way import way

from .offline_cases import DAYS, RARE, WRONG
from .offline_phone import Case, Phone

SCRIPT = """async () => {
  const { orderOf } = await import("/offline/evaluator/takeoff/order.js");
  const { edgesOf } = await import("/offline/evaluator/takeoff/length.js");
  const { cordOf } = await import("/offline/evaluator/takeoff/cord.js");
  const { leadInWords } = await import("/offline/evaluator/takeoff/say.js");
  const { inFeet, inMetres } = await import("/offline/lengths.js");
  const said = (told) => {
    const found = orderOf(window.book, told);
    const words = [inFeet, inMetres].map((show) => leadInWords(window.book, found.lead, show));
    return { ...found, words };
  };
  const plain = (work) => (text) => JSON.stringify(JSON.parse(text).map(work));
  window.orders = plain(said);
  window.edges = plain((told) => edgesOf(window.book.takeoff, told));
  window.cords = plain((told) => cordOf(window.book.takeoff, told));
}"""
BODY = (
    "place", "rule", "body", "sensing", "channel", "pieces", "piece", "dead_left", "dead_right", "informs_only",
    "count", "missing",
)  # fmt: skip
LEAD = ("end", "rule", "exit", "from_end", "length", "fin", "confirmed")
READERS = (Reader(units="us"), Reader(units="metric"))


def with_orders(here: Phone) -> Phone:
    """A phone that works out what to order as well."""
    here.page.evaluate(SCRIPT)
    return here


def asked(here: Phone, name: str, of: Sequence[Any]) -> list[Any]:
    """What the scripts answer to each case: ``orders``, ``edges`` or ``cords``."""
    found: list[Any] = json.loads(here.page.evaluate(f"(text) => window.{name}(text)", json.dumps(of)))
    return found


def survey_of_case(case: Case) -> tuple[Site, Opening] | None:
    """The survey that somebody's words make; None where none can hold them."""
    try:
        rebuilt = survey_from_entries("Quay 7", case.site, {"T1": case.opening}, case.country)
    except DocumentError:
        return None
    return rebuilt.survey.site, rebuilt.survey.openings[0]


def server_orders(site: Site, opening: Opening) -> dict[str, Any]:
    """What the server says is to be ordered, without a catalogue."""
    led = lead(opening)
    road = way(site, opening, led.end)
    return {
        "bodies": [{name: _plain(getattr(each, name)) for name in BODY} for each in bodies(site, opening)],
        "lead": {name: getattr(led, name) for name in LEAD},
        "cord": _cord(road),
        "words": [[render(each, reader) for each in lead_in_words(led)] for reader in READERS],
    }


def _cord(road: Way) -> dict[str, Any]:
    """The cord that would do, also where a reel is preferred."""
    ratio = road.longest / road.cord if road.cord and road.longest is not None else None
    told = {"kind": road.kind, "retracted": road.cord, "ratio": ratio}
    return {**told, "longest": road.longest, "box_height": road.box_height}


def _plain(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def told_rarely(case: Case) -> bool:
    """Whether something was typed in a unit that only the server can tell of."""
    return any(each.typed in RARE for each in (*case.site, *case.opening))


# openings at random

WIDE = (
    "12 ft", "12 ft 1/4 in", "11 ft 11-15/16 in", "12 ft 1/16 in", "144-1/2 in", "20 ft", "20 ft 1/16 in", "233 in",
    "168 in", "163-1/4 in", "164 in", "10 ft 6 in", "10.6 ft", "3.2004 m", "3.20 m", "3657.6 mm", "3657 mm",
    "24 ft", "24 ft 1/4 in", "24 ft 1/8 in", "48 ft 6 in", "9.99 m", "131.07 in", "1/2 in", "0 in", "2 in",
    "40 m", "59 ft", "126-1/3 in", "3.1999999999 m",
)  # fmt: skip
CLOSE = ("12 ft", "12 ft 3/8 in", "12 ft 7/16 in", "11 ft 11-3/4 in", "12 ft 1/2 in", "12 ft 9/16 in", "3.6576 m")
HIGH = (
    "8 ft", "10 ft", "12 ft", "14 ft", "16 ft", "16 ft 1/16 in", "18 ft", "20 ft", "24 ft", "4.2 m", "4.8768 m",
    "35 ft", "39 m", "7 ft 11-1/2 in",
)  # fmt: skip
GAPS = (
    "2 in", "4 in", "4-1/16 in", "0.1016 m", "8 in", "15-15/16 in", "16 in", "16-1/16 in", "0.4064 m", "1 ft",
    "0 in", "20 ft", "11 m", "35 ft",
)  # fmt: skip
TALL = ("60 in", "84 in", "72 in", "73 in", "1.8 m", "2 in", "3 in", "96 in", "1.8288 m", "4 in")
WALLS = ("8 in", "7-15/16 in", "7 in", "12 in", "3 ft", "0.2032 m", "200 mm", "0 in")
NEAR = ("0 in", "2 in", "1-1/2 in", "3 in", "6 ft", "0.0381 m")
GUIDES = (
    "straight, no dents", "left one bent", "wind locks", "rusty", "not straight", "no visible dents", "bent",
    "GOOD", "without any wind-locks, straight", "unknown", "straight?", "wind_lock at the head", "dented badly",
    "never  the very straight", "ſtraight", "ﬁne", "no\u00a0bent", "éstraight", "straighté", "not hit, not bent",
    "\u212ainked", "looked at", "free of a dent", "straight and unchecked", "TRUE", "out of line", "no any the hit",
    "no good", "not_bent", "STRAIẞT", "good, not bent, spread",
)  # fmt: skip
PLACES = (
    "receiving post", "guide posts", "tail end and wall", "TAİL", "taıl", "tail", "rear wall", "fence",
    "Fence, wall", "underside", "under the leaf", "bottom at the kerb", "catch post", "POST", "poſt", "roller",
    "columns", "éfence", "closing edge", "hinge", "back end of the leaf", "leading post", "BELOW",
    "container", "pillar at the mesh", "mesh\u2028wall", "a hole\nabove", "latch", "",
)  # fmt: skip
STATIONS = (
    "left jamb", "right, by the door", "left and right", "outside, left", "RİGHT", "RIGHT", "office", "lefty",
    "left-hand", "éleft", "on the left", "Outside right",
)  # fmt: skip
EXITS = ("end", "Inside face", "back", "down", "inside_face", "  End ", "out through {fin}", "constructor", "DOWN")
FINS = ("outside", "none", "both", "inside", "Outside", "two, {free}", "__proto__", "toString", "NONE")
SPEEDS = ("18 in/s", "24 in/s", "24.1 in/s", "0.6096 m/s", "36 in/s", "6 in/s")
COLD = ("0 degF", "-1 degF", "-31 degC", "5 degF", "255.3722222222222 K", "20 degC")
SIDES = ("left", "right")

FACTS: Mapping[str, tuple[str, ...]] = {
    "door.clear_width": WIDE,
    "door.clear_height": HIGH,
    "door.panel_width": WIDE,
    "door.leaf_width": WIDE,
    "door.leaf_length": WIDE,
    "door.leaf_height": TALL,
    "door.leaf_top": TALL,
    "door.underside": GAPS,
    "door.guide_clear.floor": (*CLOSE, *WIDE),
    "door.guide_clear.chest": CLOSE,
    "door.guide_clear.head": CLOSE,
    "door.guide_condition": GUIDES,
    "door.bottom.seat_length": (*CLOSE, *WIDE),
    "door.bottom.bar_overall": WIDE,
    "door.bottom.brackets.left": NEAR,
    "door.bottom.brackets.right": NEAR,
    "door.meets": ("overlaps", "between_jambs"),
    "door.serial": ("A 7", "4711"),
    "door.mounted": ("inside", "outside"),
    "door.opening_speed": SPEEDS,
    "door.second_leaf.operator_side": SIDES,
    "operator.kind": ("trolley", "jackshaft", "rail", "hoist", "barrel", "chain"),
    "operator.side": SIDES,
    "operator.wall": ("inside", "outside"),
    "free_wall.left": WALLS,
    "free_wall.right": WALLS,
    "box.side": SIDES,
    "box.height": (*HIGH, "4 ft", "7 ft", "15 ft", "0 in"),
    "box.offset": ("1 ft", "2 ft", "18 in", "0.3 m", "0 in", "12 ft"),
    "lead.end": ("left", "right", "both"),
    "lead.exit": EXITS,
    "lead.from_end": NEAR[:4],
    "lead.length": ("3 ft", "36 in", "0.9 m", "1.234 m", "12 mm", "4.7 mm", "20 ft"),
    "lead.fin": FINS,
    "lead.confirmed.by": ("advisor",),
    "lead.confirmed.on": DAYS,
    "surroundings.cold_side": COLD,
    "surroundings.warm_side": COLD,
}
OF_A_KIND: Mapping[str, tuple[str, ...]] = {
    "sectional": ("door.panel_width", "door.leaf_width", "door.bottom.brackets.left"),
    "one_piece": ("door.leaf_width", "door.clear_width", "door.meets"),
    "slide_gate": ("door.underside", "door.leaf_top", "door.leaf_height"),
    "swing_gate": ("door.underside", "door.leaf_length", "door.leaf_height"),
}
GUIDED = ("door.guide_clear.floor", "door.guide_clear.chest", "door.guide_clear.head", "door.bottom.seat_length")


def order_at_random(seed: int) -> Case:
    """The case of a seed: the measurements of its kind of leaf as a rule, anything else now and then."""
    random = Random(seed)  # noqa: S311 - chosen for variety, nothing is kept secret by it
    kind = random.choice(KINDS)
    told = _readings("door.kind", (kind,) * 30 + KINDS, random, 0.97)
    wanted = OF_A_KIND.get(kind, GUIDED if kind != "high_speed" else ())
    usual = random.choice((0.15, 0.4, 0.8))
    for path, texts in FACTS.items():
        told += _readings(path, texts, random, 0.9 if path in wanted else usual)
    told += _members("zones", ("place", PLACES), ("gap", GAPS), random)
    told += _members("stations", ("place", STATIONS), ("closes", ("yes",)), random)
    site = _readings("site.coldest", COLD, random, 0.3)
    return Case("US", tuple(site), tuple(told))


def _readings(path: str, texts: Sequence[str], random: Random, chance: float) -> list[Entry]:
    """No reading of a fact, one, or several; measured ones as a rule."""
    if random.random() > chance:
        return []
    number = random.choice((1,) * 9 + (2, 2, 3))
    if path == "door.meets":
        number = 1
    return [_reading(path, texts, random) for _ in range(number)]


def _reading(path: str, texts: Sequence[str], random: Random) -> Entry:
    says = random.choice(("value",) * 30 + ("unknown", "none", "removed"))
    typed = random.choice(texts)
    if random.random() < 0.02:
        typed = random.choice(WRONG)
    if random.random() < 0.004:
        typed = random.choice(RARE)
    origin = random.choice(("measured",) * 7 + (None, None, *ORIGINS))
    return Entry(path=path, says=says, typed=typed if says == "value" else "", origin=origin)  # type: ignore[arg-type]


def _members(
    listed: str, first: tuple[str, Sequence[str]], second: tuple[str, Sequence[str]], random: Random
) -> list[Entry]:
    """A list of some members, an empty one, one that nobody knows, or none."""
    how = random.random()
    if how < 0.2:
        return []
    if how < 0.35:
        return [Entry(path=listed, says=random.choice(("none", "unknown")))]
    told: list[Entry] = []
    for at in range(random.randint(1, 4)):
        for name, texts in (first, second):
            told += _readings(f"{listed}.m{at}.{name}", texts, random, 0.9)
    if random.random() < 0.05:
        told = [Entry(path=each.path, says=each.says, typed=each.typed, origin="assumed") for each in told]
    if random.random() < 0.05:
        told.append(Entry(path=listed, says="none"))
    return told


Change = Callable[[Case], Case]
MIRRORED = {"left": "right", "right": "left"}


def mirrored(case: Case) -> Case:
    """The same opening with left and right changed, in the facts and in the words of wall stations."""
    return Case(case.country, case.site, tuple(_mirrored(each) for each in case.opening))


def _mirrored(one: Entry) -> Entry:
    swapped = {"free_wall.left": "free_wall.right", "free_wall.right": "free_wall.left"}
    brackets = {
        "door.bottom.brackets.left": "door.bottom.brackets.right",
        "door.bottom.brackets.right": "door.bottom.brackets.left",
    }
    path = {**swapped, **brackets}.get(one.path, one.path)
    typed = MIRRORED.get(one.typed, one.typed)
    if path.startswith("stations."):
        typed = typed.replace("left", "\0").replace("right", "left").replace("\0", "right")
    return Entry(path=path, says=one.says, typed=typed, origin=one.origin)
