"""``sillwright check``: reads a survey and reports, without studying it."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from sillwright.base.finding import Finding, finding_as_json
from sillwright.base.words import N_, Sentence, render
from sillwright.cli.speech import said
from sillwright.cli.study import reader_of
from sillwright.cli.table import plain
from sillwright.survey.ahead import dates_ahead
from sillwright.survey.asks import plausibility
from sillwright.survey.model import Opening, Survey
from sillwright.survey.reading import read_survey
from sillwright.survey.required import missing_facts


@click.command("check", epilog="Example: sillwright check examples/ferry-yard.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
def command(file: Path, as_json: bool) -> None:
    """Read a survey file and say what is wrong, what is unclear and what a study still needs.

    A draft may lack everything but the tags. Exit 0 when it can be read, 2 when it is refused.
    """
    survey = read_survey(file, draft=True)
    reader = reader_of(survey, None)
    if as_json:
        click.echo(json.dumps(_document(survey), ensure_ascii=False, indent=1))
        return
    count = len(survey.openings)
    counted = N_("{file}: 1 opening, {ready}") if count == 1 else N_("{file}: {count} openings, {ready}")
    click.echo(said(reader, counted, file=file.name, count=count, ready=_ready(survey)))
    for opening in survey.openings:
        known = sum(fact.known for _, fact in opening.facts())
        words = N_("{tag}: 1 fact known") if known == 1 else N_("{tag}: {count} facts known")
        click.echo("\n" + said(reader, words, tag=plain(opening.tag.value or "?"), count=known))
        for path in missing_facts(opening):
            click.echo("  " + said(reader, N_("missing: {fact}"), fact=path))
        for asked in _questions(survey, opening):
            click.echo(f"  {asked.id}: {plain(render(asked.text, reader))}")
            if asked.do:
                click.echo(f"      {plain(render(asked.do, reader))}")


def _questions(survey: Survey, opening: Opening) -> tuple[Finding, ...]:
    return plausibility(opening, survey.site) + dates_ahead(opening, survey.site, date.today())


def _ready(survey: Survey) -> Sentence:
    wanting = sum(bool(missing_facts(opening)) for opening in survey.openings)
    if not survey.openings:
        return Sentence(N_("a draft: no openings lack what a study needs"))
    if not wanting:
        return Sentence(N_("ready to study"))
    if wanting == 1:
        return Sentence(N_("a draft: 1 opening lacks what a study needs"))
    return Sentence(N_("a draft: {count} openings lack what a study needs"), {"count": wanting})


def _document(survey: Survey) -> dict[str, object]:
    reader = reader_of(survey, None)
    return {
        "format": "sillwright-check/1",
        "site": {"name": survey.site.name.value},
        "openings": [
            {
                "tag": opening.tag.value,
                "missing": list(missing_facts(opening)),
                "questions": [finding_as_json(asked, reader) for asked in _questions(survey, opening)],
            }
            for opening in survey.openings
        ],
    }
