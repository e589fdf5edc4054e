"""``sillwright selftest``: the shipped known cases, each with its source, run on this machine."""

from __future__ import annotations

import click

from sillwright.cli.table import table
from sillwright.study.selftest import run_all

_FAILED = 1


@click.command("selftest", epilog="Example: sillwright selftest --all")
@click.option("--all", "show_all", is_flag=True, help="List every case, not only those that fail.")
def command(show_all: bool) -> None:
    """Run the shipped known cases and say whether this machine computes what their sources print."""
    checks = run_all()
    failed = [each for each in checks if not each.met]
    said = "all as their sources say" if not failed else f"{len(failed)} NOT as their sources say"
    click.echo(f"{len(checks)} known cases, {said}")
    shown = checks if show_all else failed
    if shown:
        click.echo()
        rows = [
            [each.what, each.expected, each.got, "as said" if each.met else "OFF", each.source] for each in shown
        ]
        click.echo(table(["case", "expected", "got", "", "source"], rows, widest=40))
    if failed:
        raise click.exceptions.Exit(_FAILED)
