"""Papers: one opening cold and warm, forty openings, and what they weigh. Run: .venv/bin/python bench/paper.py"""

from __future__ import annotations

import resource
import subprocess
import sys
from datetime import date
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))
BUDGETS = {
    "one opening, first report after the imports": 0.15,
    "one opening, again": 0.10,
    "forty openings, report": 2.5,
    "forty elevations as SVG": 0.5,
}
COLD = """
import sys; sys.path.insert(0, {root!r})
from bench.paper import one
print(one())
"""
DAY, VERSION = date(2026, 11, 25), "0"


def one() -> str:
    """Seconds of the first and the second report of one opening in this process."""
    from tests.paper.studies import full_survey, site

    from sillwright.paper.report import report

    study = site(full_survey(ROOT))
    times = []
    for _ in range(2):
        start = perf_counter()
        report(study, made_on=DAY, version=VERSION)
        times.append(perf_counter() - start)
    return " ".join(f"{each:.4f}" for each in times)


def cold() -> tuple[float, float]:
    """The same in a new process, the best of three."""
    runs = []
    for _ in range(3):
        done = subprocess.run(
            [sys.executable, "-c", COLD.format(root=str(ROOT))], capture_output=True, text=True, check=True
        )
        first, again = map(float, done.stdout.split())
        runs.append((first, again))
    return min(first for first, _ in runs), min(again for _, again in runs)


def forty() -> tuple[float, float, int]:
    """Seconds for the report of forty openings and for their elevations, and the size of the report."""
    from tests.paper.studies import full_survey, many

    from sillwright.paper.elevation import elevation
    from sillwright.paper.report import report
    from sillwright.paper.svg import svg

    study = many(full_survey(ROOT), 40)
    start = perf_counter()
    made = report(study, made_on=DAY, version=VERSION)
    middle = perf_counter()
    for each in study.openings:
        svg(elevation(each.opening, study.reader, each.findings))
    return middle - start, perf_counter() - middle, len(made)


def main() -> int:
    """Print each figure beside its budget; 1 where one is over twice its budget."""
    first, again = cold()
    report_time, drawings, size = forty()
    figures = dict(zip(BUDGETS, (first, again, report_time, drawings), strict=True))
    for name, seconds in figures.items():
        print(f"{name:<45} {seconds * 1000:8.0f} ms   budget {BUDGETS[name] * 1000:6.0f} ms")
    print(f"{'forty openings, size':<45} {size / 1e6:8.1f} MB")
    print(
        f"{'greatest memory of this process':<45} {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:8.0f} MB"
    )
    return int(any(seconds > 2 * BUDGETS[name] for name, seconds in figures.items()))


if __name__ == "__main__":
    sys.exit(main())
