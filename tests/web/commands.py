"""The commands that serve, back up and restore, run as a person runs them; servers end with their block."""

from __future__ import annotations

import ctypes
import fcntl
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from urllib.parse import urlencode, urlsplit

from tests.web.postgres import PR_SET_PDEATHSIG

ROOT = Path(__file__).parents[2]
RUN = [sys.executable, "-c", "from sillwright.cli.main import run; run()"]
STARTS_IN = 90  # s, on a machine that does much else


def environment(data: Path | None = None, **more: str) -> dict[str, str]:
    """The environment of a command: a data folder, and nothing of the tests' own settings."""
    ours = {"DATABASE_URL", "DJANGO_SETTINGS_MODULE", "NUMBA_CACHE_DIR"}
    env = {
        name: value for name, value in os.environ.items() if not name.startswith("SILLWRIGHT_") and name not in ours
    }
    if data is not None:
        env["SILLWRIGHT_DATA"] = str(data)
    return {**env, **more}


def sillwright(
    *words: str | Path, data: Path | None = None, cwd: Path | None = None, **more: str
) -> subprocess.CompletedProcess[str]:
    """One command until it ends."""
    return subprocess.run(
        [*RUN, *map(str, words)],
        cwd=cwd, env=environment(data, **more), capture_output=True, text=True, timeout=STARTS_IN, check=False,
    )  # fmt: skip


@dataclass
class Running:
    """A server that answers."""

    process: subprocess.Popen[bytes]
    said: Path
    logged: Path

    @property
    def lines(self) -> list[str]:
        """What it printed."""
        return self.said.read_text("utf-8").splitlines()

    @property
    def address(self) -> str:
        """Where it answers: the end of the first line."""
        return self.lines[0].split()[-1]

    @property
    def link(self) -> str:
        """The link to the first account; empty where none was printed."""
        return next((line.split()[-1] for line in self.lines if "/invitations/" in line), "")

    def browser(self) -> Browser:
        """A browser in which nobody is signed in."""
        return Browser(self.address)


@dataclass
class Browser:
    """Asks a server as a browser does, without scripts: keeps cookies, follows nothing by itself."""

    address: str
    cookies: dict[str, str] = field(default_factory=lambda: {"csrf": "a" * 32})

    def get(self, path: str) -> tuple[HTTPResponse, str]:
        """A page."""
        return self._ask("GET", path, {}, "")

    def post(self, path: str, fields: dict[str, str]) -> tuple[HTTPResponse, str]:
        """A form that is sent."""
        head = {"Content-Type": "application/x-www-form-urlencoded", "X-CSRFToken": self.cookies["csrf"]}
        return self._ask("POST", path, head, urlencode(fields))

    def _ask(self, method: str, path: str, head: dict[str, str], body: str) -> tuple[HTTPResponse, str]:
        connection = HTTPConnection(urlsplit(self.address).netloc, timeout=120)
        try:
            cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
            connection.request(method, path, body or None, {"Cookie": cookies, **head})
            answer = connection.getresponse()
            for given in answer.headers.get_all("Set-Cookie", []):
                name, _, value = given.partition(";")[0].partition("=")
                self.cookies[name] = value
            return answer, answer.read().decode()
        finally:
            connection.close()


@contextmanager
def running(data: Path | None, *options: str, cwd: Path, **more: str) -> Iterator[Running]:
    """``sillwright serve`` on a free port, until the block ends or this process does."""
    libc = ctypes.CDLL(None)
    said, logged = cwd / "said.txt", cwd / "logged.txt"
    with said.open("wb") as out, logged.open("wb") as log:
        process = subprocess.Popen(
            [*RUN, "serve", "--port", "0", *options],
            cwd=cwd, env=environment(data, **more), stdin=subprocess.DEVNULL, stdout=out, stderr=log,
            start_new_session=True, preexec_fn=lambda: libc.prctl(PR_SET_PDEATHSIG, signal.SIGKILL),
        )  # fmt: skip
        try:
            wait_until(lambda: b"Ready." in said.read_bytes() or process.poll() is not None)
            assert process.poll() is None, logged.read_text("utf-8")
            yield Running(process, said, logged)
        finally:
            end(process)


@dataclass
class Warm:
    """Starts servers of one data folder quickly, by ``tests/web/warm.py``."""

    process: subprocess.Popen[str]
    data: Path

    @property
    def said(self) -> Path:
        """What the last one printed."""
        return self.data / "said.txt"

    def start(self, port: int = 0) -> int:
        """Start one; its process group."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.said.unlink(missing_ok=True)
        self.process.stdin.write(f"'{self.said}' --port {port}\n")
        self.process.stdin.flush()
        return int(self.process.stdout.readline())

    def port(self) -> int:
        """Where the last one answers, once it does."""
        wait_until(lambda: self.said.exists() and "Ready." in self.said.read_text("utf-8"))
        return int(self.said.read_text("utf-8").splitlines()[0].rpartition(":")[2])

    def gone(self) -> bool:
        """Whether nobody holds the folder's lock any more, which goes with the last process of a server."""
        with (self.data / "run/serve.lock").open("a") as file:
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError:
                return False
        return True


@contextmanager
def warmed(data: Path, **more: str) -> Iterator[Warm]:
    """A starter of servers on a data folder, until the block ends; they end with it."""
    data.mkdir(mode=0o700, exist_ok=True)
    with (data / "warm.log").open("wb") as log, subprocess.Popen(
        [sys.executable, "-m", "tests.web.warm"], cwd=ROOT, env=environment(data, **more),
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=log, text=True,
    ) as process:  # fmt: skip
        try:
            assert process.stdout is not None
            assert process.stdout.readline() == "warm\n", (data / "warm.log").read_text("utf-8")
            yield Warm(process, data)
        finally:
            process.kill()


def wait_until(done: object, seconds: float = STARTS_IN) -> None:
    """Ask again until something is so; an error where it never is."""
    until = time.monotonic() + seconds
    while not done():  # type: ignore[operator]
        assert time.monotonic() < until, "this took too long"
        time.sleep(0.02)


def end(process: subprocess.Popen[bytes]) -> None:
    """End a server and whatever it started."""
    with suppress(ProcessLookupError):
        process.terminate()
    try:
        process.wait(30)
    except subprocess.TimeoutExpired:
        pass
    finally:
        with suppress(ProcessLookupError):
            os.killpg(process.pid, signal.SIGKILL)
        process.wait(60)
