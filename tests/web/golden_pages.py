"""Golden pictures: a screenshot against one that somebody looked at, within a tolerance.

Browsers and fonts move on, so single signs do not count: both pictures are made small and grey, and what is
compared is where ink stands. ``SILLWRIGHT_GOLDEN=write`` writes them anew; look at them before they are kept.
"""

from __future__ import annotations

import io
import os
from pathlib import Path
from typing import Any

GOLDEN = Path(__file__).parents[1] / "golden" / "pages"
CELL = 12  # CSS px a side
MEAN, MOST = 6.0, 0.04  # grey levels on average; share of cells that may differ by more than 48


def unlike(page: Any, name: str) -> str:
    """How a page differs from its golden picture; empty where it does not."""
    taken = page.screenshot(animations="disabled", caret="hide", scale="css")
    path = GOLDEN / f"{name}.png"
    if os.environ.get("SILLWRIGHT_GOLDEN") == "write":
        GOLDEN.mkdir(parents=True, exist_ok=True)
        path.write_bytes(_lighter(taken))
        return ""
    if not path.exists():
        return f"{path.name}: there is no golden picture"
    return _difference(taken, path.read_bytes(), path.name)


def _lighter(picture: bytes) -> bytes:
    from PIL import Image

    out = io.BytesIO()
    few = Image.open(io.BytesIO(picture)).convert("P", palette=Image.Palette.ADAPTIVE, colors=32)
    few.save(out, "PNG", optimize=True)
    return out.getvalue()


def _difference(one: bytes, other: bytes, name: str) -> str:
    from PIL import Image, ImageChops

    pictures = [Image.open(io.BytesIO(each)).convert("L") for each in (one, other)]
    if pictures[0].size != pictures[1].size:
        return f"{name}: {pictures[0].size} instead of {pictures[1].size}"
    size = tuple(max(1, side // CELL) for side in pictures[0].size)
    small = [each.resize(size, Image.Resampling.BOX) for each in pictures]
    levels = ImageChops.difference(*small).tobytes()
    mean = sum(levels) / len(levels)
    far = sum(level > 48 for level in levels) / len(levels)
    return "" if mean <= MEAN and far <= MOST else f"{name}: {mean:.1f} grey levels off, {far:.1%} of it far off"
