"""Hostile and broken survey files: refused in words, whatever they are, within the caps.

For every declared fact a value of the wrong shape is tried; two hostile files run in a process of their own that
may use 200 MB.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from sillwright.base.errors import DocumentError, InputError
from sillwright.base.node import MOST_BYTES, MOST_MISTAKES, parse
from sillwright.survey.from_node import MOST_ITEMS, MOST_OPENINGS, survey_from
from sillwright.survey.model import Opening, Site, Survey
from sillwright.survey.reading import read_bytes, read_document, read_survey
from sillwright.survey.spec import Group, Spec, join

HEAD = "format: sillwright-survey/1\nsite: {name: Yard, country: US}\n"


def read(text: str | bytes) -> Survey:
    content = text.encode() if isinstance(text, str) else text
    return survey_from(parse(content, "yard.yaml"), "yard.yaml")


def refused(text: str | bytes) -> str:
    with pytest.raises(DocumentError) as caught:
        read(text)
    assert len(str(caught.value)) < 500_000
    return str(caught.value)


# every declared fact with a value of the wrong shape


def declared(group: type[Group], path: str = "") -> Iterator[tuple[str, Spec]]:
    """Every fact of a group by path; of lists the first member."""
    for name, spec in group.specs.items():
        here = join(path, name)
        if isinstance(spec, Spec):
            yield here, spec
        else:
            yield from declared(spec.group, f"{here}[0]" if spec.many else here)


FACTS = [*((f"site.{path}", spec) for path, spec in declared(Site)), *declared(Opening)]
LISTS = {"texts", "points"}


def file_with(path: str, value: str) -> str:
    """A survey file in JSON with one value, given as it is to stand there."""
    of_site = path.startswith("site.")
    inner = value
    for part in reversed(path.removeprefix("site.").split(".")):
        name, _, member = part.partition("[")
        inner = f'{{"{name}": [{inner}]}}' if member else f'{{"{name}": {inner}}}'
    head = '{"format": "sillwright-survey/1", "site": %s, "openings": [%s]}'
    known = {"name": '"Yard"', "country": '"US"'} if of_site else {"tag": '"T"'}
    name = path.removeprefix("site.").partition(".")[0]
    rest = ", ".join(f'"{key}": {said}' for key, said in known.items() if key != name)
    whole = inner[:-1] + (f", {rest}" if rest else "") + "}"
    return head % ((whole, '{"tag": "T"}') if of_site else ('{"name": "Yard", "country": "US"}', whole))


def wrong_for(spec: Spec) -> list[str]:
    """Values, in JSON, that a fact of this kind cannot have."""
    shapes = ['{"a": 1}', '{"value": {"value": "x"}}', '{"value": {}}']
    if spec.kind not in LISTS:
        shapes += ["[1, 2]", "[[]]", '{"value": [1]}']
    return shapes + {
        "quantity": ['"12"', "true", '"3 cd"', '"nan m"', ".nan", ".inf", "-.inf", "1e999", "-1e12", "1e12", '""'],
        "count": ['"12"', '"3 m"', "true", ".nan", ".inf", "1e999", "-1"],
        "choice": ['"sillwidth"', "7", "true", '""', '"a\\nb"'],
        "text": ['""', '" "', '"a\\u0000b"', '"a\\u001bb"', f'"{"x" * 2001}"'],
        "flag": ['"yes"', "no", "1", '""', '"true"'],
        "date": ['"yesterday"', '"2010-13"', '"2010-02-30"', "1800", "99999", '"2010/08/29"', "true", '"10:30"'],
        "money": ['"lots"', "12", '"400 usd/h"', '"400 USD/fortnight"', '"-1 USD"'],
        "texts": ['"a"', "[[1]]", "[null]", '[{"a": 1}]', '[""]', "3"],
        "points": ['"a"', "[1, 2]", "[[1]]", "[[1, 2, 3]]", '[["a", "b"]]', "[[.nan, 0]]", "[[1e9, 0]]", "3"],
    }[spec.kind]  # fmt: skip


@pytest.mark.parametrize(("path", "spec"), FACTS, ids=[path for path, _ in FACTS])
def test_a_fact_refuses_every_value_of_the_wrong_shape_and_names_its_place(path, spec):
    for value in wrong_for(spec):
        said = refused(file_with(path, value))
        name = path.rpartition(".")[2]
        assert name in said, value
        assert "line 1, column " in said, value


def test_every_kind_of_fact_is_declared_somewhere():
    assert {spec.kind for _, spec in FACTS} == {
        "quantity", "count", "choice", "text", "flag", "date", "money", "texts", "points",
    }  # fmt: skip


GROUPS = sorted({path.rpartition(".")[0].removesuffix("[0]") for path, _ in FACTS if "." in path} - {"site"})
PLAIN = {"temporary_parts", "defeats", "parts_kept", "statements", "converters", "incident"}


@pytest.mark.parametrize("path", GROUPS)
def test_a_group_refuses_what_is_no_group(path):
    many = f"{path}[0]" in {each.rpartition(".")[0] for each, _ in FACTS}
    for value in ["true", "12", "[1, 2]", "[[]]"] if path not in PLAIN else ["[[]]", "[[[1]]]"]:
        said = refused(file_with(path, value))
        assert "wanted here" in said, value
    wrong = (
        ['[{"colour": 1}]', '{"value": [{"colour": 1}]}'] if many else ['{"colour": 1}', '{"value": {"colour": 1}}']
    )
    for value in wrong:
        assert "colour: unknown key" in refused(file_with(path, value))


def test_a_null_is_accepted_for_every_fact_but_the_required_ones():
    for path, spec in FACTS:
        text = file_with(path, "null")
        if spec.required and path in {"site.name", "site.country", "tag"}:
            assert "is missing" in refused(text)
        else:
            assert read(text).openings


# keys


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEAD + "opennings: []", "opennings: unknown key\n    did you mean “openings”?"),
        (HEAD + "openings: [{tag: A, door: {clear_widht: 3}}]", "did you mean “clear_width”?"),
        (HEAD + "openings: [{tag: A, tag: B}]", "the key “tag” stands twice"),
        (HEAD + "openings: [{tag: A}, {tag: A}]", "the tag “A” stands twice"),
        (HEAD + "openings: [{tag: 12}, {tag: '12'}]", "the tag “12” stands twice"),
        (HEAD + "openings: [{tag: A, protection: [{id: e}, {id: e}]}]", "the id “e” stands twice"),
        (HEAD + "openings: [{tag: A, <<: {tag: B}}]", "<<: unknown key"),
        ("openings: []", "“format” is missing"),
        ("format: sillwright-survey/2", "not a format that is read here"),
        ("[]", "a survey is a mapping"),
        ("tag", "a survey is a mapping"),
        (HEAD, "a list of openings is wanted"),
        (HEAD + "openings: {tag: A}", "a list of openings is wanted"),
        (HEAD + "openings: [{}]", "“tag” is missing"),
        (HEAD + "openings: [[]]", "a mapping is wanted here"),
        (HEAD + "openings: [null]", "“tag” is missing"),
        ("format: sillwright-survey/1\nopenings: []", "“site” is missing"),
        ("format: sillwright-survey/1\nsite: 3\nopenings: []", "a mapping is wanted here"),
    ],
)
def test_a_wrong_layout_is_refused_in_words(text, said):
    assert said in refused(text)


@pytest.mark.parametrize(
    ("site", "said"),
    [
        ("country: us", "did you mean “US”?"),
        ("country: USA", "did you mean “US”?"),
        ("country: Germany", "did you mean “DE”?"),
        ("country: UK", "two capital letters"),
        ("country: '12'", "two capital letters"),
        ("country: US, subdivision: ZZ", "not a part of US"),
        ("country: US, subdivision: wa", "not a part of US"),
        ("country: US, subdivision: US-WA", "not a part of US"),
    ],
)
def test_a_country_or_a_part_of_it_that_does_not_exist_is_refused(site, said):
    assert said in refused(f"format: sillwright-survey/1\nsite: {{name: Yard, {site}}}\nopenings: [{{tag: A}}]")


def test_numeric_looking_tags_are_the_text_that_was_typed():
    survey = read(HEAD + "openings: [{tag: 012}, {tag: 1e3}, {tag: no}, {tag: 12}, {tag: 2026-03-04}, {tag: 1_0}]")
    assert [each.tag.value for each in survey.openings] == ["012", "1e3", "no", "12", "2026-03-04", "1_0"]


def test_an_emoji_is_a_tag_like_any_other():
    survey = read((HEAD + "openings: [{tag: '🚪1', name: \"a\\U0001F6AA\"}]").encode())
    assert (survey.openings[0].tag.value, survey.openings[0].name.value) == ("🚪1", "a🚪")


def test_an_id_that_is_no_name_does_not_get_into_paths():
    for name in ('"e\\nx"', "[1]", "{a: b}", "x" * 100, "''"):
        text = HEAD + f"openings: [{{tag: A, protection: [{{id: {name}, wires: many}}]}}]"
        assert "protection[0].wires" in refused(text)


def test_a_wrapped_id_is_the_name_in_paths():
    survey = read(HEAD + "openings: [{tag: A, protection: [{id: {value: e1, from: told}, wires: 2}]}]")
    assert survey.openings[0].fact("protection.e1.wires").value == 2


def test_a_fact_that_is_not_there_is_not_asked():
    assert read(HEAD + "openings: [{tag: A}]").openings[0].fact("no.such.fact").standing == "not asked"


# caps


MANY = [
    pytest.param(HEAD + "openings: [" + "{}," * 190_000 + "]", f"more than {MOST_OPENINGS}", id="190,000 openings"),
    pytest.param(
        HEAD + "openings: [{tag: A, protection: [" + "{}," * 190_000 + "]}]",
        f"more than {MOST_ITEMS}",
        id="190,000 devices",
    ),
    pytest.param(
        HEAD + "openings: [{tag: A, operator: {lists_devices: [" + "a," * 150_000 + "]}}]",
        "more than 1000 are not read",
        id="150,000 words",
    ),
    pytest.param(
        HEAD + "openings:\n- tag: A\n" + "".join(f"  k{number}: 1\n" for number in range(90_000)),
        "so many mistakes",
        id="90,000 unknown keys",
    ),
    pytest.param(
        HEAD
        + "openings: [{tag: A, door: {headroom: ["
        + ",".join(f"{{value: {n} m}}" for n in range(9_000))
        + "]}}]",
        "out of range",
        id="9,000 readings",
    ),
    pytest.param(HEAD + f"openings: [{{tag: A, name: {'x' * 1_000_000}}}]", "longer than 2000", id="a megabyte"),
    pytest.param(
        HEAD + f"openings: [{{tag: A, door: {{kind: {'x' * 1_000_000}}}}}]",
        "not a known word",
        id="a megabyte word",
    ),
    pytest.param(
        HEAD + f"openings: [{{tag: A, door: {{clear_width: {'9' * 1_000_000} ft}}}}]", "too long", id="a long width"
    ),
]


@pytest.mark.slow
@pytest.mark.parametrize(("text", "said"), MANY)
def test_a_file_that_is_too_much_is_refused_in_few_words(text, said):
    assert said in refused(text)


def test_many_openings_hold_only_what_the_file_says():
    survey = read(HEAD + "openings: [" + ",".join(f"{{tag: {number}}}" for number in range(MOST_OPENINGS)) + "]")
    assert len(survey.openings) == MOST_OPENINGS
    assert "door" not in vars(survey.openings[0])
    assert survey.openings[0].door is survey.openings[0].door, "made once, when somebody looks"


def test_the_mistakes_of_a_file_are_said_all_at_once_and_in_order():
    text = HEAD + (
        "openings:\n- {tag: A, door: {kind: gate, clear_width: 10, clear_height: 3 kg}}\n"
        "- {name: B, colour: red, operator: {made: soon, side: up}}\n"
    )
    with pytest.raises(DocumentError) as caught:
        read(text)
    paths = [found.path for found in caught.value.mistakes]
    assert paths == [
        "openings[0].door.kind", "openings[0].door.clear_height", "openings[1].tag", "openings[1].colour",
        "openings[1].operator.made", "openings[1].operator.side",
    ]  # fmt: skip
    assert len(paths) < MOST_MISTAKES


MEASURED = """
import resource, sys
limit = 200 * 1024 * 1024
resource.setrlimit(resource.RLIMIT_DATA, (limit, limit))
from pathlib import Path
from sillwright.base.errors import InputError
from sillwright.survey.reading import read_survey
try:
    read_survey(Path(sys.argv[1]))
except InputError as error:
    # VmHWM begins anew with a program; the greatest memory that getrusage gives is inherited from the parent
    (peak,) = [line.split()[1] for line in open("/proc/self/status") if line.startswith("VmHWM")]
    print(type(error).__name__, int(peak) // 1024)
"""


@pytest.mark.parametrize(
    "content",
    [
        pytest.param(MANY[1].values[0].encode(), id="devices without end"),
        pytest.param(b"[" + b'"\\u0041",' * 220_000 + b"]", id="values without end"),
        pytest.param(b"[" * 5000, id="nesting without end"),
    ],
)
def test_a_hostile_file_is_refused_within_200_megabytes(content, tmp_path):
    path = tmp_path / "yard.yaml"
    path.write_bytes(content)
    run = subprocess.run([sys.executable, "-c", MEASURED, str(path)], capture_output=True, text=True, timeout=300)
    assert run.returncode == 0, run.stderr
    kind, used = run.stdout.split()
    assert kind == "DocumentError"
    assert int(used) < 200


# what is no file


def test_a_file_of_50_megabytes_is_refused_before_it_is_read(tmp_path, monkeypatch):
    path = tmp_path / "yard.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    monkeypatch.setattr("sillwright.survey.reading.parse", lambda *given: pytest.fail("read"))
    with pytest.raises(DocumentError, match="larger than 2 MB"):
        read_survey(path)


def test_a_file_that_says_it_is_small_is_read_no_further_than_the_cap(tmp_path, monkeypatch):
    path = tmp_path / "yard.yaml"
    path.write_bytes(b"a" * (MOST_BYTES + 10))
    small = os.stat_result((0o100644, 0, 0, 1, 0, 0, 5, 0, 0, 0))
    monkeypatch.setattr(Path, "stat", lambda self, **given: small)
    with pytest.raises(DocumentError, match="larger than 2 MB"):
        read_bytes(path)


def test_a_folder_a_pipe_and_a_device_are_no_files(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (tmp_path, pipe, Path("/dev/null"), Path("/dev/zero")):
        with pytest.raises(InputError, match="not a file"):
            read_bytes(path)


@pytest.mark.parametrize("name", ["missing.yaml", "missing\0.yaml", "no/such/folder.yaml"])
def test_a_missing_file_is_said_to_be_missing(tmp_path, name):
    with pytest.raises(InputError, match="no such file"):
        read_bytes(tmp_path / name)


def test_a_name_too_long_for_a_file_is_refused(tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        read_bytes(tmp_path / ("x" * 5000))


def test_a_file_that_may_not_be_read_is_refused(tmp_path, monkeypatch):
    path = tmp_path / "yard.yaml"
    path.write_text(HEAD)

    def forbidden(self, *given):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", forbidden)
    with pytest.raises(InputError, match="cannot be read \\(Permission denied\\)"):
        read_bytes(path)


# reading as a whole


def test_the_example_is_read_whole_also_as_json(root, tmp_path):
    path = root / "tests/survey/full.yaml"
    survey = read_survey(path)
    assert [each.tag.value for each in survey.openings] == ["B2"]
    assert survey.openings[0].fact("protection.y1.circuit").value == "pulse_two_wire"

    def plain(node):
        if node.kind == "list":
            return [plain(each) for each in node.items]
        return {key: plain(value) for key, _, value in node.pairs} if node.kind == "mapping" else node.scalar

    other = tmp_path / "full.json"
    other.write_text(json.dumps(plain(read_document(path)), indent="\t"), encoding="utf-8")
    again = read_survey(other)

    def values(read):
        return [(fact.path, fact.standing, fact.value) for _, fact in read.openings[0].facts()]

    assert values(again) == values(survey)
    assert len([1 for _, standing, _ in values(survey) if standing == "known"]) > 90


@pytest.mark.parametrize(
    ("opening", "missing"),
    [
        ("{tag: A}", ["door.kind", "door.clear_width", "door.clear_height"]),
        ("{tag: A, door: {kind: slide_gate}}", []),
        ("{tag: A, door: {kind: rolling, clear_width: null, clear_height: 3 m}}", ["door.clear_width"]),
    ],
)
def test_a_study_needs_kind_and_size_and_a_draft_does_not(tmp_path, opening, missing):
    path = tmp_path / "yard.yaml"
    path.write_text(HEAD + f"openings: [{opening}]")
    assert read_survey(path, draft=True).openings
    if not missing:
        assert read_survey(path).openings
        return
    with pytest.raises(DocumentError) as caught:
        read_survey(path)
    assert [found.path for found in caught.value.mistakes] == [f"openings[0].{name}" for name in missing]


def test_a_site_without_openings_cannot_be_studied(tmp_path):
    path = tmp_path / "yard.yaml"
    path.write_text(HEAD + "openings: []")
    assert read_survey(path, draft=True).openings == ()
    with pytest.raises(DocumentError, match="no opening to study"):
        read_survey(path)


def test_money_is_said_as_it_was_meant():
    costs = {"400 USD/hour": "400 USD/h", "12.5 EUR / day": "12.5 EUR/d", "7 GBP": "7 GBP"}
    for typed, said in costs.items():
        found = read(HEAD + f"openings: [{{tag: A, use: {{downtime_cost: {typed}}}}}]")
        assert str(found.openings[0].use.downtime_cost.value) == said


def test_a_group_knows_whether_anything_was_taken_down_about_it():
    (opening,) = read(HEAD + "openings: [{tag: A, box: {side: null}}]").openings
    assert (opening.box.given, opening.cord.given, opening.given) == (True, False, True)
