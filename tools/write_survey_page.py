"""Writes docs/survey.md from the declarations of the facts: ``make survey-page``. A test compares them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Group, GroupSpec, Spec

TARGET = Path(__file__).parents[1] / "docs/survey.md"
HEAD = """\
# The survey file

YAML or JSON, one site a file; `examples/ferry-yard.yaml` shows one. `format: sillwright-survey/1`, a `site` and a list
of `openings`. A draft needs only the site's name and country and a tag for each opening; a study also needs `door.kind`
and, except for gates, `door.clear_width` and `door.clear_height`. Every other fact may be missing.

**How a fact is written.** As a bare value (`closing_speed: 8 in/s`: known, origin not recorded), or with where it comes
from: `{value: 8 in/s, from: measured, by: technician, on: 2026-03-04, evidence: photo-3}`. `from` is one of `measured`,
`plate`, `instructions`, `photo`, `support`, `told`, `assumed`. A list of such mappings holds several readings of one
fact. Readings that agree (within 0.5 %, and lengths within 1/16 in) are one; measured lengths up to 1/2 in apart are
repeats, and the smallest is used; any other difference makes the fact unknown, and both readings are shown. A
group or a list may be wrapped whole.

**What is missing.** A key that is not there was not asked. `null` was asked and is not known. `{value: null, from:
measured}`: somebody looked, and there is none. `[]`: looked for, and there are none.

**Quantities** are text with a unit (`10 ft 6 in`, `10' 6-1/2"`, `3.71 m`, `8 in/s`, `-31 degF`, `10 kohm`) or plain
numbers in SI. A number in quotes without a unit is refused. Feet with a decimal point (`10.6 ft`) are asked about.
A fraction of one or more (`11/2 in`) is refused: it may be `1-1/2 in` without its gap.

**Sides** are said inside, looking out. `{value: left, from: told, seen_from: outside}` is turned on reading.

**YAML 1.2**: only `true` and `false` are booleans; `on`, `no`, `012` and dates stay text until a field reads them. Tags,
anchors and aliases are refused; a file has at most 2 MB.

**A listing counts as read** only where `operator.instructions` has title, page, read_by and on.

**Ohm readings are a series.** Every visit adds one to `readings`, with its day, its place and, best, the temperature;
the study shows their trend, and the latest counts. They are not readings of one fact: `protection[].resistance` is the
value that the end element was made with. A reading without its day is kept and does not count for the trend.

Members of a list are called by their `id` in paths (`protection.e1.circuit`), else by number (`stations[0].closes`).
Ranges are in SI units. Keys of lists are shown with `[]`.
"""


def rows(group: type[Group], path: str) -> Iterator[str]:
    """A table row for every fact below a group."""
    for name, spec in group.specs.items():
        here = f"{path}{name}"
        if isinstance(spec, GroupSpec):
            yield from rows(spec.group, f"{here}[]." if spec.many else f"{here}.")
        else:
            yield f"| `{here}` | {spec.title} | {accepts(spec)} |"


def accepts(spec: Spec) -> str:
    """What a fact accepts, in words."""
    if spec.kind == "choice":
        return ", ".join(f"`{word}`" for word in (*spec.choices, *dict(spec.synonyms)))
    if spec.kind == "quantity":
        return f"quantity, {spec.limits.in_words(spec.unit)}"
    if spec.whole:
        return f"whole number, {spec.limits.in_words()}"
    if spec.kind == "count":
        return f"plain number, {spec.limits.in_words()}"
    words = {
        "text": "text",
        "flag": "`true`, `false`",
        "date": "year, year-month or date",
        "money": "amount with currency: `400 USD/h`",
        "texts": "list of words",
        "points": "list of pairs of lengths",
    }
    return words[spec.kind]


def text() -> str:
    """The page as it should stand."""
    table = "| key | what | accepts |\n|---|---|---|\n"
    site = "\n".join(rows(Site, "site."))
    opening = "\n".join(rows(Opening, ""))
    return f"{HEAD}\n## The site\n\n{table}{site}\n\n## An opening\n\n{table}{opening}\n"


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
