"""``sillwright catalogue``: reads a catalogue and reports, writes a spreadsheet to fill, prints an invented one."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from sillwright.base.words import N_, Sentence, Units, render, translate
from sillwright.catalogue._demo import demo_text
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.reading import read_catalogue
from sillwright.catalogue.remarks import PRICED, Remark, remarks
from sillwright.catalogue.rows import lists
from sillwright.catalogue.writing import fingerprint, write_template
from sillwright.cli.speech import HERE, said
from sillwright.cli.table import plain, table

_SHOWN = 4  # names of a remark; the machine-read answer has all


@click.group("catalogue", epilog="Example: sillwright catalogue check examples/catalogue.yaml")
def command() -> None:
    """Check a catalogue of parts, prices and operators' inputs, or begin one.

    A catalogue is your own: a YAML, JSON or XLSX file. docs/catalogue.md lists what stands in it.
    """


@command.command("check", epilog="Example: sillwright catalogue check examples/catalogue.yaml")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
def check(file: Path, as_json: bool) -> None:
    """Read a catalogue file and say what is wrong with it, what is in it and what it leaves out.

    Exit 0 when it can be used, 2 when it is refused.
    """
    catalogue = read_catalogue(file)
    if as_json:
        click.echo(json.dumps(_document(catalogue), ensure_ascii=False, indent=1))
        return
    found = remarks(catalogue)
    day = date.fromisoformat(catalogue.priced_on)
    told = {"file": file.name, "currency": catalogue.currency, "day": day, "remarks": _counted(len(found))}
    click.echo(plain(said(HERE, N_("{file}: can be used, prices in {currency} of {day}; {remarks}"), **told)))
    if catalogue.invented:
        click.echo(said(HERE, N_("Invented, for demonstration only: nothing in it can be ordered.")))
    head = [said(HERE, each) for each in (N_("list"), N_("entries"), N_("without a price"))]
    click.echo(f"\n{table(head, [_row(catalogue, listed) for listed in lists()])}")
    if found:
        click.echo()
    for remark in found:
        click.echo(f"{remark.list}: {plain(_with_names(remark))}")
    click.echo("\n" + said(HERE, N_("Fingerprint: {mark}"), mark=fingerprint(catalogue)))


@command.command("template", epilog="Example: sillwright catalogue template parts.xlsx")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Write over a file that is there.")
@click.option("--units", type=click.Choice(["us", "metric"]), default="us", help="Units of the columns.")
def template(file: Path, replace: bool, units: str) -> None:
    """Write an empty spreadsheet FILE.xlsx to fill, one sheet a list."""
    if file.suffix.lower() != ".xlsx":
        raise click.UsageError(said(HERE, N_("{file}: the name of a spreadsheet ends in .xlsx"), file=file))
    system: Units = "us" if units == "us" else "metric"
    write_template(file, units=system, replace=replace, translate=lambda words: translate(words, HERE))
    words = N_("{file}: a spreadsheet to fill, one sheet a list; read it with {typed}")
    click.echo(said(HERE, words, file=file, typed=f"sillwright catalogue check {file}"))


@command.command("demo", epilog="Example: sillwright catalogue demo > parts.yaml")
def print_demo() -> None:
    """Print the invented catalogue as a file to copy from."""
    click.echo(demo_text(), nl=False)


def _counted(count: int) -> Sentence:
    if not count:
        return Sentence(N_("nothing is left out"))
    return Sentence(N_("1 remark")) if count == 1 else Sentence(N_("{count} remarks"), {"count": count})


def _row(catalogue: Catalogue, listed: str) -> list[str]:
    entries = getattr(catalogue, listed)
    unpriced = sum(each.price is None for each in entries) if listed in PRICED else 0
    return [listed, str(len(entries)), str(unpriced) if unpriced else ""]


def _with_names(remark: Remark) -> str:
    text = render(remark.text, HERE)
    if not remark.names:
        return text
    names, more = "; ".join(remark.names[:_SHOWN]), len(remark.names) - _SHOWN
    if more > 0:
        names = said(HERE, N_("{names}; and {more} more"), names=names, more=more)
    return said(HERE, N_("{what} ({names})"), what=text, names=names)


def _document(catalogue: Catalogue) -> dict[str, object]:
    return {
        "format": "sillwright-catalogue-check/1",
        "name": catalogue.name,
        "invented": catalogue.invented,
        "currency": catalogue.currency,
        "priced_on": catalogue.priced_on,
        "fingerprint": fingerprint(catalogue),
        "entries": {listed: len(getattr(catalogue, listed)) for listed in lists()},
        "remarks": [
            {"id": each.id, "list": each.list, "text": render(each.text, HERE), "names": list(each.names)}
            for each in remarks(catalogue)
        ],
    }
