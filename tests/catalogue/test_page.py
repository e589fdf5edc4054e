"""The page of the catalogue file is written from the models."""

from __future__ import annotations

import re
from pathlib import Path

from sillwright.catalogue.reading import catalogue_of

from ..docs.test_documents import tool
from .building import HEAD

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs/catalogue.md").read_text(encoding="utf-8")


def test_the_page_of_the_catalogue_file_lists_every_key():
    assert tool("write_catalogue_page").text() == PAGE, "run make catalogue-page"


def test_the_prices_that_the_page_shows_are_read():
    shown = re.findall(r"`(?:price: )?(\{each.*?\})`", PAGE)
    assert len(shown) == 2
    for price in shown:
        box = f"boxes: [{{name: G, price: {price}}}]"
        assert catalogue_of((HEAD + box).encode(), "page.yaml").boxes[0].price
