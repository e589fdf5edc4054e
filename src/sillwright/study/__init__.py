"""Study: one opening through all chapters; one site."""

from sillwright.study._study import study_opening, study_site
from sillwright.study.answer import opening_as_json, site_as_json
from sillwright.study.model import OpeningStudy, SiteStudy

__all__ = ["OpeningStudy", "SiteStudy", "opening_as_json", "site_as_json", "study_opening", "study_site"]
