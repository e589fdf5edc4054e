"""``sillwright cut-list``: what to buy and how to cut it, for a van of sites."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from sillwright.base.words import N_, Amount, Reader, Units, in_words, render, translate
from sillwright.catalogue.reading import read_catalogue
from sillwright.cli.speech import said
from sillwright.cli.study import reader_of
from sillwright.cli.table import plain, table
from sillwright.study.cut_lists import CutList, cut_lists, in_none, labelled, unsettled
from sillwright.survey.reading import read_survey
from sillwright.takeoff import take_off
from sillwright.takeoff.ordering.money import with_currency

HEAD = (N_("bar"), N_("length"), N_("cuts, from its start"), N_("left over"))
FROM = N_("Profile of {label}: {words}.")
NEVER = N_("Factory-sealed edges are never cut: they stand in no cut list.")


@click.command(
    "cut-list",
    epilog="Example: sillwright cut-list examples/ferry-yard.yaml --catalogue examples/catalogue.yaml",
)
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option(
    "--catalogue", type=click.Path(path_type=Path), required=True, help="Your catalogue: channels, rolls, prices."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document.")
@click.option("--units", type=click.Choice(["us", "metric"]), help="Units on screen.")
def command(files: tuple[Path, ...], catalogue: Path, as_json: bool, units: Units | None) -> None:
    """Say which bars and rolls to buy and how to cut them, for all openings of some survey files.

    Each piece says for which site and opening it is. Exit 0 when done, 2 when a file is refused.
    """
    surveys = [read_survey(file) for file in files]
    known = read_catalogue(catalogue)
    reader = reader_of(surveys[0], units)
    wanted = labelled(
        [
            (
                str(survey.site.name.value or file.stem),
                [(str(each.tag.value), take_off(survey.site, each, known)) for each in survey.openings],
            )
            for file, survey in zip(files, surveys, strict=True)
        ]
    )
    found, left, open_ones = cut_lists(wanted, known), in_none(wanted, known), unsettled(wanted)
    if as_json:
        told = {"lists": [_plain(each, reader) for each in found], "in_none": left, "unsettled": open_ones}
        click.echo(json.dumps(told, ensure_ascii=False, indent=1, allow_nan=False))
        return
    lines = [said(reader, N_("{lists} cut lists for {count} openings"), lists=len(found), count=len(wanted))]
    for each in found:
        lines += ["", *_lines(each, reader, known.currency)]
    if open_ones:
        words = N_("Something still stands against ordering; cut nothing before it is settled: {labels}")
        lines += ["", said(reader, words, labels=plain(", ".join(open_ones)))]
    if left:
        words = N_("In no list, as nothing that is cut from stock is chosen there yet: {labels}")
        lines += ["", said(reader, words, labels=plain(", ".join(left)))]
    click.echo("\n".join([*lines, "", translate(NEVER, reader)]))


def _plain(each: CutList, reader: Reader) -> dict[str, Any]:
    """One list as plain data, lengths in metres."""
    told: dict[str, Any] = {"name": each.name, "rolled": each.rolled, "pieces": each.pieces}
    told["profiles_from"] = {label: render(words, reader) for label, words in each.origins}
    if each.result is None:
        return {**told, "why_not": render(each.why_not, reader) if each.why_not else ""}
    found = each.result
    return told | {
        "cost": found.cost,
        "bound": found.bound,
        "proven": found.proven,
        "kerf": found.case.kerf,
        "trim_end": found.case.trim_end,
        "bars": [
            {
                "length": bar.length,
                "cuts": [
                    {"label": cut.label, "length": cut.length, "from_start": cut.from_start} for cut in bar.cuts
                ],
                "off_cut": bar.off_cut,
                "kept": bar.kept,
            }
            for bar in found.bars
        ],
    }  # fmt: skip


def _lines(each: CutList, reader: Reader, currency: str) -> list[str]:
    if each.result is None:
        why = render(each.why_not, reader) if each.why_not else ""
        return [f"{plain(each.name)}: {plain(why)}"]
    found = each.result
    priced = found.case.stock[0].cost is not None
    cost = with_currency(found.cost, currency) if priced else _length(found.cost, reader)
    words = N_("{name}: {bars} for {pieces} pieces, {cost}, proven the least")
    if not found.proven:
        words = N_("{name}: {bars} for {pieces} pieces, {cost}; whether less is possible is not proven")
    first = said(reader, words, name=plain(each.name), bars=found.bar_count, pieces=each.pieces, cost=cost)
    rows = [
        [
            str(at),
            _length(bar.length, reader),
            ", ".join(f"{plain(cut.label)} {_length(cut.length, reader)}" for cut in bar.cuts),
            _length(bar.off_cut, reader),
        ]
        for at, bar in enumerate(found.bars, 1)
    ]
    origins = [said(reader, FROM, label=plain(label), words=words) for label, words in each.origins]
    return [first, table([translate(head, reader) for head in HEAD], rows), *origins]


def _length(metres: float, reader: Reader) -> str:
    return in_words(Amount(metres, "m"), reader)
