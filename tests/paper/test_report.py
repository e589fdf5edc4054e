"""The report: one tagged PDF a site, from a fixed template, whatever people typed."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date

import pikepdf
import pytest

from sillwright.base.data import folder
from sillwright.base.finding import Finding
from sillwright.base.words import Reader, Sentence
from sillwright.paper.legible import legible, letters
from sillwright.paper.report import report, report_data, typeset
from sillwright.study.model import SiteStudy

from ..survey.building import survey_of
from .hostile import HOSTILE
from .studies import FINDINGS, full_survey, kinds, many, site, study_of

DAY = date(2026, 11, 25)


def made(study: SiteStudy) -> bytes:
    return report(study, made_on=DAY, version="0.1.0")


@pytest.fixture(scope="module")
def full(request) -> bytes:
    return made(site(full_survey(request.config.rootpath)))


def opened(content: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(content))


def words_of(content: bytes, tmp_path) -> str:
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is not installed")
    paper = tmp_path / "paper.pdf"
    paper.write_bytes(content)
    done = subprocess.run(["pdftotext", str(paper), "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def test_the_paper_is_tagged_and_says_so(full):
    with opened(full) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert pdf.Root.Lang == "en-US"
        assert pdf.Root.StructTreeRoot is not None
        with pdf.open_metadata() as xmp:
            assert xmp["pdfuaid:part"] == "1"
            assert xmp["dc:title"] == "Powered openings at Lanternfield Ferry Yard"


def test_every_picture_has_a_text_alternative(full):
    with opened(full) as pdf:
        figures = [
            each
            for each in pdf.objects
            if isinstance(each, pikepdf.Dictionary) and each.get("/S") == "/Figure" and each.get("/Alt") is not None
        ]
    assert len(figures) >= 2


@pytest.mark.parametrize(("country", "size"), [("US", (612, 792)), ("CA", (612, 792)), ("GB", (595, 842))])
def test_the_paper_is_the_one_that_printers_there_hold(country, size):
    with opened(made(site(survey_of({}, country=country)))) as pdf:
        box = pdf.pages[0].mediabox
        assert (round(float(box[2])), round(float(box[3]))) == size


def test_the_first_page_is_for_the_owner(full, tmp_path):
    words = words_of(full, tmp_path)
    first = words[: words.index("page 1 of")]
    assert "This leaf may close under power only while someone holds the control." in first
    assert "Never stand under a moving leaf." in first
    assert "The operator's instructions, the listed system and the authority having jurisdiction decide." in first
    assert "Hold the control until the leaf is closed" in first
    assert "signature" in first
    assert "Surveyed March 4, 2026" in first


def test_the_cautions_stay_on_the_first_page_of_a_long_report(root, tmp_path):
    words = words_of(made(many(full_survey(root), 25)), tmp_path)
    assert "Never stand under a moving leaf." in words[: words.index("page 1 of")]


def test_the_technician_finds_drawing_findings_questions_and_devices(full, tmp_path):
    words = words_of(full, tmp_path)
    page = words[words.index("page 1 of") : words.index("Engineer's appendix")]
    for told in (
        "Inside, looking out", "clear width 10 ft 4 in", "stop today", "quote", "watch", "in order",
        "What to ask next", "operator instructions: page", "counts as monitored", "told by the dealer",
        "Never stand under a moving leaf.",
    ):  # fmt: skip
        assert told in page, told
    assert page.index("stop today") < page.index("quote")


def test_the_engineer_finds_what_the_answer_rests_on(full, tmp_path):
    words = words_of(full, tmp_path)
    appendix = words[words.index("Engineer's appendix") :]
    for told in (
        "1,040 N (234 lbf)", "peak limit 400 N", "0.75 s after 150 N", "measured; door: closing speed",
        "typical value", "not met", "not known", "from memory, to be confirmed", "Sillwright 0.1.0",
        "“10' 6\"”", "Rules looked at that do not apply here: 1.",
    ):  # fmt: skip
        assert told in appendix, told
    assert re.search(r"page (\d+) of \1", words)


def test_units_and_paper_are_the_readers(tmp_path):
    words = words_of(made(site(kinds(), Reader(units="metric", country="DE"))), tmp_path)
    assert "clear width 3.000 m" in words
    assert "25 November 2026" in words
    assert " lbf" not in words


def test_the_same_study_gives_the_same_bytes(root, full):
    assert made(site(full_survey(root))) == full


def test_another_day_gives_another_date(root, full):
    other = report(site(full_survey(root)), made_on=date(2026, 11, 26), version="0.1.0")
    assert other != full


def hostile_site(text: str) -> SiteStudy:
    """A site where every sentence and every name carries the same text."""
    typed = " ".join(legible(text).replace("□", "?").split()) or "?"
    survey = survey_of(
        {"tag": typed[:200], "name": typed, "stations": [{"place": typed, "height": "5 ft"}]}, name=typed
    )
    said = Sentence("{text}", {"text": text})
    finding = Finding(id="a", level="stop", text=said, why=said, do=said, place="station.1")
    opening = replace(study_of(survey.openings[0], (finding,)), headline=said)
    return SiteStudy(survey=survey, openings=(opening,), reader=Reader())


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_text_from_people_is_printed_never_obeyed(text, tmp_path):
    words = words_of(made(hostile_site(text)), tmp_path)
    assert "root:x" not in words
    shown = " ".join(legible(text).split())[:20].strip()
    assert shown.split(" ")[0].split("-")[0] in words


def test_every_letter_that_is_let_through_can_be_set():
    signs = "".join(map(chr, sorted(letters())))
    rows = [legible(signs[at : at + 200]) for at in range(0, len(signs), 200)]
    data = report_data(site(survey_of({}), findings=()), made_on=DAY, version="0")
    data["owner"]["counts"] = " ".join(rows)
    data["openings"][0]["headline"] = " ".join(rows)
    assert typeset(data, DAY).startswith(b"%PDF")


def test_a_bare_opening_makes_a_whole_report(tmp_path):
    survey = survey_of({})
    bare = replace(study_of(survey.openings[0], (), contact=False), unknown=())
    words = words_of(made(SiteStudy(survey=survey, openings=(bare,), reader=Reader())), tmp_path)
    assert "Nothing was found to report." in words
    assert "How the contact is computed" not in words


def test_the_template_takes_nothing_from_elsewhere():
    template = (folder("sillwright.paper") / "report.typ").read_text(encoding="utf-8")
    assert "@preview" not in template
    assert not re.search(r"#?(import|include|read|eval)\b\s*[\"(]", template)


@pytest.mark.parametrize("word", ["safe", "compliant", "certified", "approved", "guaranteed"])
def test_the_papers_never_call_a_door_that(word, root):
    data = report_data(site(full_survey(root)), made_on=DAY, version="0")
    assert not re.search(rf"\b{word}\b", json.dumps(data), re.IGNORECASE)


def test_only_what_fits_is_asked_on_the_technicians_page(root):
    study = site(full_survey(root))
    opening = replace(study.openings[0], unknown=study.openings[0].unknown * 10)
    data = report_data(replace(study, openings=(opening,)), made_on=DAY, version="0")
    assert len(data["openings"][0]["ask"]) == 10
    assert data["openings"][0]["ask_more"] == "10 more are in the appendix."
    assert len(data["appendix"][0]["also_asked"]) == 10


def test_findings_keep_the_numbers_that_the_drawing_shows(root):
    data = report_data(site(full_survey(root)), made_on=DAY, version="0")
    assert [each["number"] for each in data["openings"][0]["findings"]] == list(range(1, len(FINDINGS) + 1))
