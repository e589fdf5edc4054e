"""A catalogue as text: the file that reads back as the same catalogue, and the mark by which a quote names it."""

from __future__ import annotations

import json
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import yaml

from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.base.words import Units
from sillwright.catalogue.model import Catalogue
from sillwright.survey.writing import write_new

_HEAD = "# Numbers without a unit are SI: metres, kelvin, newtons, ohms, volts, kilograms for a metre.\n"


def catalogue_as_yaml(catalogue: Catalogue) -> str:
    """The catalogue file that reads back as this very catalogue; what is as by default is left out.

    >>> from sillwright.catalogue.reading import catalogue_of
    >>> from sillwright.catalogue import demo
    >>> catalogue_of(catalogue_as_yaml(demo()).encode(), "demo.yaml") == demo()
    True
    """
    dumper = getattr(yaml, "CSafeDumper", yaml.SafeDumper)
    text: str = yaml.dump(plain(catalogue), Dumper=dumper, allow_unicode=True, sort_keys=False, width=1_000_000)
    return _HEAD + text


def fingerprint(catalogue: Catalogue) -> str:
    """The SHA-256 of a catalogue's content, in hexadecimal: the same for the same content however it was typed.

    Comments, units, order of keys and what is as by default make no difference; order of entries does.
    """
    canonical = json.dumps(plain(catalogue), sort_keys=True, separators=(",", ":"), allow_nan=False)
    return sha256(canonical.encode()).hexdigest()


def plain(model: Model) -> dict[str, Any]:
    """A model as plain lists and mappings of SI numbers, without what is as by default."""
    values = ((spec, getattr(model, spec.name)) for spec in fields_of(type(model)))
    return {spec.name: _plain(spec, value) for spec, value in values if spec.required or value != spec.default}


def _plain(spec: FieldSpec, value: Any) -> Any:
    if isinstance(value, Model):
        return plain(value)
    if value is None:
        return None
    if spec.kind == "number":
        return float(value) + 0.0  # no minus before nothing
    if spec.kind == "pairs":
        return [[float(each) + 0.0 for each in pair] for pair in value]
    if spec.kind == "list" and spec.item:
        return [_plain(spec.item, each) for each in value]
    return value


def write_template(
    path: Path, *, units: Units = "us", replace: bool = False, translate: Callable[[str], str] = str
) -> None:
    """Write the empty workbook of a catalogue, one sheet a list; the same bytes every time.

    ``translate`` gives what explains it in another language. Raises :class:`OutputError` where it cannot be
    written.
    """
    from sillwright.catalogue.template import template  # the spreadsheet library is heavy

    write_new(path, template(units, translate), replace=replace)
