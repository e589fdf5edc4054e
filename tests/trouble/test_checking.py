"""A fault model that does not add up is refused, with every place."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import inf, nan

import pytest

from sillwright.base.errors import DocumentError
from sillwright.trouble.book import fault_book
from sillwright.trouble.checking import check_model, mistakes_of
from sillwright.trouble.model import FaultModel, Move

from .fault_models import at_random, small


def with_first(name: str, **changes: object) -> Callable[[FaultModel], FaultModel]:
    """A model with its first fault, symptom, test or repair changed."""

    def change(model: FaultModel) -> FaultModel:
        first, *others = getattr(model, name)
        return replace(model, **{name: (replace(first, **changes), *others)})  # type: ignore[arg-type]

    return change


def with_whole(**changes: object) -> Callable[[FaultModel], FaultModel]:
    return lambda model: replace(model, **changes)  # type: ignore[arg-type]


ROW = (("CABLE_OFF", (0.05, 0.94)),)
WRONG: list[tuple[Callable[[FaultModel], FaultModel], str]] = [
    (
        with_first("tests", likelihood=ROW),
        "tests.crooked.likelihood.CABLE_OFF: the numbers do not add up to 1, read 0.99",
    ),
    (
        with_first("tests", otherwise=(0.5, 0.6)),
        "tests.crooked.otherwise: the numbers do not add up to 1, read 1.1",
    ),
    (with_first("tests", otherwise=(1.5, -0.5)), "tests.crooked.otherwise: out of range, read (1.5, -0.5)"),
    (with_first("tests", otherwise=(nan, 1.0)), "tests.crooked.otherwise: out of range, read (nan, 1.0)"),
    (with_first("tests", otherwise=(1.0,)), "tests.crooked.otherwise: wrong length, read 1\n    2 numbers"),
    (
        with_first("tests", likelihood=(("CABEL_OFF", (1.0, 0.0)),)),
        "tests.crooked.likelihood: unknown name, read 'CABEL_OFF'\n    did you mean “CABLE_OFF”?",
    ),
    (with_first("tests", likelihood=(*ROW, *ROW)), "tests.crooked.likelihood.CABLE_OFF: stands more than once"),
    (with_first("tests", minutes=-1.0), "tests.crooked.minutes: out of range, read -1.0"),
    (with_first("tests", minutes=nan), "tests.crooked.minutes: out of range, read nan"),
    (with_first("tests", question="Is it {this}?"), "tests.crooked: a text holds no braces"),
    (with_first("tests", id="lamp"), "tests.lamp: stands more than once"),
    (
        with_first("tests", needs=(Move(fact="rain", value="often", factor=0.0),)),
        "tests.crooked.needs.rain: unknown name, read 'often'",
    ),
    (
        with_first("symptoms", causes=(("CORD_BROKEN", 0.5),)),
        "symptoms.HELD.causes: the numbers do not add up to 1, read 0.5",
    ),
    (with_first("symptoms", causes=(("CORD", 1.0),)), "symptoms.HELD.causes: unknown name, read 'CORD'"),
    (with_first("symptoms", share=0.0), "symptoms.HELD.share: out of range, read 0.0"),
    (with_first("symptoms", share=nan), "symptoms.HELD.share: out of range, read nan"),
    (with_first("symptoms", tells=(("moon", "full"),)), "symptoms.HELD.tells: unknown name, read 'moon'"),
    (with_first("faults", remedy="glue"), "faults.CORD_BROKEN.remedy: unknown name, read 'glue'"),
    (
        with_first("faults", moves=(Move(fact="moon", value="full", factor=2.0),)),
        "faults.CORD_BROKEN.moves: unknown name, read 'moon'",
    ),
    (
        with_first("faults", moves=(Move(fact="rain", value="yes", factor=-2.0),)),
        "faults.CORD_BROKEN.moves.rain: out of range, read -2.0",
    ),
    (
        with_first("faults", moves=(Move(fact="rain", value="yes", factor=inf),)),
        "faults.CORD_BROKEN.moves.rain: out of range, read inf",
    ),
    (with_first("repairs", minutes=0.0), "repairs.cord.minutes: out of range, read 0.0\n    a number above 0"),
    (with_first("repairs", success=0.0), "repairs.cord.success: out of range, read 0.0"),
    (with_first("repairs", success=1.01), "repairs.cord.success: out of range, read 1.01"),
    (with_whole(pairs=(("CORD_BROKEN", "CORD_BROKEN", 0.1),)), "pairs.CORD_BROKEN+CORD_BROKEN: out of range"),
    (
        with_whole(pairs=(("CORD_BROKEN", "WET_EDGE", 0.1), ("WET_EDGE", "CORD_BROKEN", 0.1))),
        "pairs.CORD_BROKEN+WET_EDGE: stands more than once",
    ),
    (with_whole(pairs=(("CORD_BROKEN", "WET_EDGE", 0.6),)), "pairs: out of range, read 0.6\n    at most half"),
    (with_whole(pairs=(("CORD_BROKEN", "WET", 0.1),)), "pairs: unknown name, read 'WET'"),
    (with_whole(checklist=(("HELT", ("lamp",)),)), "checklist: unknown name, read 'HELT'"),
    (with_whole(checklist=(("HELD", ("lamb",)),)), "checklist.HELD: unknown name, read 'lamb'"),
    (with_whole(unlisted=0.5), "unlisted: out of range, read 0.5"),
    (with_whole(unlisted=nan), "unlisted: out of range, read nan"),
    (with_whole(referral=0.0), "referral: out of range, read 0.0"),
    (with_whole(symptoms=small().symptoms[:1]), "faults.CABLE_OFF: no symptom has it among its causes"),
    (
        with_whole(faults=(), symptoms=(), tests=(), repairs=(), pairs=(), checklist=()),
        "at least one fault, one symptom and one repair are wanted",
    ),
]


@pytest.mark.parametrize(
    ("change", "message"), WRONG, ids=lambda value: value[:50] if isinstance(value, str) else ""
)
def test_a_mistake_is_named_with_its_place(change: Callable[[FaultModel], FaultModel], message: str) -> None:
    model = change(small())
    if "checklist" not in message:
        model = replace(model, checklist=())
    with pytest.raises(DocumentError) as raised:
        check_model(model, "my faults")
    assert any(str(each).startswith(message) for each in raised.value.mistakes), str(raised.value)
    assert str(raised.value).startswith("my faults: ")


def test_all_mistakes_are_named_not_only_the_first() -> None:
    model = with_first("tests", otherwise=(0.5, 0.6))(with_first("repairs", success=2.0)(small()))
    assert len(list(mistakes_of(model))) == 2


def test_a_test_with_one_outcome_tells_nothing_and_is_refused() -> None:
    model = small()
    one = replace(model.tests[0], outcomes=model.tests[0].outcomes[:1], otherwise=(1.0,), likelihood=())
    found = [str(each) for each in mistakes_of(replace(model, tests=(one,), checklist=()))]
    assert found == ["tests.crooked.outcomes: out of range, read 1\n    at least two outcomes"]


def test_more_pairs_than_can_be_gone_through_are_refused() -> None:
    model = at_random(1, faults=70, pairs=2000, tests=1)
    assert any("at most 2,000 faults" in str(each) for each in mistakes_of(model))


def test_the_models_of_these_tests_and_the_one_that_ships_add_up() -> None:
    for model in (small(), fault_book(), *(at_random(seed) for seed in range(5))):
        check_model(model)
