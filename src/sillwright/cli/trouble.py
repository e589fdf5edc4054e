"""``sillwright trouble``: what is wrong with a door, asked step by step, or answered once from a file."""

from __future__ import annotations

import json
import sys
from dataclasses import replace
from pathlib import Path

import click

from sillwright.base.errors import UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say
from sillwright.cli.call_said import answer_of
from sillwright.cli.dialogue import Dialogue
from sillwright.cli.interview import Interview, Lead
from sillwright.cli.speech import HERE, said
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.leading import lead
from sillwright.trouble.model import FaultModel
from sillwright.trouble.reading import CallFile, read_call
from sillwright.trouble.said import Named, advice_as_json
from sillwright.trouble.writing import write_call


@click.command("trouble", epilog="Example: sillwright trouble --record call.yaml")
@click.argument("call", type=click.Path(path_type=Path), required=False)
@click.option("--record", type=click.Path(path_type=Path), help="Write the call to this file (YAML or .json).")
@click.option("--resume", type=click.Path(path_type=Path), help="Go on with a recorded call.")
@click.option("--replace", "over", is_flag=True, help="Record over a file that is there.")
@click.option("--fact", "facts", multiple=True, metavar="NAME=VALUE", help="What is known, such as rain=yes.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as one JSON document.")
def command(
    call: Path | None, record: Path | None, resume: Path | None, over: bool, facts: tuple[str, ...], as_json: bool
) -> None:
    """Find what is wrong with a door, one question at a time.

    It begins with what keeps people from harm. Answer by number; ? means "don't know", b goes back, c changes an
    earlier answer, q stops. With --record nothing is lost whenever it ends, and --resume goes on. A recorded CALL
    as argument is answered once, without questions.
    """
    if call is not None and (record or resume):
        raise click.UsageError(said(HERE, N_("a CALL is answered once; say --resume FILE to go on with it")))
    book = fault_book()
    source = call or resume
    told = _with_facts(read_call(source, book) if source else CallFile(), facts, book)
    interview = Interview(book, _leading(book))
    if call is None:
        told = _asked(interview, told, record or resume, over=over or (record or resume) == resume, quiet=as_json)
    elif not as_json:
        click.echo("\n".join(answer_of(book, told.call, interview.lead(told.call))))
    if as_json:
        document = {"format": "sillwright-advice/1", **advice_as_json(Named(book), interview.lead(told.call), HERE)}
        click.echo(json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False))


def _asked(interview: Interview, told: CallFile, file: Path | None, *, over: bool, quiet: bool) -> CallFile:
    """The call after the dialogue. Before the first question it is clear that it can be written down."""
    if file is not None:
        write_call(file, told, replace=over)

    def keep(now: CallFile) -> None:
        if file is not None:
            write_call(file, now, replace=True)

    dialogue = Dialogue(interview, told, keep, answers=not quiet)
    dialogue.run()
    keep(dialogue.told)
    if file is not None:
        words = N_("{file}: the call as it stands; {typed} goes on with it")
        click.echo(said(HERE, words, file=file, typed=f"sillwright trouble --resume {file}"), err=True)
    return dialogue.told


def _leading(book: FaultModel) -> Lead:
    """What answers a call: the compiled engine, which takes seconds once on a new machine and says so."""
    begun = False

    def lead_on(call: Call) -> Advice:
        nonlocal begun
        if not begun and sys.stderr is not None and sys.stderr.isatty():
            click.echo(said(HERE, N_("weighing the answers …")), err=True)
        begun = True
        return lead(book, call, engine="kernel")

    return lead_on


def _with_facts(told: CallFile, facts: tuple[str, ...], book: FaultModel) -> CallFile:
    """The call with the facts of the command, which count before those of the file."""
    known, found = dict(book.facts), dict(told.call.facts)
    for each in facts:
        name, _, value = each.partition("=")
        if value not in known.get(name, ()):
            of = known.get(name)
            nearest = did_you_mean(value[:80], of) if of else did_you_mean(name[:80], known)
            raise UnknownName(
                say(N_("--fact {fact}: not known here; {nearest}"), fact=_short(each), nearest=nearest)
            )
        found[name] = value
    return replace(told, call=replace(told.call, facts=tuple(found.items())))


def _short(text: str) -> str:
    return "".join(sign if sign.isprintable() else "?" for sign in text[:60])
