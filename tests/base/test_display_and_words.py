"""Numbers and sentences as a reader sees them. Expected texts are computed by hand beside each value."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sillwright.base import data
from sillwright.base.display import feet_and_inches, rounded, show
from sillwright.base.errors import DocumentError, InputError, Mistake, QuantityError, SillwrightError
from sillwright.base.finding import LEVELS, Finding, Unknown, by_weight, finding_as_json
from sillwright.base.nearest import did_you_mean
from sillwright.base.source import SURE_IN_WORDS, Source
from sillwright.base.words import N_, Amount, Reader, Sentence, dated, in_words, render, translate

US, METRIC = Reader(), Reader(units="metric", country="DE")

SHOWN = [
    (3.2004, "m", "10 ft 6 in", "3.200 m"),
    (0.3048, "m", "1 ft", "305 mm"),
    (0.0508, "m", "2 in", "51 mm"),
    (0.00635, "m", "1/4 in", "6.3 mm"),  # 6.35 to two digits, half to even in binary
    (0.0, "m", "0 in", "0 mm"),
    (-0.003175, "m", "-1/8 in", "-3.2 mm"),
    (-0.0001, "m", "0 in", "-0.1 mm"),
    (0.2032, "m/s", "8 in/s", "0.203 m/s"),
    (2.0, "m/s^2", "6.56 ft/s²", "2 m/s²"),  # 2 / 0.3048
    (310.0, "kg", "683 lb", "310 kg"),  # 310 / 0.45359237
    (700.0, "N", "700 N (157 lbf)", "700 N"),  # 700 / 4.44822
    (1039.6, "N", "1,040 N (234 lbf)", "1,040 N"),
    (500e3, "N/m", "2,860 lbf/in", "500 N/mm"),  # 500,000 / 175.127
    (0.08, "s", "80 ms", "80 ms"),
    (0.0, "s", "0 s", "0 s"),
    (2.5, "s", "2.5 s", "2.5 s"),
    (258.15, "K", "5 °F", "-15 °C"),
    (0.5, "ohm", "0.5 Ω", "0.5 Ω"),
    (10e3, "ohm", "10 kΩ", "10 kΩ"),
    (2.2e6, "ohm", "2.2 MΩ", "2.2 MΩ"),
    (0.0, "A", "0 A", "0 A"),
    (3e-5, "A", "30 µA", "30 µA"),
    (0.06, "A", "60 mA", "60 mA"),
    (1.5, "A", "1.5 A", "1.5 A"),
    (915e6, "Hz", "915 MHz", "915 MHz"),
    (2.4415e9, "Hz", "2.442 GHz", "2.442 GHz"),
    (50.0, "Hz", "50 Hz", "50 Hz"),
    (-97.0, "dBm", "-97 dBm", "-97 dBm"),
    (0.25, "1", "0.25", "0.25"),
    (4.0, "J", "4 J", "4 J"),
]


@pytest.mark.parametrize(("value", "unit", "us", "metric"), SHOWN)
def test_a_quantity_is_shown_in_the_readers_units(value, unit, us, metric):
    assert show(value, unit, "us") == us
    assert show(value, unit, "metric") == metric


@pytest.mark.parametrize(
    ("value", "digits", "text"),
    [
        (0, 3, "0"), (1039.64, 3, "1,040"), (999.96, 3, "1,000"), (99.96, 3, "100"), (0.26592, 3, "0.266"),
        (12.0, 3, "12"), (-1234567.0, 3, "-1,230,000"), (0.0001234, 2, "0.00012"), (10.05, 4, "10.05"),
        (100.0, 3, "100"),
    ],
)  # fmt: skip
def test_numbers_are_rounded_to_significant_digits(value, digits, text):
    assert rounded(value, digits) == text


def test_feet_alone_and_inches_alone():
    assert [feet_and_inches(inches * 0.0254) for inches in (12, 11.5, 12.0625, 144)] == [
        "1 ft", "11-1/2 in", "1 ft 1/16 in", "12 ft",
    ]  # fmt: skip


def test_almost_a_foot_becomes_a_foot():
    assert feet_and_inches(11.99 * 0.0254) == "1 ft"


def test_a_sentence_takes_values_of_every_kind():
    sentence = Sentence(
        "{who} passes {name} {width} wide, {often}: {sure}, on {day}, {inner}.",
        {
            "who": ("adult", "forklift"), "name": "B2 {not a template}", "width": Amount(3.2004, "m"), "often": 12,
            "sure": True, "day": date(2010, 8, 29), "inner": Sentence("{n} times", {"n": 2}),
        },
    )  # fmt: skip
    assert render(sentence, US) == (
        "adult, forklift passes B2 {not a template} 10 ft 6 in wide, 12: yes, on August 29, 2010, 2 times."
    )
    assert "3.200 m wide" in render(sentence, METRIC)
    assert "29 August 2010" in render(sentence, METRIC)


def test_a_users_words_are_never_a_template():
    assert in_words("{0.__class__}", US) == "{0.__class__}"


def test_yes_and_no_are_words():
    assert [in_words(value, US) for value in (True, False)] == ["yes", "no"]


def test_a_text_without_a_translation_stays_as_it_is():
    assert translate(N_("stop today"), Reader(language="xx")) == "stop today"
    assert translate("", US) == ""


@pytest.mark.parametrize(("country", "text"), [("US", "May 4, 2026"), ("GB", "4 May 2026")])
def test_a_date_is_in_the_order_of_the_readers_country(country, text):
    assert dated(date(2026, 5, 4), Reader(country=country)) == text


# findings and sources

SOURCE = Source(document="EN 12453", edition="2017", clause="5.1", sure="memory", id="x")


def finding(level, name="a"):
    return Finding(id=name, level=level, text=Sentence("{n} left", {"n": 1}), sources=(SOURCE,), place="leaf")


def test_findings_stand_in_order_of_weight_and_else_as_they_were_made():
    made = [finding("good"), finding("act", "b"), finding("stop"), finding("act", "c"), finding("note")]
    assert [(each.level, each.id) for each in by_weight(made)] == [
        ("stop", "a"), ("act", "b"), ("act", "c"), ("note", "a"), ("good", "a"),
    ]  # fmt: skip
    assert LEVELS == ("stop", "act", "note", "good")


def test_a_finding_is_printed_for_machines_with_its_sentences_rendered():
    printed = finding_as_json(finding("act"), US)
    assert printed == {
        "id": "a", "level": "act", "text": "1 left", "why": None, "do": None, "facts": [], "place": "leaf",
        "sources": [{"id": "x", "document": "EN 12453", "edition": "2017", "clause": "5.1", "sure": "memory"}],
    }  # fmt: skip
    more = Finding(id="a", level="act", text=Sentence("t"), why=Sentence("w"), do=Sentence("d"))
    assert (finding_as_json(more, US)["why"], finding_as_json(more, US)["do"]) == ("w", "d")


def test_an_unknown_says_what_it_decides():
    assert Unknown(fact="operator.made", decides=("duty",), why=Sentence("it")).decides == ("duty",)


def test_a_source_says_how_sure_we_are():
    assert str(SOURCE) == "EN 12453, 2017, 5.1 (from memory, to be confirmed)"
    assert Source(document="A", sure="read").as_json() == {"document": "A", "sure": "read"}
    assert len(set(SURE_IN_WORDS.values())) == len(SURE_IN_WORDS)


# errors, near words, package data


def test_a_mistake_prints_what_it_has_and_no_more():
    assert str(Mistake(path="", message="wrong")) == "wrong"
    whole = Mistake(path="a.b", message="wrong", accepted="right", got="“x”", line=3, column=7)
    assert str(whole) == "line 3, column 7: a.b: wrong, read “x”\n    right"


def test_a_document_error_counts_its_mistakes():
    one = Mistake(path="a", message="wrong")
    assert str(DocumentError("x.yaml", (one,))).startswith("x.yaml: 1 mistake, nothing was written\na: wrong")
    assert str(DocumentError("x.yaml", (one, one))).startswith("x.yaml: 2 mistakes")


def test_what_is_wrong_with_an_input_ends_with_2():
    assert {QuantityError("a", "b").exit_code, InputError().exit_code} == {2}
    assert SillwrightError().exit_code == 1


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("LEFT", "did you mean “left”?"), ("lefft", "did you mean “left”?"), ("zzz", "known here: left, right"),
        ("", "known here: left, right"), ("l" * 100_000, "known here: left, right"),
    ],
    ids=lambda value: value[:10],
)  # fmt: skip
def test_the_nearest_known_word(word, said):
    assert did_you_mean(word, ["right", "left"]) == said


def test_package_data_is_read_once_and_found_as_files():
    assert data.table("sillwright.base", "units") is data.table("sillwright.base", "units")
    assert "[unit]" in data.text("sillwright.base", "units.toml")
    assert Path(data.folder("sillwright.base"), "units.toml").is_file()
