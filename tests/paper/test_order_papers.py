"""Order sheet, quote and install sheet: tagged papers from fixed templates, whatever people typed."""

from __future__ import annotations

import io
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from gettext import NullTranslations
from typing import Any

import pikepdf
import pytest

from sillwright.base import words
from sillwright.base.data import folder
from sillwright.base.words import ENGLISH, Reader, Sentence
from sillwright.drawing.shapes import Drawing, Group, Rect
from sillwright.paper import letter as letters
from sillwright.paper.install_sheet import install_paper
from sillwright.paper.legible import legible
from sillwright.paper.letter import Letter
from sillwright.paper.order import order_paper
from sillwright.paper.quote_book import quote_paper
from sillwright.takeoff.ordering import OrderLine, accept, install, lose, release, send
from sillwright.takeoff.ordering.quote import Quote

from ..pseudo import PSEUDO, Pseudo, foreign, unmarked
from ..survey.building import survey_of
from ..takeoff.ordering.orders import (
    COMMON,
    DAY,
    LEAD,
    METRIC,
    alternative,
    body,
    line,
    lines,
    m,
    priced,
    quote,
    take_off,
)
from .hostile import HOSTILE
from .test_said_in_another_language import LITERALS, words_of_the_template

LETTER = Letter(company=("Invented Door Crew", "12 Example Street"), to=("Invented Edges",), reference="PO-4711")
SKETCH = Drawing(
    title="Sketch",
    described="The body lying face down.",
    parts=(Group(name="body", role="device", parts=(Rect(x=0, y=0, width=0.12, height=0.008),)),),
    metres_per_mm=0.001,
)
TEMPLATES = ("order.typ", "quote.typ", "install.typ", "trade.typ")
Paper = Callable[..., bytes]


def order(rows: tuple[OrderLine, ...] | None = None, reader: Reader = ENGLISH, **changes: Any) -> bytes:
    told = {"letter": LETTER, "made_on": DAY, "version": "0.1.0", "sketches": {1: SKETCH}, **changes}
    return order_paper(lines() if rows is None else rows, reader, **told)


def offer(made: Quote | None = None, reader: Reader = ENGLISH, **changes: Any) -> bytes:
    told = {"letter": LETTER, "made_on": DAY, "version": "0.1.0", **changes}
    return quote_paper(made or two_ways(), reader, **told)


def two_ways(**changes: Any) -> Quote:
    edge = replace(alternative("Edge only", priced("344.04"), priced("120")), owner_words=Sentence("A new edge."))
    both = replace(alternative("Edge and eye", priced("344.04"), priced("219.5", discount=Decimal(10))))
    return quote(edge, both, owner_words=("Bay 2 answers no longer on its left third.",), **changes)


def crew(reader: Reader = ENGLISH, tag: str = "B2", **changes: Any) -> bytes:
    sections = install(survey_of({"tag": "B2"}).openings[0], take_off(), COMMON, lines())
    told = {"letter": LETTER, "made_on": DAY, "version": "0.1.0", "sketches": (SKETCH,), **changes}
    return install_paper(sections, reader, tag=tag, **told)


def words_of(content: bytes, tmp_path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    paper = tmp_path / "paper.pdf"
    paper.write_bytes(content)
    done = subprocess.run(["pdftotext", "-layout", str(paper), "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


@pytest.mark.parametrize("paper", [order, offer, crew])
def test_a_paper_is_tagged_and_says_so(paper: Paper):
    with pikepdf.open(io.BytesIO(paper())) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en-US"
        with pdf.open_metadata() as xmp:
            assert xmp["pdfuaid:part"] == "1"
            assert xmp["dc:title"]


@pytest.mark.parametrize("paper", [order, crew])
def test_a_sketch_has_its_text_alternative(paper: Paper):
    with pikepdf.open(io.BytesIO(paper())) as pdf:
        told = [each.get("/Alt") for each in pdf.objects if isinstance(each, pikepdf.Dictionary) and "/Alt" in each]
    assert "The body lying face down." in map(str, told)


@pytest.mark.parametrize("paper", [order, offer, crew])
def test_the_same_data_and_date_give_the_same_bytes(paper: Paper):
    assert paper() == paper()
    assert paper(made_on=date(2026, 3, 5)) != paper()


@pytest.mark.parametrize(("country", "size"), [("US", (612, 792)), ("DE", (595, 842))])
@pytest.mark.parametrize("paper", [order, offer, crew])
def test_the_paper_is_the_readers(paper: Paper, country, size):
    with pikepdf.open(io.BytesIO(paper(reader=Reader(country=country)))) as pdf:
        box = pdf.pages[0].mediabox
        assert (round(float(box[2])), round(float(box[3]))) == size


def test_the_order_sheet_says_everything_and_the_lead_twice(tmp_path):
    told = words_of(order(), tmp_path)
    for each in (
        "Order PO-4711", "Invented Door Crew", "1. B2: sensing edge, sealed by its maker, bottom edge",
        "overall body 10 ft 6 in (3.200 m)", "Invented slide-in", "10 kΩ", "out of the back, into the channel",
        "left, inside looking out", "on the right of someone who stands outside, looking in",
        "confirmed by Ada, on 2026-03-01", "coiled", "Cord 2 ft, two, Box with glands", "Release: name",
        "outside, toward the weather", "Send back what you confirm", "March 4, 2026",
    ):  # fmt: skip
        assert each in told, each
    assert "?" not in told


def test_an_open_line_carries_its_question_mark_and_what_releases_it(tmp_path):
    asked = lines(take_off(lead=replace(LEAD, end=None, length=None, confirmed_by="")))
    told = words_of(order(asked), tmp_path)
    for each in (
        "? 1. B2", "Not released yet: B2.", "? This line cannot be released yet", "free lead length ?",
        "At which end the lead comes out is not known. Settle it on site", "? not confirmed yet",
    ):  # fmt: skip
        assert each in told, each
    assert "Release: name" not in told


def test_a_released_line_says_by_whom(tmp_path):
    told = words_of(order((release(line(), on=DAY, by="Ben"),)), tmp_path)
    assert "released by Ben on March 4, 2026" in told


def test_pieces_rolls_and_metres_are_said_as_the_maker_needs_them(tmp_path):
    long = lines(take_off(body("48 ft 6 in", pieces=3, piece=m("16 ft 1-3/4 in"))))
    assert "3 pieces, each overall body 16 ft 1-3/4 in (4.921 m)" in words_of(order(long), tmp_path)
    roll = words_of(order((line(to_buy=3.3, units="metric"),), reader=METRIC), tmp_path)
    assert "roll to buy 3.300 m" in roll
    assert "overall body 3.200 m (10 ft 6 in)" in roll
    assert "channel length 3.200 m" in roll


def test_an_order_without_a_line_says_so(tmp_path):
    assert "There is no line to order." in words_of(order(()), tmp_path)


def test_many_lines_make_many_pages(tmp_path):
    told = words_of(order(tuple(line(number=n, tag=f"B{n}") for n in range(1, 41))), tmp_path)
    assert "40. B40" in told
    assert "page 1 of" in told


def test_the_quote_begins_with_the_owners_words_and_sets_the_choices_side_by_side(tmp_path):
    told = words_of(offer(), tmp_path)
    places = [told.index(each) for each in (
        "Quote Q-17", "Bay 2 answers no longer", "side by side", "Not included", "Payment in 30", "ticked here",
    )]  # fmt: skip
    assert places == sorted(places)
    for each in (
        "Nothing sees ahead of a touch.", "Edge and eye", "502.32", "This offer holds until April 3, 2026.",
        "Draft: not an offer yet.", "discount 10 %", "tax 8.25 %", "total in USD", "197.55", "219.50",
        "These prices are invented, for demonstration only.", "For the owner: name", "January 15, 2026",
    ):  # fmt: skip
        assert each in told, each


def test_a_line_without_a_price_and_an_incomplete_total_say_so(tmp_path):
    told = words_of(offer(quote(alternative("x", priced("10"), priced(None)))), tmp_path)
    assert "price not in the catalogue" in told
    assert "without the lines that have no price" in told


def test_the_state_stands_on_the_quote_with_its_day_and_name(tmp_path):
    sent = send(two_ways(), on=DAY, by="Ada")
    assert "sent on March 4, 2026 by Ada" in words_of(offer(sent), tmp_path)
    done = accept(sent, "Edge only", on=DAY, by="Owner")
    assert "accepted on March 4, 2026 by Owner" in words_of(offer(done), tmp_path)
    assert "lost on March 4, 2026" in words_of(offer(lose(sent, "price", on=DAY, by="Ada")), tmp_path)


def test_the_terms_of_the_organisation_are_printed_as_they_are(tmp_path):
    told = words_of(offer(two_ways(terms="First #let x.\n\n*Second* paragraph, 1 %.")), tmp_path)
    assert "First #let x. *Second* paragraph, 1 %." in told


def test_the_install_sheet_has_its_cautions_first_and_room_for_two_people(tmp_path):
    told = words_of(crew(), tmp_path)
    places = [told.index(each) for each in (
        "Install sheet: B2", "Before anybody touches it", "Bring", "Let it rest", "Fix it", "Connect, in this",
        "Tests afterwards", "First person", "Second person",
    )]  # fmt: skip
    assert places == sorted(places)
    assert "ohms, edge alone" in told


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_text_from_people_is_printed_never_obeyed(text, tmp_path):
    told = Sentence("{text}", {"text": text})
    made = line(tag=text, profile=text, note=text, channel=text, cord=text, confirmed_by=text, remarks=(told,))
    letter = Letter(company=(text,) * 12, to=(text,), reference=text)
    named = replace(alternative(text[:300] or "x", replace(priced(), what=told)), leaves_open=(told,))
    written = replace(two_ways(), about=text, alternatives=(named,), terms=text[:20_000], exclusions=(text,))
    papers = (
        order((made,), letter=letter),
        offer(replace(written, owner_words=(text,)), letter=letter),
        crew(tag=text, letter=letter),
    )
    shown = " ".join(legible(text).split())[:20].strip().split(" ")[0].split("-")[0]
    for paper in papers:
        told_words = words_of(paper, tmp_path)
        assert "root:x" not in told_words
        assert shown[:5] in told_words


class Everything(NullTranslations):
    """Translates whatever it is asked: what still reads as English was never asked for."""

    def gettext(self, message: str) -> str:
        try:
            return foreign(message)
        except ValueError:
            return message


@pytest.mark.parametrize("paper", [order, offer, crew])
def test_every_word_of_a_paper_is_the_readers(paper: Paper, monkeypatch):
    kept: dict[str, Any] = {}

    def catch(data: dict[str, Any], made_on: date, template: str) -> bytes:
        kept.update(data)
        return b""

    monkeypatch.setattr(words, "_catalogue", lambda language: Everything())
    monkeypatch.setattr(letters, "typeset", catch)
    paper(reader=PSEUDO)
    typed = {
        "Invented Door Crew", "12 Example Street", "Invented Edges", "PO-4711", "Invented common",
        "Invented slide-in", two_ways().prices.fingerprint[:12],
        "Cord 2 ft, two", "Box with glands", "Ada", "Invented yard, bay 2", "Floor work", "Payment in 30 days.",
        "Bay 2 answers no longer on its left third.", "Edge only", "Edge and eye", "Invented catalogue", "USD",
        "Sillwright", "{pages}", "{page}", "us-letter", "TEST",
    }  # fmt: skip
    skipped = {"images", "paper", "lang", "region", "id"}
    found = [loose for key, text in _texts(kept) if key not in skipped if (loose := unmarked(text, typed))]
    assert not found
    assert issubclass(Pseudo, NullTranslations)


def _texts(data: Any, key: str = "") -> list[tuple[str, str]]:
    if isinstance(data, dict):
        return [each for name, inner in data.items() if name != "images" for each in _texts(inner, name)]
    if isinstance(data, list):
        return [each for inner in data for each in _texts(inner, key)]
    return [(key, data.replace("\u200b", ""))] if isinstance(data, str) else []


@pytest.mark.parametrize("name", TEMPLATES)
def test_a_template_says_nothing_of_its_own_and_takes_nothing_from_elsewhere(name):
    template = (folder("sillwright.paper") / name).read_text(encoding="utf-8")
    assert words_of_the_template(template) <= {*LITERALS, *_NAMES}
    assert "@preview" not in template
    taken = re.findall(r"#?(?:import|include|read|eval)\b\s*[\"(][^\"]*\"?", template)
    assert [each for each in taken if each != '#import "trade.typ"'] == []


_NAMES = {"trade.typ", "from", "fix", "cautions"}
"""Names by which templates ask for data."""


@pytest.mark.parametrize("paper", [order, offer, crew])
@pytest.mark.parametrize("word", ["safe", "compliant", "certified", "approved", "guaranteed"])
def test_the_papers_never_call_a_door_that(paper: Paper, word, tmp_path):
    assert not re.search(rf"\b{word}\b", words_of(paper(), tmp_path), re.IGNORECASE)
