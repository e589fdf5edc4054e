"""Plain text tables."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from unicodedata import combining, east_asian_width


def width_of(text: str) -> int:
    """How many columns a text takes on a terminal.

    >>> width_of("Tor 門")
    6
    """
    return sum(0 if combining(sign) else 2 if east_asian_width(sign) in "WF" else 1 for sign in text)


def plain(text: str) -> str:
    """A user's text on one line without control characters, so that a terminal shows it and does nothing else."""
    return "".join(sign if sign.isprintable() else " " for sign in text)


def table(head: Sequence[str], rows: Sequence[Sequence[str]], *, widest: int = 44) -> str:
    """A table with a rule under its head; long cells are wrapped.

    >>> print(table(["tag", "answer"], [["B2", "no"]]))
    tag  answer
    ---  ------
    B2   no
    """
    cells = [[wrap(plain(cell), widest) or [""] for cell in row] for row in [head, *rows]]
    widths = [max(width_of(line) for row in cells for line in row[column]) for column in range(len(head))]
    lines = []
    for number, row in enumerate(cells):
        for at in range(max(len(cell) for cell in row)):
            parts = [cell[at] if at < len(cell) else "" for cell in row]
            padded = (part + " " * (size - width_of(part)) for part, size in zip(parts, widths, strict=True))
            lines.append("  ".join(padded).rstrip())
        if number == 0:
            lines.append("  ".join("-" * size for size in widths))
    return "\n".join(lines)
