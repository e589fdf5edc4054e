"""``sillwright study``: a survey goes in, the answer and the papers come out."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from sillwright import __version__
from sillwright.base.finding import LEVEL_IN_WORDS
from sillwright.base.words import N_, Amount, Reader, Units, in_words, render, translate
from sillwright.catalogue.reading import read_catalogue
from sillwright.cli.apart import studied
from sillwright.cli.speech import said
from sillwright.cli.table import plain, table
from sillwright.duty.model import Answer
from sillwright.study import OpeningStudy, SiteStudy, site_as_json
from sillwright.study.why import fact_in_words
from sillwright.survey.model import Survey
from sillwright.survey.reading import read_survey

_STANDS = 3  # exit code where a finding of the level asked for stands


@click.command(
    "study",
    epilog="Example: sillwright study examples/ferry-yard.yaml --out papers",
)
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), default=None, help="Folder for the papers  [default: out]")
@click.option("--catalogue", type=click.Path(path_type=Path), help="Your catalogue: profiles, parts, prices.")
@click.option(
    "--shop",
    is_flag=True,
    help="Also drawings as DXF, install and wiring sheets, scribes of floors that were read.",
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document; writes papers only with --out.")
@click.option("--fail-on", type=click.Choice(["stop", "act"]), help="Exit 3 when such a finding stands.")
@click.option("--units", type=click.Choice(["us", "metric"]), help="Units on screen and paper.")
@click.option("--sources", is_flag=True, help="Print the sources last.")
def command(
    file: Path,
    out: Path | None,
    catalogue: Path | None,
    shop: bool,
    as_json: bool,
    fail_on: str | None,
    units: Units | None,
    sources: bool,
) -> None:
    """Study every opening of a survey file (YAML, JSON or XLSX).

    Says of each leaf whether it may close under power, which fact decides, how hard it would meet someone and what
    to do. Exit 0 when done, 2 when the file is refused (nothing is written), 3 with --fail-on.
    """
    survey = read_survey(file)
    known = read_catalogue(catalogue) if catalogue else None
    study = studied(survey, reader_of(survey, units), known)
    written: tuple[Path, ...] = ()
    if out is not None or not as_json:
        from sillwright.paper.writing import write_papers

        written = write_papers(
            study,
            out or Path("out"),
            made_on=date.today(),
            version=__version__,
            catalogue=known,
            shop=shop,
        )
    if as_json:
        click.echo(json.dumps(site_as_json(study), ensure_ascii=False, indent=1, allow_nan=False))
    else:
        click.echo("\n".join(_screen(study, written, sources)))
    if fail_on and any(_stands(each, fail_on) for each in study.openings):
        raise click.exceptions.Exit(_STANDS)


def reader_of(survey: Survey, units: Units | None) -> Reader:
    """Who reads: units as the site says, else by its country."""
    country = survey.site.country.value or "US"
    said = units or survey.site.units.value or ("us" if country == "US" else "metric")
    return Reader(units="us" if said == "us" else "metric", country=country)


def _stands(study: OpeningStudy, level: str) -> bool:
    heavy = {"stop"} if level == "stop" else {"stop", "act"}
    return any(finding.level in heavy for finding in study.findings)


def _screen(study: SiteStudy, written: tuple[Path, ...], sources: bool) -> list[str]:
    reader = study.reader
    answers = [each.duty.powered_closing for each in study.openings]
    count = len(answers)
    counted = said(
        reader,
        N_("{site}: 1 opening – {yes} may close under power, {no} may not, {unknown} not known")
        if count == 1
        else N_("{site}: {count} openings – {yes} may close under power, {no} may not, {unknown} not known"),
        site=plain(study.survey.site.name.value or ""),
        count=count,
        **{answer: answers.count(answer) for answer in ANSWERS},
    )
    lines = [counted, ""]
    for each in study.openings:
        name = f" ({plain(each.opening.name.value)})" if each.opening.name.value else ""
        lines += [f"{plain(each.opening.tag.value or '?')}{name}: {plain(render(each.headline, reader))}"]
    lines += ["", table([translate(each, reader) for each in HEAD], _rows(study)), ""]
    for each in study.openings:
        lines += _findings(each, reader)
    if written:
        files = ", ".join(path.name for path in written[:3]) + (" …" if written[3:] else "")
        words = N_("Papers: {folder} ({files})")
        lines += ["", said(reader, words, folder=written[0].parent, files=files)]
    lines += ["", translate(CAUTION, reader)]
    if sources:
        found = {source for each in study.openings for f in each.findings for source in f.sources}
        cited = sorted({source.in_words(reader) for source in found})
        lines += ["", said(reader, N_("Sources:")), *(f"  {source}" for source in cited)]
    return lines


CAUTION = N_(
    "An aid to a qualified person, not a permission: the operator's instructions, local codes and the authority\n"
    "having jurisdiction decide. Test with two people and a full view; never stand under a moving leaf."
)
HEAD = (N_("tag"), N_("power closing"), N_("ask first"), N_("peak force (likely)"), N_("findings"))
ANSWERS: dict[Answer, str] = {"yes": N_("yes"), "no": N_("no"), "unknown": N_("unknown")}


def _rows(study: SiteStudy) -> list[list[str]]:
    rows = []
    for each in study.openings:
        facts = each.unknown[0].fact if each.unknown else ""
        ask = in_words(fact_in_words(each.opening, facts), study.reader) if facts else "–"
        heavy = [finding.level for finding in each.findings]
        counted = ", ".join(
            f"{heavy.count(level)} {translate(LEVEL_IN_WORDS[level], study.reader)}"
            for level in ("stop", "act")
            if level in heavy
        )
        rows.append(
            [
                each.opening.tag.value or "?",
                translate(ANSWERS[each.duty.powered_closing], study.reader),
                ask,
                _force(each, study.reader),
                counted or "–",
            ]
        )
    return rows


def _force(study: OpeningStudy, reader: Reader) -> str:
    if study.exposure is None:
        return "–"
    band = study.exposure.band["peak_force"]
    shown = [
        in_words(Amount(value, "N"), Reader(units="metric"))
        for value in (band["p5"], band["p95"])
        if value is not None
    ]
    if len(shown) < 2:
        return "".join(shown)
    return said(reader, N_("{low} to {high}"), low=shown[0], high=shown[1])


def _findings(study: OpeningStudy, reader: Reader) -> list[str]:
    """The heaviest finding of an opening and what to do; the papers hold the rest."""
    heavy = [finding for finding in study.findings if finding.level in {"stop", "act"}]
    if not heavy:
        return []
    first = heavy[0]
    text = plain(render(first.text, reader))
    if len(heavy) > 1:
        text = said(reader, N_("{finding} (and {count} more in the papers)"), finding=text, count=len(heavy) - 1)
    tag = plain(study.opening.tag.value or "?")
    lines = [f"{tag}, {translate(LEVEL_IN_WORDS[first.level], reader)}: {text}"]
    return lines + ([f"    {plain(render(first.do, reader))}"] if first.do else [])
