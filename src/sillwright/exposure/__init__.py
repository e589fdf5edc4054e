"""Exposure: how often, how hard and whom a closing leaf would meet."""

from sillwright.exposure._approach import approach as approach
from sillwright.exposure.model import ApproachCase as ApproachCase
from sillwright.exposure.model import ApproachResult as ApproachResult

__all__ = ["ApproachCase", "ApproachResult", "approach"]
