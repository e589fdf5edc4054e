"""``sillwright``: the command line. A command is loaded only when it is asked for."""

from __future__ import annotations

import sys
from importlib import import_module

import click

from sillwright import __version__

COMMANDS = {
    "study": ("sillwright.cli.study", "Study a site: the answer on the screen, the papers in a folder."),
    "check": ("sillwright.cli.check", "Read a survey and say what is wrong, unclear or missing."),
    "new": ("sillwright.cli.new", "Begin a survey: asks the facts, or writes a spreadsheet to fill."),
    "calc": ("sillwright.cli.calc", "Run one calculation on a case file."),
    "selftest": ("sillwright.cli.selftest", "Run the shipped known cases on this machine."),
}


class Lazy(click.Group):
    """A group that knows its commands by name and loads one when it is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(COMMANDS[cmd_name][0]).command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, text) for name, (_, text) in COMMANDS.items()])


@click.group(
    cls=Lazy,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Example: sillwright study examples/ferry-yard.yaml --out papers",
)
@click.version_option(__version__, message="%(version)s")
def sillwright() -> None:
    """Entrapment protection at powered doors and gates, from survey to papers.

    An aid to a qualified person: the operator's instructions, local codes and the authority having jurisdiction
    decide. Work on springs, cables and operators is for trained technicians with power locked out.
    """


def run() -> None:
    """The entry point: one table from errors to exit codes, nothing else is caught."""
    try:
        sys.exit(sillwright(standalone_mode=False))
    except click.exceptions.Abort:
        click.echo("stopped; nothing was written", err=True)
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except Exception as error:
        from sillwright.base.errors import SillwrightError

        if not isinstance(error, SillwrightError):
            raise
        click.echo(str(error), err=True)
        sys.exit(error.exit_code)
