"""Approach distances: how far before the leaf a device has to see someone who walks or reaches in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.units import Metre, MetrePerSecond, Second
from sillwright.base.words import N_, say
from sillwright.exposure.model import ApproachCase, ApproachResult, Branch, Edition

ARM: MetrePerSecond = 2.0
WALK: MetrePerSecond = 1.6
HAND: MetrePerSecond = 63 * 0.0254
NEAR: Metre = 0.500  # up to here the speed of an arm counts, beyond it that of walking
CRAWL: Metre = 0.200
ROUND_OFF: Metre = 1e-12  # 0.030 - 0.014 is not 0.016 in binary

PERSONS = say(
    N_("persons of 14 and older, walking or reaching; not children, and not anyone who runs, jumps or rides")
)
HANDS = say(N_("the hands of a grown operator at a machine; at a door a comparison only"))
WHY: dict[Branch, str] = {
    "k2000": N_("At 500 mm or less the speed of an arm counts, 2 m/s."),
    "k1600": N_("The speed of walking counts, 1.6 m/s."),
    "least_100": N_("The formula gives less than 100 mm; 100 mm is the least."),
    "least_500": N_("With the speed of an arm it is more than 500 mm, with that of walking less; 500 mm is taken."),
    "high_field": N_(
        "The field is so high that the least reach over it, 850 mm, is added instead of 1200 − 0.4 H."
    ),
    "fixed_1200": N_("The 2024 edition adds 1200 mm at every height of the field."),
    "hand_speed": N_("The speed of a hand counts, 63 in/s (1.6 m/s)."),
}
_NO_TIME = N_("No response time was given, so no distance is computed.")


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
        said = N_(
            "{path}: what the {edition} edition adds for {method} is not known here; "
            "give reach, or leave edition out"
        )
        raise OutOfRange(say(said, path="edition", edition=case.edition, method=case.method))
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
        why=say(WHY[branch] if branch else _NO_TIME),
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
        said = N_("{path}: nothing given; give it, or available_distance to ask for the time")
        raise OutOfRange(say(said, path="response_time"))
    for name in method.needs:
        if getattr(case, name) is None:
            said = N_("{path}: nothing given; {method} needs it, in metres")
            raise OutOfRange(say(said, path=name, method=case.method))
    if case.edition and None in method.laws:
        said = N_("{path}: {method} has no editions of ISO 13855; leave it out")
        raise OutOfRange(say(said, path="edition", method=case.method))
    greatest = GREATEST_RESOLUTION.get(case.method)
    if greatest and case.resolution is not None and case.resolution > greatest[0] + ROUND_OFF:
        lengths = {"value": f"{case.resolution * 1000:g} mm", "most": f"{greatest[0] * 1000:g} mm"}
        said = N_("{path}: {value} is out of range; {method} covers at most {most}, {advice}")
        raise OutOfRange(say(said, path="resolution", method=case.method, advice=greatest[1], **lengths))


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
        low = N_(
            "The field is too low for what it can see: at {resolution} resolution it has to be at least {least} "
            "above the floor, and is {height}."
        )
        lengths = {"resolution": case.resolution or 0.0, "least": least, "height": height}
        notes.append(say(low, **{name: f"{value:g} m" for name, value in lengths.items()}))
    if case.method == "iso13855-parallel" and height is not None and height > CRAWL + ROUND_OFF:
        notes.append(say(N_("Someone can crawl under a field higher than 200 mm.")))
    if case.method == "iso13855-mat":
        notes.append(say(N_("The mat has to be at least 750 mm deep, or it can be stepped over.")))
    if method.valid_for == HANDS:
        made_for = N_("Made for hands at machines. For people who walk up to a door use a method of ISO 13855.")
        notes.append(say(made_for))
    given = {
        "resolution": case.resolution is not None,
        "field_height": case.field_height is not None,
        "reach": case.reach is not None,
        "extra": case.extra > 0,
    }
    used = {*method.needs, *method.uses}
    notes.extend(
        say(N_("{name} was given and is not used by this method."), name=name)
        for name in given
        if given[name] and name not in used
    )
    return tuple(notes)


def _assumptions(case: ApproachCase, method: Method, laws: dict[Edition | None, Law]) -> tuple[str, ...]:
    said = [law.assumption for law in laws.values() if law.assumption]
    if any(_sources()[law.source].sure == "memory" for law in laws.values()):
        said.append(say(N_("The formula of {method} is from memory, to be confirmed."), method=case.method))
    if "2024" in method.laws and "2024" not in laws and case.edition is None:
        one_edition = N_(
            "What the 2024 edition adds for the reach past this device is not known here; only the 2010 "
            "edition answers. Give reach to compare."
        )
        said.append(say(one_edition))
    if case.extra == 0 and "2024" in laws:
        said.append(say(N_("No extra for measuring error or brake wear (Z = 0).")))
    return tuple(said)


def _normal_2010(case: ApproachCase) -> Law:
    beyond = max(0.0, 8 * ((case.resolution or 0.0) - 0.014))
    return Law(constant=beyond, arm=True, least=0.100, source="iso13855-normal")


_BETWEEN = N_(
    "Where 2 m/s gives more than 500 mm and 1.6 m/s less, 500 mm is taken, as in the 2010 edition; "
    "the text known here leaves it open."
)


def _reach_2024(case: ApproachCase) -> Law | None:
    if case.reach is None:
        return None
    return Law(
        constant=case.reach + case.extra,
        arm=True,
        source="iso13855-2024",
        assumption=say(_BETWEEN),
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
        assumption=say(N_("The mat lies on the floor, not on a step.")) if height is None else "",
    )


def _hand_over_field(case: ApproachCase) -> Law:
    depth = max(0.0, 3.4 * ((case.resolution or 0.0) - 0.006875))
    return Law(
        constant=depth,
        branch="hand_speed",
        source="b1119-distance",
        assumption=say(N_("K = 1600 mm/s. Some copies print Dpf = 3.4 (d − 7), 0.4 mm less.")),
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
    "iso13855-normal": (0.040, say(N_("use {method}"), method="iso13855-beams")),
    "b11-19": (0.064, say(N_("a limit from memory, to be confirmed"))),
}


@cache
def _sources() -> dict[str, Source]:
    rows = data.table("sillwright.exposure", "approach")["formula"]
    return {row["id"]: Source(**{key: value for key, value in row.items() if key != "what"}) for row in rows}
