"""Models valid from birth, and cases of calculations read from documents with all their mistakes."""

from __future__ import annotations

from dataclasses import FrozenInstanceError
from math import inf, nan
from typing import Annotated, Literal

import pytest

from sillwright.base.calculation import as_json, load, schema
from sillwright.base.case_reading import read_case
from sillwright.base.errors import DocumentError, OutOfRange
from sillwright.base.model import Case, Limits, Model, Result, field, fields_of
from sillwright.base.node import parse
from sillwright.base.source import Source
from sillwright.base.units import Kilogram, Metre, MetrePerSecond, Newton, Number, Unit


class Edge(Model):
    """A compressible edge."""

    curve: Annotated[tuple[tuple[float, float], ...], Unit("m"), Unit("N")] = field(
        default=(), title="Force over travel"
    )
    name: str = field(default="class A")


class Meeting(Case):
    """A leaf that meets something.

    More words that no schema needs.
    """

    mass: Kilogram = field(above=0, title="Moving mass")
    speed: MetrePerSecond = field(above=0, at_most=5)
    share: Number = field(at_least=0, below=1, default=0.5)
    gap: Metre | None = field(at_least=0, default=None)
    count: int = field(at_least=1, default=1)
    mode: Literal["plain", "fast"] = field(default="plain")
    watched: bool = field(default=False)
    edge: Edge | None = field(default=None)
    inner: Edge = field(default=Edge())
    names: tuple[str, ...] = field(default=())
    widths: tuple[Metre, ...] = field(default=())
    extra: object = field(default="")


class Met(Result):
    """What comes of it."""

    force: Newton


def meet(case: Meeting) -> Met:
    """How hard it is met."""
    return Met(force=case.mass)


GOOD = "mass: 310 kg\nspeed: 8 in/s\n"


def case(text: str) -> Meeting:
    return read_case(Meeting, parse(text.encode(), "case.yaml"), "case.yaml")


def refused(text: str) -> str:
    with pytest.raises(DocumentError) as caught:
        case(text)
    return str(caught.value)


def test_a_case_is_read_with_units_and_defaults():
    read = case(GOOD)
    assert (read.mass, read.speed, read.share, read.gap) == (310.0, pytest.approx(0.2032), 0.5, None)


def test_a_case_is_read_whole():
    read = case(
        GOOD + "share: 1/4\ngap: 2 in\ncount: 3\nmode: fast\nwatched: true\nnames: [a, b]\nwidths: [1 m, 2]\n"
        "edge: {curve: [[0, 0 N], [1 in, 100]], name: low}\nextra: x\n"
    )
    assert (read.share, read.gap, read.count, read.mode, read.watched) == (0.25, 0.0508, 3, "fast", True)
    assert (read.names, read.widths, read.extra) == (("a", "b"), (1.0, 2.0), "x")
    assert read.edge == Edge(curve=((0.0, 0.0), (0.0254, 100.0)), name="low")


def test_null_stands_where_nothing_is_a_value():
    assert case(GOOD + "gap: null\nedge: null\n").edge is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("mass: 310 kg", '“speed” is missing\n    write for example "8 in/s"'),
        (GOOD + "colour: red", "colour: unknown key"),
        (GOOD + "widht: 1", "widht: unknown key"),
        (GOOD + "mass: 2", "the key “mass” stands twice"),
        ("mass: null\nspeed: 1", "mass: nothing is given"),
        ("mass: 0\nspeed: 1", "mass: out of range, read “0”\n    above 0 kg is accepted"),
        ("mass: 1\nspeed: 6", "above 0 m/s and at most 5 m/s is accepted"),
        ("mass: .nan\nspeed: 1", "mass: out of range"),
        ("mass: .inf\nspeed: 1", "mass: out of range"),
        ("mass: heavy\nspeed: 1", "mass: not a quantity"),
        ("mass: true\nspeed: 1", "mass: not a quantity, read “true”"),
        ("mass: [1]\nspeed: 1", "mass: one value is wanted here"),
        (GOOD + "count: 1.5", "count: a whole number is wanted here"),
        (GOOD + "count: 0", "count: out of range"),
        (GOOD + "count: true", "count: a whole number is wanted here"),
        (GOOD + "mode: slow", "mode: not a known word here"),
        (GOOD + "watched: yes", "watched: not an answer, read “yes”"),
        (GOOD + "edge: 3", "edge: a mapping is wanted here"),
        (GOOD + "edge: {curve: {a: 1}}", "edge.curve: a list of pairs is wanted here"),
        (GOOD + "edge: {curve: [[1]]}", "edge.curve[0]: a pair in m and N is wanted here"),
        (GOOD + "edge: {curve: [[1 s, 2]]}", "edge.curve[0]: “s” does not measure what is asked here"),
        (GOOD + "edge: {curve: [[.nan, 2]]}", "edge.curve[0]: out of range"),
        (GOOD + "names: a", "names: a list is wanted here"),
        (GOOD + "widths: [1 s]", "widths[0]: “s” does not measure"),
        (GOOD + "share: 1/0", "nothing below the line"),
        ("[]", "a mapping is wanted here"),
        ("3", "a mapping is wanted here"),
    ],
)
def test_a_case_that_is_wrong_is_refused_with_path_and_what_would_be_right(text, said):
    assert said in refused(text)


def test_all_mistakes_of_a_case_are_said_at_once():
    assert refused("mass: 0\nspeed: 9\ncolour: 1").startswith("case.yaml: 3 mistakes")


def test_a_rule_of_a_model_itself_is_a_mistake_of_the_document():
    class Ordered(Case):
        low: Number
        high: Number

        def __post_init__(self) -> None:
            super().__post_init__()
            if self.high < self.low:
                raise OutOfRange("high is below low")

    with pytest.raises(DocumentError, match="high is below low"):
        read_case(Ordered, parse(b"{low: 2, high: 1}", "x"), "x")


# models


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"mass": 0}, "Meeting.mass: 0 kg is out of range; above 0 kg is accepted"),
        ({"mass": nan}, "out of range"),
        ({"speed": inf}, "out of range"),
        ({"share": 1}, "at least 0 and below 1 is accepted"),
        ({"mass": None}, "Meeting.mass: nothing given"),
        ({"mass": "3"}, "is not a number"),
        ({"mass": True}, "is not a number"),
        ({"mode": "slow"}, "'slow' is not one of plain, fast"),
    ],
)
def test_a_model_outside_its_range_is_never_born(given, said):
    with pytest.raises(OutOfRange) as caught:
        Meeting(**{"mass": 1.0, "speed": 1.0, **given})
    assert said in str(caught.value)


def test_pairs_are_finite():
    with pytest.raises(OutOfRange, match=r"Edge\.curve: nan is not a finite number"):
        Edge(curve=((0.0, nan),))


def test_a_model_is_frozen_and_keyword_only():
    with pytest.raises(FrozenInstanceError):
        Edge().name = "x"  # type: ignore[misc]
    with pytest.raises(TypeError):
        Edge(())  # type: ignore[misc]


def test_limits_are_said_in_words():
    assert Limits().in_words() == "a finite number"
    assert (
        Limits(above=0, at_least=1, below=3, at_most=2).in_words("1")
        == "above 0 and at least 1 and below 3 and at most 2"
    )


@pytest.mark.parametrize(
    ("limits", "inside", "outside"),
    [
        (Limits(above=0), 1e-9, 0), (Limits(at_least=0), 0, -1e-9), (Limits(below=1), 0.999, 1),
        (Limits(at_most=1), 1, 1.001), (Limits(), -1e300, inf),
    ],
)  # fmt: skip
def test_a_boundary_belongs_to_one_side(limits, inside, outside):
    assert limits.allow(inside)
    assert not limits.allow(outside)
    assert not limits.allow(nan)


def test_fields_describe_themselves():
    specs = {spec.name: spec for spec in fields_of(Meeting)}
    assert (specs["mass"].unit, specs["mass"].required, specs["mass"].limits.title) == ("kg", True, "Moving mass")
    assert (specs["gap"].optional, specs["gap"].required, specs["gap"].default) == (True, False, None)
    assert [specs[name].kind for name in ("count", "mode", "watched", "edge", "names", "extra")] == [
        "integer", "choice", "flag", "model", "list", "other",
    ]  # fmt: skip
    assert fields_of(Edge)[0].units == ("m", "N")


# calculations


def test_a_calculation_is_described_by_its_function():
    found = load("meet", f"{__name__}:meet")
    assert (found.title, found.case, found.result) == ("How hard it is met.", Meeting, Met)
    assert found.function(Meeting(mass=2, speed=1)).force == 2


def test_a_schema_gives_titles_units_ranges_and_defaults():
    described = schema(Meeting)
    known = described["properties"]
    assert described["description"] == "A leaf that meets something."
    assert described["required"] == ["mass", "speed"]
    assert described["additionalProperties"] is False
    assert known["mass"] == {
        "title": "Moving mass", "type": ["number", "string"], "exclusiveMinimum": 0, "x-unit": "kg",
    }  # fmt: skip
    assert known["share"] == {
        "type": "number", "minimum": 0, "exclusiveMaximum": 1, "x-unit": "1", "default": 0.5,
    }  # fmt: skip
    assert known["gap"]["anyOf"] == [{"type": ["number", "string"], "minimum": 0, "x-unit": "m"}, {"type": "null"}]
    assert known["mode"] == {"enum": ["plain", "fast"], "default": "plain"}
    assert known["watched"]["type"] == "boolean"
    assert known["count"] == {"type": "integer", "minimum": 1, "default": 1}
    assert known["names"] == {"type": "array", "items": {"type": "string"}, "default": []}
    assert known["edge"]["anyOf"][0]["properties"]["curve"]["x-units"] == ["m", "N"]
    assert known["extra"] == {"default": ""}
    assert "default" not in known["inner"]


def test_a_result_is_plain_numbers_for_machines():
    source = Source(document="A", sure="read")
    assert as_json({"a": Met(force=2.0), "b": (1, [None]), 3: source}) == {
        "a": {"force": 2.0}, "b": [1, [None]], "3": {"document": "A", "sure": "read"},
    }  # fmt: skip
