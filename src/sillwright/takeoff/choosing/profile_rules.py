"""The questions that a profile has to answer at a leaf: those of place, floor, weather, water and hands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees
from typing import Any, Literal

from sillwright.base import data
from sillwright.base.units import Kelvin, Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.profile import Environment, Profile
from sillwright.survey.classified import area_of
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening, Site
from sillwright.survey.questions import named
from sillwright.takeoff.choosing.stopping import Stopping
from sillwright.takeoff.floors.falling import tilts
from sillwright.takeoff.round_about import coldest, hottest, of_all, touched_by_public, values_of, washed

ROUND_OFF = 1e-9
Speaks = Literal["against", "open", "remark"]


@dataclass(frozen=True, kw_only=True)
class Said:
    """One thing said of a profile: it speaks against it, leaves it open, or is only worth knowing."""

    how: Speaks
    what: Sentence


@dataclass(frozen=True, kw_only=True)
class Place:
    """The leaf that profiles are held against, with what was computed for it."""

    site: Site
    opening: Opening
    catalogue: Catalogue
    unevenness: Metre | None
    stopping: Stopping | None
    circuit: str | None
    body_length: Metre | None

    @property
    def kind(self) -> str | None:
        """The kind of leaf; None where it is not known."""
        return self.opening.door.kind.value

    @property
    def coldest(self) -> Kelvin | None:
        """The lowest temperature at either side."""
        return coldest(self.site, self.opening)


def table(name: str) -> Any:
    """A table of the numbers that decide between profiles."""
    return data.table("sillwright.takeoff", "profiles")[name]


def against(text: str, **values: Any) -> Said:
    """Something that speaks against a profile."""
    return Said(how="against", what=Sentence(text, values))


def still_open(text: str, **values: Any) -> Said:
    """Something that nobody knows, and that could speak against a profile."""
    return Said(how="open", what=Sentence(text, values))


def remark(text: str, **values: Any) -> Said:
    """Something worth knowing."""
    return Said(how="remark", what=Sentence(text, values))


def floor(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-1 and PRO-2: the floor is sealed by body and fin, never by driving the limit lower."""
    if place.kind in GATES:
        return
    uneven, alone = place.unevenness, float(table("floor")["body_alone"])
    if uneven is None:
        yield still_open(N_("How uneven the floor is, nobody has measured."))
    elif uneven > alone + profile.fin + ROUND_OFF:
        said = N_(
            "The floor is out by {uneven}, this one takes up {takes}: a fin or brush, or work on the floor. A "
            "lower limit is no cure."
        )
        yield against(said, uneven=Amount(uneven, "m"), takes=Amount(alone + profile.fin, "m"))
    elif uneven > alone + ROUND_OFF:
        yield remark(N_("Its fin takes up the floor; it touches at the ends before the body does, so test there."))


def tilted(profile: Profile, place: Place) -> Iterator[Said]:
    """FLOOR-8: on a sill that falls from front to back a flat body touches with an edge; a round nose does not."""
    if place.kind in GATES or not tilts(place.opening):
        return
    if profile.nose is None:
        yield still_open(N_("The sill falls from front to back; whether its nose is round is not on its sheet."))
    elif profile.nose == "flat":
        yield against(N_("The sill falls from front to back: a round-nosed profile is wanted, and it is flat."))


def temperature(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-4 and PRO-5: the cold and the heat of both sides."""
    cold, hot = place.coldest, hottest(place.site, place.opening)
    if profile.coldest is None:
        yield still_open(N_("How cold it may get is not on its sheet."))
    elif cold is None:
        yield still_open(N_("How cold it gets at this leaf is not known; ask for both sides."))
    elif cold < profile.coldest - ROUND_OFF:
        said = N_("It gets as cold as {cold} here; this one is made for {made} and warmer.")
        yield against(said, cold=Amount(cold, "K"), made=Amount(profile.coldest, "K"))
    if profile.hottest is None:
        yield still_open(N_("How hot it may get is not on its sheet."))
    elif hot is None:
        yield still_open(N_("How hot it gets at this leaf is not known."))
    elif hot > profile.hottest + ROUND_OFF:
        said = N_("It gets as hot as {hot} here; this one is made for {made} and cooler.")
        yield against(said, hot=Amount(hot, "K"), made=Amount(profile.hottest, "K"))
    elif outside(place) and profile.hottest < table("heat")["sun"][1] - ROUND_OFF:
        low, high = (Amount(each, "K") for each in table("heat")["sun"])
        yield remark(
            N_("In the sun a dark body reaches {low} to {high}, more than it is made for."), low=low, high=high
        )
    if hot is not None and hot > table("heat")["set_grows"]:
        most = Amount(table("heat")["lasting_compression"], "m")
        yield remark(N_("In this heat it keeps its set: press it no more than {most} when closed."), most=most)


def outside(place: Place) -> bool | None:
    """Whether the leaf stands in the weather; None where nobody said so."""
    if place.kind in GATES:
        return True
    return of_all(values_of(place.opening.door.mounted), lambda word: word == "outside")


_BEARS: dict[Environment, tuple[Environment, ...]] = {
    "wash_down": ("wash_down",),
    "wet": ("wet", "wash_down", "outside"),
    "outside": ("outside",),
    "freezer": ("freezer",),
}
_ASKS: dict[Environment, tuple[str, str]] = {
    "wash_down": (
        N_("It is washed down here; this one is not made for that."),
        N_("Whether it is washed down here is not known."),
    ),
    "wet": (
        N_("The floor is wet; this one is not made for that."),
        N_("Whether the floor gets wet is not known."),
    ),
    "outside": (
        N_("The leaf stands in the weather; this one is not made for that."),
        N_("On which face of the wall the leaf is, in the weather or not, is not known."),
    ),
    "freezer": (
        N_("One side is a freezer; this one is not made for that."),
        N_("Whether one side is a freezer is not known."),
    ),
}


def environment(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-6: water, weather and frost; to be washed down a body has to be sealed by its maker."""
    for asked, there in _surroundings(place).items():
        bears = bool(set(_BEARS[asked]) & set(profile.environments))
        if there is not False and not bears:
            no, unknown = _ASKS[asked]
            yield against(no) if there else still_open(unknown)
    hosed = washed(place.opening)
    if profile.construction == "cut_on_site" and "wash_down" in profile.environments and hosed is not False:
        if hosed:
            yield against(N_("Washed down it has to be sealed by its maker; this one is cut on site."))
        else:
            yield still_open(N_("Cut on site it cannot be washed down; whether it is, is not known."))
    if hosed:
        yield remark(N_("Lead exit off the lowest point, a drip loop in the lead, a box rated for hosing."))
    vehicles = {"car", "van", "bus", "truck", "forklift"}
    who = {each.who.value for each in (*place.opening.use.traffic, *place.opening.use.intended)}
    if profile.material == "epdm" and who & vehicles:
        yield remark(N_("Oil and fuel swell its rubber; where they drip, ask for another material."))


def _surroundings(place: Place) -> dict[Environment, bool | None]:
    opening = place.opening
    hosed, wet = washed(opening), of_all(values_of(opening.floor.wet), bool)
    frost = of_all(values_of(opening.surroundings.cold_side), lambda each: each < 273.15)
    return {
        "wash_down": hosed,
        "wet": False if place.kind in GATES else True if hosed else wet,
        "outside": outside(place),
        "freezer": frost or False,  # unknown, the temperatures themselves are asked for
    }


def explosive(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-9: where vapour or dust may ignite no electric part is proposed; the owner's document classifies."""
    fact = place.opening.surroundings.classified_area
    says = area_of(fact)
    if says == "ordinary":
        return
    there = says == "classified"
    air = "air" in profile.circuits and place.circuit in {None, "air"}
    area = ", ".join(values_of(fact))
    if there and not air:
        said = N_(
            "The area is classified ({area}): no bare contact in it unless its circuit is listed for that class. "
            "An air edge with its switch outside the area is the usual way."
        )
        yield against(said, area=area)
    elif there:
        yield remark(N_("The area is classified ({area}): put the switch outside it."), area=area)
    elif fact.standing == "not asked":
        yield remark(N_("Nobody has asked whether vapours or dust may ignite here."))
    elif not air:
        yield still_open(N_("Whether vapours or dust may ignite here is not settled; until then no electric part."))


def sideways(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-10: gates and swinging leaves touch from the side."""
    if place.kind not in {*GATES, "one_piece"}:
        return
    least = float(table("touch")["sideways"])
    if profile.answers_sideways is None:
        yield still_open(N_("This leaf touches from the side; up to which angle it answers is not on its sheet."))
    elif profile.answers_sideways < least - 1e-4:
        angles = {"angle": f"{degrees(profile.answers_sideways):.0f}°", "least": f"{degrees(least):.0f}°"}
        yield against(N_("This leaf touches from the side: it answers up to {angle}, {least} is wanted."), **angles)


def hands(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-11: where children or the public can touch it, a tall profile, and a presence device besides."""
    near = touched_by_public(place.opening)
    tall = float(table("touch")["tall"])
    if near:
        yield remark(N_("Children or the public come near: a device that sees them belongs to it."))
    if profile.height >= tall - ROUND_OFF or near is False:
        return
    heights = {"height": Amount(profile.height, "m"), "tall": Amount(tall, "m")}
    if near:
        yield against(N_("Children or the public can touch it: {height} is low, {tall} is wanted."), **heights)
    else:
        said = N_(
            "Whether children or the public can touch it is not known; {height} would be low, {tall} is wanted."
        )
        yield still_open(said, **heights)


_RESTS_ON = {
    "site.coldest", "site.hottest", "surroundings.cold_side", "surroundings.warm_side", "surroundings.wash_down",
    "surroundings.classified_area", "floor.wet", "floor.fall", "floor.unevenness", "floor.points",
    "door.bottom.seat_width", "door.mounted", "use.children", "use.public", "use.users",
}  # fmt: skip


def assumed(profile: Profile, place: Place) -> Iterator[Said]:
    """What rests on an assumption does not fit yet."""
    for spec, fact in (*place.site.facts(), *place.opening.facts()):
        if fact.standing == "assumed" and fact.path in _RESTS_ON:
            yield still_open(N_("Only assumed, and not looked at: {fact}."), fact=Sentence(named(spec, fact.path)))
