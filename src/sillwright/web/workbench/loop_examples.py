"""States to begin with of loops, readings, radio links and calls."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from sillwright.web.workbench.example import INVENTED, RULED, Example


def _loop(pull_up: str, end: str) -> dict[str, str | list[str]]:
    """A loop on 5 V with thresholds at a quarter and three quarters of it, and an edge of next to no resistance."""
    return {
        "loop.circuit": "resistor",
        "loop.input.supply": "5 V",
        "loop.input.pull_up": pull_up,
        "loop.input.pressed.least_voltage": "1.15 V",
        "loop.input.pressed.greatest_voltage": "1.35 V",
        "loop.input.open": "given",
        "loop.input.open.least_voltage": "3.65 V",
        "loop.input.open.greatest_voltage": "3.85 V",
        "loop.lead.length": "0 m",
        "loop.cord.length": "0 m",
        "loop.strips.length": "3 m",
        "loop.strips.strip_resistance": "0 ohm/m",
        "loop.strips.insulation": "1e12 ohm",
        "loop.end": "given",
        "loop.end.resistance": end,
    }


def _readings(*rows: tuple[str, str, str, str, str]) -> dict[str, str | list[str]]:
    """Readings in ohms between a pair: where, while pressed, ohms, whether it showed OL, whether it stood still."""
    at, pressed, ohm, over, steady = (list(each) for each in zip(*rows, strict=True))
    count = len(rows)
    told: dict[str, str | list[str]] = {
        "readings.at": at,
        "readings.pressed": pressed,
        "readings.swapped": ["false"] * count,
        "readings.between": ["pair"] * count,
        "readings.diode_test": ["false"] * count,
        "readings.ohm": ohm,
        "readings.over_range": over,
        "readings.steady": steady,
    }
    return {name: column for name, column in told.items() if any(column)}


LOOPS: dict[str, tuple[Example, ...]] = {
    "diagnose": (
        Example(
            title=_("Closes only while the button is held"),
            source=INVENTED,
            state={
                "who": "technician",
                "symptom": "CALL-01",
                "answers.test": ["cable_slack", "leaf_crooked", "spring_gap", "grinding", "closes_on_objects"],
                "answers.outcome": ["no", "no", "no", "no", "no"],
                "facts.fact": ["circuit"],
                "facts.value": ["resistor"],
                "look_ahead": "1",
            },
        ),
        Example(
            title=_("After rain, a first call"),
            source=INVENTED,
            state={"who": "owner", "symptom": "CALL-08", "look_ahead": "1"},
        ),
    ),
    "faults": (
        Example(
            title=_("5 V, 10 kΩ, end element 10 kΩ"),
            source=INVENTED,
            state={"loop": "given", **_loop("10 kohm", "10 kohm")},
        ),
        Example(
            title=_("Plain edge"),
            source=INVENTED,
            state={"circuit": "plain"},
        ),
        Example(
            title=_("Two end elements side by side"),
            source=INVENTED,
            state={"circuit": "resistor", "devices": "2", "joined": "parallel"},
        ),
    ),
    "loop_reading": (
        Example(
            title=_("Two wires, OL: good, dead or broken?"),
            source=INVENTED,
            state={"wires": "2", **_readings(("operator", "false", "", "true", ""))},
        ),
        Example(
            title=_("10 kΩ, and a press at the box does nothing"),
            source=INVENTED,
            state={
                "wires": "2",
                "element": "10 kohm",
                **_readings(("operator", "false", "10 kohm", "false", ""), ("box", "true", "10 kohm", "false", "")),
            },
        ),
        Example(
            title=_("5 kΩ, and it stands still"),
            source=INVENTED,
            state={
                "wires": "2",
                "element": "10 kohm",
                **_readings(("operator", "false", "5 kohm", "false", "steady")),
            },
        ),
    ),
    "margin": (
        Example(
            title=_("5 V, 10 kΩ, end element 10 kΩ"),
            source=RULED,
            state={**_loop("10 kohm", "10 kohm"), "samples": "500"},
            expected=(("leak_trips", 5000.0, 1.0), ("joint_trips", 20e3, 1.0), ("total_open", 30e3, 0.01)),
        ),
        Example(
            title=_("5 V, 4.7 kΩ: little room for a bad joint"),
            source=RULED,
            state={**_loop("4.7 kohm", "10 kohm"), "samples": "500"},
            expected=(("leak_trips", 1858.0, 1.0), ("joint_trips", 4100.0, 1.0), ("total_open", 14100.0, 0.01)),
        ),
        Example(
            title=_("Radio, worn tolerances"),
            source=INVENTED,
            state={**_loop("10 kohm", "8.2 kohm"), "loop.circuit": "radio", "loop.input.pull_up_tolerance": "0.2"},
        ),
    ),
    "radio": (
        Example(
            title=_("Free space, 2.4 GHz over 1 km"),
            source=_("A worked case of the free-space formula, ITU-R P.525: computed apart from it."),
            state={"frequency": "2400 MHz", "distance": "1000 m", "model": "free_space"},
            expected=(("path_loss", 100.05, 5e-3),),
        ),
        Example(
            title=_("Inside a building, 915 MHz over 20 m"),
            source=_("A worked case of the formula for buildings, ITU-R P.1238: computed apart from it."),
            state={"frequency": "915 MHz", "distance": "20 m"},
            expected=(("path_loss", 74.162, 6e-4),),
        ),
        Example(
            title=_("Battery of 1200 mAh at 0.06 mA"),
            source=RULED,
            state={
                "frequency": "915 MHz",
                "distance": "40 ft",
                "surroundings": "hall",
                "transmit_power": "10 dBm",
                "sensitivity": "-100 dBm",
                "capacity": "1200 mAh",
                "mean_current": "0.06 mA",
            },
            expected=(("battery_years", 1.8, 0.05),),
        ),
    ),
    "wire": (
        Example(
            title=_("18 gauge, 1000 ft, 20 °C"),
            source=_("A row of a handbook's wire table, solid copper at 20 °C."),
            state={"gauge": "18", "length": "1000 ft"},
            expected=(("resistance", 6.385, 3e-3),),
            published=True,
        ),
        Example(
            title=_("18 gauge stranded, 1000 ft, 75 °C"),
            source=_("A row of NFPA 70 (NEC), chapter 9, Table 8, uncoated copper."),
            state={"gauge": "18", "length": "1000 ft", "temperature": "75 degC", "build": "stranded"},
            expected=(("resistance", 7.95, 0.04),),
            published=True,
        ),
        Example(
            title=_("150 ft to the far eye, 60 mA"),
            source=INVENTED,
            state={"gauge": "22", "length": "150 ft", "current": "60 mA"},
        ),
    ),
}
