"""Pages on a slow phone: bytes transferred, bytes of the first view, and when the page can be used.

    python bench/pages.py

Debian's Chromium, 4 × CPU slowdown, 1.6 Mb/s, 150 ms; an empty cache, and a second visit. Loopback only.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.web.browser import PHONE, Served, browsing, page_of, serving  # noqa: E402

PAGES = {
    "site": "/sites/{site}/",
    "study page": "/openings/{B1}/",
    "facts": "/openings/{B1}/facts/",
    "workbench, contact": "/workbench/contact/",
    "sign in": "/accounts/login/",
}
SLOW = {"offline": False, "latency": 150, "downloadThroughput": 200_000, "uploadThroughput": 94_000}
WHOLE, FIRST, READY = 120_000, 40_000, 2.0
USABLE = "() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"


def visit(page: Any, address: str) -> tuple[int, int, float]:
    """Bytes in all, bytes of document and style, seconds until scripts have run."""
    sizes: dict[str, int] = {}
    kinds: dict[str, str] = {}
    devtools = page.context.new_cdp_session(page)
    devtools.send("Network.enable")
    devtools.on("Network.responseReceived", lambda each: kinds.update({each["requestId"]: each["type"]}))
    devtools.on(
        "Network.loadingFinished", lambda each: sizes.update({each["requestId"]: each["encodedDataLength"]})
    )
    devtools.send("Network.emulateNetworkConditions", SLOW)
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    page.goto(address)
    page.wait_for_load_state("networkidle")
    first = sum(size for key, size in sizes.items() if kinds.get(key) in {"Document", "Stylesheet"})
    return int(sum(sizes.values())), int(first), page.evaluate(USABLE) / 1000


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as served, browsing() as browser:
        for name, path in PAGES.items():
            _report(browser, served, name, path.format(site=served.site, **served.openings))


def _report(browser: Any, served: Served, name: str, address: str) -> None:
    warm = page_of(browser, served, "owner", PHONE, worker=True)
    warm.goto(address)  # the server has its answer kept, as on any day
    warm.context.close()
    page = page_of(browser, served, "owner", PHONE, worker=True)
    whole, first, cold = visit(page, address)
    *_, again = visit(page, address)
    page.context.close()
    fits = whole <= WHOLE and first <= FIRST and cold <= READY
    print(
        f"{name:20} {whole / 1000:6.1f} kB (120)  first view {first / 1000:5.1f} kB (40)  usable {cold:4.2f} s, "
        f"again {again:4.2f} s (2)  {'within' if fits else 'OVER'}",
        flush=True,
    )


if __name__ == "__main__":
    main()
