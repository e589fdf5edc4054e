"""How hard the leaf would meet someone: the chart of the papers, its numbers as tables, the verdicts in words."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base.words import N_, Amount
from sillwright.exposure.answer import Exposure
from sillwright.paper.chart import contact_chart
from sillwright.paper.engineer import HEADS
from sillwright.paper.svg import svg
from sillwright.paper.terms import LIMIT_VERDICT
from sillwright.paper.voice import Voice

PREFIX = "c-"


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One limit and how the band lies to it; ``mark`` is the verdict as it stands in the program."""

    title: str
    limit: str
    verdict: str
    mark: str
    source: str


@dataclass(frozen=True, kw_only=True)
class Contact:
    """The contact of the closing leaf in a reader's words."""

    band: str
    chart: str
    limits: tuple[Limit, ...]
    head: tuple[str, ...]
    next: str


def contact(exposure: Exposure, voice: Voice, following: str) -> Contact:
    """What the page says of the contact; ``following`` is the paper's sentence on what to measure next."""
    drawing = contact_chart(exposure, voice.reader)
    return Contact(
        band=band_of(exposure, voice),
        chart=svg(drawing, prefix=PREFIX) if drawing else "",
        limits=tuple(
            Limit(
                title=voice.of(each.title),
                limit=voice.amount(each.limit, each.unit),
                verdict=voice.word(LIMIT_VERDICT[each.verdict]),
                mark=each.verdict.replace(" ", "-"),
                source=voice.cite(each.source),
            )
            for each in exposure.limits
        ),
        head=tuple(voice.word(each) for each in HEADS["band_head"]),
        next=following,
    )


def band_of(exposure: Exposure | None, voice: Voice) -> str:
    """The band of the greatest force as a sentence; empty where there is none."""
    ends = _ends(exposure)
    said = N_("Band of the greatest force from {low} to {high}.")
    return voice(said, low=Amount(ends[0], "N"), high=Amount(ends[1], "N")) if ends else ""


def range_of(exposure: Exposure | None, voice: Voice) -> str:
    """The same in a few words, to set two side by side."""
    ends = _ends(exposure)
    if not ends:
        return ""
    return _("%(low)s to %(high)s") % {"low": voice.amount(ends[0], "N"), "high": voice.amount(ends[1], "N")}


def _ends(exposure: Exposure | None) -> tuple[float, float] | None:
    band = exposure.band.get("peak_force", {}) if exposure else {}
    low, high = band.get("p5"), band.get("p95")
    return None if low is None or high is None else (low, high)
