"""What the parts of an elevation need to know of each other: opening, leaf, guides, head."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.base.fact import Fact
from sillwright.drawing.shapes import Box


@dataclass(frozen=True, kw_only=True)
class Frame:
    """The opening from the left jamb at 0, floor at 0, and the leaf as it is drawn: partly open."""

    kind: str
    width: float
    height: float
    leaf: Box
    guide: float  # width of a guide or post as it is drawn
    shaft: float  # height of the middle of shaft, barrel or header
    behind: bool = False  # the leaf is on the outside face

    @property
    def gate(self) -> bool:
        """Whether it is a gate, which moves sideways or swings."""
        return self.kind in {"slide_gate", "swing_gate"}

    @property
    def left(self) -> float:
        """The outer side of the left guide or post."""
        return min(0.0, self.leaf.left if not self.gate else 0.0) - self.guide

    @property
    def right(self) -> float:
        """The outer side of the right guide or post."""
        return max(self.width, self.leaf.right if not self.gate else 0.0) + self.guide

    def outer(self, side: str) -> float:
        """The outer side of the guide on a side."""
        return self.left if side == "left" else self.right

    def leaf_end(self, side: str) -> float:
        """The end of the leaf on a side."""
        return self.leaf.left if side == "left" else self.leaf.right


def away(side: str) -> float:
    """The direction that leads away from the opening on a side."""
    return -1.0 if side == "left" else 1.0


def drawn(*facts: Fact[float]) -> float | None:
    """The first length there is to draw; of two readings the first one."""
    for fact in facts:
        if fact.value is not None:
            return fact.value
        for rival in fact.rivals:
            if rival is not None:
                return rival
    return None


def known_side(fact: Fact[str]) -> str | None:
    """A side that somebody saw or told; None where it is not known, only assumed, or two people differ."""
    return fact.value if fact.known else None
