"""Rules as data: the small language they are written in, three values, and diagrams that lose nothing.

The diagrams are checked against enumeration of every assignment, Kleene's values against the diagrams.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError
from sillwright.base.expression import And, Call, Compare, Const, Not, Or, Path, Quantified, parse
from sillwright.base.logic import Diagrams, Kleene, Variable, support
from sillwright.base.rule import Evaluator, Known, Members, Open, comparisons, definition_from, rule_from

# the language


@pytest.mark.parametrize(
    ("text", "tree"),
    [
        ("true", Const(True)),
        ("false", Const(False)),
        ("use.public", Path(("use", "public"))),
        ("not use.public", Not(Path(("use", "public")))),
        ("a.b == 'x y'", Compare("==", Path(("a", "b")), Const("x y"))),
        ("a == b.c", Compare("==", Path(("a",)), Path(("b", "c")))),
        ("made >= 2010-08-29", Compare(">=", Path(("made",)), Const(date(2010, 8, 29)))),
        ("width < 2 m", Compare("<", Path(("width",)), Const(2.0))),
        ("width < 500 mm", Compare("<", Path(("width",)), Const(0.5))),
        ("speed > 8 in/s", Compare(">", Path(("speed",)), Const(0.2032))),
        ("gap <= 3 in and b", And((Compare("<=", Path(("gap",)), Const(0.0762)), Path(("b",))))),
        ("n != -3", Compare("!=", Path(("n",)), Const(-3.0))),
        ("n <= 1.5", Compare("<=", Path(("n",)), Const(1.5))),
        ("on == true", Compare("==", Path(("on",)), Const(True))),
        ("kind in ['a', 'b']", Compare("in", Path(("kind",)), Const(("a", "b")))),
        ("kind in []", Compare("in", Path(("kind",)), Const(()))),
        ("n in [1, 2 m]", Compare("in", Path(("n",)), Const((1.0, 2.0)))),
        ("a and b or c", Or((And((Path(("a",)), Path(("b",)))), Path(("c",))))),
        ("a and (b or c)", And((Path(("a",)), Or((Path(("b",)), Path(("c",))))))),
        ("any p in x: p.on and q", Quantified("any", "p", Path(("x",)), And((Path(("p", "on")), Path(("q",)))))),
        ("all p in x: p", Quantified("all", "p", Path(("x",)), Path(("p",)))),
        ("f(p, 'x', 2)", Call("f", (Path(("p",)), Const("x"), Const(2.0)))),
        ("f()", Call("f", ())),
        ("n > 2 and b", And((Compare(">", Path(("n",)), Const(2.0)), Path(("b",))))),
    ],
)  # fmt: skip
def test_an_expression_is_read(text, tree):
    assert parse(text) == tree


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "name wanted"),
        ("a b", "the end wanted, read “b”"),
        ("a ==", "a value wanted"),
        ("a == )", "a value wanted"),
        ("a in [b]", "a value wanted, read “b”"),
        ("(a", ") wanted"),
        ("f(a", "a value wanted"),
        ("any p list: p", "in wanted, read “list”"),
        ("any p in list p", ": wanted"),
        ("a ? b", "cannot read from"),
        ("a == 3 parsecz", "unknown unit in “3 parsecz”"),
        ("a == 2010-13-45", "not a date"),
        ("== 3", "name wanted"),
        ("a and", "name wanted"),
        ("a == 'x", "cannot read from"),
    ],
)
def test_what_is_no_expression_is_refused_with_its_text(text, said):
    with pytest.raises(InputError) as caught:
        parse(text)
    assert said in str(caught.value)
    assert f"“{text}”" in str(caught.value)


@given(st.text("abp.()[],:'<>=! 0123456789-mandornotyli", max_size=40))
def test_any_text_is_an_expression_or_is_refused(text):
    try:
        parse(text)
    except InputError as refused:
        said = str(refused)
    else:
        said = "rule"
    assert said.startswith("rule")


# the logic

NAMES = [Variable(rank, f"fact{rank}") for rank in range(3)]
DOMAINS = {NAMES[0]: (False, True), NAMES[1]: ("a", "b", "c"), NAMES[2]: (1, 2)}
LEAVES = st.one_of(
    st.booleans().map(lambda value: ("const", value)),
    st.sampled_from(NAMES).flatmap(
        lambda name: st.sets(st.sampled_from(DOMAINS[name])).map(lambda chosen: ("test", name, frozenset(chosen)))
    ),
)
FORMULAS = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.tuples(st.just("all"), st.lists(inner, max_size=3)),
        st.tuples(st.just("any"), st.lists(inner, max_size=3)),
        st.tuples(st.just("not"), inner),
    ),
    max_leaves=10,
)


def evaluated(formula: Any, algebra: Any) -> Any:
    kind = formula[0]
    if kind == "const":
        return algebra.const(formula[1])
    if kind == "test":
        return algebra.test(formula[1], DOMAINS[formula[1]], lambda value: value in formula[2])
    if kind == "not":
        return algebra.negate(evaluated(formula[1], algebra))
    items = [evaluated(each, algebra) for each in formula[1]]
    return algebra.all_of(items) if kind == "all" else algebra.any_of(items)


def truth(formula: Any, values: Mapping[Variable, Any]) -> bool:
    kind = formula[0]
    if kind == "const":
        return bool(formula[1])
    if kind == "test":
        return values[formula[1]] in formula[2]
    if kind == "not":
        return not truth(formula[1], values)
    return (all if kind == "all" else any)(truth(each, values) for each in formula[1])


def assignments() -> list[dict[Variable, Any]]:
    return [dict(zip(NAMES, values, strict=True)) for values in product(*(DOMAINS[name] for name in NAMES))]


@given(FORMULAS)
def test_a_diagram_is_constant_exactly_when_every_assignment_agrees(formula):
    diagram = evaluated(formula, Diagrams())
    answers = {truth(formula, values) for values in assignments()}
    assert (diagram in (True, False)) is (len(answers) == 1)
    if len(answers) == 1:
        assert diagram is answers.pop()


@given(FORMULAS)
def test_a_diagram_mentions_exactly_the_facts_that_matter(formula):
    matters = {
        name
        for name in NAMES
        for values in assignments()
        for other in DOMAINS[name]
        if truth(formula, values) != truth(formula, {**values, name: other})
    }
    assert support(evaluated(formula, Diagrams())) == tuple(sorted(matters))


@given(FORMULAS, FORMULAS)
def test_equal_answers_are_one_diagram(one, other):
    diagrams = Diagrams()
    same = all(truth(one, values) == truth(other, values) for values in assignments())
    assert (evaluated(one, diagrams) is evaluated(other, diagrams)) is same


@given(FORMULAS)
def test_kleene_never_says_more_than_every_assignment_does(formula):
    known = evaluated(formula, Kleene())
    answers = {truth(formula, values) for values in assignments()}
    assert known is None or answers == {known}


def test_a_diagram_that_was_made_is_not_made_again():
    diagrams = Diagrams()
    one, other = (diagrams.test(name, DOMAINS[name], lambda value: value in {True, "a"}) for name in NAMES[:2])
    both = diagrams.all_of([one, other])
    assert both not in (True, False)
    assert diagrams.all_of([other, one]) is both
    assert diagrams.negate(diagrams.negate(both)) is both


def test_kleene_loses_that_an_unknown_has_some_value():
    before = ("test", NAMES[0], frozenset({True}))
    either = ("any", [before, ("not", before)])
    assert evaluated(either, Kleene()) is None
    assert evaluated(either, Diagrams()) is True


# rules over facts

MADE = Open(Variable(0, "made"), (date(2009, 1, 1), date(2011, 1, 1)))
KIND = Open(Variable(1, "kind"), ("edge", "eye"))


class Yard:
    """Facts for a rule: some known, some open, a list of devices."""

    def __init__(self, known: Mapping[str, Any], devices: Members | None = None) -> None:
        self.known = known
        self.devices = devices or Members()

    def look(self, path: Path, bound: Mapping[str, Any]) -> Any:
        owner = bound.get(path.parts[0])
        found = owner[path.parts[1]] if owner is not None else self.known[str(path)]
        return found if isinstance(found, Open) else Known(found)

    def members(self, path: Path, bound: Mapping[str, Any]) -> Members:
        return self.devices

    def call(self, call: Call, bound: Mapping[str, Any], algebra: Any) -> Any:
        return algebra.const(bound[str(call.args[0])]["on"])


def value(text: str, yard: Yard, definitions: Mapping[str, Any] | None = None) -> bool | None:
    return Evaluator(yard, Kleene(), definitions or {}).value(parse(text))


@pytest.mark.parametrize(
    ("text", "known", "expected"),
    [
        ("true", {}, True),
        ("a", {"a": True}, True),
        ("a", {"a": "yes"}, False),
        ("not a", {"a": False}, True),
        ("a and b", {"a": True, "b": False}, False),
        ("a or b", {"a": True, "b": False}, True),
        ("w < 2 m", {"w": 1.99}, True),
        ("w <= 500 mm", {"w": 0.1 * 5 + 1e-13}, True),
        ("w < 500 mm", {"w": 0.5 - 1e-13}, False),
        ("w >= 500 mm", {"w": 0.5 - 1e-13}, True),
        ("w > 500 mm", {"w": 0.5 + 1e-13}, False),
        ("w == 500 mm", {"w": 0.5 + 1e-13}, True),
        ("w != 500 mm", {"w": 0.5 + 1e-13}, False),
        ("w != 500 mm", {"w": 0.51}, True),
        ("k in ['x', 'y']", {"k": "y"}, True),
        ("k == 'x'", {"k": "y"}, False),
        ("k == l", {"k": "y", "l": "y"}, True),
        ("made >= 2010-08-29", {"made": date(2010, 8, 29)}, True),
        ("made < 2010-08-29", {"made": MADE}, None),
        ("made < 2012-08-29", {"made": MADE}, True),
        ("kind == l", {"kind": KIND, "l": "edge"}, None),
        ("kind == l", {"kind": KIND, "l": "mat"}, False),
        ("l == kind", {"kind": KIND, "l": "edge"}, None),
    ],
)
def test_a_comparison_over_known_and_open_facts(text, known, expected):
    assert value(text, Yard(known)) is expected


def test_quantifiers_go_over_the_members_of_a_list():
    yard = Yard({}, Members((({"on": True}, {"on": False}),)))
    assert value("any p in d: p.on", yard) is True
    assert value("all p in d: p.on", yard) is False
    assert value("any p in d: p.on", Yard({})) is False
    assert value("all p in d: p.on", Yard({})) is True


def test_over_an_open_list_only_what_holds_of_any_list_is_known():
    unknown = Open(Variable(2, "d"), (0, 1))
    some = Members(((), ({"on": True},)), unknown)
    assert value("any p in d: p.on", Yard({}, some)) is None
    assert value("all p in d: p.on", Yard({}, some)) is True
    dead = Members(((), ({"on": False},)), unknown)
    assert value("any p in d: p.on", Yard({}, dead)) is False
    assert value("all p in d: p.on", Yard({}, dead)) is None


def test_a_call_is_a_definition_or_the_chapters_own():
    yard = Yard({}, Members((({"on": True, "x": 1.0},),)))
    good = definition_from("good(q)", "q.x < 2 and works(q)")
    assert value("any p in d: good(p)", yard, {"good": good}) is True
    assert value("any p in d: works(p)", yard) is True


def test_the_head_of_a_definition_is_a_call():
    with pytest.raises(InputError, match="“good” is not the head of a definition"):
        definition_from("good", "true")


ROW = {"id": "a.b", "asks": "It is shut.", "holds": "shut", "source": {"document": "A", "sure": "read"}}


def test_a_rule_is_read_from_its_row():
    rule = rule_from({**ROW, "when": "there", "example": [{"given": {"shut": True}, "verdict": "holds"}]})
    assert (rule.id, rule.when, rule.holds, rule.level) == ("a.b", Path(("there",)), Path(("shut",)), "act")
    assert (rule.source.id, rule.examples[0].verdict) == ("a.b", "holds")
    assert rule_from(ROW).when == Const(True)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"colour": 1}, "rule a.b: unknown key colour"),
        ({"source": {"sure": "read"}}, "rule a.b: "),
        ({"source": {"document": "A", "sure": "read", "colour": 1}}, "rule a.b: "),
        ({"holds": "("}, "name wanted"),
        ({"example": [{"given": {}}]}, "rule a.b: "),
    ],
)
def test_a_row_that_is_no_rule_is_refused_by_its_name(change, said):
    with pytest.raises(InputError) as caught:
        rule_from({**ROW, **change})
    assert said in str(caught.value)


def test_a_row_without_what_holds_or_a_name_is_refused():
    with pytest.raises(InputError, match=r"rule a\.b: 'holds'"):
        rule_from({key: said for key, said in ROW.items() if key != "holds"})
    with pytest.raises(InputError, match=r"rule \?: unknown key x"):
        rule_from({"x": 1})


def test_thresholds_are_found_wherever_they_stand():
    text = "(not a < 2 m or b == 'x') and any p in d: p.w >= 3 and f(p) and q and a == b"
    assert [(str(path), constant) for path, constant in comparisons(parse(text))] == [
        ("a", 2.0), ("b", "x"), ("p.w", 3.0),
    ]  # fmt: skip
