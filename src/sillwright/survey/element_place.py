"""Where the end element of an edge sits, out of what somebody wrote."""

from __future__ import annotations

from typing import Literal

EndPlace = Literal["edge_far", "edge_near", "box", "board", "unknown"]

ENDED = ("diode_capacitor", "resistor")
"""Circuits whose loop has an element at its end."""
SIGNS: dict[EndPlace, tuple[str, ...]] = {
    "edge_far": ("far",),
    "board": ("board", "operator", "terminal", "panel"),
    "box": ("box",),
    "edge_near": ("near", "lead end"),
}
"""What is written of each place; the first that is found counts."""


def element_place(written: str | None) -> EndPlace:
    """The place that a text names.

    >>> element_place("at the board"), element_place("far_end"), element_place(None)
    ('board', 'edge_far', 'unknown')
    """
    words = (written or "").replace("_", " ").lower()
    for place, signs in SIGNS.items():
        if any(sign in words for sign in signs):
            return place
    return "unknown"


def watches_the_edge(written: str | None) -> bool:
    """Whether an end element there lets the operator see the whole edge, as far as it is told."""
    return element_place(written) in {"edge_far", "unknown"}
