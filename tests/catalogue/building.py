"""Small catalogue files for the tests."""

from __future__ import annotations

import pytest

from sillwright.base.errors import DocumentError
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.reading import catalogue_of

HEAD = "format: sillwright-catalogue/1\nname: Yard\ncurrency: USD\npriced_on: 2026-01-15\n"
EDGE = "construction: factory_sealed, height: 1-3/4 in, actuation_travel: 3/16 in, circuits: [resistor]"
CURVE = "curves: [{temperature: 70 degF, curve: [[0, 0], [3/16 in, 45], [11/16 in, 250]]}]"


def read(text: str | bytes) -> Catalogue:
    """The catalogue in a text that begins after the head."""
    content = text if isinstance(text, bytes) else (HEAD + text).encode()
    return catalogue_of(content, "parts.yaml")


def refused(text: str | bytes) -> str:
    """What is said of a text that is refused."""
    with pytest.raises(DocumentError) as caught:
        read(text)
    assert len(str(caught.value)) < 500_000
    return str(caught.value)


def edges(*names: str, more: str = "") -> str:
    """A list of profiles with these names, each given as it stands in the file."""
    rest = f", {more}" if more else ""
    return "profiles:\n" + "".join(f"- {{name: {name}, {EDGE}{rest}}}\n" for name in names)
