"""A served world whose server can be taken away and come back, for tests of what opens without a network."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from http.client import HTTPConnection
from pathlib import Path
from typing import Any

from .browser import PHONE, Served, browsing, environment, made, page_of, started

KEPT = """async () => { const found = [];
  for (const name of await caches.keys()) if (name.startsWith("pages "))
    for (const { url } of await (await caches.open(name)).keys()) found.push(url.slice(location.origin.length));
  return found.sort(); }"""
CACHES = "async () => (await caches.keys()).sort()"
STYLED = "() => getComputedStyle(document.querySelector('.top')).display === 'flex'"


class Yard:
    """The world and its server."""

    def __init__(self, data: Path, hosts: str = "") -> None:
        self.env = environment(data) | {"SILLWRIGHT_HOSTS": hosts}
        self.served: Served = made(data, self.env)
        self._running = ExitStack()
        self.up = False

    def start(self) -> None:
        """The server answers, where it did not."""
        if not self.up:
            self._running.enter_context(started(self.served, self.env))
            self.up = True
            asked = HTTPConnection("127.0.0.1", self.served.port, timeout=240)
            asked.request("GET", "/offline/")
            assert asked.getresponse().status == 200  # it listens before it answers
            asked.close()

    def stop(self) -> None:
        """The server is gone."""
        self._running.close()
        self.up = False

    @contextmanager
    def silent(self) -> Iterator[None]:
        """The server takes connections and says nothing, as behind a bad signal."""
        ours = [each for each in _processes() if f"127.0.0.1:{self.served.port}" in _command(each)]
        for each in ours:
            os.kill(each, signal.SIGSTOP)
        try:
            yield
        finally:
            for each in ours:
                os.kill(each, signal.SIGCONT)

    def opening(self, tag: str, part: str = "") -> str:
        """The address of an opening's page."""
        return f"/openings/{self.served.openings[tag]}/{part}"

    @property
    def site(self) -> str:
        """The address of the site's page."""
        return f"/sites/{self.served.site}/"

    def script(self, name: str) -> str:
        """The address of a file that pages load."""
        return f"/static/{self._manifest()['paths'][name]}"

    def _manifest(self) -> dict[str, Any]:
        told: dict[str, Any] = json.loads((self.served.data / "static/staticfiles.json").read_text("utf-8"))
        return told

    def updated(self) -> None:
        """Another version of the program comes: a style sheet is another one, and the one before is gone."""
        told, folder = self._manifest(), self.served.data / "static"
        old = folder / told["paths"]["page.css"]
        content = old.read_text("utf-8") + f"\nmain {{ --made: '{time.time_ns()}'; }}\n"
        name = f"page.{hashlib.sha256(content.encode()).hexdigest()[:12]}.css"
        (folder / name).write_text(content, "utf-8")
        for each in folder.glob(old.name + "*"):
            each.unlink()
        told["paths"]["page.css"] = name
        (folder / "staticfiles.json").write_text(json.dumps(told), "utf-8")
        self.stop()
        self.start()


def _processes() -> list[int]:
    return [int(each.name) for each in Path("/proc").iterdir() if each.name.isdigit()]


def _command(process: int) -> str:
    try:
        return Path(f"/proc/{process}/cmdline").read_bytes().replace(b"\0", b" ").decode(errors="replace")
    except OSError:
        return ""


def kill_browser(folder: Path) -> None:
    """End the browser of a folder as an empty battery does."""
    for each in _processes():
        if f"--user-data-dir={folder}" in _command(each):
            os.kill(each, signal.SIGKILL)
    shutil.rmtree(folder / "SingletonLock", ignore_errors=True)


def until(check: Callable[[], Any], seconds: float = 20) -> Any:
    """What a check comes to as soon as it comes to anything; fails where it does not in time."""
    last = time.monotonic() + seconds
    while not (found := check()):
        assert time.monotonic() < last, "it did not come"
        time.sleep(0.1)
    return found


def visit(page: Any, *paths: str) -> Any:
    """Open pages one after the other, and wait for the last of each to be kept."""
    for path in paths:
        page.goto(path)
        until(lambda path=path: path in page.evaluate(KEPT))  # type: ignore[misc]
    until(lambda: page.evaluate("() => Boolean(navigator.serviceWorker.controller)"))
    return page


def without_network(yard: Yard, page: Any, how: str = "gone") -> None:
    """Take the network away, and what the browser keeps by itself, which would hide that a file is missing."""
    page.context.new_cdp_session(page).send("Network.clearBrowserCache")
    if how == "gone":
        yard.stop()
    else:
        page.context.set_offline(True)


def opened(page: Any, path: str) -> str:
    """Open a page and tell its headline; it has style and script, and says nothing on the console."""
    page.said.clear()
    page.goto(path)
    assert page.evaluate(STYLED)
    assert not [each for each in page.said if "Failed to load resource" not in each]
    assert not [each for each in page.said if "/static/" in each]
    return str(page.locator("h1").inner_text())


def is_old(page: Any) -> bool:
    """Whether the page says that it is a kept one, and since when."""
    line = page.locator(".kept-copy")
    return bool(line.is_visible() and until(lambda: "20" in line.inner_text()))


@contextmanager
def phone(yard: Yard, who: str | None) -> Iterator[Any]:
    """A page of somebody's phone until the block ends."""
    with browsing() as browser:
        yield page_of(browser, yard.served, who, PHONE, worker=True)
