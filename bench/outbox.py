"""What a phone writes: how long until it is on the disk, and how long a day's work takes to reach a shaky server.

    python bench/outbox.py

Debian's Chromium. First 100 facts kept one by one, at full speed and at a quarter of it. Then 500 entries and 40
photos of 300 kB on their way to a server that is killed ten times and started again: nothing lost, nothing twice.
Loopback only.
"""

from __future__ import annotations

import hashlib
import sqlite3
import statistics
import sys
import tempfile
import time
from base64 import b64encode
from contextlib import closing
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT))

from tests.web.browser import PHONE, Served, browsing, page_of  # noqa: E402
from tests.web.pictures import grainy_jpeg  # noqa: E402
from tests.web.test_kill import Installation, installation  # noqa: E402

KEPT, SYNCED = 50.0, 60.0  # ms, s
ENTRIES, PHOTOS = 500, 40
KILLS = (541, 501, 401, 301, 201, 39, 32, 24, 16, 8)  # when no more than so much is left
FACTS = ("door.headroom", "door.clear_width", "door.clear_height", "box.offset", "door.side_room.left")
MODULES = """async () => { const names = performance.getEntriesByType("resource").map((each) => each.name);
  const named = (name) => import(names.find((each) => each.includes(`/offline/${name}.`)));
  Object.assign(window, { outbox: await named("outbox"), photos: await named("photos"), sync: await named("sync") }); }"""
ADD = """async ([count, about, facts]) => { const times = [];
  for (let each = 0; each < count; each += 1) { const start = performance.now();
    await outbox.add({ kind: "observation", ...about, fact: facts[each % facts.length], says: "value",
      typed: `${each} mm`, replaces: [] });
    times.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 400)); } // nobody writes faster
  return times; }"""
CLEAR = "async () => { for (const each of await outbox.entries()) await outbox.discard(each.id); }"
MANY = """async ([count, site, openings, facts]) => outbox.addAll([...Array(count).keys()].map((each) => (
  { kind: "observation", site, opening: openings[each % openings.length], fact: facts[each % facts.length],
    says: "value", typed: `${each} mm`, evidence: "bench", replaces: [] })))"""
PHOTO = """async ([about, text]) => {
  const bytes = Uint8Array.from(atob(text), (each) => each.charCodeAt(0)).buffer;
  await photos.keepPhoto({ ...about, id: crypto.randomUUID(), person: (await outbox.person()).id, state: "waiting",
    at: new Date().toISOString(), taken: new Date().toISOString(), size: bytes.byteLength }, bytes); }"""
LEFT = "async () => { const { waiting, refused, photos } = await outbox.state((await outbox.person()).id);" \
    " return [waiting + photos, refused]; }"  # fmt: skip


def keeping(page: Any, about: dict[str, str]) -> None:
    """How long it takes until a fact is on the disk, at two speeds of the processor."""
    devtools = page.context.new_cdp_session(page)
    page.context.set_offline(True)
    for rate in (1, 4):
        devtools.send("Emulation.setCPUThrottlingRate", {"rate": rate})
        times = sorted(page.evaluate(ADD, [100, about, list(FACTS)]))
        median, p95 = statistics.median(times), times[94]
        fits = "within" if p95 < KEPT else "OVER"
        print(
            f"a fact kept, CPU ÷ {rate}   median {median:5.1f} ms   p95 {p95:5.1f} ms ({KEPT:.0f})   {fits}",
            flush=True,
        )
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    page.evaluate(CLEAR)


def filling(page: Any, served: Served) -> None:
    """A day's work, still on the phone."""
    page.evaluate(MANY, [ENTRIES, served.site, list(served.openings.values()), list(FACTS)])
    for _ in range(PHOTOS):
        content = grainy_jpeg(870, 660)
        told = {
            "site": served.site,
            "opening": served.openings["B2"],
            "digest": hashlib.sha256(content).hexdigest(),
        }
        page.evaluate(PHOTO, [told, b64encode(content).decode()])


def sending(page: Any, here: Installation, group: int) -> int:
    """Send it all while the server is killed again and again; the server that runs in the end."""
    kills, start = 0, time.monotonic()
    page.context.set_offline(False)
    page.evaluate("() => { sync.send(true); }")
    refused = 0
    while time.monotonic() - start < 300:
        left, refused = page.evaluate(LEFT)
        if not left:
            break
        if kills < len(KILLS) and left <= KILLS[kills]:
            here.kill(group)
            group = here.start()
            kills += 1
        time.sleep(0.02)
    took = time.monotonic() - start
    fits = "within" if took < SYNCED and kills == len(KILLS) else "OVER"
    print(
        f"{ENTRIES} entries and {PHOTOS} photos, {kills} kills   {took:5.1f} s ({SYNCED:.0f})   refused {refused}   {fits}",
        flush=True,
    )
    return group


def nothing_lost(here: Installation) -> None:
    """What the server has: everything, and once."""
    counts = [
        here.ask("SELECT count(*), count(DISTINCT typed) FROM records_observation WHERE evidence = 'bench'")[0],
        here.ask("SELECT count(*), count(DISTINCT digest) FROM records_photo WHERE state = 'kept'")[0],
    ]
    kept = counts == [(ENTRIES, ENTRIES), (PHOTOS, PHOTOS)]
    print(
        f"in the log {counts[0][0]}, photos kept {counts[1][0]}: {'nothing lost, nothing twice' if kept else 'WRONG'}"
    )


def main() -> None:
    """Measure and print."""
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder) / "data"

        def ask(query: str) -> list[tuple[Any, ...]]:
            with closing(sqlite3.connect(data / "db.sqlite3", timeout=20)) as connection:
                return connection.execute(query).fetchall()

        with installation(data, ask) as here, browsing() as browser:
            group = here.start()
            served = Served(here.port, here.world["sessions"], here.world["site"], here.world["openings"], data)
            page = page_of(browser, served, "technician", PHONE, worker=True)
            page.goto(f"/openings/{served.openings['B2']}/facts/door.headroom/")
            page.wait_for_load_state("networkidle")
            page.evaluate(MODULES)
            keeping(page, {"site": served.site, "opening": served.openings["B2"]})
            filling(page, served)
            group = sending(page, here, group)
            nothing_lost(here)
            here.kill(group)


if __name__ == "__main__":
    main()
