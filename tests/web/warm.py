"""Starts servers quickly: loads all that a server needs once, then forks one for every line that it is told.

``python -m tests.web.warm`` reads lines of options, starts ``sillwright serve`` with them in a process group of its
own, and prints its number. What it runs is the command itself; only the imports are done already. Servers end with
this process.
"""

from __future__ import annotations

import ctypes
import os
import shlex
import signal
import sys
from contextlib import suppress

from sillwright.cli.main import run
from sillwright.web.serving.folder import data_folder, set_up, use
from tests.web.postgres import PR_SET_PDEATHSIG


def main() -> None:
    """Fork for every line."""
    use(data_folder())
    set_up()
    from sillwright.web.serving.running import load

    load()
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # nobody asks how they ended
    print("warm", flush=True)
    for line in sys.stdin:
        said, *options = shlex.split(line)
        child = os.fork()
        if child == 0:
            _become(said, options)
        with suppress(OSError):
            os.setpgid(child, child)  # whoever comes first, here or there
        print(child, flush=True)


def _become(said: str, options: list[str]) -> None:
    with suppress(OSError):
        os.setpgid(0, 0)
    ctypes.CDLL(None).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
    signal.signal(signal.SIGCHLD, signal.SIG_DFL)
    out = os.open(said, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    for stream in (1, 2):
        os.dup2(out, stream)
    os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
    sys.argv = ["sillwright", "serve", *options]
    try:
        run()
    finally:
        os._exit(1)


if __name__ == "__main__":
    main()
