"""What the calculations of this chapter are given and what they answer."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Case, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Metre, Second

Method = Literal[
    "iso13855-normal",
    "iso13855-beams",
    "iso13855-single-beam",
    "iso13855-parallel",
    "iso13855-mat",
    "iso13855-two-hand",
    "osha-1910-217",
    "b11-19",
]
Edition = Literal["2010", "2024"]
Branch = Literal["k2000", "k1600", "least_100", "least_500", "high_field", "fixed_1200", "hand_speed"]


class ApproachCase(Case):
    """A device that sees someone come, and how long the leaf takes to stop after it did."""

    method: Method = field(title="Formula to use")
    edition: Edition | None = field(default=None, title="Edition, where one alone is wanted")
    response_time: Second | None = field(
        default=None, above=0, at_most=60, title="Time from being seen to standstill, the whole chain"
    )
    resolution: Metre | None = field(default=None, above=0, at_most=1, title="Smallest object the device sees, d")
    field_height: Metre | None = field(
        default=None, at_least=0, at_most=1, title="Height of the field or step above the floor, H"
    )
    reach: Metre | None = field(
        default=None, at_least=0, at_most=3, title="Reach past the device, 2024 edition, D_DS"
    )
    extra: Metre = field(
        default=0.0, at_least=0, at_most=3, title="Extra for measuring error or brake wear, 2024 edition, Z"
    )
    available_distance: Metre | None = field(
        default=None, above=0, at_most=100, title="Distance that is there between device and leaf"
    )


class ApproachResult(Result):
    """How far from the leaf a device has to stand, by which branch, and for whom that holds."""

    distance: Metre | None = field(title="Distance needed; the greater of the editions computed")
    distance_2010: Metre | None = field(title="Distance by the 2010 edition")
    distance_2024: Metre | None = field(title="Distance by the 2024 edition")
    edition: Edition | None = field(title="Edition that decides")
    branch: Branch | None = field(title="Branch of the formula that decides")
    why: str = field(title="The branch in words")
    valid_for: str = field(title="For whom it holds")
    least_height: Metre | None = field(title="Least height of the field for this resolution")
    needed_response_time: Second | None = field(title="Longest time that the distance there allows")
    enough: bool | None = field(title="Whether the distance there is at least the distance needed")
    notes: tuple[str, ...] = field(title="What else to look at")
    assumptions: tuple[str, ...] = field(title="What was assumed")
    sources: tuple[Source, ...] = field(title="Sources")
