"""The answer on a phone without a signal is the server's: the same closing, the same deciding facts and verdicts.

Both sides get the same things that people said. The phone's side runs in Chromium, the server's in Python.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from sillwright.base import data
from sillwright.duty import rulebook
from sillwright.survey.entries import Entry
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.reading import read_survey
from sillwright.web.offline.book import book

from ..long import cases
from ..survey.entries_at_random import FILES
from .browser import ROOT
from .offline_cases import case_at_random, cases_of, told_rarely
from .offline_focus import complete, focused_case
from .offline_phone import Case, Phone, phone, phone_said, server_says

pytestmark = [pytest.mark.enable_socket]

QUICK = 400
CLOSELY, MANY = cases(250, 5_000), cases(250, 10_000)


@pytest.fixture(scope="module")
def here() -> Iterator[Phone]:
    with phone() as found:
        found.keep(book())
        yield found


def compared(here: Phone, cases: Sequence[Case]) -> list[dict[str, Any]]:
    """What the phone says to each case, after it was found to be what the server says."""
    found = here.answers(cases)
    for case, said in zip(cases, found, strict=True):
        _same(case, said)
    return found


def _same(case: Case, said: dict[str, Any]) -> None:
    expected = server_says(case)
    if expected is None or said["failed"]:
        assert said["failed"], case
        assert said["powered_closing"] == "unknown"
        assert expected is None or told_rarely(case), case
        return
    assert phone_said(said) == {**expected, "mistakes": expected["mistakes"] - set(said["unsure"])}, case


def example_cases() -> list[tuple[str, str, Case]]:
    """Every example beside a rule: the rule, the verdict, and what is given."""
    bases = data.table("sillwright.duty", "rules")["base"]
    return [
        (rule.id, each.verdict, next(cases_of(survey_from_facts({**bases[rule.of], **each.given}))))
        for rule in rulebook.rules()
        for each in rule.examples
    ]


def test_each_example_beside_a_rule_comes_out_on_the_phone_as_it_says(here: Phone) -> None:
    examples = example_cases()
    found = compared(here, [case for *_, case in examples])
    verdicts = [
        {rule["id"]: rule["verdict"] for rule in each["rules"]}[id]
        for (id, *_), each in zip(examples, found, strict=True)
    ]
    assert verdicts == [verdict for _, verdict, _ in examples]
    assert len(verdicts) > 150


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_opening_of_an_example_site_has_the_servers_answer(here: Phone, path: Any) -> None:
    found = compared(here, list(cases_of(read_survey(path, draft=True))))
    assert not any(each["failed"] for each in found)


def cases_of_the_tests_of_duty(folder: Path) -> list[Case]:
    """Every opening that the tests of duty ask about."""
    written = folder / "cases.json"
    command = [sys.executable, "-m", "pytest", "-q", "-p", "tests.web.duty_recorder", "-p", "no:cacheprovider"]
    env = {**os.environ, "DUTY_CASES": str(written)}
    subprocess.run([*command, "tests/duty"], cwd=ROOT, env=env, capture_output=True, timeout=900, check=True)
    found = json.loads(written.read_text(encoding="utf-8"))
    return [
        Case(each["country"], *(tuple(Entry(**one) for one in each[name]) for name in ("site", "opening")))
        for each in found
    ]


@pytest.mark.slow
def test_every_opening_that_the_tests_of_duty_ask_about_has_the_servers_answer(here: Phone, tmp_path: Path) -> None:
    cases = cases_of_the_tests_of_duty(tmp_path)
    assert len(cases) > 200
    answers = Counter(each["powered_closing"] for each in compared(here, cases))
    assert min(answers[name] for name in ("yes", "no", "unknown")) > 40, answers


CORNERS = {
    "a test that failed and was met on one day": (
        "door",
        [
            ("tests.m1.what", "TEST-9"), ("tests.m1.result", "not met"), ("tests.m1.on", "2026-02-10"),
            ("tests.m2.what", "TEST-9"), ("tests.m2.result", "met"), ("tests.m2.on", "2026-02-10"),
        ],
        ["tests"],
    ),
    "a board of the year on whose last day the operator was made": (
        "old",
        [("operator.made", "2010-12-31"), ("operator.board_made", "2010")],
        ["operator.board_made"],
    ),
    **{
        f"a wide gap below a swing gate of which a zone is called {place}": (
            "gate",
            [("door.kind", "swing_gate"), ("door.underside", "8 in"), ("zones.m1.place", place)],
            ["zones"],
        )
        for place in ("thunder", "_under_", "Kelvin's belows")
    },
}  # fmt: skip


@pytest.mark.parametrize("corner", CORNERS)
def test_what_openings_at_random_hardly_ever_meet_has_the_servers_answer(here: Phone, corner: str) -> None:
    base, told, deciding = CORNERS[corner]
    case = complete()[base]
    kept = [each for each in case.opening if each.path not in dict(told)]
    entries = [Entry(path=path, typed=typed) for path, typed in told]
    (found,) = compared(here, [Case(case.country, case.site, (*kept, *entries))])
    assert (found["powered_closing"], found["deciding_facts"]) == ("unknown", deciding)


def test_openings_of_every_sort_have_the_servers_answer(here: Phone) -> None:
    found = compared(here, [case_at_random(seed) for seed in range(QUICK)])
    answers = Counter(each["powered_closing"] for each in found if not each["failed"])
    assert min(answers[name] for name in ("yes", "no", "unknown")) > QUICK // 20, answers


def test_what_decides_told_closely_has_the_servers_answer(here: Phone) -> None:
    found = compared(here, [focused_case(seed) for seed in range(QUICK)])
    answers = Counter(each["powered_closing"] for each in found)
    assert min(answers[name] for name in ("yes", "no", "unknown")) > QUICK // 8, answers


@pytest.mark.slow
@pytest.mark.long
def test_many_told_closely_have_the_servers_answer(here: Phone) -> None:
    for start in range(QUICK, QUICK + CLOSELY, 250):
        compared(here, [focused_case(seed) for seed in range(start, start + 250)])


@pytest.mark.slow
@pytest.mark.long
def test_many_openings_have_the_servers_answer(here: Phone) -> None:
    found = []
    for start in range(QUICK, QUICK + MANY, 250):
        found += compared(here, [case_at_random(seed) for seed in range(start, start + 250)])
    _show_everything(found)


def _show_everything(found: Sequence[Mapping[str, Any]]) -> None:
    """Each answer in each regime, each standing of a device; of ten thousand each verdict of each rule as well."""
    least = len(found) // 500
    told = [each for each in found if not each["failed"]]
    answers = Counter((each["regime"], each["powered_closing"]) for each in told)
    for regime in rulebook.regimes():
        assert min(answers[regime.id, answer] for answer in ("yes", "no", "unknown")) > least, answers
    assert min(answers[None, answer] for answer in ("no", "unknown")) > least, answers
    verdicts = Counter((rule["id"], rule["verdict"]) for each in told for rule in each["rules"])
    for rule in rulebook.rules():
        assert min(verdicts[rule.id, verdict] for verdict in ("holds", "fails", "unknown")) >= least // 4, (
            rule.id,
            verdicts,
        )
    for name in ("works", "watched", "listed", "monitored"):
        standings = Counter(device[name] for each in told for device in each["devices"])
        assert min(standings[answer] for answer in ("yes", "no", "unknown")) > least, standings
    assert len({each["headline"] for each in told}) > 5 * least


@pytest.mark.parametrize("most", [2, 12, 40, 90])
def test_where_too_much_is_not_known_both_give_up_at_the_same_place(
    here: Phone, monkeypatch: pytest.MonkeyPatch, most: int
) -> None:
    monkeypatch.setattr("sillwright.base.logic.MOST_NODES", most)
    whole = book()
    here.keep({**whole, "limits": {**whole["limits"], "nodes": most}})
    try:
        compared(here, [case_at_random(seed) for seed in range(40)])
    finally:
        here.keep(whole)


# what a phone cannot do


COMMERCIAL_EDGE = example_cases()[0][2]


def _with(case: Case, *entries: Entry) -> Case:
    return Case(case.country, case.site, (*case.opening, *entries))


def test_a_length_in_a_unit_that_only_the_server_knows_leaves_no_answer_where_it_matters(here: Phone) -> None:
    eye = [Entry(path="protection.e1.kind", typed="photo_eye"), Entry(path="protection.e1.height", typed="2 hand")]
    other = Entry(path="lead.length", typed="2 fathom")
    (matters,) = here.answers([_with(COMMERCIAL_EDGE, *eye)])
    assert (matters["failed"], matters["powered_closing"], matters["rules"]) == (True, "unknown", [])
    (aside,) = here.answers([_with(COMMERCIAL_EDGE, other)])
    assert not aside["failed"]
    assert aside["unsure"] == {"lead.length": True}


@pytest.mark.parametrize(
    "change",
    [
        {"format": 99},
        {"definitions": {}},
        {"groups": {}},
        {"rules": [{"id": "new", "when": ["some", "x"], "holds": ["const", True]}]},
        {"rules": [{"id": "new", "when": ["call", "a_new_function"], "holds": ["const", True]}]},
        {"rules": [{"id": "new", "when": ["path", ["door", "colour"]], "holds": ["const", True]}]},
        {
            "rules": [
                {"id": "new", "when": ["compare", "~", ["door", "kind"], ["const", 1]], "holds": ["const", True]}
            ]
        },
        {
            "rules": [
                {"id": "new", "when": ["compare", "<", ["door", "kind"], ["const", 1]], "holds": ["const", True]}
            ]
        },
    ],
)
def test_a_book_that_the_scripts_do_not_know_gives_no_answer(here: Phone, change: dict[str, Any]) -> None:
    here.keep({**book(), **change})
    try:
        (found,) = here.answers([COMMERCIAL_EDGE])
        assert (found["failed"], found["powered_closing"], found["headline"]) == (True, "unknown", "")
    finally:
        here.keep(book())


@pytest.mark.parametrize(
    "entry",
    [
        Entry(path="door.kind", says="perhaps", typed="grille"),  # type: ignore[arg-type]
        Entry(path="door.kind", typed="grille", origin="dreamt"),  # type: ignore[arg-type]
        Entry(path="protection.e7.id", typed="e1"),
    ],
)
def test_what_no_survey_holds_gives_no_answer(here: Phone, entry: Entry) -> None:
    (found,) = here.answers([_with(COMMERCIAL_EDGE, entry)])
    assert (found["failed"], found["powered_closing"]) == (True, "unknown")


_EDGE = (
    Entry(path="door.kind", typed="sectional"),
    Entry(path="protection.e1.kind", typed="sensing_edge"),
    Entry(path="protection.e1.state", typed="works"),
)


@pytest.mark.parametrize(
    "more",
    [
        [Entry(path="protection.e1.state", typed="ripped to pieces", origin="measured")],
        [Entry(path="protection.e1.state", typed="ripped to pieces", origin="assumed")],
        [
            Entry(path="protection.e1.state", typed="ripped to pieces"),
            Entry(path="protection.e1.state", says="none"),
        ],
        [Entry(path="protection.e1.state", typed="works") for _ in range(60)],
        [
            *(Entry(path="protection.e1.state", typed="works") for _ in range(60)),
            Entry(path="protection.e1.state", typed="dead"),
        ],
        [
            Entry(path="door.clear_width", typed="10 ft"),
            Entry(path="door.clear_width", typed="10 6", origin="told"),
        ],
    ],
)
def test_a_reading_that_nobody_can_read_counts_on_the_phone_as_on_the_server(
    here: Phone, more: list[Entry]
) -> None:
    compared(here, [Case("US", (), (*_EDGE, *more))])
