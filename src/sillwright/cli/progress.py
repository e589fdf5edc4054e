"""How far a long command is, on standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click


def progress(count: int) -> Callable[[int], None]:
    """A function to tell how many openings are done; silent for a few and where nobody watches."""
    if count < 4 or not sys.stderr.isatty():
        return lambda done: None

    def say(done: int) -> None:
        click.echo(f"\rstudying: {done} of {count} openings", nl=done == count, err=True)

    return say
