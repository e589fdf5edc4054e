"""Catalogues that somebody hostile or clumsy brings: nothing is half kept, and their names are only ever text."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from typing import Any

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from sillwright.catalogue import demo
from sillwright.catalogue.template import template
from sillwright.catalogue.writing import catalogue_as_yaml
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.records.models import Event

from ..catalogue.test_hostile import lying, packed
from ..catalogue.test_sheet import EDGES, workbook
from .api_callers import token_of, with_token
from .conftest import World
from .ordering import CATALOGUE, order_for, quay, quote_of, released, sent, with_catalogue

ENTITY = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><a>&b;</a>'
HALF = workbook(profiles=[*EDGES, ["F", "nonsense", -4, "x", "plain"]])
BAD: dict[str, bytes] = {
    "nothing": b"",
    "spaces": b" \n\n ",
    "a picture": b"\x89PNG\r\n\x1a\n" + b"\x00" * 50,
    "an empty archive": packed({}),
    "no sheet of ours": packed({"xl/workbook.xml": b"<workbook/>"}),
    "an empty template": template("us"),
    "a part that lies": lying(12, megabytes=50),
    "an entity from outside": packed({"xl/workbook.xml": ENTITY, "[Content_Types].xml": ENTITY}),
    "a good row and a bad one": HALF,
    "rows without end": packed({"xl/worksheets/sheet1.xml": b"<a>" + b"<row/>" * 400_000 + b"</a>"}),
    "commas": b"name,price\nEdge,40\n",
    "TOML": b'format = "sillwright-catalogue/1"\nname = "x"\n',
    "a price below nothing": (
        CATALOGUE + "reels: [{name: R, cable: 20 ft, conductors: 2, price: {each: -1}}]"
    ).encode(),
    "a price without end": (
        CATALOGUE + "reels: [{name: R, cable: 20 ft, conductors: 2, price: {each: .inf}}]"
    ).encode(),
    "a name that stands twice": (
        CATALOGUE + "reels:\n" + "- {name: R, cable: 20 ft, conductors: 2}\n" * 2
    ).encode(),
    "a survey": b"format: sillwright-survey/1\nsite: {name: x, country: US}\nopenings: []\n",
}


@pytest.mark.parametrize("what", BAD)
@pytest.mark.parametrize("called", ["ours.xlsx", "ours.yaml", "../../ours.exe"])
def test_what_is_no_catalogue_leaves_the_one_that_counts(world: World, what: str, called: str) -> None:
    before = with_catalogue(world)
    address, lines = f"/organisations/{world.dealer.pk}/catalogue/", Event.objects.count()
    answer = world.client("owner").post(address, {"file": SimpleUploadedFile(called, BAD[what])})
    assert answer.status_code == 422
    caller = with_token(token_of(world.people["owner"], "write"))
    form = {"catalogue": SimpleUploadedFile(called, BAD[what])}
    told = caller.client.post(f"/api/organisations/{world.dealer.pk}/catalogues", form, headers=caller.headers)
    assert told.status_code == 422
    assert CatalogueVersion.objects.get() == before
    assert Event.objects.count() == lines


EVIL = ('=HYPERLINK("x")', "<script>alert(1)</script>", "@SUM(A1)", "+1+cmd|' /C x'!A0", "{{ 7|add:1 }} $x$ #set")


@pytest.mark.parametrize("name", EVIL)
def test_the_name_of_a_part_is_only_ever_text(world: World, name: str) -> None:
    profiles = tuple(replace(each, name=name) if each.name == "Edge class B" else each for each in demo().profiles)
    bring(world.dealer, replace(demo(), name=name, profiles=profiles), world.people["owner"])
    site, client = quay(world), world.client("owner")
    row = sent(world, quote_of(world, site, "W1", profile=name))
    order = released(world, order_for(world, site, "W1", profile=name))
    pages = (f"/quotes/{row.pk}/", f"/orders/{order.pk}/", f"/organisations/{world.dealer.pk}/catalogue/",
             f"/sites/{site.pk}/quotes/", f"/orders/{order.pk}/lines/1/goods-in/")  # fmt: skip
    for page in pages:
        answer = client.get(page)
        assert answer.status_code == 200
        assert b"<script>alert" not in answer.content
    files = {ending: client.get(f"/quotes/{row.pk}/quote.{ending}").content for ending in ("csv", "xlsx", "json")}
    rows = [*csv.reader(io.StringIO(files["csv"].decode("utf-8-sig")))]
    rows += csv.reader(io.StringIO(client.get(f"/orders/{order.pk}/order.csv").content.decode("utf-8-sig")))
    assert not [cell for each in rows for cell in each if cell[:1] in {"=", "@", "+"}]
    cells = [cell for page in openpyxl.load_workbook(io.BytesIO(files["xlsx"])) for each in page for cell in each]
    assert [cell for cell in cells if name in str(cell.value)]
    assert not [cell for cell in cells if cell.data_type == "f" and name.lstrip("=@+") in cell.value]
    assert name in json.dumps(json.loads(files["json"]), ensure_ascii=False).replace('\\"', '"')
    assert client.get(f"/orders/{order.pk}/order.pdf").content.startswith(b"%PDF-")


def test_the_file_of_a_version_is_the_catalogue_that_was_brought(world: World) -> None:
    version: Any = with_catalogue(world)
    file = world.client("reader").get(f"/organisations/{world.dealer.pk}/catalogue/{version.number}.yaml")
    assert file.content.decode() == catalogue_as_yaml(demo())
