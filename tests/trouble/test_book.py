"""Putting the fault model together: what the tables may hold, and the place of everything that does not add up."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from sillwright.base import data
from sillwright.base.errors import DocumentError, UnknownName
from sillwright.trouble.book import TABLES, book_from, fault_book

Tables = dict[str, Any]


def tables() -> Tables:
    """The tables of the package, to be spoiled."""
    return {name: copy.deepcopy(data.table("sillwright.trouble", name)) for name in TABLES}


def refused(spoil: Callable[[Tables], object]) -> list[str]:
    """What is said of the tables once they are spoiled."""
    spoiled = tables()
    spoil(spoiled)
    with pytest.raises(DocumentError) as caught:
        book_from(spoiled)
    return [str(each) for each in caught.value.mistakes]


def test_the_tables_as_they_ship_make_the_book() -> None:
    assert book_from(tables()) == fault_book()
    assert fault_book() is fault_book(), "made once"


def test_a_book_for_a_circuit_differs_in_its_readings_only() -> None:
    plain, whole = fault_book("plain"), fault_book()
    assert plain.faults == whole.faults
    different = {one.id for one, other in zip(plain.tests, whole.tests, strict=True) if one != other}
    assert different == {test.id for test in whole.tests if test.reading}


def test_there_is_no_book_for_a_circuit_that_nobody_knows() -> None:
    with pytest.raises(UnknownName, match="resistor"):
        fault_book("resister")


def row(table: str, name: str, key: str = "id") -> Callable[[Tables], dict[str, Any]]:
    """Finds a row by its id."""
    kind = {"faults": "fault", "tests": "test", "repairs": "repair", "symptoms": "symptom", "facts": "fact"}[table]
    return lambda all_: next(each for each in all_[table][kind] if each[key] == name)


def change(table: str, name: str, **values: Any) -> Callable[[Tables], object]:
    """Changes a row; ``None`` takes a key away."""

    def spoil(all_: Tables) -> None:
        found = row(table, name)(all_)
        for key, value in values.items():
            if value is None:
                found.pop(key)
            else:
                found[key] = value

    return spoil


SPOILED = [
    pytest.param(
        lambda all_: row("symptoms", "CALL-01")(all_)["causes"].update(LEAD_OPEN=31),
        "symptoms.symptom.CALL-01.causes: the causes do not add up to 100",
        id="causes",
    ),
    pytest.param(
        change("symptoms", "CALL-01", share=18),
        "symptoms.symptom: the shares of the calls do not add up to 100",
        id="shares of calls",
    ),
    pytest.param(
        change("symptoms", "CALL-02", id="CALL-01"),
        "symptoms.symptom: a call stands more than once",
        id="a call twice",
    ),
    pytest.param(
        lambda all_: row("symptoms", "CALL-05")(all_)["causes"].update(NOISE="six"),
        "symptoms.symptom.CALL-05.causes.NOISE: a number is wanted, read 'six'",
        id="no number",
    ),
    pytest.param(
        change("symptoms", "CALL-08", tells={"rain": "perhaps"}),
        "symptoms.symptom.CALL-08.tells.rain: no such fact or value, read 'perhaps'",
        id="a call tells no such value",
    ),
    pytest.param(
        change("symptoms", "CALL-08", tells={"moon": "full"}),
        "symptoms.symptom.CALL-08.tells.moon: no such fact or value, read 'full'",
        id="a call tells no such fact",
    ),
    pytest.param(
        lambda all_: all_["symptoms"]["stands_for"][0].update(call="CALL-99"),
        "symptoms.stands_for.1: either a fault or a call that is listed is wanted, read 'CALL-99'",
        id="a stand-in for no call",
    ),
    pytest.param(
        lambda all_: all_["symptoms"]["stands_for"][0].pop("call"),
        "symptoms.stands_for.1: either a fault or a call that is listed is wanted",
        id="a stand-in for nothing",
    ),
    pytest.param(
        lambda all_: all_["symptoms"]["stands_for"][0].update(
            without=list(row("symptoms", "CALL-01")(all_)["causes"])
        ),
        "symptoms.stands_for.1.without: nothing is left of that call",
        id="a stand-in for what is left out",
    ),
    pytest.param(
        lambda all_: row("tests", "eye_tap")(all_)["given"].update(EYE_LOOSE=[0.1, 0.8]),
        "tests.eye_tap.likelihood.EYE_LOOSE: the numbers do not add up to 1",
        id="a row",
    ),
    pytest.param(
        lambda all_: row("tests", "eye_tap")(all_)["given"].update(EYE_LOSE=[0.1, 0.9]),
        "tests.eye_tap.likelihood: unknown name",
        id="no such fault",
    ),
    pytest.param(
        lambda all_: row("tests", "eye_tap")(all_)["given"].update({"EYE_LOOSE EYE_SUN": [0.1, 0.9]}),
        "tests.test.eye_tap.given.EYE_LOOSE: stands more than once",
        id="two rows for a fault",
    ),
    pytest.param(
        change("tests", "eye_tap", otherwise=[0.5, 0.4, 0.1]),
        "tests.eye_tap.otherwise: wrong length",
        id="a row too long",
    ),
    pytest.param(
        change("tests", "eye_tap", otherwise=[0.5, True]),
        "tests.test.eye_tap.otherwise: a list of numbers is wanted",
        id="true is no number",
    ),
    pytest.param(
        change("tests", "eye_tap", by="caretaker"), "tests.test.eye_tap.by: not one of the words for it", id="who"
    ),
    pytest.param(
        change("tests", "eye_tap", minutes="three"), "tests.test.eye_tap.minutes: a number is wanted", id="minutes"
    ),
    pytest.param(
        change("tests", "eye_tap", asks=" "), "tests.test.eye_tap.asks: a text is wanted", id="no question"
    ),
    pytest.param(change("tests", "eye_tap", color="red"), "tests.test.eye_tap.color: no such key here", id="a key"),
    pytest.param(
        change("tests", "eye_tap", outcomes="yes or no"),
        "tests.test.eye_tap.outcomes: a list of rows is wanted",
        id="outcomes",
    ),
    pytest.param(
        change("tests", "eye_tap", given=[1, 2]), "tests.test.eye_tap.given: a table is wanted", id="no table"
    ),
    pytest.param(
        change("tests", "eye_tap", unless={"eyes": "none"}),
        "tests.test.eye_tap.unless.eyes: a list of texts is wanted",
        id="unless",
    ),
    pytest.param(
        change("tests", "eye_tap", unless={"moon": ["full"]}),
        "tests.eye_tap.needs: unknown name",
        id="no such fact",
    ),
    pytest.param(
        change("tests", "eye_tap", cautions=["be_nice"]),
        "tests.test.eye_tap.cautions: no such text, read 'be_nice'",
        id="caution",
    ),
    pytest.param(
        change("tests", "ohms_operator", reading="moon"),
        "tests.test.ohms_operator.reading: not a reading that can be computed",
        id="no such reading",
    ),
    pytest.param(
        lambda all_: row("tests", "ohms_operator")(all_)["outcomes"].reverse(),
        "tests.test.ohms_operator.reading: not a reading that can be computed",
        id="outcomes the wrong way round",
    ),
    pytest.param(
        change("tests", "input_lamp", given={"LEAD_OPEN": [0.1, 0.1, 0.8]}),
        "tests.test.input_lamp.reading: not a reading that can be computed",
        id="a reading by hand",
    ),
    pytest.param(
        change("faults", "JOINT", hurt="moody"), "faults.fault.JOINT.hurt: no such hurt, read 'moody'", id="hurt"
    ),
    pytest.param(
        change("faults", "JOINT", mended_by="prayer"), "faults.JOINT.remedy: unknown name", id="no such repair"
    ),
    pytest.param(
        change("faults", "JOINT", danger="yes"), "faults.fault.JOINT.danger: true or false is wanted", id="flag"
    ),
    pytest.param(
        change("faults", "JOINT", id="JOINTS"),
        "faults: facts move a fault that is not listed, read 'JOINT'",
        id="renamed fault",
    ),
    pytest.param(
        change("repairs", "battery", proof=["hope"]), "repairs.repair.battery.proof: no such text", id="proof"
    ),
    pytest.param(change("repairs", "battery", success=1.5), "repairs.battery.success: out of range", id="too sure"),
    pytest.param(
        lambda all_: row("facts", "rain")(all_)["moves"].update(perhaps={"ICE": 2}),
        "facts.fact.rain.moves.perhaps: not a value of this fact",
        id="no such value",
    ),
    pytest.param(
        lambda all_: row("facts", "rain")(all_)["moves"]["yes"].update(ICE=-1),
        "faults.ICE.moves.rain: out of range",
        id="a negative factor",
    ),
    pytest.param(
        lambda all_: all_["pairs"]["group"][0]["pairs"].append(["ICE", "FIN"]),
        "pairs.group.1.pairs.19: two faults and a share in per cent are wanted",
        id="half a pair",
    ),
    pytest.param(
        lambda all_: all_["pairs"]["group"][0]["pairs"].append(["ICE", "ICE", 0.1]),
        "pairs.ICE+ICE: out of range",
        id="a pair of one",
    ),
    pytest.param(
        lambda all_: all_["checklist"]["checklist"]["CALL-01"].append("crystal_ball"),
        "checklist.CALL-01: unknown name",
        id="checklist",
    ),
    pytest.param(lambda all_: all_["faults"].update(extra=1), "faults.extra: no such key here", id="a table's key"),
]


@pytest.mark.parametrize(("spoil", "said"), SPOILED)
def test_tables_that_do_not_add_up_are_refused_with_the_place(spoil: Callable[[Tables], object], said: str) -> None:
    assert any(each.startswith(said) for each in refused(spoil)), refused(spoil)


def test_every_mistake_is_named_and_not_the_first_only() -> None:
    def spoil(all_: Tables) -> None:
        change("tests", "eye_tap", by="caretaker", minutes="three")(all_)
        change("faults", "JOINT", hurt="moody")(all_)

    assert len(refused(spoil)) == 3


def test_a_missing_table_is_refused() -> None:
    assert refused(lambda all_: all_.pop("tests"))


def test_a_mistake_is_named_once() -> None:
    said = refused(lambda all_: all_["symptoms"]["stands_for"][0].pop("cause"))
    assert len([each for each in said if "stands_for.1.cause" in each]) == 1
