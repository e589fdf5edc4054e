"""One opening through all chapters, and one site."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.base.finding import Finding, Unknown
from sillwright.base.words import Reader, Sentence
from sillwright.duty.model import Duty
from sillwright.exposure.answer import Exposure
from sillwright.hookup.answer import Hookup
from sillwright.study.ohms import OhmHistory
from sillwright.survey.model import Opening, Survey
from sillwright.takeoff.answer import TakeOff


@dataclass(frozen=True, kw_only=True)
class OpeningStudy:
    """One opening and what every chapter says of it. A chapter that does not apply is None."""

    opening: Opening
    headline: Sentence
    duty: Duty
    exposure: Exposure | None
    takeoff: TakeOff
    hookup: Hookup
    findings: tuple[Finding, ...]  # of all chapters, heaviest first
    unknown: tuple[Unknown, ...]  # in the order in which they matter
    ohms: tuple[OhmHistory, ...] = ()  # of each device that somebody read


@dataclass(frozen=True, kw_only=True)
class SiteStudy:
    """A site and its openings, studied."""

    survey: Survey
    openings: tuple[OpeningStudy, ...]
    reader: Reader  # language, units and country of the people at the site
