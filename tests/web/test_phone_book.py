"""The document that a phone goes by: small, asked for by signed-in people only, and not sent twice."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse

from sillwright.base.expression import parse
from sillwright.base.words import Reader
from sillwright.duty import rulebook
from sillwright.survey.spec import ID
from sillwright.web.offline.book import book, tree
from sillwright.web.offline.patterns import SPACE, as_script

from .conftest import World

EVALUATOR = Path(__file__).parents[2] / "src/sillwright/web/static/offline/evaluator"
LARGEST = 40_000  # bytes on the way


def test_a_person_is_given_the_book_to_keep_and_to_ask_for_again(world: World) -> None:
    answer = world.client("reader").get(reverse("book"))
    assert answer.status_code == 200
    assert answer.json() == json.loads(json.dumps(book()))
    assert set(answer["Cache-Control"].split(", ")) == {"private", "no-cache"}


def test_a_book_that_the_phone_has_already_is_not_sent_again(world: World) -> None:
    client = world.client("technician")
    tag = client.get(reverse("book"))["ETag"]
    again = client.get(reverse("book"), headers={"If-None-Match": tag})
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", tag)
    assert "no-store" not in again["Cache-Control"]
    assert client.get(reverse("book"), headers={"If-None-Match": '"another"'}).status_code == 200


def test_nobody_is_given_it_without_signing_in_and_nothing_is_posted_to_it(world: World) -> None:
    assert world.client(None).get(reverse("book")).status_code == 302
    assert world.client("owner").post(reverse("book")).status_code == 405


def test_the_book_is_small_on_the_way() -> None:
    assert len(gzip.compress(json.dumps(book()).encode())) < LARGEST


def test_another_rule_or_another_language_is_another_version(monkeypatch: pytest.MonkeyPatch) -> None:
    from sillwright.web.offline import book as module

    first = book()["version"]
    assert book(Reader(language="de"))["version"] != first
    monkeypatch.setattr(module, "_rules", lambda: {"regimes": [], "rules": [], "definitions": {}, "thresholds": {}})
    module._book.cache_clear()
    try:
        assert book()["version"] != first
    finally:
        monkeypatch.undo()
        module._book.cache_clear()


def test_every_rule_is_there_with_its_words() -> None:
    whole = book()
    assert [each["id"] for each in whole["rules"]] == [each.id for each in rulebook.rules()]
    assert set(whole["words"]["asks"]) == {each.id for each in rulebook.rules()}
    assert set(whole["words"]["trouble"]) < set(whole["words"]["headline"])


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("true", ["const", True]),
        ("p.height <= 6 in", ["compare", "<=", ["p", "height"], ["const", 0.1524]]),
        ("p.kind in ['loop', 'guard']", ["compare", "in", ["p", "kind"], ["const", ["loop", "guard"]]]),
        ("p.height >= door.clear_height", ["compare", ">=", ["p", "height"], ["path", ["door", "clear_height"]]]),
        ("any p in protection: works(p)", ["any", "p", ["protection"], ["call", "works", ["path", ["p"]]]]),
        ("test_met('TEST-4') or a and b", [
            "or", ["call", "test_met", ["const", "TEST-4"]], ["and", ["path", ["a"]], ["path", ["b"]]],
        ]),
    ],
)  # fmt: skip
def test_an_expression_is_written_as_its_tree(said: str, expected: list[Any]) -> None:
    assert tree(parse(said)) == expected


def test_white_space_on_a_phone_is_what_it_is_here() -> None:
    ours = {sign for sign in map(chr, range(0x110000)) if sign.isspace()}
    assert {sign for sign in map(chr, range(0x110000)) if re.fullmatch(f"[{SPACE}]", sign)} == ours


def test_a_pattern_keeps_its_classes_its_names_and_its_flags() -> None:
    assert as_script(ID) == (r"[\p{L}\p{N}_-]{1,40}", "u")
    assert as_script(re.compile(r"(?P<a>\d)[\s-]\(", re.ASCII | re.IGNORECASE)) == (
        r"(?<a>[0-9])[\t-\r\x20-]\(",
        "i",
    )


@pytest.mark.parametrize("path", sorted(EVALUATOR.glob("*.js")), ids=lambda path: path.name)
def test_the_evaluator_looks_at_nothing_but_what_it_is_given(path: Path) -> None:
    source = re.sub(r"//.*", "", path.read_text(encoding="utf-8"))
    assert not re.findall(
        r"\b(document|window|self|fetch|indexedDB|localStorage|navigator|Date\.now|Math\.random)\b", source
    )
    assert "new Date()" not in source
    assert {each for each in re.findall(r'from "([^"]+)"', source) if not each.startswith("./")} == set()
