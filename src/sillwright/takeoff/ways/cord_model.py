"""What the calculation of a cord is given and what it answers."""

from __future__ import annotations

from math import isfinite
from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Metre, Number
from sillwright.base.words import N_, Amount, say

CordWay = Literal["cord", "reel", "radio"]


class CordStock(Model):
    """A coiled cord that can be had."""

    retracted: Metre = field(above=0, at_most=10, title="Retracted length")
    extended: Metre | None = field(
        default=None, above=0, at_most=60, title="Rated extended length; null = not stated"
    )
    conductors: int | None = field(default=None, at_least=1, at_most=20, title="Conductors; null = not stated")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.extended is not None and self.extended <= self.retracted:
            said = N_("{path}: {extended} is no more than the retracted length of {retracted}")
            lengths = {"extended": Amount(self.extended, "m"), "retracted": Amount(self.retracted, "m")}
            raise OutOfRange(say(said, path="CordStock.extended", **lengths))


class CordCase(Case):
    """A lead that goes up and down with the leaf, and a box on the wall beside it."""

    lowest: Metre = field(default=0.0, at_least=0, at_most=40, title="Lowest place of the lead above the floor")
    highest: Metre = field(above=0, at_most=60, title="Highest place of the lead above the floor")
    offset: Metre = field(at_least=0, at_most=30, title="Level distance from the box to the line of the lead")
    box_height: Metre | None = field(
        default=None, at_least=0, at_most=60, title="Height of the box above the floor; null = where it is best"
    )
    reach_lowest: Metre | None = field(default=None, at_least=0, at_most=60, title="Lowest place for the box")
    reach_highest: Metre | None = field(default=None, at_least=0, at_most=60, title="Highest place for the box")
    stock: tuple[CordStock, ...] = field(default=(), title="Cords that can be had; none = those of the trade")
    reel_cables: tuple[Metre, ...] = field(
        default=(), title="Cable lengths of the reels that can be had; none = those of the trade"
    )
    most_ratio: Number = field(
        default=3.5, above=1, at_most=6, title="Most that a cord may be drawn, over its retracted length"
    )
    conductors: int | None = field(
        default=None, at_least=1, at_most=20, title="Conductors needed; null = any number"
    )
    obstacles: tuple[Metre, ...] = field(
        default=(), title="Heights of hooks, beams and wheels beside the opening that the loop has to clear"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.highest <= self.lowest:
            _refuse("highest", self.highest, N_("more than the lowest place, {least}"), least=self.lowest)
        for name in ("reel_cables", "obstacles"):
            for value in getattr(self, name):
                if not (isfinite(value) and value >= 0):
                    raise OutOfRange(
                        say(
                            N_("{path}: {value} is not a length"),
                            path=f"CordCase.{name}",
                            value=Amount(value, "m") if isfinite(value) else value,
                        )
                    )
        self._check_reach()

    def _check_reach(self) -> None:
        low, high = self.reach_lowest, self.reach_highest
        if low is not None and high is not None and high < low:
            _refuse("reach_highest", high, N_("at least the lowest place for the box, {least}"), least=low)
        if self.box_height is None:
            return
        if low is not None and self.box_height < low:
            _refuse("box_height", self.box_height, N_("at least {least}, the lowest place in reach"), least=low)
        if high is not None and self.box_height > high:
            _refuse("box_height", self.box_height, N_("at most {most}, the highest place in reach"), most=high)


def _refuse(name: str, value: Metre, accepted: str, **limits: Metre) -> None:
    right = say(accepted, **{key: Amount(limit, "m") for key, limit in limits.items()})
    said = N_("{path}: {value} is out of range; {accepted} is accepted")
    raise OutOfRange(say(said, path=f"CordCase.{name}", value=Amount(value, "m"), accepted=right))


class CordResult(Result):
    """The cord that fits, how far it is drawn and how low it hangs; a reel or radio where none fits."""

    way: CordWay = field(title="What joins the leaf to the wall")
    why: str = field(title="Why")
    retracted: Metre | None = field(title="Retracted length of the cord; null = no cord fits")
    ratio: Number | None = field(title="How far it is drawn, over its retracted length; null = no cord fits")
    longest: Metre = field(title="Greatest length between box and lead")
    shortest: Metre = field(title="Least length between box and lead")
    box_height: Metre = field(title="Height of the box")
    best_box_height: Metre = field(title="Height at which the greatest length is least")
    longest_at_best: Metre = field(title="Greatest length with the box there")
    slack_loop: Metre | None = field(
        title="How far the loop hangs below the cord's lower end, edge nearest the box"
    )
    slack_loop_limp: Metre | None = field(title="The same for a cord worn limp")
    loop_bottom: Metre | None = field(title="Height of the loop above the floor then, worn limp")
    reel_cable: Metre | None = field(title="Cable of the reel that fits; null = none does")
    reel_cable_needed: Metre = field(title="Cable that a reel at the head needs")
    case: CordCase = field(title="The case as it was computed")
    notes: tuple[str, ...] = field(default=(), title="What else to look at")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the rules come from")
