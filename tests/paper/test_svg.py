"""SVG: well formed, without style or script, with text as text, the same on every run."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from defusedxml.ElementTree import fromstring

from sillwright.base.finding import Finding
from sillwright.base.words import Reader, Sentence
from sillwright.paper.elevation import elevation
from sillwright.paper.svg import svg

from ..survey.building import opening_of
from .hostile import HOSTILE
from .studies import FINDINGS, full_survey, kinds

SVG = "{http://www.w3.org/2000/svg}"


@pytest.mark.parametrize("opening", kinds().openings, ids=lambda each: each.tag.value)
def test_every_drawing_is_xml_with_presentation_attributes_only(opening):
    root = fromstring(svg(elevation(opening, Reader(), FINDINGS)))
    assert root.get("role") == "img"
    for element in root.iter():
        assert element.tag.removeprefix(SVG) in {
            "svg", "g", "title", "desc", "polyline", "polygon", "circle", "text",
        }  # fmt: skip
        assert "style" not in element.attrib
        assert not any(name.startswith("on") or name.endswith("href") for name in element.attrib)


def test_a_drawing_has_a_text_alternative_and_titles_for_its_shapes(root):
    tree = fromstring(svg(elevation(full_survey(root).openings[0], Reader())))
    named = {element.get("id"): element for element in tree.iter() if element.get("id")}
    title, described = (named[each] for each in tree.get("aria-labelledby").split())
    assert title.text == "Elevation of B2, inside, looking out"
    assert "sectional leaf seen from inside" in described.text
    assert named["leaf"].find(f"{SVG}title").text == "sectional leaf"
    assert named["protection.e1"].find(f"{SVG}title").text.startswith("sensing edge e1")
    assert named["protection.e1"].get("data-place") == "protection.e1"


def test_text_is_real_text_in_the_letters_that_ship(root):
    made = svg(elevation(full_survey(root).openings[0], Reader()))
    assert 'font-family="Noto Sans, DejaVu Sans, sans-serif"' in made
    assert ">clear width 10 ft 4 in</text>" in made


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_text_from_people_is_never_markup(text):
    opening = opening_of({"protection": [{"id": "y1", "kind": "photo_eye", "height": "5 in"}]})
    made = elevation(opening, Reader(), [Finding(id="a", level="act", text=Sentence("a"), place="protection.y1")])
    named = replace(made, title=text, described=text, parts=tuple(replace(each, title=text) for each in made.parts))
    root = fromstring(svg(named))
    assert {element.tag for element in root.iter()} == {element.tag for element in fromstring(svg(made)).iter()}
    assert not re.search(r"<script|<img", svg(named))


def test_ids_are_unique_and_kept_apart_by_a_prefix():
    twins = [{"id": name, "kind": "photo_eye", "height": "5 in"} for name in ("a-b", "a_b", "é-b")]
    made = svg(elevation(opening_of({"protection": twins}), Reader()), prefix="t1-")
    ids = [element.get("id") for element in fromstring(made).iter() if element.get("id")]
    assert len(set(ids)) == len(ids)
    assert all(each.startswith("t1-") for each in ids)


def test_the_same_opening_gives_the_same_bytes(root):
    opening = full_survey(root).openings[0]
    assert svg(elevation(opening, Reader(), FINDINGS)) == svg(elevation(opening, Reader(), FINDINGS))


def test_the_drawing_of_the_full_survey_is_as_it_was(root):
    """Printed by this program; look at the picture before writing it anew."""
    made = svg(elevation(full_survey(root).openings[0], Reader(), FINDINGS))
    assert made == (root / "tests" / "golden" / "elevation-B2.svg").read_text(encoding="utf-8")
