"""``sillwright selftest``: the shipped known cases, each with its source, run on this machine."""

from __future__ import annotations

import click

from sillwright.base.words import N_, translate
from sillwright.cli.speech import HERE, said
from sillwright.cli.table import table
from sillwright.study.selftest import run_all

_FAILED = 1


@click.command("selftest", epilog="Example: sillwright selftest --all")
@click.option("--all", "show_all", is_flag=True, help="List every case, not only those that fail.")
def command(show_all: bool) -> None:
    """Run the shipped known cases and say whether this machine computes what their sources print."""
    checks = run_all(HERE)
    failed = [each for each in checks if not each.met]
    count = len(checks)
    if failed:
        words = said(HERE, N_("{count} known cases, {off} NOT as their sources say"), count=count, off=len(failed))
    else:
        words = said(HERE, N_("{count} known cases, all as their sources say"), count=count)
    click.echo(words)
    shown = checks if show_all else failed
    if shown:
        click.echo()
        met, off = said(HERE, N_("as said")), said(HERE, N_("OFF"))
        rows = [[each.what, each.expected, each.got, met if each.met else off, each.source] for each in shown]
        head = [N_("case"), N_("expected"), N_("got"), "", N_("source")]
        click.echo(table([translate(each, HERE) for each in head], rows, widest=40))
    if failed:
        raise click.exceptions.Exit(_FAILED)
