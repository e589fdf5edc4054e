"""The examples that stand beside the rules, run: the suite and the self-test use the same ones."""

from __future__ import annotations

from sillwright.base import data
from sillwright.base.rule import Example, Rule
from sillwright.duty._assess import Judge, judge_rule
from sillwright.duty.model import Verdict
from sillwright.survey.from_facts import survey_from_facts


def verdict_of(rule: Rule, example: Example) -> Verdict:
    """The verdict of a rule on its example."""
    given = {**data.table("sillwright.duty", "rules")["base"][rule.of], **example.given}
    survey = survey_from_facts(given, rule.id)
    return judge_rule(Judge.of(survey.site, survey.openings[0]), rule)
