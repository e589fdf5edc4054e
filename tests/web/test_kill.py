"""The server is killed while people write: what was acknowledged is there, and nothing is half there."""

from __future__ import annotations

import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from tests.web.commands import ROOT, Warm, environment, wait_until, warmed
from tests.web.postgres import postgres

pytestmark = [pytest.mark.slow, pytest.mark.allow_hosts(["127.0.0.1"])]

WRITERS = 6
FACTS = ("door.clear_width", "door.clear_height", "door.closing_speed")
Ask = Callable[[str], list[tuple[Any, ...]]]


@dataclass
class Writer(threading.Thread):
    """A person who writes one fact again and again, and sends a writing anew until it is acknowledged."""

    path: str
    fact: str
    cookies: str
    port: int
    stop: threading.Event
    sent: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__(daemon=True)

    def __hash__(self) -> int:
        return id(self)

    def run(self) -> None:
        """Until told to stop."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=5)
        while not self.stop.is_set():
            if len(self.sent) == len(self.kept):
                self.sent.append(str(uuid.uuid4()))
            try:
                self._send(connection)
            except (OSError, HTTPException):
                connection.close()
                time.sleep(0.01)
        connection.close()

    def _send(self, connection: HTTPConnection) -> None:
        key = self.sent[-1]
        fields = {"id": key, "fact": self.fact, "typed": f"{2000 + len(self.sent)} mm", "origin": "measured"}
        fields |= {"seen": self.kept[-1]} if self.kept else {}
        headers = {
            "Cookie": f"{self.cookies}; csrf={'a' * 32}", "X-CSRFToken": "a" * 32,
            "Content-Type": "application/x-www-form-urlencoded",
        }  # fmt: skip
        connection.request("POST", self.path, urlencode(fields), headers)
        answer = connection.getresponse()
        body = answer.read()
        if answer.status == 302 and f"kept={key}" in answer.headers["Location"]:
            self.kept.append(key)
        elif answer.status < 500:
            self.refused.append(f"{answer.status} {body[:300]!r}")
            self.stop.set()


@dataclass
class Installation:
    """A server that can be started and killed, and its database looked into."""

    warm: Warm
    world: dict[str, Any]
    ask: Ask
    port: int = 0

    def start(self) -> int:
        """Start the server; its process group. It keeps its port from the first start on."""
        group = self.warm.start(self.port)
        self.port = self.port or self.warm.port()
        return group

    def kill(self, group: int) -> None:
        """Kill all of it at once."""
        os.killpg(group, signal.SIGKILL)
        wait_until(self.warm.gone, 20)

    def writers(self, stop: threading.Event) -> list[Writer]:
        """People at the openings, each with a fact of their own."""
        openings = sorted(self.world["openings"].values())
        places = [(opening, fact) for fact in FACTS for opening in openings][:WRITERS]
        session = f"session={self.world['sessions']['technician']}"
        return [Writer(f"/openings/{key}/say/", fact, session, self.port, stop) for key, fact in places]


@contextmanager
def installation(data: Path, ask: Ask, **more: str) -> Iterator[Installation]:
    """The invented world, ready to be served."""
    data.mkdir(mode=0o700)
    made = subprocess.run(
        [sys.executable, "-m", "tests.web.browser_world"], cwd=ROOT, env=environment(data, **more),
        capture_output=True, text=True, timeout=120, check=True,
    )  # fmt: skip
    with warmed(data, **more) as warm:
        yield Installation(warm, json.loads(made.stdout.splitlines()[-1]), ask)


def killed(here: Installation, times: int, seconds: float) -> list[Writer]:
    """Kill a busy server so many times; the writers, who have all been answered in the end."""
    chance, stop, until = random.Random(8045), threading.Event(), time.monotonic() + seconds  # noqa: S311
    group = here.start()
    writers = here.writers(stop)
    for each in writers:
        each.start()
    try:
        for count in range(times):
            assert time.monotonic() < until, f"only {count} kills in {seconds} s"
            if count % 10:
                before = _kept(writers)
                wait_until(lambda before=before: _kept(writers) > before or stop.is_set(), 30)  # type: ignore[misc]
            time.sleep(chance.uniform(0, 0.15))
            here.kill(group)
            _check(here, writers)
            group = here.start()
        wait_until(lambda: all(each.kept for each in writers), 30)
    finally:
        stop.set()
        for each in writers:
            each.join(20)
        with suppress(ProcessLookupError):
            here.kill(group)
    assert not [why for each in writers for why in each.refused]
    return writers


def _kept(writers: list[Writer]) -> int:
    return sum(len(each.kept) for each in writers)


def _check(here: Installation, writers: list[Writer]) -> None:
    """What was acknowledged before the kill is in the log, with its line in the trail."""
    acknowledged = [key for each in writers for key in list(each.kept)]
    log = {uuid.UUID(str(key)) for (key,) in here.ask("SELECT id FROM records_observation")}
    lost = [key for key in acknowledged if uuid.UUID(key) not in log]
    assert not lost, f"{len(lost)} of {len(acknowledged)} acknowledged writings are lost"
    (noted,) = here.ask("SELECT count(*) FROM records_event WHERE verb = 'observed'")[0]
    assert noted == len(log)


def _check_all(here: Installation, writers: list[Writer]) -> None:
    """Every fact is what its log comes to; a writing is in the log once, or was never acknowledged."""
    _check(here, writers)
    log: dict[Any, dict[str, list[str]]] = {}
    columns = "site_id, opening_id, fact, id, replaces"
    for site, opening, fact, key, replaces in here.ask(f"SELECT {columns} FROM records_observation"):  # noqa: S608
        names = json.loads(replaces) if isinstance(replaces, str) else replaces
        log.setdefault((site, opening, fact), {})[str(uuid.UUID(str(key)))] = names
    facts = here.ask("SELECT site_id, opening_id, path, heads FROM records_fact")
    assert len(facts) == len(log)
    for site, opening, path, heads in facts:
        told = log[site, opening, path]
        replaced = {name for names in told.values() for name in names}
        standing = {each["id"] for each in (json.loads(heads) if isinstance(heads, str) else heads)}
        assert standing == set(told) - replaced, path
    mine = {key for each in writers for key in each.sent}
    there = {key for told in log.values() for key in told} & mine
    assert len(there) <= _kept(writers) + len(writers)
    assert _kept(writers) > 2 * len(writers), "nobody wrote much: the test shows nothing"


def test_a_hundred_kills_lose_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    data = tmp_path / "data"

    def ask(query: str) -> list[tuple[Any, ...]]:
        with closing(sqlite3.connect(data / "db.sqlite3", timeout=20)) as connection:
            return connection.execute(query).fetchall()

    with installation(data, ask) as here:
        writers = killed(here, 100, 150)
        _check_all(here, writers)
        assert ask("PRAGMA integrity_check") == [("ok",)]


def test_kills_of_the_server_lose_nothing_on_postgresql(tmp_path: Path) -> None:
    import psycopg

    with postgres() as database:
        address = database.database("doors")

        def ask(query: str) -> list[tuple[Any, ...]]:
            with psycopg.connect(address) as connection:
                return connection.execute(query).fetchall()  # type: ignore[arg-type]

        with installation(tmp_path / "data", ask, DATABASE_URL=address) as here:
            _check_all(here, killed(here, 20, 120))
