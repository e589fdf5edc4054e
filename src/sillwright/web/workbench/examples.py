"""States to begin with: published examples with their source, worked ones, and invented ones that say so."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext_lazy as _

from sillwright.web.workbench.example import INVENTED, RULED, STEPPED, WORKED, Example, curve
from sillwright.web.workbench.loop_examples import LOOPS


def _contact(base: str = "", **changed: Any) -> dict[str, str | list[str]]:
    """The contact of the invented dock door, below a path, with changes."""
    state: dict[str, str | list[str]] = {
        "closing_speed": "8 in/s",
        "moving_mass": "330 kg",
        "drive.stiffness": "60 N/mm",
        "drive.damping": "200 N s/m",
        "drive.push_limit": "700 N",
        "stop.reaction": "80 ms",
        "stop.deceleration": "2 m/s²",
        "stop.dwell": "500 ms",
        "stop.opening_acceleration": "1 m/s²",
        "stop.opening_speed": "9 in/s",
        **curve("edge.curve", "0 mm, 0 N", "6.5 mm, 45 N", "26.5 mm, 110 N", "34.5 mm, 400 N"),
        "edge.actuation_travel": "6.5 mm",
        "edge.response": "30 ms",
        "edge.end_stiffness": "200 N/mm",
        "obstruction.stiffness": "500 N/mm",
    }
    state |= {name.replace("__", "."): value for name, value in changed.items()}
    return {f"{base}{name}": value for name, value in state.items() if value}


def _without_edge() -> dict[str, str | list[str]]:
    state = _contact(closing_speed="4 in/s").items()
    return {name: value for name, value in state if not name.startswith("edge.")} | {"edge": "none"}


def _reference() -> dict[str, str | list[str]]:
    return {
        "closing_speed": "0.364638 m/s", "moving_mass": "359.154 kg", "drive.stiffness": "169593 N/m",
        "drive.damping": "333.295 N s/m", "drive.push_limit": "900 N", "drive.lift_limit": "2000 N",
        "stop.reaction": "0.0996267 s", "stop.deceleration": "2.5051 m/s²", "stop.dwell": "0.458672 s",
        "stop.opening_acceleration": "0.910599 m/s²", "stop.opening_speed": "0.218423 m/s",
        **curve(
            "edge.curve", "0 m, 0 N", "0.00524305 m, 39.1049 N", "0.0276101 m, 134.685 N", "0.0357731 m, 542.473 N"
        ),
        "edge.actuation_travel": "0.00524305 m", "edge.response": "0.0244404 s",
        "edge.end_stiffness": "145230 N/m", "obstruction.stiffness": "25000 N/m", "duration": "5 s",
    }  # fmt: skip


def _ranges(*rows: str) -> dict[str, str | list[str]]:
    parts = [row.split(", ") for row in rows]
    names = ("name", "low", "high", "kind")
    return {f"ranges.{name}": [part[at] for part in parts] for at, name in enumerate(names)}


# fmt: off
EXAMPLES: dict[str, tuple[Example, ...]] = {
    **LOOPS,
    "approach": (
        Example(
            title=_("Curtain of 14 mm, 320 ms"),
            source=_("A published worked example to ISO 13855:2010, as texts that quote it give it."),
            state={"method": "iso13855-normal", "response_time": "320 ms", "resolution": "14 mm"},
            expected=(("distance", 0.512, 1e-9),),
            published=True,
        ),
        Example(
            title=_("Press, 0.317 s"),
            source=_("29 CFR 1910.217(c)(3)(iii)(e), chart, which rounds to half inches: 20 in."),
            state={"method": "osha-1910-217", "response_time": "0.317 s"},
            expected=(("distance", 0.508, 0.00635),),
            published=True,
        ),
        Example(
            title=_("Field, two editions"),
            source=WORKED,
            state={"method": "iso13855-parallel", "response_time": "300 ms", "field_height": "300 mm"},
            expected=(("distance_2010", 1.560, 1e-9), ("distance_2024", 1.680, 1e-9)),
        ),
        Example(
            title=_("How quick for 4 ft?"),
            source=INVENTED,
            state={"method": "iso13855-normal", "resolution": "30 mm", "available_distance": "4 ft"},
        ),
    ),
    "contact": (
        Example(title=_("Dock door, gauge"), source=INVENTED, state=_contact()),
        Example(title=_("No edge, 4 in/s"), source=INVENTED, state=_without_edge()),
        Example(title=_("Edge stays silent"), source=INVENTED, state=_contact(edge__actuation_travel="")),
        Example(
            title=_("Heavy leaf, soft body"),
            source=STEPPED,
            state=_reference(),
            expected=(
                ("peak_force", 1039.6441, 2e-3), ("peak_time", 0.2816204, 2e-6),
                ("contact_duration", 1.22152511, 2e-6), ("time_above_150", 0.9665568, 2e-6),
            ),
        ),
    ),
    "contact_spread": (
        Example(
            title=_("Three facts known roughly"),
            source=INVENTED,
            state={
                **_contact("base."),
                **_ranges(
                    "moving_mass, 280 kg, 380 kg, uniform",
                    "closing_speed, 7 in/s, 9 in/s, uniform",
                    "stop.deceleration, 0.8 m/s², 3 m/s², uniform",
                ),
                "points": "256",
            },
        ),
        Example(
            title=_("Edge in the cold"),
            source=INVENTED,
            state={
                **_contact("base."),
                **_ranges("edge.force_scale, 1, 2.5, uniform", "stop.reaction, 60 ms, 120 ms, uniform"),
                "points": "512",
            },
        ),
    ),
    "cord": (
        Example(
            title=_("Box at half travel, 14 ft"),
            source=RULED,
            state={"highest": "14 ft", "offset": "1 ft"},
            expected=(("longest", 7.0710678 * 0.3048, 1e-6), ("retracted", 0.9144, 1e-9)),
        ),
        Example(
            title=_("Box within reach, hooks beside the door"),
            source=INVENTED,
            state={
                "highest": "14 ft", "offset": "1 ft", "reach_lowest": "3 ft", "reach_highest": "6 ft",
                "conductors": "4", "obstacles": ["6 in", "6 ft"],
            },
        ),
    ),
    "cutlist": (
        Example(
            title=_("Rails of two doors"),
            source=INVENTED,
            state={
                "pieces.length": ["9 ft 11 in", "4 ft 2 in"],
                "pieces.count": ["2", "3"],
                "pieces.label": ["dock 1 and 2", "hatches"],
                "stock.name": ["rail"], "stock.length": ["20 ft"], "stock.cost": ["46"],
                "kerf": "1/8 in", "keep": "3 ft",
            },
        ),
        Example(
            title=_("Three lengths from rolls of 218"),
            source=_("Teaching example of an integer-programming tutorial, data from memory: 35 rolls."),
            state={
                "pieces.length": ["0.81 m", "0.70 m", "0.68 m"],
                "pieces.count": ["44", "3", "48"],
                "pieces.label": ["81", "70", "68"],
                "stock.name": ["218"], "stock.length": ["2.18 m"], "stock.cost": ["1"],
                "kerf": "0 mm",
            },
            expected=(("cost", 35.0, 1e-9),),
        ),
        Example(
            title=_("Channels of five doors"),
            source=INVENTED,
            state={
                "pieces.length": ["11 ft 10-1/2 in", "9 ft 11 in", "7 ft 10-3/4 in", "4 ft 2 in"],
                "pieces.count": ["2", "2", "1", "3"],
                "pieces.label": ["dock 1 and 2", "dock 3 and 4", "yard", "hatches"],
                "stock.name": ["short", "middle", "long"],
                "stock.length": ["10 ft", "12 ft", "20 ft"],
                "stock.cost": ["24.5", "28.9", "46"],
                "stock.count": ["", "", "2"],
                "kerf": "1/8 in", "trim_start": "1/4 in", "keep": "3 ft",
            },
        ),
    ),
    "floor": (
        Example(
            title=_("Floor that falls to one side"),
            source=RULED,
            state={
                "read_as": "gaps_below_level",
                "points.x": ["0 ft", "2 ft", "4 ft", "6 ft", "8 ft", "10 ft", "12 ft"],
                "points.y": ["0 in", "1/8 in", "1/4 in", "3/8 in", "1/2 in", "5/8 in", "1/2 in"],
            },
            expected=(("unevenness", 0.625 * 0.0254, 1e-9), ("strip", 0.2083333 * 0.0254, 1e-6)),
        ),
        Example(
            title=_("Hump in the middle"),
            source=INVENTED,
            state={
                "read_as": "heights", "width": "10 ft",
                "points.x": ["0 ft", "2 ft", "4 ft", "5 ft", "6 ft", "8 ft", "10 ft"],
                "points.y": ["0 in", "0 in", "1/4 in", "1/2 in", "1/4 in", "0 in", "0 in"],
            },
        ),
        Example(
            title=_("Two profiles, warm and cold"),
            source=INVENTED,
            state={
                "read_as": "heights", "width": "10 ft",
                "points.x": ["1 in", "2 ft", "4 ft", "6 ft", "8 ft", "9 ft 11 in"],
                "points.y": ["1/2 in", "3/8 in", "1/8 in", "0 in", "1/8 in", "1/4 in"],
                "profiles.name": ["low", "tall with fin"],
                "profiles.height": ["1-1/4 in", "2 in"],
                "profiles.actuation_travel": ["1/4 in", "1/4 in"],
                "profiles.fin": ["", "1/2 in"],
                "profiles.curves": [
                    "68 degF: 0 in 0 N, 1/4 in 45 N, 1 in 300 N",
                    "-4 degF: 0 in 0 N, 1/4 in 90 N, 1 in 400 N; 68 degF: 0 in 0 N, 1/4 in 45 N, 1-1/2 in 400 N",
                ],
                "force": "150 N", "required_overtravel": "1/8 in", "coldest": "-4 degF",
            },
        ),
    ),
    "impact": (
        Example(
            title=_("150 kg that coasts"),
            source=WORKED,
            state={"method": "impact-free", "mass": "150 kg", "speed": "0.2 m/s", "stiffness": "10 N/mm"},
            expected=(
                ("peak_force", 244.949, 6e-4), ("travel", 0.024495, 6e-7), ("contact_duration", 0.38476, 6e-6),
                ("time_above_150", 0.22333, 6e-6),
            ),
        ),
        Example(
            title=_("50 kg, pushed with 100 N"),
            source=WORKED,
            state={
                "method": "impact-driven", "mass": "50 kg", "speed": "0.3 m/s", "stiffness": "30 N/mm",
                "drive_force": "100 N",
            },
            expected=(("peak_force", 480.789, 6e-4), ("travel", 0.016026, 6e-7), ("time_to_peak", 0.07498, 6e-6)),
        ),
        Example(
            title=_("50 kg, speed held"),
            source=WORKED,
            state={
                "method": "impact-held-speed", "mass": "50 kg", "speed": "0.3 m/s", "stiffness": "30 N/mm",
                "drive_force": "100 N",
            },
            expected=(("peak_force", 467.423, 6e-4),),
        ),
        Example(
            title=_("Two bodies, 20 kg and 40 kg"),
            source=_("A worked case by the formula for two bodies, ISO/TS 15066:2016, Annex A."),
            state={
                "method": "impact-two-bodies", "mass": "20 kg", "other_mass": "40 kg", "speed": "0.2 m/s",
                "stiffness": "25 N/mm",
            },
            expected=(("effective_mass", 13.3333, 6e-5), ("peak_force", 115.470, 6e-4)),
        ),
    ),
    "length": (
        Example(
            title=_("Curtain with a bent guide"),
            source=RULED,
            state={
                "kind": "rolling", "clear_width": "162 in", "guide_clear_floor": "164 in",
                "guide_clear_chest": "163-1/4 in", "guide_clear_head": "164 in", "guide_condition": "bent",
                "dead_end_lead": "1-1/2 in", "dead_end_far": "1-1/2 in",
            },
            expected=(("body_length", 162.25 * 0.0254, 1e-9), ("dead_left", 1.375 * 0.0254, 1e-9)),
        ),
        Example(
            title=_("Panel wider than the opening"),
            source=RULED,
            state={
                "kind": "sectional", "panel_width": "10 ft 6 in", "clear_width": "10 ft 4 in",
                "bracket_left": "1-1/2 in", "bracket_right": "1-1/2 in",
                "dead_end_lead": "1-1/2 in", "dead_end_far": "1-1/2 in",
            },
            expected=(("body_length", 126 * 0.0254, 1e-9), ("channel_length", 123 * 0.0254, 1e-9)),
        ),
        Example(
            title=_("Gate leaf, leading edge"),
            source=RULED,
            state={"kind": "slide_gate", "underside": "2 in", "leaf_top": "84 in"},
            expected=(("body_length", 69 * 0.0254, 1e-9),),
        ),
    ),
    "overtravel": (
        Example(
            title=_("Dock door, warm and cold"),
            source=INVENTED,
            state={
                "closing_speed": "8 in/s", "response": "40 ms", "stopping_time": "100 ms",
                **curve("curve", "0 mm, 0 N", "6.5 mm, 45 N", "26.5 mm, 110 N", "34.5 mm, 400 N"),
                "actuation_travel": "6.5 mm", "force": "150 N", "cold_factor": "2",
            },
        ),
        Example(
            title=_("0.2 m/s, 20 ms and 100 ms"),
            source=WORKED,
            state={"closing_speed": "0.2 m/s", "response": "20 ms", "stopping_time": "100 ms"},
            expected=(("required_overtravel", 0.0168, 1e-9), ("required_overtravel_printed", 0.0144, 1e-9)),
        ),
        Example(
            title=_("10 mm/s, factor 2"),
            source=WORKED,
            state={"closing_speed": "10 mm/s", "response": "0.68 s", "stopping_time": "0.20 s", "factor": "2"},
            expected=(("stopping_distance_printed", 0.0044, 1e-9), ("required_overtravel_printed", 0.0088, 1e-9)),
        ),
    ),
    "performance_level": (
        Example(
            title=_("Interlocked guard"),
            source=_("ISO 13849-1:2006, I.2, a worked example: level c."),
            state={"severity": "S2", "exposure": "F1", "avoidance": "P1"},
            expected=(("level", "c", 0.0),),
            published=True,
        ),
        Example(
            title=_("Leaf at a busy passage"),
            source=INVENTED,
            state={"severity": "S2", "exposure": "F2", "avoidance": "P1"},
        ),
    ),
    "risk_level": (
        Example(
            title=_("Folding chair"),
            source=_("Decision 2010/15/EU, annex part IV, 6.1, a worked example: 1/500, low."),
            state={"steps": ["1", "1/50", "1/10", "1"], "severity": "1"},
            expected=(("probability", 0.002, 1e-12), ("level", "low", 0.0)),
            published=True,
        ),
        Example(
            title=_("Leaf comes down"),
            source=INVENTED,
            state={"steps": ["1/20", "1/50", "1/4"], "severity": "4"},
        ),
    ),
}
# fmt: on
