"""A site through all chapters: what a reader of the answer may rely on."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.study import OpeningStudy, opening_as_json, site_as_json, study_opening, study_site
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.reading import read_survey

ROOT = Path(__file__).parents[2]
FORBIDDEN = ("safe ", "safe.", "compliant", "certified", "approved", "guarantee")
BASE = {
    "door.kind": "sectional",
    "door.occupancy": "commercial",
    "door.clear_width": "10 ft 4 in",
    "door.clear_height": "12 ft",
}


def study(facts: dict[str, Any]) -> OpeningStudy:
    survey = survey_from_facts({**BASE, **facts})
    return study_opening(survey.site, survey.openings[0])


def test_the_compiled_kernel_gives_the_numbers_of_the_plain_one() -> None:
    survey = read_survey(ROOT / "examples/ferry-yard.yaml")
    for opening in survey.openings[:2]:
        plain = study_opening(survey.site, opening, engine="plain").exposure
        fast = study_opening(survey.site, opening, engine="kernel").exposure
        assert plain is not None
        assert fast is not None
        for name, ends in plain.band.items():
            assert fast.band[name] == pytest.approx(ends, rel=1e-9, abs=1e-9)


def test_unknowns_come_in_the_order_in_which_they_matter() -> None:
    found = study({"operator.closing_control": "momentary", "operator.station_in_view": True})
    decides = [each.decides[0] for each in found.unknown]
    assert decides[: len(found.duty.deciding_facts)] == ["duty.powered_closing"] * len(found.duty.deciding_facts)
    assert "exposure.contact" in decides


def test_findings_come_heaviest_first() -> None:
    found = study({"temporary_parts": ["jumper"], "operator.made": "2004", "use.only_exit": True})
    weights = [("stop", "act", "note", "good").index(each.level) for each in found.findings]
    assert weights == sorted(weights)


def test_a_dead_edge_is_computed_as_one_that_gives_but_does_not_answer() -> None:
    edge = {"id": "e1", "kind": "sensing_edge", "circuit": "resistor"}
    works = study({"protection": [edge]}).exposure
    dead = study({"protection": [{**edge, "state": "dead"}]}).exposure
    gone = study({"protection": [{**edge, "state": "torn_off"}]}).exposure
    assert works is not None
    assert dead is not None
    assert gone is not None
    assert works.contact["actuation_time"] is not None
    assert dead.contact["actuation_time"] is None
    assert dead.contact["peak_edge_travel"] > 0 == gone.contact["peak_edge_travel"]


def test_an_edge_of_unknown_state_is_never_counted_in_favour() -> None:
    found = study({"protection": None}).exposure
    assert found is not None
    assert "within" not in {each.verdict for each in found.limits if each.quantity != "time_above_25"}


def test_a_hanging_leaf_presses_with_its_weight_whatever_the_force_limit() -> None:
    facts = {"operator.kind": "jackshaft", "operator.force_limit": "300 N", "door.leaf_mass": "300 kg"}
    found = study(facts).exposure
    assert found is not None
    (push,) = [each for each in found.inputs if each.name == "drive.push_limit"]
    assert push.low > 0.6 * 300 * 9.80665
    pushed = study({**facts, "operator.kind": "trolley"}).exposure
    assert pushed is not None
    (push,) = [each for each in pushed.inputs if each.name == "drive.push_limit"]
    assert push.middle == pytest.approx(300)


def test_two_readings_widen_the_band_and_say_so() -> None:
    found = study({"door.leaf_mass": [{"value": "200 kg", "from": "told"}, {"value": "400 kg", "from": "plate"}]})
    assert found.exposure is not None
    (mass,) = [each for each in found.exposure.inputs if each.name == "moving_mass"]
    assert (mass.low, mass.origin) == (200.0, "derived")
    assert "survey.two_readings" in {each.id for each in found.findings}


def test_the_answer_for_programs_holds_plain_values_only() -> None:
    survey = read_survey(ROOT / "tests/survey/full.yaml")
    answer = site_as_json(study_site(survey, Reader()))
    (opening,) = answer["openings"]
    assert opening["duty"]["deciding_facts"] == ["operator.instructions"]
    assert set(opening["exposure"]["contact_band"]["peak_force"]) == {"p5", "p50", "p95"}


def test_no_sentence_promises_anything() -> None:
    survey = read_survey(ROOT / "examples/ferry-yard.yaml")
    for studied in study_site(survey, Reader()).openings:
        words = str(opening_as_json(studied, Reader())).replace("Operation Safe Gate", "").lower()
        for promise in FORBIDDEN:
            assert promise not in words, promise


@pytest.mark.parametrize("units", ["us", "metric"])
def test_every_headline_is_a_sentence(units: Any) -> None:
    survey = read_survey(ROOT / "examples/ferry-yard.yaml")
    for studied in study_site(survey, Reader(units=units)).openings:
        said = render(studied.headline, Reader(units=units))
        assert said.endswith(".")
        assert "{" not in said
