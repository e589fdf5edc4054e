"""One answer, and what to order, on a slow phone without a signal: median and worst over the example openings.

    python bench/phone_answer.py

Debian's Chromium, 4 × CPU slowdown, the evaluator's scripts alone. The book is read once a page; what that costs stands
in a line of its own.
"""

from __future__ import annotations

import gzip
import json
import sys
from pathlib import Path
from statistics import median
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.survey.entries_at_random import FILES  # noqa: E402
from tests.web.offline_cases import cases_of  # noqa: E402
from tests.web.offline_phone import phone  # noqa: E402

from sillwright.survey.reading import read_survey  # noqa: E402
from sillwright.web.offline.book import book  # noqa: E402

GOAL = 100.0  # milliseconds
SLOWER = 4
RUNS = 7
MEASURE = """async ([book, cases]) => {
  const { answer } = await import("/offline/evaluator/answer.js");
  const { orderOf } = await import("/offline/evaluator/takeoff/order.js");
  const timed = (work) => { const began = performance.now(); work(); return performance.now() - began; };
  let kept;
  const parsed = timed(() => { kept = JSON.parse(book); });
  const first = timed(() => answer(kept, cases[0]));
  const each = cases.map((told) => timed(() => answer(kept, told)));
  const firstOrder = timed(() => orderOf(kept, cases[0]));
  const orders = cases.map((told) => timed(() => orderOf(kept, told)));
  return { parsed, first, each, firstOrder, orders };
}"""


def main() -> int:
    """Measure and print; 1 where an opening takes longer than the goal, by the median of its runs."""
    cases = [case.as_told() for path in FILES for case in cases_of(read_survey(path, draft=True))]
    text = json.dumps(book())
    with phone() as here:
        here.page.context.new_cdp_session(here.page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        runs: list[dict[str, Any]] = [here.page.evaluate(MEASURE, [text, cases]) for _ in range(RUNS)]
    openings, orders = (_medians(runs, name) for name in ("each", "orders"))
    slowest = max(milliseconds for run in runs for milliseconds in run["each"])
    packed = len(gzip.compress(text.encode()))
    print(f"book           {len(text) / 1000:6.1f} kB, {packed / 1000:.1f} kB on the way")
    print(f"book parsed    {median(run['parsed'] for run in runs):6.1f} ms")
    print(
        f"first answer   {runs[0]['first']:6.1f} ms cold, {median(run['first'] for run in runs):.1f} ms of a new book"
    )
    print(
        f"{len(cases):3} openings   {median(openings):6.1f} ms median, {max(openings):.1f} ms worst (goal {GOAL:.0f})"
    )
    print(
        f"what to order  {median(orders):6.1f} ms median, {max(orders):.1f} ms worst (goal {GOAL:.0f}), "
        f"{runs[0]['firstOrder']:.1f} ms cold"
    )
    print(f"slowest of all {slowest:6.1f} ms in {RUNS} runs; on a busy machine this is the machine's doing")
    return int(max(*openings, *orders) > GOAL)


def _medians(runs: list[dict[str, Any]], name: str) -> list[float]:
    return [median(times) for times in zip(*(run[name] for run in runs), strict=True)]


if __name__ == "__main__":
    sys.exit(main())
