"""Runs the web application's tests on PostgreSQL: ``python -m tests.web.on_postgres -q``.

Starts a server, hands its address to the tests' settings, ends it with them. What brings a database of its own, or
asks none, is left out (conftest.py); so are slow tests, and pages that compute much and ask little.
"""

from __future__ import annotations

import os
import subprocess
import sys

from tests.web.postgres import postgres

LEFT_OUT = (
    "test_serving", "test_backup", "test_backup_file", "test_migrations", "test_workbench", "test_workbench_charts",
    "test_workbench_fields", "test_answers_page", "test_answers_what_if", "test_api_calc", "test_fuzz_facts",
    "test_sweep", "test_taking_pages",
)  # fmt: skip


def main(arguments: list[str]) -> int:
    """pytest's exit status."""
    left_out = [f"--ignore=tests/web/{name}.py" for name in LEFT_OUT]
    wanted = ["tests/web", "-m", "not slow", "--dist", "loadfile", *left_out, *arguments]
    with postgres() as server:
        env = {**os.environ, "SILLWRIGHT_TEST_DATABASE": server.database("doors")}
        return subprocess.run([sys.executable, "-m", "pytest", *wanted], env=env, check=False).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
