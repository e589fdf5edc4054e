"""Draws the icons of the home screen from src/sillwright/web/static/mark.svg: ``python tools/write_icons.py``."""

from pathlib import Path

import typst

STATIC = Path(__file__).parents[1] / "src/sillwright/web/static"
INK, PAPER = "#0b3f66", "#ffffff"
ICONS = {  # name: pixels, share of the width that the mark takes, ground, mark
    "192": (192, 0.75, PAPER, INK),
    "512": (512, 0.75, PAPER, INK),
    "maskable-512": (512, 0.5, INK, PAPER),  # a system may cut everything but the inner four fifths off
    "touch-180": (180, 0.66, INK, PAPER),
}


def drawn(pixels: int, share: float, ground: str, mark: str) -> bytes:
    """The mark on a ground, as PNG."""
    svg = (STATIC / "mark.svg").read_text("utf-8").replace(INK, mark)
    page = f"""#set page(width: {pixels}pt, height: {pixels}pt, margin: 0pt, fill: rgb("{ground}"))
#align(center + horizon, image(bytes({_quoted(svg)}), format: "svg", width: {100 * share}%))"""
    made = typst.compile(page.encode(), format="png", ppi=72)
    assert isinstance(made, bytes)
    return made


def _quoted(text: str) -> str:
    return '"' + text.strip().replace("\\", "\\\\").replace('"', '\\"') + '"'


if __name__ == "__main__":
    (STATIC / "icons").mkdir(exist_ok=True)
    for name, how in ICONS.items():
        (STATIC / "icons" / f"{name}.png").write_bytes(drawn(*how))
