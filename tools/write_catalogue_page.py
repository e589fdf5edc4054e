"""Writes docs/catalogue.md from the models of the catalogue: ``make catalogue-page``. A test compares them."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from textwrap import fill

from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.catalogue.checking import IN_LISTS
from sillwright.catalogue.columns import PER_FOOT, Part, sheets
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Work
from sillwright.catalogue.profile import Price
from sillwright.catalogue.rows import lists
from sillwright.survey.devices import DEVICE_CIRCUITS
from sillwright.survey.operator import INPUT_CIRCUITS

TARGET = Path(__file__).parents[1] / "docs/catalogue.md"
HEAD = """\
# The catalogue file

What a company can order and fit, what the inputs of operators take, and what work costs. The catalogue is yours: nothing
about a product stands in the program. YAML, JSON or XLSX, at most 2 MB. `examples/catalogue.yaml` is a short one to copy,
`sillwright catalogue demo` prints a longer one, invented. `sillwright catalogue check FILE` says what is wrong with a file
(it is refused), what it leaves out (it is kept), and its fingerprint, by which a quote names the version that it used.

**Quantities** are text with a unit (`1-3/4 in`, `10 ft 6 in`, `0.9 lb/ft`, `-31 degF`, `10 kohm`) or plain numbers in SI.
**Prices** are plain numbers in the one `currency`, for each and by the length: `price: {{each: 40, per_metre: 98}}` or
`{{each: 40, per_foot: 30}}`. Hours of work may be said by the foot in the same way.

**Names** are told apart within a list without regard to case, spaces and letters that look alike; an input by operator and
name together. What points to a part by name (`channels`, `via`) writes the name as it stands there.

**Curves** are force over travel with a round body across the edge, from `[0, 0]` on, both rising, past the travel at which
the profile answers; one for each temperature, from cold to warm.

**What is missing** is not known, and nothing is put in its place but one thing: without `ends`, 2 in is taken as the dead
stretch at each end, and the answer says so. A **listing** counts only with `title`, `page`, `read_by` and `on`.

Circuits of devices: {device}. Circuits that inputs read and converters give: {inputs}.

YAML 1.2: only `true` and `false` are booleans. Tags, anchors and aliases are refused. Ranges below are in SI units.

**As a spreadsheet.** `sillwright catalogue template FILE.xlsx` writes an empty one. The sheet `catalogue` has a key and
its value in each row; every list has a sheet of its name, one entry a row from row 3 on; row 1 names the keys, with points
(`price.each`), row 2 the unit of each quantity (`ft in` for text like 10 ft 6 in). Words of a list are parted by semicolons.
Three sheets hold what an entry has several of: {parts}. Formulas are refused, and so is a number whose
format shows another unit than row 2 names.
"""
ASIDE = {"curve": "pairs of travel in m and force in N, 2 to 64"}


def rows(model: type[Model], path: str) -> Iterator[str]:
    """A table row for every field of a model, those inside it too."""
    for spec in fields_of(model):
        here = f"{path}{spec.name}"
        inner = spec.model or (spec.item.model if spec.item else None)
        if inner is not None:
            yield from rows(inner, f"{here}[]." if spec.item else f"{here}.")
            continue
        yield f"| `{here}` | {spec.limits.title} | {accepts(spec)} | {otherwise(spec)} |"
        if spec.name == "per_metre" and model in (Price, Work):
            said = spec.limits.title.replace("metre", "foot")
            yield f"| `{path}{PER_FOOT}` | {said}, in place of `per_metre` | {accepts(spec)} | – |"


def accepts(spec: FieldSpec) -> str:
    """What a field accepts, in words."""
    if spec.item:
        limits = IN_LISTS.get(spec.name, spec.item.limits)
        return f"list: {accepts(replace(spec.item, limits=limits))}"
    if spec.kind == "choice":
        return ", ".join(f"`{word}`" for word in spec.choices)
    if spec.kind == "number" and spec.unit != "1":
        return f"quantity, {spec.limits.in_words(spec.unit)}"
    if spec.kind in {"number", "integer"}:
        return f"{'plain' if spec.kind == 'number' else 'whole'} number, {spec.limits.in_words('1')}"
    return {"text": "text", "flag": "`true`, `false`", "pairs": ASIDE.get(spec.name, "pairs")}[spec.kind]


def otherwise(spec: FieldSpec) -> str:
    """What holds where a field is left out."""
    if spec.required:
        return "required"
    if spec.default is None or spec.default in ("", ()):
        return "–"
    if isinstance(spec.default, bool):
        return f"`{str(spec.default).lower()}`"
    if isinstance(spec.default, tuple):
        return ", ".join(f"`{word}`" for word in spec.default)
    number = f"{spec.default:g} {spec.unit}".removesuffix(" 1") if spec.kind == "number" else ""
    return number or f"`{spec.default}`"


def part(sheet: Part) -> str:
    """A sheet of parts, in words."""
    return f"`{sheet.title}` ({', '.join(f'`{name}`' for name in sheet.columns)})"


def text() -> str:
    """The page as it should stand."""
    table = "| key | what | accepts | left out |\n|---|---|---|---|\n"
    words = {
        "device": ", ".join(f"`{word}`" for word in DEVICE_CIRCUITS),
        "inputs": ", ".join(f"`{word}`" for word in INPUT_CIRCUITS),
        "parts": "; ".join(part(sheet) for sheet in sheets().values() if isinstance(sheet, Part)),
    }
    pages = ["\n\n".join(fill(each, 118) for each in HEAD.format(**words).split("\n\n")) + "\n"]
    top = [spec for spec in fields_of(Catalogue) if spec.name not in lists()]
    lines = (f"| `{spec.name}` | {spec.limits.title} | {accepts(spec)} | {otherwise(spec)} |" for spec in top)
    pages.append("## The file itself\n\n" + table + "\n".join(lines) + "\n")
    titles = {spec.name: spec.limits.title for spec in fields_of(Catalogue)}
    for listed, model in lists().items():
        pages.append(f"## `{listed}`: {titles[listed]}\n\n" + table + "\n".join(rows(model, "")) + "\n")
    return "\n".join(pages)


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
