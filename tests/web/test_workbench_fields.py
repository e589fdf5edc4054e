"""The fields of a bench: what they say of themselves, what they say of a mistake, and where."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import unescape
from urllib.parse import urlencode

import pytest
from django.core.cache import caches
from django.test import Client

from sillwright.base.model import Case, Limits, field
from sillwright.base.units import Metre
from sillwright.base.words import Reader
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.workbench.amounts import range_in_words, read_back, unit_missing
from sillwright.web.workbench.choices import CHOICES
from sillwright.web.workbench.controls import Control, Group, Part, Section, Table
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.form import Form
from sillwright.web.workbench.formula import mathml
from sillwright.web.workbench.sections import SECTIONS
from sillwright.web.workbench.typed import Typed, default_word, inputs_of, node_of, pairs_of, places, plain

METRIC, US = Reader(units="metric"), Reader(units="us")


@pytest.fixture(autouse=True)
def _nobody_counted_yet() -> None:
    caches["near"].clear()


def form_of(name: str, typed: Typed | None = None, reader: Reader = US) -> Form:
    found = calculation(name)
    form = Form(name=name, model=found.case, typed=typed or EXAMPLES[name][0].typed, reader=reader)
    form.read()
    return form


def controls(parts: tuple[Part, ...]) -> Iterator[tuple[Control, int]]:
    """Every single field with its place among those of its name."""
    for part in parts:
        if isinstance(part, Control):
            yield part, 0
        elif isinstance(part, (Group, Section)):
            yield from controls(part.parts)
        elif isinstance(part, Table):
            yield from ((cell, at) for at, row in enumerate(part.rows) for cell in row.cells)


def one(form: Form, path: str) -> Control:
    return next(control for control, _at in controls(form.parts()) if control.path == path)


def is_text(form: Form, path: str) -> bool:
    """Whether any words are right in a field."""
    return dict(places(form.model, form.typed))[path].kind == "text"


EVERY = [
    (pytest.param(name, control.path, control.name, at, id=f"{name}: {control.path}"), is_text(form, control.path))
    for name in TABLE
    for form in [form_of(name)]
    for control, at in controls(form.parts())
]
FIELDS = [each for each, text in EVERY if not text]
NAMED = ("diagnose",)
"""Calculations whose texts are names of what there is; any other is refused."""
TEXTS = [each for each, text in EVERY if text and each.values[0] not in NAMED]
NAMES = [each for each, text in EVERY if text and each.values[0] in NAMED]


def with_words(name: str, key: str, at: int, words: str) -> Typed:
    """The first example with words in one field; a column that nobody used is filled up to it."""
    typed = {each: list(values) for each, values in EXAMPLES[name][0].typed.items()}
    column = typed.setdefault(key, [])
    column.extend([""] * (at + 1 - len(column)))
    column[at] = words
    return typed


@pytest.mark.parametrize(("name", "path", "key", "at"), FIELDS)
def test_a_mistake_is_said_at_its_field_which_keeps_what_was_typed(name: str, path: str, key: str, at: int) -> None:
    typed = with_words(name, key, at, "a <b>hand</b> wide")
    response = Client().get(f"/workbench/{name}/?{urlencode(typed, doseq=True)}")
    html = response.content.decode()
    told = html[html.index(f'id="told-{path}"') :]
    assert response.status_code == 422
    assert '<p class="wrong">' in told[: told.index("</div>")]
    assert "<b>hand" not in html
    entry = re.search(rf'<(?:input|select)[^>]*id="f-{re.escape(path)}"[^>]*>', html)
    if entry:  # buttons of a choice have no text to keep
        assert 'aria-invalid="true"' in entry[0]
        assert f"told-{path}" in entry[0]
        assert entry[0].startswith("<select") or 'value="a &lt;b&gt;hand&lt;/b&gt; wide"' in entry[0]
    assert html.count('<p class="wrong">') >= 1
    assert "<svg" not in html, "the last good result is not shown as the present one"


@pytest.mark.parametrize(("name", "path", "key", "at"), TEXTS)
def test_a_name_or_label_takes_any_words_and_shows_them_as_words(name: str, path: str, key: str, at: int) -> None:
    typed = with_words(name, key, at, "a <b>hand</b> wide")
    response = Client().get(f"/workbench/{name}/?{urlencode(typed, doseq=True)}")
    html = response.content.decode()
    assert response.status_code == 200
    assert "<b>hand" not in html
    assert re.search(rf'<input id="f-{re.escape(path)}"[^>]* value="a &lt;b&gt;hand&lt;/b&gt; wide"', html)
    assert html.count("a &lt;b&gt;hand&lt;/b&gt; wide") > 1, "the result uses it"


@pytest.mark.parametrize(("name", "path", "key", "at"), NAMES)
def test_a_name_that_there_is_not_is_refused_and_shown_as_words(name: str, path: str, key: str, at: int) -> None:
    typed = with_words(name, key, at, "a <b>hand</b> wide")
    response = Client().get(f"/workbench/{name}/?{urlencode(typed, doseq=True)}")
    html = response.content.decode()
    assert response.status_code == 422
    assert "<b>hand" not in html
    assert re.search(rf'<input id="f-{re.escape(path)}"[^>]* value="a &lt;b&gt;hand&lt;/b&gt; wide"', html)
    assert "othing here is called “a &lt;b&gt;hand&lt;/b&gt; wide”" in html


@pytest.mark.parametrize(("name", "path", "key", "at"), [each for each in FIELDS if "contact:" in str(each.id)])
def test_a_field_left_empty_is_asked_for_or_stands_for_something(name: str, path: str, key: str, at: int) -> None:
    typed = with_words(name, key, at, "")
    form = form_of(name, typed)
    control = one(form, path)
    assert (form.case is None) == bool(control.mistakes)
    assert control.mistakes or "empty: " in control.hint
    assert all("Nothing is given." in each for each in control.mistakes)


def test_a_number_without_its_unit_is_asked_for_both_units() -> None:
    form = form_of("impact", {**EXAMPLES["impact"][0].typed, "speed": ["0.2"]})
    assert one(form, "speed").mistakes == ("The unit is missing. Write 0.2 in/s or 0.2 m/s.",)
    assert unit_missing("3", "N s/m") == "The unit is missing. Write 3 N s/m."


@pytest.mark.parametrize(
    ("reader", "said"),
    [(US, "Out of range. What is accepted: above 0, at most 394 in/s."),
     (METRIC, "Out of range. What is accepted: above 0, at most 10 m/s.")],
)  # fmt: skip
def test_a_range_is_said_in_the_units_of_whoever_reads(reader: Reader, said: str) -> None:
    form = form_of("impact", {**EXAMPLES["impact"][0].typed, "speed": ["90 m/s"]}, reader)
    assert one(form, "speed").mistakes == (said,)


def test_either_unit_is_read_and_read_back() -> None:
    typed = {**EXAMPLES["impact"][0].typed, "speed": ["8 in/s"]}
    assert one(form_of("impact", typed, METRIC), "speed").back == "0.203 m/s"
    assert one(form_of("impact", typed, US), "speed").back == ""
    assert read_back("no length", "m", US) == ""
    assert form_of("impact", typed).case == form_of("impact", {**typed, "speed": ["0.2032 m/s"]}).case


def test_a_range_in_words_says_what_bounds_it() -> None:
    half, whole = Limits(above=0.0), Limits(at_least=0, below=0.25)
    said = [
        range_in_words(limits, "m", METRIC)
        for limits in (half, Limits(at_least=0.5), Limits(at_most=2.0), whole, Limits())
    ]
    assert said == ["above 0", "at least 500 mm", "at most 2.000 m", "0 to 250 mm", ""]


def test_a_mistake_between_two_fields_stands_above_them_all_or_at_the_one_it_names() -> None:
    both = {**EXAMPLES["overtravel"][1].typed, "deceleration": ["2 m/s²"]}
    assert form_of("overtravel", both).mistakes == {
        "": ["Give the deceleration or the stopping time, one of the two."]
    }
    bare = {**EXAMPLES["contact"][1].typed, "obstruction.stiffness": [""]}
    assert "Nothing gives way" in one(form_of("contact", bare), "obstruction.stiffness").mistakes[0]
    free = {**EXAMPLES["impact"][0].typed, "drive_force": ["100 N"]}
    assert "“Nothing: it coasts” has no drive" in one(form_of("impact", free), "drive_force").mistakes[0]


def test_a_mistake_that_only_the_calculation_finds_stands_at_its_field_too() -> None:
    query = urlencode({"method": "iso13855-normal", "response_time": "0.1 s", "resolution": "50 mm"})
    response = Client().get(f"/workbench/approach/?{query}")
    told = response.content.decode().partition('id="told-resolution"')[2]
    assert response.status_code == 422
    assert "covers at most 40 mm" in unescape(told[: told.index("</div>")])


def test_a_curve_that_falls_is_said_at_the_curve() -> None:
    typed = {**EXAMPLES["contact"][0].typed, "edge.curve.x": ["0 mm", "9 mm", "6 mm", "30 mm"]}
    form = form_of("contact", typed)
    assert "must both rise" in form.mistakes["edge.curve"][0]


def test_a_range_upside_down_is_said_at_its_row() -> None:
    typed = {**EXAMPLES["contact_spread"][0].typed, "ranges.low": ["280 kg", "9 in/s", "0.8 m/s²"]}
    assert "low must be below high" in form_of("contact_spread", typed).mistakes["ranges[1]"][0]


def test_the_ends_of_a_range_are_quantities_of_the_input_that_it_names() -> None:
    typed = {**EXAMPLES["contact_spread"][0].typed, "ranges.high": ["380", "9 in/s", "3 m/s²"]}
    form = form_of("contact_spread", typed)
    assert one(form, "ranges[0].high").mistakes == ("The unit is missing. Write 380 lb or 380 kg.",)


def test_a_group_that_is_left_out_keeps_what_was_typed_in_it() -> None:
    typed = {**EXAMPLES["contact"][0].typed, "edge": ["none"]}
    form = form_of("contact", typed)
    group = next(part for part in form.parts() if isinstance(part, Group) and part.path == "edge")
    assert getattr(form.case, "edge", 0) is None
    assert not group.given
    assert one(form, "edge.response").value == "30 ms"


def test_empty_rows_are_left_out_and_counted_away() -> None:
    typed = {**EXAMPLES["risk_level"][0].typed, "steps": ["1", "", "  ", "2"]}
    form = form_of("risk_level", typed)
    assert [control.value for control, _at in controls(form.parts()) if control.name == "steps"] == ["1", "2"]


def test_a_row_that_lost_what_it_needs_is_asked_for_and_never_dropped() -> None:
    typed = {**EXAMPLES["cutlist"][0].typed, "pieces.length": ["9 ft 11 in", ""]}
    form = form_of("cutlist", typed)
    (said,) = one(form, "pieces[1].length").mistakes
    assert said.startswith("Nothing is given. Write for example")
    assert form.case is None


def test_a_choice_on_its_default_and_a_column_nobody_used_are_no_part_of_the_address() -> None:
    length, cutlist = calculation("length").case, calculation("cutlist").case
    said = dict(pairs_of(length, {"kind": ["rolling"], "construction": ["factory_sealed"], "ships": ["straight"]}))
    assert said == {"kind": "rolling", "ships": "straight"}
    rows = {"pieces.length": ["1 m", "2 m"], "pieces.label": ["", ""], "pieces.construction": ["", "cut_on_site"]}
    told = list(pairs_of(cutlist, rows))
    assert ("pieces.construction", "") in told
    assert not any(name == "pieces.label" for name, _value in told)
    assert {default_word(each) for each in inputs_of(length) if each.name in {"kind", "meets"}} == {""}


CURVES = "68 degF: 0 in 0 N, 1/4 in 10 lbf, 1-1/2 in 90 lbf; 40 degC: 0 mm 0 N, 6 mm 40 N"


def with_curves(text: str) -> Form:
    row = {"name": "low", "height": "2 in", "actuation_travel": "1/4 in", "curves": text}
    typed = {**EXAMPLES["floor"][0].typed, **{f"profiles.{key}": [value] for key, value in row.items()}}
    return form_of("floor", typed)


def test_curves_of_a_profile_are_one_text_in_its_row() -> None:
    form = with_curves(CURVES)
    assert form.case is not None, form.mistakes
    cold, warm = form.case.profiles[0].curves  # type: ignore[attr-defined]
    assert cold.temperature == pytest.approx(293.15)
    assert cold.curve[1] == pytest.approx((0.00635, 44.482216))
    assert warm.curve == ((0.0, 0.0), (0.006, 40.0))
    file = plain(node_of(form.model, form.typed))
    assert file["profiles"][0]["curves"][1] == {
        "temperature": "40 degC",
        "curve": [["0 mm", "0 N"], ["6 mm", "40 N"]],
    }


@pytest.mark.parametrize(
    "text",
    ["cold", "68 degF", "68 degF: 0 in", "68 degF: 0 in 0 N, 1 in 9 lb", "0 in 0 N", "68 degF: 0 in 0 N;;", ":"],
)
def test_curves_that_cannot_be_read_are_said_once_with_what_would_be_right(text: str) -> None:
    (said,) = one(with_curves(text), "profiles[0].curves").mistakes
    assert "Write for example 20 degC: 0 mm 0 N, 6.5 mm 45 N;" in said


def test_curves_from_warm_to_cold_are_said_at_their_field() -> None:
    (said,) = one(with_curves("; ".join(reversed(CURVES.split("; ")))), "profiles[0].curves").mistakes
    assert "from cold to warm" in said


def test_a_section_is_open_where_something_is_said_or_wrong() -> None:
    def opened(typed: Typed) -> set[str]:
        return {each.label for each in form_of("length", typed).parts() if isinstance(each, Section) and each.open}

    assert opened({"kind": ["rolling"]}) == set()
    assert opened({"kind": ["slide_gate"], "leaf_top": ["84 in"]}) == {"Gate"}
    assert opened({"kind": ["one_piece"], "leaf_width": ["wide"]}) == {"One-piece leaf"}
    missing = {**EXAMPLES["floor"][0].typed, "required_overtravel": ["1 in"]}
    section = next(each for each in form_of("floor", missing).parts() if isinstance(each, Section) and each.open)
    assert section.label == "Overtravel, warm and cold"


def test_every_field_of_a_section_is_a_field_of_its_calculation() -> None:
    for name, sections in SECTIONS.items():
        known = {spec.name for spec in inputs_of(calculation(name).case)}
        told = [field for _label, fields in sections for field in fields]
        assert set(told) <= known
        assert len(told) == len(set(told))


def test_every_word_of_a_choice_has_a_name_of_its_own() -> None:
    for name in TABLE:
        for control, _at in controls(form_of(name).parts()):
            for option in control.options:
                code = option.value and option.label == option.value and option.value not in CHOICES
                assert not code or control.path == "edition", f"{name}.{control.path}: {option.value}"


def test_a_flag_is_a_choice_of_two_and_an_optional_number_may_stay_empty() -> None:
    class Gate(Case):
        """A case that no calculation has yet."""

        wicket: bool = field(default=False, title="Has a wicket")
        gap: Metre | None = field(default=None, at_least=0.0, at_most=1.0, title="Gap; null = none")

    form = Form(name="gate", model=Gate, typed={"wicket": ["true"]}, reader=METRIC)
    form.read()
    wicket, gap = (control for control, _at in controls(form.parts()))
    assert form.case == Gate(wicket=True)
    assert [(each.label, each.chosen) for each in wicket.options] == [("yes", True), ("no", False)]
    assert (gap.label, gap.hint) == ("Gap", "0 to 1.000 m · empty: none")


def test_formulas_are_drawn_by_the_browser() -> None:
    assert mathml(r"p = \prod_i p_i") == (
        "<math><mi>p</mi><mo>=</mo><msub><mo>∏</mo><mi>i</mi></msub><msub><mi>p</mi><mi>i</mi></msub></math>"
    )
    assert "<mfrac><mrow>" in mathml(r"\frac{a + b}{V}")
    assert "<msqrt>" in mathml(r"v \sqrt{k m}")
    assert mathml("a < b") == "<math><mi>a</mi><mo>&lt;</mo><mi>b</mi></math>"
    assert "<msubsup><mi>F</mi><mn>0</mn><mn>2</mn></msubsup>" in mathml("F_0^2")
