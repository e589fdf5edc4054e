"""What is written of answers reads back to the same facts, whatever words they hold."""

from __future__ import annotations

from datetime import date

from hypothesis import example, given
from hypothesis import strategies as st

from sillwright.base.display import feet_and_inches
from sillwright.base.node import parse
from sillwright.survey.from_node import survey_from
from sillwright.survey.questions import questions
from sillwright.survey.writing import draft_text

BASE = {"site.name": "Yard", "site.country": "US", "tag": "B1"}
WORDS = st.text(
    st.characters(exclude_categories=["Cs", "Cc"]) | st.sampled_from("\n\t\x85"), min_size=1, max_size=60
)
TEXT = WORDS.map(str.strip).filter(bool)
WORD = TEXT.map(lambda text: text.replace(";", ",").strip()).filter(bool)
SINGLE = [
    each for each in questions() if not each.each and each.path not in BASE and each.path != "site.subdivision"
]


def answer(kind: str, choices: tuple[str, ...], unit: str) -> st.SearchStrategy[str | None]:
    """Texts as a person types them for a fact of this kind."""
    typed: dict[str, st.SearchStrategy[str]] = {
        "text": TEXT,
        "choice": st.sampled_from(choices or ("",)),
        "flag": st.sampled_from(["yes", "no"]),
        "count": st.integers(0, 100).map(str),
        "texts": st.lists(WORD, min_size=1, max_size=3).map(";".join),
        "date": st.dates(min_value=date(1900, 1, 1), max_value=date(2100, 1, 1)).map(str),
        "quantity": st.floats(0.25, 2).map(feet_and_inches)
        if unit == "m"
        else st.floats(0.5, 4).map(lambda v: f"{v} {unit}"),
    }
    return st.none() | typed[kind]


ANSWERS = st.fixed_dictionaries(
    {}, optional={each.path: answer(each.spec.kind, each.spec.choices, each.spec.unit) for each in SINGLE}
)


def facts(text: str):
    """Every fact of a draft by path, as it was typed."""
    survey = survey_from(parse(text.encode("utf-8"), "draft.yaml"), "draft.yaml")
    found = {f"site.{fact.path}".replace("site.site.", "site."): fact for _, fact in survey.site.facts()}
    return {**found, **{fact.path: fact for _, fact in survey.openings[0].facts()}}


@given(ANSWERS)
@example({"operator.lists_devices": "0\x850"})
def test_every_answer_reads_back_and_nothing_else_does(given_answers):
    answers = {**given_answers, **BASE}
    found = facts(draft_text(answers))
    for path, said in answers.items():
        fact = found[path]
        if said is None:
            assert fact.standing == "not known", path
        else:
            assert fact.standing == "known", path
            if isinstance(fact.value, str):
                assert fact.value == said.strip()
            if isinstance(fact.value, tuple):
                assert list(fact.value) == [word.strip() for word in said.split(";") if word.strip()]
            if isinstance(fact.value, bool):
                assert fact.value is (said == "yes")
    assert {path for path, fact in found.items() if fact.standing != "not asked"} == set(answers)


@given(TEXT, TEXT, TEXT, st.from_regex(r"[\w-]{1,20}", fullmatch=True))
def test_any_words_of_a_person_read_back_as_they_were_typed(name, tag, label, device):
    answers = {"site.name": name, "site.country": "US", "tag": tag, f"protection.{device}.model": label}
    survey = survey_from(parse(draft_text(answers).encode("utf-8"), "draft.yaml"), "draft.yaml")
    (opening,) = survey.openings
    (found,) = opening.protection
    assert (survey.site.name.value, opening.tag.value) == (name, tag)
    assert (found.id.value, found.model.value) == (device, label)
