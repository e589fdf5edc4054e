"""Whole commands, each in a new process: one opening, a site of forty, the start of the command line.

Budgets are those of the project on a quiet machine with two cores; twice as much is allowed before the run fails.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
RUN = [sys.executable, "-c", "from sillwright.cli.main import run; run()"]
SLACK = 2.0


def forty(source: Path, target: Path) -> None:
    """A site of forty openings made from the example's, each with a tag of its own."""
    head, *openings = source.read_text(encoding="utf-8").split("\n  - tag: ")
    bodies = [opening.partition("\n")[2] for opening in openings]
    parts = [f"  - tag: N{at + 1}\n{bodies[at % len(bodies)]}" for at in range(40)]
    target.write_text("\n".join([head, *parts]), encoding="utf-8")


def timed(command: list[str], runs: int) -> tuple[float, float]:
    """The best of several runs in seconds, and the greatest memory of any child so far in MB."""
    best = float("inf")
    for _ in range(runs):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True, env={**os.environ, "PYTHONDONTWRITEBYTECODE": ""})
        best = min(best, time.perf_counter() - start)
    return best, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024


def main() -> int:
    with tempfile.TemporaryDirectory() as folder:
        here = Path(folder)
        forty(ROOT / "examples/ferry-yard.yaml", here / "forty.yaml")
        one = ROOT / "tests/survey/full.yaml"
        out = ["--out", str(here / "out")]
        bare, _ = timed([sys.executable, "-c", "pass"], 5)
        rows = [
            ("--help, beyond bare python", timed([*RUN, "--help"], 5)[0] - bare, 0.080),
            (
                "one closed form",
                timed([*RUN, "calc", "approach", str(ROOT / "examples/approach.yaml")], 5)[0],
                0.150,
            ),
            ("one opening with its papers", timed([*RUN, "study", str(one), *out], 3)[0], 1.2),
        ]
        subprocess.run(
            [*RUN, "study", str(here / "forty.yaml"), *out], check=True, capture_output=True
        )  # fills caches
        seconds, megabytes = timed([*RUN, "study", str(here / "forty.yaml"), *out], 3)
        rows += [("forty openings with their papers", seconds, 6.0)]
    missed = False
    for what, got, budget in rows:
        missed |= got > SLACK * budget
        print(f"{what:36} {got:7.3f} s   budget {budget:6.3f} s   {got / budget:5.2f} of it")
    missed |= megabytes > SLACK * 400
    print(f"{'memory of forty openings':36} {megabytes:7.0f} MB  budget    400 MB  {megabytes / 400:5.2f} of it")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
