"""How much margin a loop leaves on an input, and what would eat it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from sillwright.base.source import Source
from sillwright.base.units import Metre
from sillwright.base.words import N_, say
from sillwright.circuit import limits
from sillwright.circuit.building import Spread
from sillwright.circuit.hurting import CONVERTED, applies
from sillwright.circuit.looking import MOST_WITH_DIODES, Look, look, shares
from sillwright.circuit.margin_model import MarginCase, MarginResult, StateName
from sillwright.circuit.model import Hurt, Loop, Press, State
from sillwright.circuit.typical import SOURCES as TYPICAL
from sillwright.circuit.wire_table import SOURCES as WIRE

__all__ = ["margin"]

SOURCES = (
    Source(document=N_("Kirchhoff's laws, solved by elimination of nodes"), sure="computed", id="nodes"),
    Source(
        document=N_("a voltage is monotone in each resistor, so that its extremes lie at corners"), sure="computed"
    ),
    *TYPICAL,
    *WIRE,
)


OF_THE_LEAD: frozenset[StateName] = frozenset({"rest", "pressed_near", "pressed_far", "short"})
"""States that the length of the lead bears on."""


def margin(case: MarginCase) -> MarginResult:
    r"""What an input reads from a loop in each state, how far that is from its thresholds, and what would eat it.

    .. math:: V = V_s \frac{R}{R + R_p}, \qquad R_{trips} = R_p \frac{V_t}{V_s - V_t}

    Parameters: a loop (V, ohm, m, K), tolerances of its parts as shares, leak and wrong element to look at (ohm),
    random loops and their seed. Returns for each state the voltage (V) with all parts at their values, its exact
    least and greatest over all tolerances, quantiles of random loops and the distance to each threshold; the
    margin of the worst state and which part costs most of it; the longest lead that works (m); the leak and the
    joint (ohm) that trip.

    Model: direct current; wires, strips in six sections with their leak between, a press as its contact resistance.
    Each part independent of the others and uniform within its tolerance. ``certified`` extremes are exact; with a
    diode they are not claimed. Of circuits with a converter or a radio the operator's pair is judged, its
    leak and joint on the edge's own loop. Valid for inputs that compare a voltage with thresholds, in steady state;
    neither noise nor coupling of long leads is in it.

    Raises :class:`OutOfRange` for thresholds that overlap, a missing end element or resistance.

    Source: Kirchhoff's laws; thresholds and typical parts from memory and common practice.

    >>> from sillwright.circuit.typical import typical
    >>> found = margin(MarginCase(loop=typical("resistor")))
    >>> found.works, round(found.margin, 2), found.deciding_state, round(found.leak_trips)
    (True, 0.88, 'rest', 4864)
    """
    looks = [each for name, state in _states(case) for each in look(case.loop, name, state, _spread(case))]
    asked = [each for each in looks if each.margin is not None]
    worst_one = min(asked, key=lambda each: cast(float, each.margin))
    costs = shares(worst_one)
    broken = [each for each in looks if each.state.startswith("open")]
    return MarginResult(
        works=cast(float, worst_one.margin) > 0,
        certified=all(each.worst.certified for each in asked),
        sees_break=all(each.reads_worst in {"open", "pressed"} for each in broken),
        margin=cast(float, worst_one.margin),
        deciding_state=worst_one.state,
        weakest=costs[0].part if costs else None,
        parts=costs,
        states=tuple(each.shown(case) for each in looks),
        longest_lead=_longest_lead(case, asked),
        **_limits(case),
        case=case,
        assumptions=tuple(_assumptions(case, looks)),
        sources=SOURCES,
    )


def _spread(case: MarginCase) -> Spread:
    return Spread(
        wire=case.wire_tolerance,
        strip=case.strip_tolerance,
        contact=case.contact_tolerance,
        insulation=case.insulation_tolerance,
        converter=case.converter_tolerance,
    )


def _states(case: MarginCase) -> Iterator[tuple[StateName, State]]:
    """The states that a loop of this kind can be in."""
    yield "rest", State()
    yield "pressed_near", State(press=Press(at=0.0))
    yield "pressed_far", State(press=Press(at=1.0))
    yield "open_near", State(hurts=(Hurt(kind="cut", place="edge_near"),))
    yield "open_middle", State(hurts=(Hurt(kind="cut", place="edge_middle"),))
    yield "open_far", State(hurts=(Hurt(kind="cut", place="edge_far"),))
    yield "short", State(hurts=(Hurt(kind="short", place="cord"),))
    yield "wet", State(hurts=(Hurt(kind="wet", place="edge_middle", ohm=case.wet),))
    if applies(case.loop, "element_wrong", "edge_far"):
        wrong = Hurt(kind="element_wrong", place="edge_far", ohm=case.wrong_element)
        yield "wrong_element", State(hurts=(wrong,))


def _longest_lead(case: MarginCase, asked: list[Look]) -> Metre | None:
    """The longest lead that works; none where what fails has nothing to do with the lead."""
    if any(cast(float, each.margin) <= 0 for each in asked if each.state not in OF_THE_LEAD):
        return None
    return limits.longest_lead(case.loop, lambda loop: _works(case, loop))


def _works(case: MarginCase, loop: Loop) -> bool:
    """Whether the states that the length of the lead bears on read what they have to, all parts at their worst."""
    for name, state in _states(case):
        if name in OF_THE_LEAD:
            looked = look(loop, name, state, _spread(case))
            if any(each.margin is not None and each.margin <= 0 for each in looked):
                return False
    return True


def _limits(case: MarginCase) -> dict[str, Any]:
    """What the loop bears before it reads something else."""
    loop = limits.watching(case.loop)
    low, high = loop.input.pressed, loop.input.open
    spread, far = _spread(case), Press(at=1.0)
    if loop.circuit == "normally_closed":
        return {
            "leak_hides": limits.leak_to(loop, limits.middle(low), press=far),
            "joint_trips": limits.joint_to(loop, limits.middle(low)),
            "joint_trips_first": limits.joint_to(loop, low.least_voltage, limits.at_greatest(spread)),
        }
    found = {
        "total_pressed": limits.total_at(loop, limits.middle(low)),
        "leak_trips": limits.leak_to(loop, limits.middle(low)),
        "leak_trips_first": limits.leak_to(loop, low.greatest_voltage, limits.at_least(spread)),
        "joint_hides": limits.joint_to(loop, limits.middle(low), press=far),
    }
    if loop.circuit == "diode_capacitor":
        found["joint_trips"] = limits.joint_to(loop, limits.middle(low))
        found["joint_trips_first"] = limits.joint_to(loop, low.least_voltage, limits.at_greatest(spread))
    elif high is not None and loop.circuit != "plain":
        found["total_open"] = limits.total_at(loop, limits.middle(high))
        found["joint_trips"] = limits.joint_to(loop, limits.middle(high))
        found["joint_trips_first"] = limits.joint_to(loop, high.least_voltage, limits.at_greatest(spread))
    return found


def _assumptions(case: MarginCase, looks: list[Look]) -> Iterator[str]:
    yield say(N_("Every part lies anywhere within its tolerance, independent of the others."))
    yield say(
        N_("Tolerances of wires, strips, contacts and insulation are common practice where nobody stated them.")
    )
    yield say(N_("The voltage has settled; noise and what other wires couple in are not counted."))
    if case.loop.circuit in CONVERTED:
        yield say(
            N_("The input of the converter or transmitter is a typical one; its leak and joint are judged there.")
        )
    if case.samples > MOST_WITH_DIODES and any(each.netlist.diodes for each in looks):
        yield say(N_("With a diode {count} random loops are looked at, no more."), count=MOST_WITH_DIODES)
    if not all(each.worst.certified for each in looks):
        yield say(
            N_("With a diode the least and greatest voltages are those of likely corners, not proven extremes.")
        )
