"""Exposure: how often, how hard and whom a closing leaf would meet."""

from typing import TYPE_CHECKING, Any

from sillwright.exposure._approach import approach as approach
from sillwright.exposure._risk import performance_level as performance_level
from sillwright.exposure._risk import risk_level as risk_level
from sillwright.exposure.answer import EdgeState as EdgeState
from sillwright.exposure.answer import Engine as Engine
from sillwright.exposure.answer import Exposure as Exposure
from sillwright.exposure.answer import Input as Input
from sillwright.exposure.answer import JudgedLimit as JudgedLimit
from sillwright.exposure.model import ApproachCase as ApproachCase
from sillwright.exposure.model import ApproachResult as ApproachResult

if TYPE_CHECKING:
    from sillwright.exposure._expose import expose as expose


def __getattr__(name: str) -> Any:
    """Loads ``expose`` on first use: it needs survey and mechanics, which a closed form does without."""
    if name == "expose":
        from sillwright.exposure._expose import expose

        return expose
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
