"""One opening through all chapters, and one site of openings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from sillwright.base.errors import OutOfRange
from sillwright.base.finding import Finding, Unknown, by_weight
from sillwright.base.words import N_, Reader, Sentence
from sillwright.catalogue import Catalogue
from sillwright.duty import Duty, assess
from sillwright.exposure import EdgeState, Engine, Exposure, expose
from sillwright.hookup import hook_up
from sillwright.hookup.answer import Hookup
from sillwright.study.headline import headline
from sillwright.study.model import OpeningStudy, SiteStudy
from sillwright.study.ohm_findings import ohm_findings
from sillwright.study.ohms import ohm_histories
from sillwright.study.one_wording import asked_once
from sillwright.study.why import why
from sillwright.survey.ahead import dates_ahead
from sillwright.survey.asks import plausibility
from sillwright.survey.model import Opening, Site, Survey
from sillwright.takeoff import take_off

MANY = 3  # openings from which loading the compiled kernel pays
POINTS = 1024  # of the contact band; standard error of a share below 1.6 %


def study_site(
    survey: Survey,
    reader: Reader,
    progress: Callable[[int], None] = lambda done: None,
    *,
    catalogue: Catalogue | None = None,
    today: date | None = None,
) -> SiteStudy:
    """Every opening of a site through all chapters; ``progress`` is told how many are done.

    With ``today`` dates that lie ahead are asked about.

    With a ``catalogue`` profiles and parts are chosen from it; without one lengths and sides are told alone.

    The numbers do not depend on how many openings there are: the compiled kernel is a copy of the plain one.
    """
    engine: Engine = "kernel" if len(survey.openings) >= MANY else "plain"
    studied = []
    for done, opening in enumerate(survey.openings, 1):
        studied.append(study_opening(survey.site, opening, engine=engine, catalogue=catalogue, today=today))
        progress(done)
    return SiteStudy(survey=survey, openings=tuple(studied), reader=reader)


def study_opening(
    site: Site,
    opening: Opening,
    *,
    engine: Engine = "plain",
    points: int = POINTS,
    catalogue: Catalogue | None = None,
    today: date | None = None,
) -> OpeningStudy:
    """One opening through all chapters; fewer ``points`` give a rougher band of the contact, sooner."""
    duty = assess(site, opening)
    exposure, further = _exposed(site, opening, duty, engine, points)
    order = take_off(site, opening, catalogue)
    joined = hook_up(opening, catalogue, lead_run=order.way.fixed_wire, cord=order.way.longest)
    findings: list[Finding] = [*duty.findings, *plausibility(opening, site), *further, *order.findings]
    findings += joined.findings
    findings += dates_ahead(opening, site, today) if today else ()
    ohms = ohm_histories(opening, joined, catalogue)
    findings += ohm_findings(ohms, findings)
    return OpeningStudy(
        opening=opening,
        headline=headline(opening, duty),
        duty=duty,
        exposure=exposure,
        takeoff=order,
        hookup=joined,
        findings=by_weight(asked_once(findings)),
        unknown=_unknown(opening, duty, exposure, joined),
        ohms=ohms,
    )


def _exposed(
    site: Site, opening: Opening, duty: Duty, engine: Engine, points: int
) -> tuple[Exposure | None, tuple[Finding, ...]]:
    """The contact band; where the model does not cover this leaf a finding says so, and the rest goes on."""
    try:
        found = expose(site, opening, edge=edge_state(opening, duty), engine=engine, points=points)
    except OutOfRange as error:
        said = Sentence(N_("How hard this leaf would press cannot be computed: {why}"), {"why": error.said})
        do = Sentence(N_("Check speed, weight and times as they were taken down, or take a force record."))
        return None, (Finding(id="exposure.out_of_range", level="act", text=said, do=do, place="leaf"),)
    return found, found.findings


def edge_state(opening: Opening, duty: Duty) -> EdgeState:
    """Whether a sensing edge works at this leaf, by what the rules' chapter found of each device."""
    if opening.protection.standing not in {"known", "not asked"} or not opening.protection.items:
        return "none" if opening.protection.standing == "known" else "unknown"
    edges = [each for each in duty.devices if each.kind in {"sensing_edge", "air_edge"}]
    gone = [each for each in opening.protection if each.state.value in {"torn_off", "missing"}]
    there = [each for each in edges if each.path not in {device.path for device in gone}]
    if not there:
        return "none"
    works = {each.works for each in there}
    return "works" if "yes" in works else "unknown" if "unknown" in works else "dead"


def _unknown(
    opening: Opening, duty: Duty, exposure: Exposure | None, joined: Hookup | None = None
) -> tuple[Unknown, ...]:
    """What is not known, as it matters: what settles the answer first, then what moves numbers, then the wires.

    The power of the accessory supply comes last, after what single rules wait for.
    """
    decides: dict[str, list[str]] = {fact: ["duty.powered_closing"] for fact in duty.deciding_facts}
    inputs = exposure.inputs if exposure else ()
    typical = [each.fact for each in inputs if each.fact and each.origin in {"typical", "two readings"}]
    first = [exposure.measure_next] if exposure and exposure.measure_next in typical else []
    for fact in dict.fromkeys([*first, *typical]):
        if fact is not None:
            decides.setdefault(fact, []).append("exposure.contact")
    for fact in dict.fromkeys(fact for each in (joined.joints if joined else ()) for fact in each.asks):
        decides.setdefault(fact, []).append("hookup.joints")
    for rule in duty.rules:
        for fact in rule.facts:
            decides.setdefault(fact, []).append(f"duty.{rule.id}")
    for fact in joined.power.asks if joined else ():
        decides.setdefault(fact, []).append("hookup.power")
    return tuple(Unknown(fact=fact, decides=tuple(what), why=why(fact)) for fact, what in decides.items())
