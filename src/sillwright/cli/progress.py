"""How far a long command is, on standard error."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click

from sillwright.base.words import N_
from sillwright.cli.speech import HERE, said


def progress(count: int) -> Callable[[int], None]:
    """A function to tell how many openings are done; silent for one or two and where nobody watches.

    It says at once that the work has begun: the first time on a machine the compiled part takes some seconds.
    """
    if count < 3 or sys.stderr is None or not sys.stderr.isatty():
        return lambda done: None

    def tell(done: int) -> None:
        words = said(HERE, N_("studying: {done} of {count} openings"), done=done, count=count)
        click.echo(f"\r{words}", nl=done == count, err=True)

    tell(0)
    return tell
