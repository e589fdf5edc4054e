"""Leaves for the tests: one to vary, and many at random."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf
from typing import Any

from sillwright.mechanics import ContactCase, Drive, Edge, Obstruction, Stop

CURVE = ((0.0, 0.0), (0.008, 35.0), (0.026, 110.0), (0.033, 450.0))


def leaf(**changes: Any) -> ContactCase:
    """A sectional leaf with a soft edge against a chest; dotted names change a part: ``drive__push_limit``."""
    case = ContactCase(
        closing_speed=0.25,
        moving_mass=160.0,
        drive=Drive(stiffness=60e3, damping=200.0, push_limit=500.0, lift_limit=900.0),
        stop=Stop(reaction=0.07, deceleration=2.5, dwell=0.3, opening_acceleration=1.5, opening_speed=0.2),
        edge=Edge(curve=CURVE, actuation_travel=0.008, response=0.03, end_stiffness=200e3),
        obstruction=Obstruction(stiffness=25e3),
        duration=6.0,
    )
    for name, value in changes.items():
        part, _, field = name.partition("__")
        case = replace(case, **{part: replace(getattr(case, part), **{field: value}) if field else value})
    return case


def random_leaf(dice: random.Random, *, hard: bool = True) -> ContactCase:
    """A leaf within what doors have, half of them with limits that bite."""
    bites = hard and dice.random() < 0.5
    t1, t2, t3 = dice.uniform(0.004, 0.012), dice.uniform(0.01, 0.03), dice.uniform(0.003, 0.01)
    f1, f2, f3 = dice.uniform(15, 60), dice.uniform(20, 120), dice.uniform(150, 500)
    return ContactCase(
        closing_speed=dice.uniform(0.1, 0.4),
        moving_mass=30.0 * (500.0 / 30.0) ** dice.random(),
        drive=Drive(
            stiffness=1e4 * 30.0 ** dice.random(),
            damping=50.0 * 40.0 ** dice.random(),
            push_limit=dice.choice([150.0, 200.0, 300.0, 600.0]) if bites else None,
            lift_limit=dice.choice([200.0, 300.0, 1000.0, None]) if bites else None,
        ),
        stop=Stop(
            reaction=dice.uniform(0.02, 0.15),
            deceleration=dice.uniform(1, 5),
            dwell=dice.uniform(0, 0.5),
            opening_acceleration=dice.uniform(0.5, 3),
            opening_speed=dice.uniform(0.1, 0.3),
        ),
        edge=Edge(
            curve=((0, 0), (t1, f1), (t1 + t2, f1 + f2), (t1 + t2 + t3, f1 + f2 + f3)),
            actuation_travel=t1 if dice.random() < 0.5 else dice.uniform(0.003, 0.02),
            response=dice.uniform(0.01, 0.05),
            end_stiffness=5e4 * 10.0 ** dice.random(),
        ),
        obstruction=Obstruction(stiffness=dice.choice([None, 25e3, 75e3, 150e3, 500e3])),
        duration=4.0,
    )


def unlimited(value: float | None) -> float:
    """A limit as a number: none is infinite."""
    return inf if value is None else value
