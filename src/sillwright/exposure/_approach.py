"""Approach distances: how far before the leaf a device has to see someone who walks or reaches in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.units import Metre, MetrePerSecond, Second
from sillwright.exposure.model import ApproachCase, ApproachResult, Branch, Edition

ARM: MetrePerSecond = 2.0
WALK: MetrePerSecond = 1.6
HAND: MetrePerSecond = 63 * 0.0254
NEAR: Metre = 0.500  # up to here the speed of an arm counts, beyond it that of walking
CRAWL: Metre = 0.200
ROUND_OFF: Metre = 1e-12  # 0.030 - 0.014 is not 0.016 in binary

PERSONS = "persons of 14 and older, walking or reaching; not children, and not anyone who runs, jumps or rides"
HANDS = "the hands of a grown operator at a machine; at a door a comparison only"
WHY: dict[Branch, str] = {
    "k2000": "At 500 mm or less the speed of an arm counts, 2 m/s.",
    "k1600": "The speed of walking counts, 1.6 m/s.",
    "least_100": "The formula gives less than 100 mm; 100 mm is the least.",
    "least_500": "With the speed of an arm it is more than 500 mm, with that of walking less; 500 mm is taken.",
    "high_field": "The field is so high that the least reach over it, 850 mm, is added instead of 1200 − 0.4 H.",
    "fixed_1200": "The 2024 edition adds 1200 mm at every height of the field.",
    "hand_speed": "The speed of a hand counts, 63 in/s (1.6 m/s).",
}


@dataclass(frozen=True, kw_only=True)
class Law:
    """``distance = speed × time + constant``; where ``arm`` is set, the speed of an arm up to 500 mm."""

    constant: Metre
    source: str
    speed: MetrePerSecond = WALK
    arm: bool = False
    least: Metre = 0.0
    branch: Branch = "k1600"
    assumption: str = ""

    def at(self, time: Second) -> tuple[Metre, Branch]:
        """Distance and branch for a response time."""
        if not self.arm:
            return self.speed * time + self.constant, self.branch
        near = ARM * time + self.constant
        if near <= NEAR + ROUND_OFF:
            return (self.least, "least_100") if near < self.least - ROUND_OFF else (near, "k2000")
        far = self.speed * time + self.constant
        return (NEAR, "least_500") if far < NEAR else (far, "k1600")

    def time_for(self, distance: Metre) -> Second | None:
        """The longest response time that a distance allows; None where even an instant answer is too late."""
        if distance < self.least - ROUND_OFF:
            return None
        speed = ARM if self.arm and distance < NEAR - ROUND_OFF else self.speed
        time = (distance - self.constant) / speed
        return time if time > 0 else None


@dataclass(frozen=True, kw_only=True)
class Method:
    """The laws of a method by edition, the facts it needs and may use, and for whom it holds."""

    laws: dict[Edition | None, Callable[[ApproachCase], Law | None]]
    needs: tuple[str, ...] = ()
    uses: tuple[str, ...] = ()
    valid_for: str = PERSONS


def approach(case: ApproachCase) -> ApproachResult:
    r"""How far from the leaf does a device have to see someone?

    .. math:: S = K T + C \qquad S_{2024} = K T + D_{DS} + Z

    Parameters: a case with the ``method``, the ``response_time`` T of the whole chain [s], and what the
    method asks for: ``resolution`` d [m], ``field_height`` H [m], ``reach`` D_DS [m] and ``extra`` Z [m]
    of the 2024 edition. Both editions are computed where they are known; ``distance`` [m] is the greater
    unless ``edition`` names one. With ``available_distance`` [m] the answer is also the longest response
    time [s] that it allows.

    Valid for persons of 14 and older, walking at 1.6 m/s or reaching at 2 m/s; not for children, running
    or jumping. ``iso13855-normal`` up to a resolution of 40 mm; ``iso13855-parallel`` up to a field height
    of 1 m. What the 2024 edition adds for normal approach, beams, mats and two-hand controls is not known
    here: with ``reach`` it is computed, without it only the 2010 edition answers.

    Raises :class:`OutOfRange` where a fact is missing that the method needs, or lies outside its range.

    >>> found = approach(ApproachCase(method="iso13855-normal", response_time=0.320, resolution=0.014))
    >>> round(found.distance, 6), found.branch
    (0.512, 'k1600')

    Source: ISO 13855:2010 and 2024 (second-hand; two-hand from memory), 29 CFR 1910.217(c)(3)(iii)(e)
    (read), ANSI B11.19 (second-hand).
    """
    method = METHODS[case.method]
    _check(case, method)
    laws = {
        edition: law
        for edition, build in method.laws.items()
        if case.edition in (None, edition) and (law := build(case)) is not None
    }
    if not laws:
        raise OutOfRange(
            f"edition: what the {case.edition} edition adds for {case.method} is not known here; "
            "give reach, or leave edition out"
        )
    # The greater distance decides; of equals the newer edition, which comes last.
    found = {edition: law.at(case.response_time) for edition, law in laws.items()} if case.response_time else {}
    edition = max(reversed(found), key=lambda each: found[each][0]) if found else None
    distance, branch = found[edition] if found else (None, None)
    place = case.available_distance
    return ApproachResult(
        distance=distance,
        distance_2010=found["2010"][0] if "2010" in found else None,
        distance_2024=found["2024"][0] if "2024" in found else None,
        edition=edition,
        branch=branch,
        why=WHY[branch] if branch else "No response time was given, so no distance is computed.",
        valid_for=method.valid_for,
        least_height=_least_height(case),
        needed_response_time=None if place is None else _longest_time(tuple(laws.values()), place),
        enough=None if place is None or distance is None else place >= distance - ROUND_OFF,
        notes=_notes(case, method),
        assumptions=_assumptions(case, method, laws),
        sources=tuple(dict.fromkeys(_sources()[law.source] for law in laws.values())),
    )


def _check(case: ApproachCase, method: Method) -> None:
    if case.response_time is None and case.available_distance is None:
        raise OutOfRange("response_time: nothing given; give it, or available_distance to ask for the time")
    for name in method.needs:
        if getattr(case, name) is None:
            raise OutOfRange(f"{name}: nothing given; {case.method} needs it, in metres")
    if case.edition and None in method.laws:
        raise OutOfRange(f"edition: {case.method} has no editions of ISO 13855; leave it out")
    greatest = GREATEST_RESOLUTION.get(case.method)
    if greatest and case.resolution is not None and case.resolution > greatest[0] + ROUND_OFF:
        raise OutOfRange(
            f"resolution: {case.resolution * 1000:g} mm is out of range; {case.method} covers at most "
            f"{greatest[0] * 1000:g} mm, {greatest[1]}"
        )


def _longest_time(laws: tuple[Law, ...], place: Metre) -> Second | None:
    times = [law.time_for(place) for law in laws]
    known = [time for time in times if time is not None]
    return min(known) if len(known) == len(times) else None


def _least_height(case: ApproachCase) -> Metre | None:
    if case.method != "iso13855-parallel" or case.resolution is None:
        return None
    return max(0.0, 15 * (case.resolution - 0.050))


def _notes(case: ApproachCase, method: Method) -> tuple[str, ...]:
    notes = []
    least, height = _least_height(case), case.field_height
    if least is not None and height is not None and height < least - ROUND_OFF:
        notes.append(
            f"The field is too low for what it can see: at {case.resolution or 0:g} m resolution it has to "
            f"be at least {least:g} m above the floor, and is {height:g} m."
        )
    if case.method == "iso13855-parallel" and height is not None and height > CRAWL + ROUND_OFF:
        notes.append("Someone can crawl under a field higher than 200 mm.")
    if case.method == "iso13855-mat":
        notes.append("The mat has to be at least 750 mm deep, or it can be stepped over.")
    if method.valid_for == HANDS:
        notes.append("Made for hands at machines. For people who walk up to a door use a method of ISO 13855.")
    given = {
        "resolution": case.resolution is not None,
        "field_height": case.field_height is not None,
        "reach": case.reach is not None,
        "extra": case.extra > 0,
    }
    used = {*method.needs, *method.uses}
    notes.extend(
        f"{name} was given and is not used by this method." for name in given if given[name] and name not in used
    )
    return tuple(notes)


def _assumptions(case: ApproachCase, method: Method, laws: dict[Edition | None, Law]) -> tuple[str, ...]:
    said = [law.assumption for law in laws.values() if law.assumption]
    if any(_sources()[law.source].sure == "memory" for law in laws.values()):
        said.append(f"The formula of {case.method} is from memory, to be confirmed.")
    if "2024" in method.laws and "2024" not in laws and case.edition is None:
        said.append(
            "What the 2024 edition adds for the reach past this device is not known here; only the 2010 "
            "edition answers. Give reach to compare."
        )
    if case.extra == 0 and "2024" in laws:
        said.append("No extra for measuring error or brake wear (Z = 0).")
    return tuple(said)


def _normal_2010(case: ApproachCase) -> Law:
    beyond = max(0.0, 8 * ((case.resolution or 0.0) - 0.014))
    return Law(constant=beyond, arm=True, least=0.100, source="iso13855-normal")


def _reach_2024(case: ApproachCase) -> Law | None:
    if case.reach is None:
        return None
    return Law(
        constant=case.reach + case.extra,
        arm=True,
        source="iso13855-2024",
        assumption="Where 2 m/s gives more than 500 mm and 1.6 m/s less, 500 mm is taken, as in the 2010 edition; "
        "the text known here leaves it open.",
    )


def _parallel_2010(case: ApproachCase) -> Law:
    over = 1.200 - 0.4 * (case.field_height or 0.0)
    law = Law(constant=over, source="iso13855-parallel")
    return replace(law, constant=0.850, branch="high_field") if over < 0.850 - ROUND_OFF else law


def _parallel_2024(case: ApproachCase) -> Law:
    return Law(constant=1.200 + case.extra, branch="fixed_1200", source="iso13855-2024-parallel")


def _mat_2010(case: ApproachCase) -> Law:
    height = case.field_height
    return Law(
        constant=1.200 - 0.4 * (height or 0.0),
        source="iso13855-mat",
        assumption="The mat lies on the floor, not on a step." if height is None else "",
    )


def _hand_over_field(case: ApproachCase) -> Law:
    depth = max(0.0, 3.4 * ((case.resolution or 0.0) - 0.006875))
    return Law(
        constant=depth,
        branch="hand_speed",
        source="b1119-distance",
        assumption="K = 1600 mm/s. Some copies print Dpf = 3.4 (d − 7), 0.4 mm less.",
    )


def _plain(source: str, constant: Metre, least: Metre = 0.0) -> Callable[[ApproachCase], Law]:
    return lambda case: Law(constant=constant, least=least, source=source)


def _hand(case: ApproachCase) -> Law:
    return Law(constant=0.0, speed=HAND, branch="hand_speed", source="osha-hand-speed")


METHODS: dict[str, Method] = {
    "iso13855-normal": Method(
        laws={"2010": _normal_2010, "2024": _reach_2024}, needs=("resolution",), uses=("reach", "extra")
    ),
    "iso13855-beams": Method(
        laws={"2010": _plain("iso13855-beams", 0.850), "2024": _reach_2024}, uses=("reach", "extra")
    ),
    "iso13855-single-beam": Method(
        laws={"2010": _plain("iso13855-single-beam", 1.200), "2024": _reach_2024}, uses=("reach", "extra")
    ),
    "iso13855-parallel": Method(
        laws={"2010": _parallel_2010, "2024": _parallel_2024},
        needs=("field_height",),
        uses=("resolution", "extra"),
    ),
    "iso13855-mat": Method(laws={"2010": _mat_2010, "2024": _reach_2024}, uses=("field_height", "reach", "extra")),
    "iso13855-two-hand": Method(
        laws={"2010": _plain("iso13855-two-hand", 0.250, least=0.100), "2024": _reach_2024},
        uses=("reach", "extra"),
    ),
    "osha-1910-217": Method(laws={None: _hand}, valid_for=HANDS),
    "b11-19": Method(laws={None: _hand_over_field}, needs=("resolution",), valid_for=HANDS),
}
GREATEST_RESOLUTION: dict[str, tuple[Metre, str]] = {
    "iso13855-normal": (0.040, "use iso13855-beams"),
    "b11-19": (0.064, "a limit from memory, to be confirmed"),
}


@cache
def _sources() -> dict[str, Source]:
    rows = data.table("sillwright.exposure", "approach")["formula"]
    return {row["id"]: Source(**{key: value for key, value in row.items() if key != "what"}) for row in rows}
