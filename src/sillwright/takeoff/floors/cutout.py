"""The reversal cut-out near the floor: at which heights it may be set on this floor, and whether it is.

Below the cut-out a press of the edge no longer turns the leaf. Set too low, the leaf turns back from its own floor;
set too high, it no longer turns back from what lies there. An uneven floor eats the room between the two.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number, source

Window = tuple[float, float]
Setting = Literal["inside", "board only", "too low", "too high", "no window", "not known"]
PATH = "operator.cutout_height"


@dataclass(frozen=True, kw_only=True)
class CutOut:
    """The window of the cut-out on a floor, where it is set, and what that means."""

    window: Window | None  # for the board laid flat
    window_strict: Window | None  # for the one-inch object
    set_at: float | None
    setting: Setting
    sentence: Sentence | None  # what shows an owner why the floor matters
    findings: tuple[Finding, ...] = ()


def has_window(unevenness: float, height: float | None = None) -> bool:
    """Whether any height of the cut-out serves on a floor of this unevenness, for an object of a height.

    >>> has_window(0.0158), has_window(0.0318)
    (True, False)
    """
    tall = number("board") if height is None else height
    return unevenness < tall - 2 * number("margin") - ROUND_OFF


def cutout_window(
    *, compression: float, actuation_travel: float, unevenness: float, height: float
) -> Window | None:
    r"""Between which heights above closed a press may stop turning the leaf; None where there are none.

    .. math:: c - a + m < y < t + c - U - a - m

    Parameters, all in m: ``compression`` c of the edge at the highest floor point when shut, its
    ``actuation_travel`` a, ``unevenness`` U of the floor, ``height`` t of the object that has to turn the leaf.
    The margin m of 1/8 in is kept on both sides, so that there is a window only while U < t - 2 m.

    >>> inch = 0.0254
    >>> edge = {"compression": inch / 4, "actuation_travel": inch * 3 / 16}
    >>> low, high = cutout_window(**edge, unevenness=0.0, height=1.5 * inch)
    >>> round(low / inch, 4), round(high / inch, 4)
    (0.1875, 1.4375)

    Source: trade rules of thumb (HOOK-7), from memory; follows from where edge, leaf and object stand.
    """
    margin = number("margin")
    low = max(0.0, compression - actuation_travel + margin)
    high = height + compression - unevenness - actuation_travel - margin
    return (low, high) if has_window(unevenness, height) and high > low + ROUND_OFF else None


def cutout(
    opening: Opening, *, compression: float, actuation_travel: float | None, unevenness: float | None
) -> CutOut:
    """The window for an opening's floor and a profile, held against where the operator's cut-out is set.

    ``compression`` and ``actuation_travel`` are those of the profile at the highest floor point, shut. Where the
    floor or the profile is not known, the window is not known either; a floor too uneven for any window has none,
    whatever the profile.
    """
    fact = opening.operator.cutout_height
    if unevenness is None or (actuation_travel is None and has_window(unevenness)):
        return _without_window(fact.value, fact.value if fact.known else None, unevenness)
    given = {"compression": compression, "actuation_travel": actuation_travel or 0.0}
    board, strict = (
        cutout_window(unevenness=unevenness, height=number(name), **given) for name in ("board", "object")
    )
    even = cutout_window(unevenness=0.0, height=number("board"), **given)
    setting = _setting(board, strict, fact.value if fact.known else None)
    sentence = _sentence(board, even, unevenness)
    return CutOut(
        window=board,
        window_strict=strict,
        set_at=fact.value,
        setting=setting,
        sentence=sentence,
        findings=_findings(setting, sentence, board, strict, fact.value),
    )


def _without_window(set_at: float | None, at: float | None, unevenness: float | None) -> CutOut:
    """The window is not known; a cut-out above that of every edge is too high all the same."""
    highest = number("board") + number("compression") - (unevenness or 0.0) - number("margin")
    high = at is not None and at > highest + ROUND_OFF
    setting: Setting = "too high" if high else "not known"
    findings = (_finding("too high", DO_LOWER, {"at": Amount(at, "m")}),) if high and at is not None else ()
    return CutOut(window=None, window_strict=None, set_at=set_at, setting=setting, sentence=None, findings=findings)


def cutout_of(opening: Opening, unevenness: float | None, profile: Profile | None) -> CutOut:
    """The window for an opening, the leaf's limit set as it is to be set for a profile on its floor.

    That is 1/16 in of compression at the lowest point, and never more than the greatest at the highest.
    """
    at_highest = min(number("compression"), number("contact") + (unevenness or 0.0))
    travel = profile.actuation_travel if profile else None
    return cutout(opening, compression=at_highest, actuation_travel=travel, unevenness=unevenness)


def _setting(board: Window | None, strict: Window | None, at: float | None) -> Setting:
    if board is None:
        return "no window"
    if at is None:
        return "not known"
    if at < board[0] - ROUND_OFF:
        return "too low"
    if at > board[1] + ROUND_OFF:
        return "too high"
    return "inside" if strict and at <= strict[1] + ROUND_OFF else "board only"


def _sentence(board: Window | None, even: Window | None, unevenness: float) -> Sentence | None:
    tall = Amount(number("board"), "m")
    if board is None:
        said = N_(
            "On this floor no height of the cut-out is right: set low enough to notice a {tall} board in the dip, "
            "the leaf turns back from the hump. The floor comes first."
        )
        return Sentence(said, {"tall": tall})
    values = {
        "low": Amount(board[0], "m"),
        "high": Amount(board[1], "m"),
        "uneven": Amount(unevenness, "m"),
        "tall": tall,
        "room": Amount(board[1] - board[0], "m"),
    }
    if even is None or even[1] - board[1] < number("reading"):
        said = N_(
            "The leaf may stop turning back between {low} and {high} above closed: lower, it turns back from its "
            "own floor; higher, it does not notice a {tall} board."
        )
        return Sentence(said, values)
    said = N_(
        "The leaf may stop turning back between {low} and {high} above closed: lower, it turns back from its own "
        "floor; higher, it does not notice a {tall} board in the dip. That is {room} of room; an even floor would "
        "give {even}, and {uneven} of it goes into the floor."
    )
    return Sentence(said, {**values, "even": Amount(even[1] - even[0], "m")})


def _findings(
    setting: Setting, sentence: Sentence | None, board: Window | None, strict: Window | None, at: float | None
) -> tuple[Finding, ...]:
    if setting == "inside":
        return ()
    values = {} if at is None else {"at": Amount(at, "m")}
    if board is not None:
        values |= {"low": Amount(board[0], "m"), "high": Amount(board[1], "m")}
    if setting == "board only" and strict is not None:
        values["strict"] = Amount(strict[1], "m")
    do = DO_AIM if setting == "board only" and strict is not None else DO[setting]
    return (_finding(setting, do, values, sentence),)


def _finding(setting: Setting, do: str, values: dict[str, Amount], why: Sentence | None = None) -> Finding:
    values = {**values, "tall": Amount(number("board"), "m"), "less": Amount(number("object"), "m")}
    return Finding(
        id="takeoff.cutout",
        level="note" if setting in {"board only", "not known"} else "act",
        text=Sentence(TEXT[setting], values),
        why=why,
        do=Sentence(do, values),
        facts=(PATH, "floor.points", "floor.unevenness"),
        place="floor" if setting == "no window" else "operator",
        sources=_sources(),
    )


TEXT: dict[Setting, str] = {
    "board only": N_("The reversal cut-out at {at} serves for a {tall} board, not for the {less} object."),
    "too low": N_("The reversal cut-out at {at} is too low: the leaf turns back from its own floor."),
    "too high": N_("The reversal cut-out at {at} is too high: a {tall} board on the floor is not noticed."),
    "no window": N_("No height of the reversal cut-out serves on this floor."),
    "not known": N_("Where the reversal cut-out is set is not known."),
}
DO: dict[Setting, str] = {
    "board only": N_(
        "On this floor no height serves for the {less} object; the floor would have to be cured first."
    ),
    "too low": N_("Set it between {low} and {high} above closed, then test with the board laid flat."),
    "too high": N_("Set it between {low} and {high} above closed, then test with the board laid flat."),
    "no window": N_("Have the floor cured first."),
    "not known": N_("Find it with blocks: between {low} and {high} above closed is right."),
}
DO_LOWER = N_("Set it lower and test with the board laid flat; how low, the floor and the profile decide.")
DO_AIM = N_("Aim for {strict} above closed or lower, not below {low}.")


def _sources() -> tuple[Source, ...]:
    return source("board"), source("object"), source("margin")
