"""Study: one opening through all chapters; one site. Loaded on first use, so that the registry stays light."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.study._study import POINTS as POINTS
    from sillwright.study._study import study_opening as study_opening
    from sillwright.study._study import study_site as study_site
    from sillwright.study.answer import opening_as_json as opening_as_json
    from sillwright.study.answer import site_as_json as site_as_json
    from sillwright.study.model import OpeningStudy as OpeningStudy
    from sillwright.study.model import SiteStudy as SiteStudy

_WHERE = {
    "POINTS": "_study",
    "study_opening": "_study",
    "study_site": "_study",
    "opening_as_json": "answer",
    "site_as_json": "answer",
    "OpeningStudy": "model",
    "SiteStudy": "model",
}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
