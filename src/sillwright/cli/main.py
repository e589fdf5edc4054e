"""``sillwright``: the command line. A command is loaded only when it is asked for."""

from __future__ import annotations

import errno
import os
import sys
from importlib import import_module
from io import TextIOWrapper

import click

from sillwright import __version__

COMMANDS = {
    "study": ("sillwright.cli.study", "Study a site: the answer on the screen, the papers in a folder."),
    "check": ("sillwright.cli.check", "Read a survey and say what is wrong, unclear or missing."),
    "new": ("sillwright.cli.new", "Begin a survey: asks the facts, or writes a spreadsheet to fill."),
    "cut-list": ("sillwright.cli.cut_list", "Say what to buy and how to cut it, for the openings of some surveys."),
    "trouble": ("sillwright.cli.trouble", "Find what is wrong with a door, one question at a time."),
    "catalogue": ("sillwright.cli.catalogue", "Check a catalogue of parts and prices, or begin one."),
    "calc": ("sillwright.cli.calc", "Run one calculation on a case file."),
    "selftest": ("sillwright.cli.selftest", "Run the shipped known cases on this machine."),
    "serve": ("sillwright.cli.server:serve", "Serve the web application from one folder of data."),
    "invite": ("sillwright.cli.server:invite", "Print a link that makes somebody an owner."),
    "backup": ("sillwright.cli.server:backup", "Write everything the web application keeps to one file."),
    "restore": ("sillwright.cli.server:restore", "Read a backup into an empty folder."),
}


class Lazy(click.Group):
    """A group that knows its commands by name and loads one when it is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module, _, name = COMMANDS[cmd_name][0].partition(":")
        command: click.Command = getattr(import_module(module), name or "command")
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
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper) and (stream.encoding or "").lower().replace("-", "") != "utf8":
            stream.reconfigure(errors="replace")  # a terminal without the sign still shows the answer
    try:
        with sillwright.make_context("sillwright", sys.argv[1:]) as context:
            sillwright.invoke(context)
    except click.exceptions.Exit as wanted:
        sys.exit(wanted.exit_code)
    except (click.exceptions.Abort, KeyboardInterrupt):
        _say_that_it_stopped()
        sys.exit(130)
    except click.ClickException as error:
        error.show()
        sys.exit(error.exit_code)
    except OSError as error:
        sys.exit(_not_said(error))
    except Exception as error:
        from sillwright.base.errors import SillwrightError

        if not isinstance(error, SillwrightError):
            raise
        from sillwright.cli.speech import HERE

        click.echo(error.in_words(HERE), err=True)
        sys.exit(error.exit_code)


def _say_that_it_stopped() -> None:
    from sillwright.base.words import N_  # a start that goes well does without the words of one that does not
    from sillwright.cli.speech import HERE, said

    click.echo(said(HERE, N_("stopped; nothing was written")), err=True)


def _not_said(error: OSError) -> int:
    """The answer could not be printed: a reader that has gone is no mistake, a full disk is."""
    sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - nothing more goes out, at exit either
    if error.errno == errno.EPIPE:
        return 0
    from sillwright.base.words import N_
    from sillwright.cli.speech import HERE, said

    click.echo(said(HERE, N_("the answer cannot be printed ({why})"), why=error.strerror), err=True)
    return 4
