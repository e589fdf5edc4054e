"""The take-off of one opening: every part of the chapter put together."""

from __future__ import annotations

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Body, ChannelAdvice, FloorFit, ProfileVerdict, TakeOff
from sillwright.takeoff.blocking.asks import asks
from sillwright.takeoff.blocking.blocked import blocked
from sillwright.takeoff.channels.channel import channel
from sillwright.takeoff.choosing.changes import changes
from sillwright.takeoff.choosing.profiles import profiles
from sillwright.takeoff.choosing.traffic import traffic
from sillwright.takeoff.floors.cutout import CutOut, cutout
from sillwright.takeoff.floors.floor_fit import floor_fit
from sillwright.takeoff.floors.floor_table import number
from sillwright.takeoff.leads.lead import lead
from sillwright.takeoff.lengths.bodies import bodies
from sillwright.takeoff.round_about import coldest
from sillwright.takeoff.ways.way import way

ADVICE = frozenset(
    f"takeoff.{name}"
    for name in (
        "channel_cold", "channel_part", "channel_room", "fixed_wire", "floor_unread", "lead_lift", "lead_old",
        "traffic",
    )
)  # fmt: skip
"""Findings that advise on the order and say nothing of the opening as it stands; they stay with the take-off."""
MEMORY = Source(document=N_("trade rules of thumb"), sure="memory")
NO_CATALOGUE = Sentence(
    N_("There is no catalogue: lengths and sides are told, profiles, parts and prices are not.")
)


def take_off(
    site: Site, opening: Opening, catalogue: Catalogue | None = None, *, profile: str | None = None
) -> TakeOff:
    """What to order for an opening: lengths, lead, channel, way to the operator, floor and profiles.

    ``profile`` names the one that was chosen; else it is the cheapest that fits. Without a catalogue lengths and
    sides are told all the same. An assumption never releases an order: ``blocked`` says what stands against it,
    and what would release it.
    """
    known = catalogue.profiles if catalogue else ()
    rough = bodies(site, opening)
    fit = floor_fit(site, opening, known)
    length = rough[0].body if rough else None
    judged = (
        profiles(site, opening, catalogue, floor_unevenness=fit.unevenness, body_length=length) if catalogue else ()
    )
    chosen = _chosen(known, profile or _cheapest(judged))
    found = bodies(site, opening, chosen) if chosen else rough
    body = found[0] if found else None
    side = lead(opening)
    road = way(site, opening, side.end, catalogue)
    rail = _rail(site, opening, body, catalogue, chosen)
    new = changes(opening, body.body if body else None, chosen, _near_floor(opening, fit, chosen))
    parts = (*(each.findings for each in found), side.findings, road.findings, rail.findings, new.findings)
    told = _once(asks(opening, chosen), *parts, fit.findings, traffic(opening))
    return TakeOff(
        bodies=found,
        lead=side,
        way=road,
        channel=rail,
        changes=new,
        floor=fit,
        profiles=judged,
        blocked=blocked(site, opening, found, side, chosen),
        findings=tuple(each for each in told if each.id not in ADVICE),
        advice=tuple(each for each in told if each.id in ADVICE),
        assumptions=() if catalogue else (NO_CATALOGUE,),
        sources=(MEMORY,),
        profile=chosen.name if chosen else None,
        currency=catalogue.currency if catalogue else "",
    )


def _rail(
    site: Site, opening: Opening, body: Body | None, catalogue: Catalogue | None, chosen: Profile | None
) -> ChannelAdvice:
    return channel(
        opening,
        body.channel if body else None,
        catalogue,
        coldest=coldest(site, opening),
        body_height=chosen.height if chosen else None,
    )


def _near_floor(opening: Opening, fit: FloorFit, chosen: Profile | None) -> CutOut:
    """The window of the cut-out, by the compression that the floor leaves the profile, else the greatest."""
    there = next((each for each in fit.verdicts if chosen and each.name == chosen.name), None)
    return cutout(
        opening,
        compression=there.highest_compression if there else number("compression"),
        actuation_travel=chosen.actuation_travel if chosen else None,
        unevenness=fit.unevenness,
    )


def _chosen(known: tuple[Profile, ...], name: str | None) -> Profile | None:
    return next((each for each in known if each.name == name), None)


def _cheapest(judged: tuple[ProfileVerdict, ...]) -> str | None:
    """The first profile that fits: they stand in order of price."""
    return next((each.name for each in judged if each.fits == "fits"), None)


def _once(*parts: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings of all parts, each once."""
    seen: list[Finding] = []
    for each in (finding for part in parts for finding in part):
        if each not in seen:
            seen.append(each)
    return tuple(seen)
