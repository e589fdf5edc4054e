"""Compiles what is compiled on first use in a process beside the server, so that no page waits for it.

The process waits a little, so that the first pages come at once, works at low priority, and ends with the server.
Run as ``python -m sillwright.web.serving.warming SECONDS``.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

AFTER = 15.0  # s, from the start of the server
NICE = 10
STEP = 0.5  # s between looks at whether the server is still there
ENDING = 5.0  # s, for the process to end


@contextmanager
def warming(after: float = AFTER) -> Iterator[subprocess.Popen[bytes]]:
    """A process that compiles while the block runs, from ``after`` seconds on; what it compiled stays on disk."""
    command = [sys.executable, "-m", "sillwright.web.serving.warming", f"{after:g}"]
    nowhere = subprocess.DEVNULL
    beside = subprocess.Popen(  # noqa: S603 - nothing of it comes from outside
        command, stdin=nowhere, stdout=nowhere, stderr=nowhere
    )
    try:
        yield beside
    finally:
        beside.terminate()
        with suppress(subprocess.TimeoutExpired):
            beside.wait(ENDING)


def warm(after: float, there: Callable[[], bool]) -> bool:
    """Wait, then compile as long as ``there`` says that somebody waits for it; whether all of it was done."""
    until = time.monotonic() + after
    while time.monotonic() < until:
        if not there():
            return False
        time.sleep(min(STEP, after))
    from sillwright.study.warming import kernels  # not before: whoever ends the server at once waits for no import

    for each in kernels():
        if not there():
            return False
        each()
    return True


if __name__ == "__main__":
    parent = os.getppid()
    os.nice(NICE)
    warm(float(sys.argv[1]), lambda: os.getppid() == parent)
