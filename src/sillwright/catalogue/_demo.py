"""The catalogue that ships with the program, invented for demonstration."""

from __future__ import annotations

from functools import cache

from sillwright.base import data
from sillwright.catalogue.model import Catalogue

DEMO_FILE = "demo.yaml"


def demo_text() -> str:
    """The file of the invented catalogue, with its comments."""
    return data.text("sillwright.catalogue", DEMO_FILE)


@cache
def demo() -> Catalogue:
    """The invented catalogue, read once. Its numbers and names stand for classes, not for anybody's products.

    >>> demo().invented, demo().profiles[1].name
    (True, 'Edge class B')
    """
    from sillwright.catalogue.reading import catalogue_of  # who only asks for the models does without

    return catalogue_of(demo_text().encode(), DEMO_FILE)
