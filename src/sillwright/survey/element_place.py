"""Where the end element of an edge sits, out of what somebody wrote."""

from __future__ import annotations

from typing import Literal

EndPlace = Literal["edge_far", "edge_near", "box", "board", "unknown"]

ENDED = ("diode_capacitor", "resistor")
"""Circuits whose loop has an element at its end."""
SIGNS: dict[EndPlace, tuple[str, ...]] = {
    "edge_far": ("far end", "far side", " far "),
    "board": ("board", "operator", "terminal", "panel", "converter", "module", "receiver", "cabinet", "controller"),
    "box": ("box",),
    "edge_near": ("near", "lead end", "transmitter"),
}
"""What is written of each place, in small letters between blanks."""
DOUBTS = (
    "not", "n't", "never", "without", " no ", "?", "maybe", "perhaps", "probably", "unknown", "as far", "so far",
    "far from", "of the lead", "of the cord", "of the cable",
)  # fmt: skip
"""Words that turn a place round or leave it open: “not at the far end”, “the far end of the lead”."""


def element_place(written: str | None) -> EndPlace:
    """The place that a text names; unknown where it names none, two, or one in doubt.

    >>> element_place("at the board"), element_place("far_end"), element_place(None)
    ('board', 'edge_far', 'unknown')
    >>> element_place("not at the far end"), element_place("far end or box"), element_place("as far as I know")
    ('unknown', 'unknown', 'unknown')
    """
    words = f" {(written or '').replace('_', ' ').lower()} "
    if any(doubt in words for doubt in DOUBTS):
        return "unknown"
    named = [place for place, signs in SIGNS.items() if any(sign in words for sign in signs)]
    return named[0] if len(named) == 1 else "unknown"


def watches_the_edge(written: str | None) -> bool | None:
    """Whether an end element there lets the operator see the whole edge; None where the text does not say.

    >>> watches_the_edge("far_end"), watches_the_edge("in the box"), watches_the_edge("somewhere")
    (True, False, None)
    """
    place = element_place(written)
    return None if place == "unknown" else place == "edge_far"
