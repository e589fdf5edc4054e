"""A served world and real browsers for the tests that look through one: Debian's Chromium, driven by Playwright."""

from __future__ import annotations

import atexit
import json
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal

import pytest

ROOT = Path(__file__).parents[2]
PHONE = {"viewport": {"width": 390, "height": 844}, "device_scale_factor": 2, "has_touch": True, "is_mobile": True}
DESK = {"viewport": {"width": 1280, "height": 900}}
# What a browser says by itself where there is no signal.
NO_SIGNAL = ("ERR_INTERNET_DISCONNECTED", "ERR_FAILED", "ERR_NETWORK_CHANGED", "when fetching the script")
# At a first visit the worker starts two seconds after the page, which comes first; no test has to wait for that.
AT_ONCE = """const later = setTimeout;
globalThis.setTimeout = (run, wait, ...more) => later(run, wait === 2000 ? 0 : wait, ...more);"""
PATIENCE = 45_000
"""Milliseconds that a page is waited for: a busy machine is no mistake, and what never comes fails all the same."""
Theme = Literal["light", "dark"]


@dataclass
class Served:
    """A server of the invented world on this machine."""

    port: int
    sessions: dict[str, str]
    site: str
    openings: dict[str, str]
    data: Path

    @property
    def address(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}"


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@contextmanager
def serving(data: Path, database: str | None = None) -> Iterator[Served]:
    """The invented world, served from a data folder until the block ends."""
    env = environment(data, database)
    found = made(data, env)
    with started(found, env):
        yield found


def environment(data: Path, database: str | None = None) -> dict[str, str]:
    """What a server of this data folder is told."""
    env = {**os.environ, "SILLWRIGHT_DATA": str(data), "DJANGO_SETTINGS_MODULE": "sillwright.web.settings"}
    env.pop("DATABASE_URL", None)
    if database:
        env["DATABASE_URL"] = database
    return env


def made(data: Path, env: dict[str, str]) -> Served:
    """The invented world in a data folder, and a port for it; nobody answers there yet."""
    if "DATABASE_URL" in env:
        told = _make(env)
    else:
        folder, told = _world()
        shutil.copytree(folder, data, dirs_exist_ok=True)
    world = json.loads(told)
    return Served(free_port(), world["sessions"], world["site"], world["openings"], data)


@cache
def _world() -> tuple[Path, str]:
    """The invented world in a folder to copy: making it takes longer than most tests of a page."""
    folder = Path(tempfile.mkdtemp(prefix="sillwright-world-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder, _make(environment(folder))


def _make(env: dict[str, str]) -> str:
    told = subprocess.run(
        [sys.executable, "-m", "tests.web.browser_world"],
        env=env, cwd=ROOT, capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    return told.stdout.splitlines()[-1]


@contextmanager
def started(served: Served, env: dict[str, str]) -> Iterator[None]:
    """A server of a world that was made, until the block ends."""
    command = [sys.executable, "-m", "gunicorn", "sillwright.web.wsgi", "-b", f"127.0.0.1:{served.port}", "-w", "1"]
    command += ["--worker-class", "gthread", "--threads", "4", "--log-level", "error"]
    with (served.data / "served.log").open("ab") as log:
        server = subprocess.Popen(command, env=env, cwd=ROOT, stdout=log, stderr=log)
        try:
            _wait_for(served.port)
            yield
        finally:
            server.terminate()
            try:
                server.wait(15)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait(5)


def _wait_for(port: int) -> None:
    until = time.monotonic() + 120
    while time.monotonic() < until:
        with socket.socket() as asked:
            asked.settimeout(1)
            if asked.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.05)
    raise RuntimeError("the server did not come up")


def chromium_path() -> str:
    """Debian's Chromium; without it the test is skipped, under CI it fails."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if not found:
        if os.environ.get("CI"):
            pytest.fail("chromium is not here (Debian package chromium)")
        pytest.skip("chromium is not here (Debian package chromium)")
    return found


@contextmanager
def browsing() -> Iterator[Any]:
    """A browser until the block ends."""
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=["--no-sandbox"])
        try:
            yield browser
        finally:
            browser.close()


def page_of(
    browser: Any,
    served: Served,
    who: str | None,
    device: dict[str, Any],
    theme: Theme = "light",
    *,
    worker: bool = False,
) -> Any:
    """A page of somebody's browser; whatever the page complains about on its console is kept in ``page.said``.

    With ``worker`` pages are kept for when there is no network: each browser fetches every script then.
    """
    workers = "allow" if worker else "block"
    more = {"color_scheme": theme, "reduced_motion": "reduce", "locale": "en-US", "service_workers": workers}
    context = browser.new_context(**device, **more, base_url=served.address)
    if worker:
        context.add_init_script(AT_ONCE)
    if who:
        context.add_cookies([{"name": "session", "value": served.sessions[who], "url": served.address}])
    page = context.new_page()
    page.said = []
    page.on("console", lambda message: page.said.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: page.said.append(str(error)))
    page.set_default_timeout(PATIENCE)
    return page
