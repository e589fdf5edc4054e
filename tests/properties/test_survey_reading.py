"""The reader gives a survey or refuses in words, whatever it is given: random trees, damaged files, any bytes."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from sillwright.base.errors import InputError
from sillwright.base.fact import ORIGINS, Reading, settle
from sillwright.base.node import parse
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import Opening, Site, Survey
from sillwright.survey.required import missing_for_study
from sillwright.survey.spec import Group, Spec

FULL = (Path(__file__).parents[1] / "survey" / "full.yaml").read_bytes()
LINES = FULL.splitlines(keepends=True)


def reads_or_refuses(content: bytes) -> None:
    """Read, and look at every fact; anything but a survey or an error in words fails the test."""
    try:
        survey = survey_from(parse(content, "yard.yaml"), "yard.yaml")
    except InputError as refused:
        said = str(refused)
        assert said
        assert len(said) < 400_000
        said.encode("utf-8")
        return
    assert isinstance(survey, Survey)
    missing_for_study(survey)
    for opening in survey.openings:
        for _, fact in opening.facts():
            assert fact.standing in {"not asked", "not known", "none there", "known", "assumed", "two readings"}
            assert (fact.value is None) or fact.standing in {"known", "assumed"}


def names(group: type[Group]) -> set[str]:
    """Every key that stands somewhere below a group."""
    found = set(group.specs)
    for spec in group.specs.values():
        found |= set() if isinstance(spec, Spec) else names(spec.group)
    return found


KEYS = sorted(names(Opening) | names(Site) | {"format", "site", "openings", "value", "from", "seen_from", "id"})
SCALARS: st.SearchStrategy[Any] = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=20),
    st.sampled_from(
        ["10 ft 6 in", "10.6 ft", "1/0 in", "left", "measured", "outside", "2010", "sectional", "e1", "5 dB"]
    ),
)


def branches(inner: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Lists, mappings of known keys, and wrapped facts."""
    wrapped = st.fixed_dictionaries(
        {"value": inner},
        optional={"from": st.sampled_from([*ORIGINS, "x"]), "by": SCALARS, "seen_from": st.just("outside")},
    )
    mappings = st.dictionaries(st.sampled_from(KEYS) | st.text(max_size=5), inner, max_size=5)
    return st.lists(inner, max_size=4) | st.lists(wrapped, max_size=3) | mappings | wrapped


TREES = st.recursive(SCALARS, branches, max_leaves=25)


def tree_below(group: type[Group], depth: int = 3) -> st.SearchStrategy[Any]:
    """Mappings that go down the declared groups, so that random values reach the facts."""
    known = {}
    for name, spec in group.specs.items():
        if isinstance(spec, Spec) or depth == 0:
            known[name] = TREES
        else:
            inner = tree_below(spec.group, depth - 1) | TREES
            known[name] = st.lists(inner, max_size=3) | TREES if spec.many else inner
    picked = st.lists(st.sampled_from(sorted(known)), max_size=6, unique=True)
    return picked.flatmap(lambda chosen: st.fixed_dictionaries({name: known[name] for name in chosen}))


@given(
    st.fixed_dictionaries(
        {"site": tree_below(Site) | TREES, "openings": st.lists(tree_below(Opening), max_size=3) | TREES}
    )
)
@example({"site": None, "openings": [{"operator": {"side": {"value": "left", "from": "mesured"}}}]})
def test_any_tree_is_read_or_refused(tree):
    document = {"format": "sillwright-survey/1", **tree}
    if isinstance(document["site"], dict):
        document["site"] = {**document["site"], "name": "Yard", "country": "US"}
    reads_or_refuses(json.dumps(document).encode())
    reads_or_refuses(yaml.safe_dump(document, allow_unicode=True).encode("utf-8", "replace"))


@given(
    st.integers(0, len(FULL)),
    st.integers(0, 30),
    st.binary(max_size=12) | st.text(max_size=8).map(lambda t: t.encode("utf-8", "replace")),
)
def test_a_damaged_file_is_read_or_refused(place, gone, put):
    reads_or_refuses(FULL[:place] + put + FULL[place + gone :])


@given(st.lists(st.sampled_from(LINES), max_size=60))
def test_a_shuffled_file_is_read_or_refused(lines):
    reads_or_refuses(b"".join(lines))


@given(st.integers(0, len(LINES) - 1), TREES)
def test_a_file_with_any_value_in_place_of_one_is_read_or_refused(number, value):
    head, colon, _ = LINES[number].partition(b":")
    line = head + colon + b" " + json.dumps(value).encode() + b"\n"
    reads_or_refuses(b"".join([*LINES[:number], line, *LINES[number + 1 :]]))


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(content):
    reads_or_refuses(content)


@given(st.text(max_size=200) | st.text("[]{}:,-'\"\n #&*!?|>%@`\\u0\t", max_size=60))
def test_any_text_is_read_or_refused(text):
    reads_or_refuses(text.encode("utf-8", "replace"))


READINGS = st.builds(
    Reading,
    value=st.none() | st.integers(0, 3),
    origin=st.none() | st.sampled_from(ORIGINS),
    doubtful=st.booleans(),
)


@given(st.lists(READINGS, max_size=5), st.randoms(use_true_random=False))
def test_what_readings_come_to_does_not_depend_on_their_order(readings, chance):
    def comes_to(given):
        fact = settle("x", given)
        return fact.standing, fact.value, fact.origin, set(fact.rivals)

    shuffled = list(readings)
    chance.shuffle(shuffled)
    assert comes_to(readings) == comes_to(shuffled)


@given(st.lists(READINGS, max_size=5))
def test_a_value_that_is_used_was_read_by_somebody(readings):
    fact = settle("x", readings)
    assert fact.readings == tuple(readings)
    if fact.standing == "known":
        assert fact.value in [each.value for each in readings if each.origin != "assumed"]
    if fact.standing == "two readings":
        assert len(set(fact.rivals)) > 1
