"""A photo is unpacked in a process of its own: what it needs at most is set beforehand, and it takes nobody along.

Bytes made to break a decoder end that process, not the server. It sees no variable of the environment, writes no
file, and has no secret in its memory.
"""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from contextlib import suppress
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import Any

from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.records.images import MOST_BYTES, NotAPhoto, Picture, kind_of, picture_of

MEMORY = 2 << 30  # bytes of address space: the largest photo in its least handy form, and the libraries
SECONDS = 45  # for one photo
_ONE = Lock()  # at a time in each process of the server


def picture_apart(content: bytes) -> Picture:
    """What :func:`picture_of` makes of these bytes, without its risks.

    Raises :class:`NotAPhoto`; and :class:`OutputError` where this machine cannot do it now.
    """
    if len(content) > MOST_BYTES:
        raise NotAPhoto("large")
    kind_of(content)
    command = [sys.executable, "-I", "-m", "sillwright.web.records.apart"]
    with _ONE:
        try:
            done = subprocess.run(  # noqa: S603 - nothing of it comes from outside
                command, input=content, env={}, capture_output=True, timeout=SECONDS, check=False
            )
        except subprocess.TimeoutExpired:
            raise NotAPhoto("heavy") from None
        except OSError as error:
            raise _not_now(error.strerror or "") from error
    return _read(done.returncode, done.stdout)


def _read(code: int, told: bytes) -> Picture:
    if code in (-signal.SIGXCPU, -signal.SIGALRM):
        raise NotAPhoto("heavy")
    if code < 0 and code != -signal.SIGKILL:  # the decoder fell; SIGKILL is the machine's want of memory
        raise NotAPhoto("broken")
    if code:
        raise _not_now(str(code))
    head, _line, rest = told.partition(b"\n")
    said = json.loads(head)
    if "why" in said:
        raise NotAPhoto(said["why"])
    size, taken = said["size"], said["taken"]
    found = Picture(rest[:size], rest[size:], said["width"], said["height"])
    return replace(found, taken=datetime.fromisoformat(taken)) if taken else found


def _not_now(why: str) -> OutputError:
    return OutputError(say(N_("photos cannot be unpacked on this server now ({why}); try again later"), why=why))


def main() -> None:
    """In the process of its own: a photo on standard input, what becomes of it on standard output."""
    _bound()
    out = sys.stdout.buffer
    try:
        found = picture_of(sys.stdin.buffer.read(MOST_BYTES + 1))
    except NotAPhoto as error:
        _tell(out, {"why": error.why})
        return
    taken = found.taken.isoformat() if found.taken else ""
    _tell(out, {"size": len(found.content), "width": found.width, "height": found.height, "taken": taken})
    out.write(found.content)
    out.write(found.small)
    out.flush()


def _bound() -> None:
    import resource

    with suppress(OSError):
        Path("/proc/self/oom_score_adj").write_text("1000", "ascii")  # where memory runs out, this goes first

    for what, most in (
        (resource.RLIMIT_AS, MEMORY),
        (resource.RLIMIT_CPU, SECONDS),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        _soft, hard = resource.getrlimit(what)
        resource.setrlimit(what, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard))


def _tell(out: Any, said: dict[str, Any]) -> None:
    out.write(json.dumps(said).encode() + b"\n")


if __name__ == "__main__":
    main()
