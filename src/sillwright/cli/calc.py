"""``sillwright calc``: one calculation on a case file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from sillwright.base.calculation import Calculation, as_json, schema
from sillwright.base.display import show
from sillwright.base.model import FieldSpec, fields_of
from sillwright.base.words import N_, in_words, translate
from sillwright.cli.rows import heading, tables_of
from sillwright.cli.speech import HERE, said
from sillwright.cli.table import table
from sillwright.study.calculations import TABLE, calculation


@click.command("calc", epilog="Example: sillwright calc approach examples/approach.yaml")
@click.argument("name", required=False)
@click.argument("case", type=click.Path(path_type=Path), required=False)
@click.option("--json", "json_wanted", is_flag=True, help="Print the result as JSON, SI numbers.")
@click.option("--schema", "schema_wanted", is_flag=True, help="Print the JSON schema of case and result.")
def command(name: str | None, case: Path | None, json_wanted: bool, schema_wanted: bool) -> None:
    """Run one calculation on a CASE file (YAML or JSON), or list them all.

    Quantities are text with a unit ("8 in/s") or plain SI numbers.
    """
    if name is None:
        _list(json_wanted)
        return
    found = calculation(name)
    if schema_wanted:
        click.echo(json.dumps({"case": schema(found.case), "result": schema(found.result)}, indent=1))
        return
    if case is None:
        typed = f"sillwright calc {name} CASE"
        raise click.UsageError(said(HERE, N_("a case file is wanted: {typed} (or --schema)"), typed=typed))
    from sillwright.base.case_reading import read_case
    from sillwright.survey.reading import read_document

    result = found.function(read_case(found.case, read_document(case), case.name))
    if json_wanted:
        click.echo(json.dumps(as_json(result), ensure_ascii=False, indent=1, allow_nan=False))
    else:
        _show(found, result)


def _list(json_wanted: bool) -> None:
    if json_wanted:
        click.echo(json.dumps(list(TABLE), indent=1))
        return
    words = N_("{count} calculations; {typed} runs one, --schema describes it")
    click.echo(said(HERE, words, count=len(TABLE), typed="sillwright calc NAME CASE"))
    click.echo()
    head = [said(HERE, N_("name")), said(HERE, N_("what it answers"))]
    rows = [[name, translate(calculation(name).title, HERE)] for name in TABLE]
    click.echo(table(head, rows, widest=80))


_ASIDE = {"case", "sources", "assumptions", "notes"}


def _show(found: Calculation, result: Any) -> None:
    rows = [row for spec in fields_of(found.result) if (row := _row(spec, getattr(result, spec.name)))]
    first = rows[0]
    click.echo(f"{first[0]}: {first[1]}" + (f" = {first[2]}" if first[2] else ""))
    for note in getattr(result, "notes", ()):
        click.echo(said(HERE, N_("Note: {note}"), note=note))
    head = [said(HERE, N_("result")), "SI", "US"]
    for lines in (_bands(result), table(head, rows, widest=60), *tables_of(result, HERE)):
        if lines:
            click.echo(f"\n{lines}")
    rests = [said(HERE, N_("Assumed: {what}"), what=each) for each in getattr(result, "assumptions", ())]
    sources = (each.in_words(HERE) for each in getattr(result, "sources", ()))
    rests += [said(HERE, N_("Source: {source}"), source=each) for each in sources]
    click.echo("\n" + "\n".join(rests))


def _row(spec: FieldSpec, value: Any) -> list[str] | None:
    """A line of the table; what was not asked for has none, and what is a table itself stands apart."""
    title, nothing = heading(spec, HERE)
    if value is None and "null" in spec.limits.title:
        return [title, f"– ({nothing})" if nothing else "–", ""]
    if spec.name in _ASIDE or value is None or isinstance(value, tuple) or hasattr(value, "__dataclass_fields__"):
        return None
    if isinstance(value, bool):
        return [title, in_words(value, HERE), ""]
    if isinstance(value, float) and spec.kind == "number":
        us = show(value, spec.unit, "us")
        us = us.partition("(")[2].rstrip(")") or ("" if us.endswith(spec.unit) or spec.unit == "1" else us)
        return [title, f"{value:.6g} {spec.unit}".removesuffix(" 1"), us]
    return [title, translate(value, HERE) if spec.kind == "choice" else in_words(value, HERE), ""]


def _bands(result: Any) -> str:
    """Quantiles of a spread, and which inputs they come from."""
    if not hasattr(result, "bands"):
        return ""
    ends = ("p5", "p50", "p95")
    rows = [[each.name, *(_number(getattr(each, end)) for end in ends)] for each in result.bands]
    weighed = next(each for each in result.influences if each.outcome == "peak_force")
    shares = [[each.name, _number(each.first), _number(each.total)] for each in weighed.inputs]
    of_band = [N_("result, SI"), N_("5 of 100 below"), N_("half below"), N_("95 of 100 below")]
    of_shares = [N_("input"), N_("share of the spread of {outcome} alone"), N_("with interplays")]
    first = table([said(HERE, each) for each in of_band], rows)
    return first + "\n\n" + table([said(HERE, each, outcome="peak_force") for each in of_shares], shares)


def _number(value: float | None) -> str:
    return said(HERE, N_("never")) if value is None else f"{value:.4g}"
