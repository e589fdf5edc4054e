"""Studies made by hand for the papers: an opening with everything, with nearly nothing, many openings."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import exp, sin
from pathlib import Path

from sillwright.base.finding import Finding, Unknown, by_weight
from sillwright.base.source import Source
from sillwright.base.words import Amount, Reader, Sentence
from sillwright.duty.model import DeviceStanding, Duty, Enforced, Link, RuleVerdict
from sillwright.exposure.answer import Exposure, Input, JudgedLimit
from sillwright.hookup import hook_up
from sillwright.study.model import OpeningStudy, SiteStudy
from sillwright.survey.model import Opening, Survey
from sillwright.survey.reading import read_survey
from sillwright.takeoff import take_off

HERE = Path(__file__).parent
FORCE = Source(document="EN 12453", edition="2017", clause="5.1", sure="second-hand")
LISTING = Source(document="UL 325", edition="6", clause="30.2", sure="memory")
PRACTICE = Source(document="typical values", sure="practice")

FINDINGS = by_weight(
    (
        Finding(
            id="exposure.peak",
            level="act",
            text=Sentence("The leaf would meet someone with up to {force}.", {"force": Amount(1039.6, "N")}),
            why=Sentence("A vertical leaf may not press harder than {limit}.", {"limit": Amount(400.0, "N")}),
            do=Sentence("Quote a taller edge, or a slower leaf."),
            place="bottom",
            sources=(FORCE,),
        ),
        Finding(
            id="duty.listed",
            level="stop",
            text=Sentence("Nobody has read in the operator's instructions that edge e1 is listed with it."),
            why=Sentence("Only a device that the instructions list counts as monitored."),
            do=Sentence("Hold the control until the leaf is closed, and read the instructions."),
            place="protection.e1",
            sources=(LISTING,),
        ),
        Finding(id="ASK-8", level="note", text=Sentence("The lead leaves on the operator's side."), place="lead"),
        Finding(
            id="duty.eye", level="good", text=Sentence("The photo-eye stands at its height."), place="protection.y1"
        ),
        Finding(id="duty.operator", level="note", text=Sentence("The operator's date is known."), place="operator"),
    )
)


def duty(findings: tuple[Finding, ...] = FINDINGS) -> Duty:
    """What the rules ask, with a rule of every verdict and a device whose chain is half read."""
    rules = (
        ("us.commercial.monitored", "A monitored device or a held control.", "fails", LISTING),
        ("us.commercial.view", "The closing station is in view of the leaf.", "holds", LISTING),
        ("us.commercial.made", "Made since 29 August 2010.", "unknown", LISTING),
        ("us.gate.zones", "Two unlike means per zone.", "not applicable", LISTING),
    )
    links = (Link(name="e1", listed="unknown", evidence=Sentence("told by the dealer, page not given")),)
    return Duty(
        powered_closing="unknown",
        regime="us_commercial",
        deciding_facts=("operator.instructions.page",),
        deciding_sets=(("operator.instructions.page",),),
        no_rules=False,
        rules=tuple(
            RuleVerdict(id=name, asks=Sentence(asks), verdict=verdict, source=source)  # type: ignore[arg-type]
            for name, asks, verdict, source in rules
        ),
        devices=(
            DeviceStanding(
                path="protection.e1", name="e1", kind="sensing_edge", works="yes", watched="yes",
                listed="unknown", monitored="unknown", links=links,
            ),
            DeviceStanding(
                path="protection.y1", name="y1", kind="photo_eye", works="unknown", watched="yes",
                listed="unknown", monitored="unknown", links=(),
            ),
        ),
        enforced=(
            Enforced(
                who=Sentence("The building department"),
                what=Sentence("looks at the building code when a door or its operator is new."),
                source=Source(document="IBC", edition="2021", sure="second-hand"),
            ),
        ),
        findings=findings,
    )  # fmt: skip


def exposure() -> Exposure:
    """A contact with a band across the limit."""
    times = [n / 400 for n in range(500)]
    trace = tuple(
        (t, max(0.0, 1040 * exp(-3.4 * t) * sin(9 * t) + 210 * min(1.0, 4 * t) * (t < 1.1))) for t in times
    )
    return Exposure(
        contact={"peak_force": 812.0, "time_above_150": 0.31, "lasting_force": 190.0, "contact_duration": 1.12},
        trace=trace,
        band={
            "peak_force": {"p5": 610.0, "p50": 812.0, "p95": 1039.6},
            "time_above_150": {"p5": 0.22, "p50": 0.31, "p95": 0.44},
            "contact_duration": {"p5": 0.9, "p50": 1.1, "p95": None},
        },
        limits=(
            JudgedLimit(
                id="force.peak", title=Sentence("Greatest force"), quantity="peak_force", limit=400.0, unit="N",
                verdict="above", source=FORCE,
            ),
            JudgedLimit(
                id="force.time", title=Sentence("Time above 150 N"), quantity="time_above_150", limit=0.75,
                unit="s", verdict="within", source=FORCE,
            ),
        ),
        inputs=(
            Input(
                name="closing_speed", title=Sentence("Closing speed"), unit="m/s", low=0.2032, middle=0.2032,
                high=0.2032, fact="door.closing_speed", origin="measured", source=None,
            ),
            Input(
                name="edge.end_stiffness", title=Sentence("Stiffness of the edge when solid"), unit="N/m", low=1e5,
                middle=2e5, high=4e5, fact=None, origin="typical", source=PRACTICE,
            ),
        ),
        measure_next="door.leaf_mass",
        findings=(),
        assumptions=(Sentence("The edge is taken as a low one: {travel}.", {"travel": Amount(0.02, "m")}),),
        sources=(FORCE,),
    )  # fmt: skip


def study_of(opening: Opening, findings: tuple[Finding, ...] = FINDINGS, contact: bool = True) -> OpeningStudy:
    """One opening, studied by hand."""
    return OpeningStudy(
        opening=opening,
        headline=Sentence("This leaf may close under power only while someone holds the control."),
        duty=duty(findings),
        exposure=exposure() if contact else None,
        takeoff=take_off(kinds().site, opening),
        hookup=hook_up(opening),
        findings=findings,
        unknown=(
            Unknown(
                fact="operator.instructions.page",
                decides=("duty.powered_closing",),
                why=Sentence("It decides whether power closing is allowed."),
            ),
            Unknown(
                fact="protection.y1.circuit",
                decides=("duty.powered_closing",),
                why=Sentence("It says who watches."),
            ),
        ),
    )


@cache
def full_survey(root: Path) -> Survey:
    """The survey that has every fact of the format."""
    return read_survey(root / "tests" / "survey" / "full.yaml")


@cache
def kinds() -> Survey:
    """One opening of every kind of leaf, from full to nearly empty."""
    return read_survey(HERE / "kinds.yaml")


def site(survey: Survey, reader: Reader | None = None, findings: tuple[Finding, ...] = FINDINGS) -> SiteStudy:
    """A site, studied by hand."""
    openings = tuple(study_of(each, findings, contact=not each.door.is_gate) for each in survey.openings)
    return SiteStudy(survey=survey, openings=openings, reader=reader or Reader())


def many(survey: Survey, count: int) -> SiteStudy:
    """A site with many openings: the same few, under other tags."""
    openings = survey.openings
    return site(replace(survey, openings=tuple(openings[n % len(openings)] for n in range(count))))
