"""Runs tests on PostgreSQL: ``python -m tests.web.on_postgres -q tests/web -m "not slow"``.

Starts a server, hands its address to the tests' settings, ends it with them.
"""

from __future__ import annotations

import os
import subprocess
import sys

from tests.web.postgres import postgres


def main(arguments: list[str]) -> int:
    """pytest's exit status."""
    with postgres() as server:
        env = {**os.environ, "SILLWRIGHT_TEST_DATABASE": server.database("doors")}
        return subprocess.run([sys.executable, "-m", "pytest", *arguments], env=env, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
