"""The invented site of a demonstration: that it says so, and that it shows every answer."""

from __future__ import annotations

from sillwright.base.words import Reader
from sillwright.study import study_site
from sillwright.survey.model import Survey
from sillwright.survey.reading import read_survey, survey_of
from sillwright.survey.required import missing_facts
from sillwright.web.sites.demo import make_demo

from .conftest import ROOT, World


def test_the_invented_site_says_so_and_shows_every_answer(world: World) -> None:
    site = make_demo(world.dealer, world.people["owner"])
    content = world.client("reader").get(f"/sites/{site.pk}/survey.yaml").content
    survey = survey_of(content, "demo.yaml")
    openings = {str(each.tag.value): each for each in survey.openings}
    assert "(invented)" in site.name
    assert 6 <= len(openings) <= 8
    studied = study_site(_studied(survey), Reader())
    assert {each.duty.powered_closing for each in studied.openings} == {"yes", "no", "unknown"}
    kinds = {str(each.door.kind.value) for each in survey.openings}
    assert {"rolling_fire", "slide_gate", "sectional", "high_speed"} <= kinds
    assert any(len(each.temporary_parts) for each in survey.openings)
    facts = [fact.standing for each in survey.openings for _, fact in each.facts()]
    assert "two readings" in facts


def _studied(survey: Survey) -> Survey:
    """The openings of which enough is known for a study."""
    assert any(missing_facts(each) for each in survey.openings)
    return Survey(survey.site, tuple(each for each in survey.openings if not missing_facts(each)))


def test_the_invented_site_names_no_maker_and_every_person_is_one_of_the_demonstration() -> None:
    survey = read_survey(ROOT / "src/sillwright/web/data/demo.yaml", draft=True)
    names = {
        each.by for opening in survey.openings for _, fact in opening.facts() for each in fact.readings if each.by
    }
    assert names <= {"Demo technician", "Demo advisor", "owner", "shift lead"}
    models = {
        fact.value for opening in survey.openings for _, fact in opening.facts() if fact.path.endswith(".model")
    }
    assert all(" class " in str(model) for model in models if model)
