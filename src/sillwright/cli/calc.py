"""``sillwright calc``: one calculation on a case file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from sillwright.base.calculation import Calculation, as_json, schema
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
        raise click.UsageError(f"a case file is wanted: sillwright calc {name} CASE (or --schema)")
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
    click.echo(f"{len(TABLE)} calculations; sillwright calc NAME CASE runs one, --schema describes it")
    click.echo()
    click.echo(table(["name", "what it answers"], [[name, calculation(name).title] for name in TABLE], widest=80))


def _show(found: Calculation, result: Any) -> None:
    from sillwright.base.display import show
    from sillwright.base.model import fields_of

    rows = []
    for spec in fields_of(found.result):
        value = getattr(result, spec.name)
        if spec.name in {"case", "sources", "assumptions"} or isinstance(value, (tuple, list)):
            continue
        if isinstance(value, float) and spec.kind == "number":
            said = f"{value:.6g} {spec.unit}".removesuffix(" 1")
            rows.append([spec.limits.title or spec.name, said, show(value, spec.unit, "us")])
        elif not hasattr(value, "__dataclass_fields__"):
            shown = "–" if value is None else str(value)
            rows.append([spec.limits.title or spec.name, shown, ""])
    first = rows[0]
    click.echo(f"{first[0]}: {first[1]}" + (f" ({first[2]})" if first[2] else ""))
    click.echo()
    click.echo(table(["result", "SI", "US"], rows, widest=60))
    for said in getattr(result, "assumptions", ()):
        click.echo(f"\nAssumed: {said}", nl=False)
    click.echo()
    for source in getattr(result, "sources", ()):
        click.echo(f"Source: {source}")
