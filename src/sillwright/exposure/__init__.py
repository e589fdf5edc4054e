"""Exposure: how often, how hard and whom a closing leaf would meet."""

from sillwright.exposure._approach import approach as approach
from sillwright.exposure._expose import EdgeState as EdgeState
from sillwright.exposure._expose import Engine as Engine
from sillwright.exposure._expose import expose as expose
from sillwright.exposure.answer import Exposure as Exposure
from sillwright.exposure.answer import Input as Input
from sillwright.exposure.answer import JudgedLimit as JudgedLimit
from sillwright.exposure.model import ApproachCase as ApproachCase
from sillwright.exposure.model import ApproachResult as ApproachResult
