"""A large study in a process of its own: what compiled code holds is given back before the papers are set."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from datetime import date

from sillwright.base.errors import SillwrightError
from sillwright.base.words import N_, Reader, say
from sillwright.catalogue import Catalogue
from sillwright.cli.progress import progress
from sillwright.study import SiteStudy, study_site
from sillwright.survey.model import Survey

MANY = 12  # openings from which a process of its own pays


def studied(survey: Survey, reader: Reader, catalogue: Catalogue | None = None) -> SiteStudy:
    """A studied site; a large one is studied in a process of its own, with the same result."""
    if len(survey.openings) < MANY:
        return _study(survey, reader, catalogue)
    try:
        with ProcessPoolExecutor(max_workers=1) as pool:
            return pool.submit(_study, survey, reader, catalogue).result()
    except BrokenProcessPool:
        said = N_("the study was ended by the system before it was done; nothing was written")
        raise SillwrightError(say(said)) from None


def _study(survey: Survey, reader: Reader, catalogue: Catalogue | None) -> SiteStudy:
    return study_site(survey, reader, progress(len(survey.openings)), catalogue=catalogue, today=date.today())
