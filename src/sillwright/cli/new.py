"""``sillwright new``: asks the facts in the order in which they matter, or writes a spreadsheet to fill."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

import click

from sillwright.base.quantity import is_decimal_feet
from sillwright.base.words import N_, Units, translate
from sillwright.cli.speech import HERE, said
from sillwright.survey.questions import LISTS, Question, mistake_in, questions
from sillwright.survey.writing import draft_text, write_new, write_template

_UNKNOWN = {"", "?", "don't know", "dont know"}
_NEEDED = {"site.name", "site.country", "tag"}
_LIST_ASKS = {
    "protection": N_("Which devices protect this leaf? Give each a short name (e1, y1 …), empty when done"),
    "use.traffic": N_("Who or what passes? Name the next (1, 2 …), empty when done"),
}


class Stopped(Exception):
    """The person stopped; what was answered so far is kept."""


@click.command("new", epilog="Example: sillwright new yard.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Write over a file that is there.")
@click.option(
    "--units", type=click.Choice(["us", "metric"]), default="us", help="Units of a spreadsheet's columns."
)
def command(file: Path, replace: bool, units: str) -> None:
    """Begin a survey FILE.

    A YAML file is written from answers asked one by one; an empty answer or ? means "don't know". FILE.xlsx is a
    spreadsheet to fill, one opening a row. Stop any time with Ctrl-C: what was answered is kept.
    """
    if file.suffix.lower() == ".xlsx":
        system: Units = "us" if units == "us" else "metric"
        write_template(file, units=system, replace=replace, translate=_here)
        words = N_("{file}: a spreadsheet to fill, one opening a row; read it with {typed}")
        click.echo(said(HERE, words, file=file, typed=f"sillwright check {file}"))
        return
    if file.exists() and not replace:
        words = N_("{file} is there already; choose another name, or say --replace")
        raise click.UsageError(said(HERE, words, file=file))
    words = N_("An empty answer or ? means: don't know. Sides are said inside, looking out.")
    click.echo(f"{said(HERE, words)}\n", err=True)
    answers: dict[str, str | None] = {}
    try:
        _ask_all(answers)
    except Stopped:
        if not all(answers.get(path) for path in _NEEDED):
            raise click.Abort from None
    write_new(file, draft_text(answers, _here), replace=replace)
    known = sum(value is not None for value in answers.values())
    words = N_("{file}: {known} facts written, {unknown} not known; next: {typed}")
    typed = f"sillwright check {file}"
    click.echo(said(HERE, words, file=file, known=known, unknown=len(answers) - known, typed=typed))


def _here(words: str) -> str:
    return translate(words, HERE)


def _ask_all(answers: dict[str, str | None]) -> None:
    for listed, asked in groupby(questions(), key=lambda each: each.each):
        group = [each for each in asked if each.asked_of(answers.get("door.kind"))]
        if listed in LISTS:
            _ask_members(listed, group, answers)
            continue
        for question in group:
            answers[question.path] = _ask(question, question.path, answers)


def _ask_members(listed: str, asked: list[Question], answers: dict[str, str | None]) -> None:
    """Each member of a list in turn; ``none`` says that there is none."""
    names: list[str] = []
    while True:
        question = translate(_LIST_ASKS[listed], HERE)
        if not names:
            question = said(HERE, N_("{question}; none when there is none"), question=question)
        name = _prompt(question)
        if name in _UNKNOWN or (name == "none" and names):
            break
        if name == "none":
            answers[listed] = "none"
            return
        if not name.replace("-", "").replace("_", "").isalnum() or name in names:
            _hint(said(HERE, N_("a short name of letters and figures, each once")))
            continue
        names.append(name)
        for each in asked:
            path = each.path.replace("*", name)
            answers[path] = _ask(each, path, answers)
    if not names:
        answers[listed] = None


def _ask(question: Question, path: str, answers: dict[str, str | None]) -> str | None:
    click.echo(f"  {translate(question.why, HERE)}", err=True)
    choices = f" ({' | '.join(question.choices)})" if question.choices else ""
    while True:
        answer = _prompt(f"{translate(question.ask, HERE)}{choices}")
        if answer.casefold() in _UNKNOWN:
            if path in _NEEDED:
                _hint(said(HERE, N_("without this there is no file to write")))
                continue
            return None
        wrong = mistake_in(path, answer, answers)
        if wrong is None and question.spec.unit == "m" and is_decimal_feet(answer):
            words = N_("feet with a decimal point can be read two ways: write feet and inches, or metres")
            _hint(said(HERE, words))
            continue
        if wrong is None:
            return answer
        _hint(said(HERE, N_("{message}; {accepted}"), message=wrong.message, accepted=wrong.accepted))


def _hint(words: str) -> None:
    click.echo(f"    {words}", err=True)


def _prompt(text: str) -> str:
    try:
        answer: str = click.prompt(text, default="", show_default=False, err=True)
    except click.Abort:
        click.echo(err=True)
        raise Stopped from None
    return answer.strip()
