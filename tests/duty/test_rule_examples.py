"""Every rule runs the examples that stand beside it in its table."""

from __future__ import annotations

import pytest

from sillwright.base.rule import Example, Rule
from sillwright.duty import rulebook
from sillwright.duty.examples import verdict_of

EXAMPLES = [
    pytest.param(rule, example, id=f"{rule.id}-{number}-{example.verdict}")
    for rule in rulebook.rules()
    for number, example in enumerate(rule.examples, 1)
]


@pytest.mark.parametrize(("rule", "example"), EXAMPLES)
def test_the_example_beside_the_rule_comes_out_as_it_says(rule: Rule, example: Example) -> None:
    assert verdict_of(rule, example) == example.verdict


@pytest.mark.parametrize("rule", rulebook.rules(), ids=lambda rule: rule.id)
def test_each_rule_shows_where_it_holds_where_it_fails_and_where_it_is_not_known(rule: Rule) -> None:
    shown = {example.verdict for example in rule.examples}
    assert {"holds", "fails", "unknown"} <= shown
