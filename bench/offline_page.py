"""A kept study page without a network on a slow phone: when something is seen, and when it can be used.

    python bench/offline_page.py

Debian's Chromium, 4 × CPU slowdown of the page (the worker's own thread is not slowed down), the server gone and the
browser's own cache empty; ten visits from a page of the same site, in the same tab. Goal: usable within 1 s.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.web.offline import Yard, is_old, phone, visit, without_network  # noqa: E402

VISITS, GOAL = 10, 1.0
SEEN = "() => performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? NaN"
USABLE = "() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"


def measured(page: Any, away: str, path: str) -> tuple[float, float]:
    """Seconds until something of the kept page is seen, and until its scripts have run."""
    page.goto(away)
    page.goto(path)
    page.wait_for_timeout(300)
    assert is_old(page), "this is no kept page"
    return page.evaluate(SEEN) / 1000, page.evaluate(USABLE) / 1000


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder:
        yard = Yard(Path(folder))
        yard.start()
        with phone(yard, "technician") as page:
            visit(page, yard.site, yard.opening("B1"))
            without_network(yard, page)
            page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
            found = [measured(page, yard.site, yard.opening("B1")) for _ in range(VISITS)]
        yard.stop()
    for name, values in zip(("seen", "usable"), zip(*found, strict=True), strict=True):
        middle, worst = statistics.median(values), max(values)
        verdict = "within" if worst <= GOAL else "OVER"
        print(
            f"kept study page {name:7} median {middle:4.2f} s, worst of {VISITS} {worst:4.2f} s ({GOAL:g})  {verdict}"
        )


if __name__ == "__main__":
    main()
