"""Computes src/sillwright/trouble/data/reading_rows.toml from typical loops: ``python tools/write_reading_rows.py``.

A test computes the rows again. It takes about a minute.
"""

from pathlib import Path

from sillwright.circuit.loops import typical
from sillwright.trouble.measuring import CIRCUITS, READINGS, settings, shown

TARGET = Path(__file__).parents[1] / "src/sillwright/trouble/data/reading_rows.toml"
HEAD = """\
# How often each outcome of a reading is met: by circuit, reading and hurt, on a typical loop. Computed from
# readings.toml and sillwright.circuit by tools/write_reading_rows.py, never written by hand; a test computes it again.
# The outcomes stand in sillwright.trouble.measuring.READINGS, from sound to hurt.
"""
UNSEEN = {"radio", "pulse_two_wire", "pulse_three_wire"}
"""At the operator a meter sees the output of a receiver or a converter, and nothing of the edge."""


def text() -> str:
    """The file as it should stand."""
    parts = [HEAD]
    for circuit in CIRCUITS:
        loop = typical(circuit)
        for reading in READINGS:
            if circuit in UNSEEN and reading.startswith("operator"):
                continue
            parts.append(f"\n[{circuit}.{reading}]\n")
            for hurt in (None, *settings()["hurt"]):
                row = ", ".join(f"{each:.4f}" for each in shown(reading, loop, hurt))
                parts.append(f"{hurt or 'sound'} = [{row}]\n")
    return "".join(parts)


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
