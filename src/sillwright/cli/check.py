"""``sillwright check``: reads a survey and reports, without studying it."""

from __future__ import annotations

import json
from pathlib import Path

import click

from sillwright.base.finding import finding_as_json
from sillwright.base.words import render
from sillwright.cli.study import reader_of
from sillwright.cli.table import plain
from sillwright.survey.asks import plausibility
from sillwright.survey.model import Survey
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
    wanting = sum(bool(missing_facts(opening)) for opening in survey.openings)
    ready = (
        "ready to study"
        if count and not wanting
        else f"a draft: {wanting or 'no'} openings lack what a study needs"
    )
    click.echo(f"{file.name}: {count} opening{'s' if count != 1 else ''}, {ready}")
    for opening in survey.openings:
        known = sum(fact.known for _, fact in opening.facts())
        click.echo(f"\n{plain(opening.tag.value or '?')}: {known} {'fact' if known == 1 else 'facts'} known")
        for path in missing_facts(opening):
            click.echo(f"  missing: {path}")
        for asked in plausibility(opening, survey.site):
            click.echo(f"  {asked.id}: {plain(render(asked.text, reader))}")
            if asked.do:
                click.echo(f"      {plain(render(asked.do, reader))}")


def _document(survey: Survey) -> dict[str, object]:
    reader = reader_of(survey, None)
    return {
        "format": "sillwright-check/1",
        "site": {"name": survey.site.name.value},
        "openings": [
            {
                "tag": opening.tag.value,
                "missing": list(missing_facts(opening)),
                "questions": [finding_as_json(asked, reader) for asked in plausibility(opening, survey.site)],
            }
            for opening in survey.openings
        ],
    }
