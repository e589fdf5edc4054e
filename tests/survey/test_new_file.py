"""What is asked of a new opening, the draft that is written of the answers, and the workbook to fill in."""

from __future__ import annotations

import io
import os
import re
import stat
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from sillwright.base.errors import InputError, OutputError, UnknownName
from sillwright.survey.door import GATES, KINDS
from sillwright.survey.questions import LISTS, Question, mistake_in, questions, spec_at, value_of
from sillwright.survey.reading import read_survey
from sillwright.survey.required import missing_facts
from sillwright.survey.template import columns, template
from sillwright.survey.writing import draft_text, dumped, write_new, write_template

from .building import opening_of
from .test_hostile import read

ASKED = questions()
PLACES = {question.path: number for number, question in enumerate(ASKED)}
BASE = {"site.name": "Quillback Sheds", "site.country": "US", "tag": "B1"}


# what is asked


def test_the_facts_are_asked_in_the_order_in_which_they_matter():
    order = [
        "door.kind", "door.clear_width", "door.occupancy", "operator.station_in_view", "operator.closing_control",
        "operator.made", "operator.board_made", "protection.*.kind", "protection.*.circuit", "protection.*.state",
        "operator.lists_devices", "operator.instructions.read_by", "door.closing_speed", "door.leaf_mass",
        "use.traffic.*.who", "floor.unevenness",
    ]  # fmt: skip
    places = [PLACES[path] for path in order]
    assert places == sorted(places)


def test_each_fact_is_asked_once_with_a_sentence_that_says_why():
    assert len(PLACES) == len(ASKED)
    for question in ASKED:
        assert re.search(r"[?.…]$", question.ask), question.path
        assert re.fullmatch(r"[A-Z].*\.", question.why), question.path


@pytest.mark.parametrize("kind", ["sectional", "slide_gate"])
def test_what_a_study_needs_is_asked_before_anything_else_about_the_door(kind):
    needed = missing_facts(opening_of({"door.kind": kind})) + missing_facts(opening_of({"door.kind": None}))
    asked = [each.path for each in ASKED if each.asked_of(kind) and not each.path.startswith("site.")]
    assert "door.kind" in needed
    assert set(needed) <= set(asked[:4])


def test_sides_are_asked_inside_looking_out():
    sided = [question for question in ASKED if question.spec.side]
    assert {"operator.side", "door.opens"} <= {question.path for question in sided}
    assert all("nside, looking out" in question.ask for question in sided)


@pytest.mark.parametrize("kind", KINDS)
def test_a_gate_is_asked_for_its_leaf_and_a_door_for_its_opening(kind):
    asked = {question.path for question in ASKED if question.asked_of(kind)}
    assert ("door.leaf_length" in asked) is (kind in GATES)
    assert ("door.clear_width" in asked) is (kind not in GATES)


def test_of_an_unknown_leaf_everything_is_asked():
    assert all(question.asked_of(None) for question in ASKED)


def test_a_question_knows_its_choices_and_of_what_it_is_asked():
    by_path: dict[str, Question] = {question.path: question for question in ASKED}
    assert by_path["use.children"].choices == ("yes", "no")
    assert by_path["door.kind"].choices == KINDS
    assert by_path["tag"].choices == ()
    assert by_path["protection.*.state"].each == "protection"
    assert by_path["use.traffic.*.who"].each == "use.traffic"
    assert by_path["tag"].each == ""
    assert {question.each for question in ASKED} - {""} == set(LISTS)


@pytest.mark.parametrize(
    "path", ["door.colour", "door", "door.kind.x", "site.colour", "protection", "protection.e1", ""]
)
def test_a_path_that_names_no_fact_is_said_to(path):
    with pytest.raises(UnknownName, match="is no fact of a survey"):
        spec_at(path)


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        ("use.children", "yes", True),
        ("use.children", "N", False),
        ("use.children", "maybe", "maybe"),
        ("use.closings_per_day", "120", 120),
        ("use.closings_per_day", "1.5", 1.5),
        ("use.closings_per_day", "many", "many"),
        ("use.closings_per_day", "²", "²"),
        ("operator.lists_devices", "a; b ;;", ["a", "b"]),
        ("floor.points", "0 in, 0 in; 1 ft, 1 in", [["0 in", "0 in"], ["1 ft", "1 in"]]),
        ("operator.made", " 2019 ", "2019"),
    ],
)
def test_an_answer_is_what_a_file_holds(path, typed, value):
    found = value_of(spec_at(path), typed)
    assert found == value
    assert type(found) is type(value)


@pytest.mark.parametrize(
    ("path", "typed", "said"),
    [
        ("door.clear_width", "10", "no unit"),
        ("door.kind", "sectionall", "did you mean “sectional”?"),
        ("use.children", "maybe", "true or false"),
        ("use.closings_per_day", "inf", "out of range"),
        ("use.closings_per_day", "nan", "out of range"),
        ("operator.made", "March", "not a date"),
        ("tag", " ", "no words"),
        ("site.country", "USA", "did you mean “US”?"),
        ("site.subdivision", "ZZ", "not a part of US"),
        ("protection.e1.circuit", "pulsed", "did you mean “pulse”?"),
    ],
)
def test_an_answer_that_cannot_be_used_is_refused_at_once(path, typed, said):
    assert said in str(mistake_in(path, typed, BASE))


@pytest.mark.parametrize(
    ("path", "typed"),
    [("door.clear_width", "10 ft 4 in"), ("use.children", "y"), ("site.country", "DE"), ("site.subdivision", "WA")],
)
def test_an_answer_that_can_be_used_is_taken(path, typed):
    assert mistake_in(path, typed, BASE) is None


def test_a_state_cannot_be_judged_before_the_country():
    assert mistake_in("site.subdivision", "ZZ") is None


# the draft


def facts(text: str) -> dict[str, Any]:
    """Standing and value of every fact that a draft mentions."""
    survey = read(text)
    found = [*survey.site.facts(), *survey.openings[0].facts()]
    return {fact.path: (fact.standing, fact.value) for _, fact in found if fact.standing != "not asked"}


def test_a_draft_holds_every_answer_and_every_dont_know():
    text = draft_text(
        {
            **BASE,
            "door.kind": "sectional",
            "door.clear_width": "10 ft 4 in",
            "operator.made": None,
            "operator.board_made": "  ",
            "protection.e1.kind": "sensing_edge",
            "protection.e1.state": None,
            "protection.y1.kind": "photo_eye",
            "use.traffic.1.who": "forklift",
            "use.traffic.1.per_hour": "20",
            "use.children": "no",
            "operator.lists_devices": "edge, class A; eye class T",
            "operator.warning.sound": "yes",
        }
    )
    assert facts(text) == {
        "site.name": ("known", "Quillback Sheds"),
        "site.country": ("known", "US"),
        "tag": ("known", "B1"),
        "door.kind": ("known", "sectional"),
        "door.clear_width": ("known", pytest.approx(124 * 0.0254)),
        "operator.made": ("not known", None),
        "operator.board_made": ("not known", None),
        "operator.lists_devices": ("known", ("edge, class A", "eye class T")),
        "operator.warning.sound": ("known", True),
        "protection.e1.id": ("known", "e1"),
        "protection.e1.kind": ("known", "sensing_edge"),
        "protection.e1.state": ("not known", None),
        "protection.y1.id": ("known", "y1"),
        "protection.y1.kind": ("known", "photo_eye"),
        "use.traffic[0].who": ("known", "forklift"),
        "use.traffic[0].per_hour": ("known", 20.0),
        "use.children": ("known", False),
    }


def test_what_was_not_asked_stands_as_a_comment_with_its_question():
    text = draft_text(BASE)
    assert facts(text).keys() == {"site.name", "site.country", "tag"}
    for question in ASKED:
        name = question.path.rpartition(".")[2]
        if not question.each and question.path not in BASE:
            assert re.search(rf"^ +# {name}:$", text, re.MULTILINE), question.path
    squeezed = re.sub(r"\s*\n\s*# ", " ", text)
    assert all(question.why in squeezed for question in ASKED if not question.each)


def test_what_is_not_known_carries_its_question_and_its_reason():
    text = draft_text({**BASE, "operator.made": None})
    above, _, _ = text.partition("      made: null  # asked, not known yet\n")
    question = next(each for each in ASKED if each.path == "operator.made")
    assert f"{question.ask} {question.why}" in re.sub(r"\s*\n\s*# ", " ", above[-400:])


def test_a_commented_line_can_be_filled_in_by_hand():
    text = draft_text({**BASE, "door.kind": "grille"}).replace("# clear_height:", "clear_height: 3 m")
    assert facts(text)["door.clear_height"] == ("known", 3.0)


def test_the_words_that_can_be_chosen_stand_beside_the_question():
    assert "# held | momentary | timer | automatic | unattended" in draft_text(BASE)


def test_lines_are_not_longer_than_a_page_is_wide():
    assert max(map(len, draft_text(BASE).splitlines())) <= 116


@pytest.mark.parametrize(
    ("said", "standing", "count"), [("none", "known", 0), ("None", "known", 0), (None, "not known", 0)]
)
def test_a_list_may_be_none_or_not_known(said, standing, count):
    devices = read(draft_text({**BASE, "protection": said})).openings[0].protection
    assert (devices.standing, len(devices)) == (standing, count)


def test_a_gate_is_not_asked_for_a_panel():
    assert "leaf_length" in draft_text({**BASE, "door.kind": "swing_gate"})
    assert "panel_width" not in draft_text({**BASE, "door.kind": "swing_gate"})


def test_comments_may_be_in_another_language():
    text = draft_text(BASE, translate=str.swapcase)
    assert "wHAT IS THE SITE CALLED?" in text
    assert facts(text) == facts(draft_text(BASE))


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        ({}, "site.name, site.country, tag: answer it first"),
        ({**BASE, "tag": None}, "tag: answer it first"),
        ({**BASE, "door.clear_width": "10"}, "door.clear_width: a number in quotes has no unit"),
        ({**BASE, "site.subdivision": "ZZ"}, "not a part of US"),
        ({**BASE, "door.colour": "red"}, "is no fact of a survey"),
        ({**BASE, "door.colour": None}, "is no fact of a survey"),
        ({**BASE, "protection": "some"}, "is no fact of a survey"),
        (
            {**BASE, "protection": None, "protection.e1.kind": "guard"},
            "“protection” is answered as a whole already",
        ),
        ({**BASE, "protection.e1.kind": "guard", "protection": None}, "protection: answered in part already"),
        ({**BASE, "name": "half \ud83d a sign"}, "cannot stand in a file"),
        ({**BASE, "name": "bell \a"}, "control characters"),
    ],
)
def test_answers_that_make_no_file_are_refused(answers, said):
    with pytest.raises(InputError, match=re.escape(said)):
        draft_text(answers)


TEXTS = [
    "no", "012", "1e3", "null", "~", "true", "2026-03-04", "a: b", "# x", "- x", "{a}", "[", "'", '"', "*a", "&a",
    "!x", "%", "@", "a\nb", "a #b", "a, b]", "🚪", "é", "x\u2028y", "x\x85y", "x\u00a0y", "=", "<<", "? x",
    "|", ">",
]  # fmt: skip


@pytest.mark.parametrize("text", [*TEXTS, "x" * 2000], ids=lambda text: repr(text)[:12])
def test_any_name_is_read_back_as_it_was_typed(text):
    assert facts(draft_text({**BASE, "name": text}))["name"] == ("known", text)


def test_a_value_stands_on_one_line():
    assert "\n" not in dumped("a\nb" * 400)


# writing


def test_a_file_is_written_whole_and_readable(tmp_path):
    path = tmp_path / "yard.yaml"
    write_new(path, draft_text(BASE))
    assert read_survey(path, draft=True).openings[0].tag.value == "B1"
    assert stat.S_IMODE(path.stat().st_mode) == 0o644
    assert [each.name for each in tmp_path.iterdir()] == ["yard.yaml"]


def test_what_is_there_is_not_written_over_unless_that_is_asked_for(tmp_path):
    path = tmp_path / "yard.yaml"
    path.write_text("mine")
    with pytest.raises(OutputError, match="is there already and was left as it is"):
        write_new(path, "new")
    assert path.read_text() == "mine"
    write_new(path, "new", replace=True)
    assert path.read_text() == "new"


def test_a_file_that_appears_meanwhile_is_not_written_over(tmp_path, monkeypatch):
    path = tmp_path / "yard.yaml"
    path.write_text("mine")
    monkeypatch.setattr(Path, "exists", lambda self: False)
    with pytest.raises(OutputError, match="is there already"):
        write_new(path, "new")
    assert path.read_text() == "mine"
    assert [each.name for each in tmp_path.iterdir()] == ["yard.yaml"]


def test_a_disk_that_is_full_leaves_nothing_behind(tmp_path, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left on device"):
        write_new(tmp_path / "yard.yaml", "new")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("name", ["no/such/folder.yaml", "a\0b.yaml", "x" * 5000])
def test_a_place_that_cannot_be_written_is_said(tmp_path, name):
    with pytest.raises(OutputError, match="cannot be written"):
        write_new(tmp_path / name, "new")


# the workbook


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_workbook_as_it_is_holds_no_opening(tmp_path, units):
    path = tmp_path / "yard.xlsx"
    write_template(path, units=units)
    assert read_survey(path, draft=True).openings == ()


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_workbooks_invented_example_is_written_as_an_opening_is(tmp_path, units, monkeypatch):
    path = tmp_path / "yard.xlsx"
    write_template(path, units=units)
    monkeypatch.setattr("sillwright.survey.sheet.EXAMPLE", "an opening of this name does not occur")
    survey = read_survey(path)
    (opening,) = survey.openings
    assert "invented" in str(opening.tag.value)
    assert "nvented" in str(survey.site.name.value)
    assert survey.site.units.value == units
    assert opening.door.clear_width.value == pytest.approx(3.15, abs=0.001)
    assert opening.door.closing_speed.value == pytest.approx(0.2, abs=0.004)
    assert (opening.operator.made.origin, opening.operator.board_made.standing) == ("plate", "not known")
    assert opening.fact("protection.e1.state").value == "works"


@pytest.mark.parametrize("units", ["us", "metric"])
def test_the_workbook_has_the_same_bytes_every_time(units):
    content = template(units)
    assert content == template(units)
    stamps = {part.date_time for part in zipfile.ZipFile(io.BytesIO(content)).infolist()}
    assert stamps == {(1980, 1, 1, 0, 0, 0)}, "no clock in it"


def test_the_workbook_asks_what_the_questions_ask_in_their_order():
    names = columns()
    paths = [re.sub(r"^(protection|use\.traffic)\.\w+\.", r"\1.*.", name) for name in names]
    asked = list(dict.fromkeys(path for path in paths if path in PLACES))
    assert asked == [question.path for question in ASKED if not question.path.startswith("site.")]


def test_the_workbook_has_units_lists_to_choose_from_and_panes_that_stay():
    book = openpyxl.load_workbook(io.BytesIO(template("us")))
    sheet = book["Openings"]
    heads = {cell.value: cell for cell in sheet[1]}
    width, kind = heads["door.clear_width"], heads["door.kind"]
    assert sheet.cell(2, width.column).value == "ft in"
    assert sheet.freeze_panes == "B3"
    lists = {str(each.sqref).split(":")[0]: each.formula1 for each in sheet.data_validations.dataValidation}
    assert lists[f"{kind.column_letter}3"] == '"' + ",".join([*KINDS, "?"]) + '"'
    assert sheet.column_dimensions["A"].width >= 12
    assert book.sheetnames == ["Site", "Openings", "How to"]
    assert book.properties.created.year == 2026
    assert any("invented" in str(row[0].value) for row in book["How to"])


def test_every_choice_fits_into_a_list_of_a_spreadsheet():
    specs = [spec_at(name.removesuffix(".from")) for name in columns() if name not in LISTS]
    assert max(len(",".join([*spec.choices, "?"])) for spec in specs) <= 255


def test_no_cell_of_the_workbook_is_a_formula():
    book = openpyxl.load_workbook(io.BytesIO(template("us")))
    assert {cell.data_type for sheet in book for row in sheet for cell in row} <= {"s", "n"}


def test_the_workbook_is_not_written_over_either(tmp_path):
    path = tmp_path / "yard.xlsx"
    write_template(path)
    before = path.read_bytes()
    with pytest.raises(OutputError, match="is there already"):
        write_template(path, units="metric")
    assert path.read_bytes() == before
    write_template(path, units="metric", replace=True)
    assert path.read_bytes() != before


def test_none_stands_between_a_device_and_the_operator(tmp_path):
    answers = {"site.name": "Yard", "site.country": "US", "tag": "B1", "protection.e1.through": "none"}
    path = tmp_path / "yard.yaml"
    write_new(path, draft_text(answers))
    (opening,) = read_survey(path, draft=True).openings
    assert opening.fact("protection.e1.through").value == ()
