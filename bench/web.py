"""The signed-in study page and the writing of an observation, against a plain Django page, interleaved in one run.

    python bench/web.py                 PostgreSQL and SQLite, 8 and 32 clients
    python bench/web.py --seconds 2 --rounds 1

The peer (``bench/peer``) is what a newcomer would write: session, user and three more queries, a template of 30
rows; its write is one insert. Ours writes at one door after another, and once more everybody at one door, where each
waits for the one before. Both are served by gunicorn with two workers of four threads, on the same two cores
as the client. Everything stays on the loopback address and ends by itself.
"""

from __future__ import annotations

import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "bench")]

from load import Load, run  # noqa: E402
from tests.web.browser import _wait_for, free_port  # noqa: E402

PYTHON = sys.executable
ID = re.compile(rb"&key=([0-9a-f-]{36})")
DOOR = re.compile(rb"POST /openings/([0-9a-f-]{36})/")
KINDS = ("read", "write", "one door")
"""Reads of one page; writes, each at the next door of the site; writes of everybody at one door at once."""


@dataclass
class Side:
    """A served application and how to ask it."""

    name: str
    port: int
    read: bytes
    write_head: str
    body: dict[str, str]
    env: dict[str, str]
    wrote: int  # the status of a write that was kept
    doors: tuple[str, ...] = ()
    stands: dict[str, list[str]] = field(default_factory=dict)
    at: int = 0

    def note(self, request: bytes, status: int, answer: bytes) -> None:
        """What was acknowledged stands until another one replaces it."""
        if status == 302 and (found := ID.search(request)):
            door = DOOR.match(request)
            self.stands.setdefault(door[1].decode() if door else "", []).append(found[1].decode())

    def reading(self) -> bytes:
        """One request for the page."""
        return self.read

    def writing(self) -> bytes:
        """One request that writes, at the next door."""
        self.at += 1
        return self._at(self.at % len(self.doors) if self.doors else 0)

    def at_one_door(self) -> bytes:
        """One request that writes, at the same door as all others."""
        return self._at(0)

    def _at(self, number: int) -> bytes:
        fields, head = self.body, self.write_head
        if self.doors:  # each writer replaces what one of them wrote there before, as people do
            door = self.doors[number]
            standing = self.stands.setdefault(door, [])
            seen = {"seen": standing.pop(0)} if standing else {}
            fields, head = {**self.body, "key": str(uuid.uuid4()), **seen}, head.replace(self.doors[0], door)
        body = urlencode(fields).encode()
        return (head + f"Content-Length: {len(body)}\r\n\r\n").encode() + body


def _head(method: str, path: str, port: int, cookies: str, more: str = "") -> str:
    return f"{method} {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nCookie: {cookies}\r\n{more}"


@contextmanager
def _gunicorn(application: str, env: dict[str, str], port: int, folder: Path) -> Iterator[None]:
    command = [PYTHON, "-m", "gunicorn", application, "-b", f"127.0.0.1:{port}", "-w", "2", "--log-level", "error"]
    command += ["--worker-class", "gthread", "--threads", "4", "--preload", "--keep-alive", "30"]
    server = subprocess.Popen(command, env=env, cwd=folder)
    try:
        _wait_for(port)
        yield
    finally:
        server.terminate()
        server.wait(20)


@contextmanager
def _peer(data: Path, address: str | None) -> Iterator[Side]:
    env = {**os.environ, "PEER_DATA": str(data), "PYTHONPATH": str(ROOT / "bench")}
    env.pop("DJANGO_SETTINGS_MODULE", None)
    env.update({"DATABASE_URL": address} if address else {})
    told = _out([PYTHON, "-m", "peer.site"], env, ROOT / "bench").split()
    port = free_port()
    cookies, path = f"sessionid={told[1]}; csrftoken={told[2]}", f"/{told[0]}/"
    form = "Content-Type: application/x-www-form-urlencoded\r\n"
    with _gunicorn("peer.site:application", env, port, ROOT / "bench"):
        yield Side(
            name="peer",
            port=port,
            read=(_head("GET", path, port, cookies) + "\r\n").encode(),
            write_head=_head("POST", path, port, cookies, form + f"X-CSRFToken: {told[2]}\r\n"),
            body={"words": "10 ft 4 in, measured"},
            env=env,
            wrote=200,
        )


@contextmanager
def _ours(data: Path, address: str | None) -> Iterator[Side]:
    env = {**os.environ, "SILLWRIGHT_DATA": str(data), "DJANGO_SETTINGS_MODULE": "sillwright.web.settings"}
    env.pop("DATABASE_URL", None)
    env.update({"DATABASE_URL": address} if address else {})
    world = json.loads(_out([PYTHON, "-m", "tests.web.browser_world"], env, ROOT).splitlines()[-1])
    port, opening = free_port(), world["openings"]["B1"]
    csrf = "a" * 32
    cookies = f"session={world['sessions']['technician']}; csrf={csrf}"
    form = f"Content-Type: application/x-www-form-urlencoded\r\nAccept: application/json\r\nX-CSRFToken: {csrf}\r\n"
    with _gunicorn("sillwright.web.wsgi", env, port, ROOT):
        yield Side(
            name="ours",
            port=port,
            read=(_head("GET", f"/openings/{opening}/", port, cookies) + "\r\n").encode(),
            write_head=_head(
                "POST", f"/openings/{opening}/say/", port, cookies, form + "Prefer: return=minimal\r\n"
            ),
            doors=(opening, *(each for each in world["openings"].values() if each != opening)),
            body={"fact": "door.opening_speed", "says": "value", "typed": "9 in/s", "origin": "measured"},
            env=env,
            wrote=302,
        )


def _out(command: list[str], env: dict[str, str], folder: Path) -> str:
    made = subprocess.run(command, env=env, cwd=folder, stdout=subprocess.PIPE, text=True, timeout=180, check=True)
    return made.stdout


def _measure(sides: list[Side], clients: int, seconds: float, rounds: int) -> dict[tuple[str, str], Load]:
    """Each side's reads and writes in turn, several rounds; what counts is the sum of the rounds."""
    sums: dict[tuple[str, str], Load] = {}
    for _ in range(rounds):
        for kind in KINDS:
            for side in sides:
                if kind == "read":
                    run(side.port, 1, 0.1, side.reading)  # the first look after a write makes the answer anew
                    found = run(side.port, clients, seconds, side.reading)
                else:
                    write = side.writing if kind == "write" else side.at_one_door
                    found = run(side.port, clients, seconds, write, side.note, side.wrote)
                whole = sums.setdefault((side.name, kind), Load())
                whole.seconds += found.seconds
                whole.times += found.times
                whole.wrong += found.wrong
    return sums


def _report(title: str, found: dict[tuple[str, str], Load]) -> None:
    for kind in KINDS:
        peer, ours = found["peer", kind], found["ours", kind]
        print(
            f"{title:24} {kind:8}  ours {ours.rate:7.0f}/s p99 {ours.quantile(0.99):6.1f} ms   "
            f"peer {peer.rate:7.0f}/s p99 {peer.quantile(0.99):6.1f} ms   ratio {ours.rate / peer.rate:5.2f}   "
            f"wrong {ours.wrong}/{peer.wrong}",
            flush=True,
        )


COUNT = "import django; django.setup(); from sillwright.web.records.models import {0} as M; print(M.objects.filter({1}).count())"


def _nothing_lost(side: Side, acknowledged: int) -> None:
    counts = [
        int(_out([PYTHON, "-c", COUNT.format(model, query)], side.env, ROOT))
        for model, query in (
            ("Observation", "fact='door.opening_speed'"),
            ("Event", "what='door.opening_speed', verb='observed'"),
        )
    ]
    kept = counts[0] >= acknowledged and counts[0] == counts[1]
    print(
        f"{'':24} acknowledged {acknowledged}, in the log {counts[0]}, in the trail {counts[1]}: {'kept' if kept else 'LOST'}"
    )


def main() -> None:
    """Measure and print."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--seconds", type=float, default=4.0)
    asked.add_argument("--rounds", type=int, default=3)
    asked.add_argument("--only", choices=["sqlite", "postgresql"])
    given = asked.parse_args()
    at_eight = {
        kind: _database(kind, given.seconds, given.rounds)
        for kind in ("postgresql", "sqlite")
        if given.only in (None, kind)
    }
    if len(at_eight) == 2:
        ours, peer = at_eight["sqlite"]["ours", "read"].rate, at_eight["postgresql"]["peer", "read"].rate
        print(f"{'sqlite / peer on postgresql':31}ours {ours:7.0f}/s peer {peer:.0f}/s ratio {ours / peer:5.2f}")


def _database(kind: str, seconds: float, rounds: int) -> dict[tuple[str, str], Load]:
    """Measure and print; what was found with eight clients."""
    eight: dict[tuple[str, str], Load] = {}
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="bench-web-")))
        address = None
        addresses: list[str | None] = [None, None]
        if kind == "postgresql":
            from tests.web.postgres import postgres

            server = stack.enter_context(postgres())
            addresses = [server.database("peer"), server.database("ours")]
        (folder / "peer").mkdir()
        peer = stack.enter_context(_peer(folder / "peer", addresses[0] or address))
        ours = stack.enter_context(_ours(folder / "ours", addresses[1] or address))
        for side in (peer, ours):
            run(side.port, 2, 0.5, side.reading)
        acknowledged = 0
        for clients in (8, 32) if kind == "postgresql" else (8,):
            found = _measure([peer, ours], clients, seconds, rounds)
            _report(f"{kind}, {clients} clients", found)
            eight = eight or found
            acknowledged += sum(
                len(each.times) - each.wrong for each in (found["ours", kind] for kind in KINDS[1:])
            )
        _nothing_lost(ours, acknowledged)
    return eight


if __name__ == "__main__":
    main()
