"""Documents as trees: what is read, what is refused, and that hostile files cost no more than honest ones."""

from __future__ import annotations

from math import inf, isnan

import pytest

from sillwright.base.errors import DocumentError
from sillwright.base.node import (
    MOST_BYTES,
    MOST_DEPTH,
    MOST_MISTAKES,
    MOST_NODES,
    Mistakes,
    mistake,
    parse,
    resolve,
)

SCALARS = [
    ("true", True), ("false", False), ("null", None), ("~", None), ("", None), ("NULL", None), ("12", 12),
    ("-3", -3), ("+3", 3), ("0", 0), ("1.5", 1.5), (".5", 0.5), ("5.", 5.0), ("1e3", 1000.0), ("-1.5E-2", -0.015),
    (".inf", inf), ("-.Inf", -inf), ("1e999", inf),
]  # fmt: skip
TEXTS = [
    "True", "TRUE", "yes", "no", "on", "off", "y", "012", "-012", "0x1F", "0o17", "1_000", "12:30", "2026-03-04",
    "2026-03-04 10:00:00", "1.2.3", "10 ft 6 in", "nil", "=", "<<", "١٢", "+.nan", "12345678901234567890x",
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), SCALARS)
def test_a_plain_scalar_by_the_core_schema(text, value):
    assert resolve(text) == value
    assert type(resolve(text)) is type(value)


def test_not_a_number_is_one_value_of_the_schema():
    assert isnan(resolve(".nan"))


@pytest.mark.parametrize("text", TEXTS)
def test_what_other_readers_take_for_dates_octals_and_answers_is_text(text):
    assert resolve(text) == text


def test_digits_without_end_are_a_float_and_never_a_huge_integer():
    assert resolve("9" * 18) == 10**18 - 1
    assert resolve("9" * 19) == 1e19
    assert resolve("9" * 400) == inf


@pytest.mark.parametrize("tag", ["012", "1e3", "no", "2026-03-04", "1.50"])
def test_a_tag_keeps_the_signs_it_was_typed_with(tag):
    assert parse(f"tag: {tag}".encode(), "x").get("tag").text == tag


def test_a_quoted_scalar_is_text():
    node = parse(b"a: 'true'\nb: \"12\"\nc: |\n  12\nd: >\n  no\n", "x")
    assert [value.scalar for _, _, value in node.pairs] == ["true", "12", "12\n", "no\n"]


def test_json_and_yaml_give_the_same_tree():
    json = parse(b'{"a": [1, "x", null, true], "b": {"c": "\\u00e9\\ud83d\\udeaa\\/"}}', "x")
    yaml = parse("a: [1, 'x', null, true]\nb: {c: 'é🚪/'}".encode(), "x")

    def bare(node):
        inner = [bare(each) for each in node.items] or {key: bare(value) for key, _, value in node.pairs}
        return node.scalar if node.kind == "scalar" else inner

    assert bare(json) == bare(yaml) == {"a": [1, "x", None, True], "b": {"c": "é🚪/"}}


def test_json_may_be_indented_with_tabs_and_begin_with_a_byte_order_mark():
    assert parse(b'\xef\xbb\xbf{\n\t"a":\t1\n}', "x").get("a").scalar == 1


def test_an_escaped_backslash_before_u_is_no_sign():
    assert parse(rb'{"a": "\\ud83d\\udeaa"}', "x").get("a").scalar == r"\ud83d\udeaa"


def test_every_value_knows_its_place():
    node = parse(b"a: 1\nb:\n  - x\n  - {c: y}\n", "x")
    place = node.get("b").items[1].get("c")
    assert (place.line, place.column) == (4, 9)
    assert node.get("z") is None
    assert node.keys == ("a", "b")


def refused(content: bytes) -> DocumentError:
    with pytest.raises(DocumentError) as caught:
        parse(content, "yard.yaml")
    assert len(str(caught.value)) < 200_000
    return caught.value


HOSTILE = [
    pytest.param(b"", "the file is empty", id="empty"),
    pytest.param(b"# only\n# comments\n", "the file is empty", id="only comments"),
    pytest.param(b"---\n...\n---\n...\n", "a second document", id="two empty documents"),
    pytest.param(b"a: 1\n---\nb: 2\n", "a second document begins here", id="two documents"),
    pytest.param(b"a: 1\na: 2\n", "“a” stands twice", id="a key twice"),
    pytest.param(b'{"a": 1, "a": 2}', "“a” stands twice", id="a key twice in JSON"),
    pytest.param(b"12: 1\n'12': 2\n", "“12” stands twice", id="a number and its text as keys"),
    pytest.param(b"k\xc3\xa9\x79: 1\n" * 2, "“kéy” stands twice", id="an accented key twice"),
    pytest.param(b"a: !!python/object/apply:os.system ['x']", "tags are not read", id="a tag that makes objects"),
    pytest.param(b"a: !!int 3", "tags are not read", id="a tag of the standard"),
    pytest.param(b"a: ! 3", "tags are not read", id="a bare tag"),
    pytest.param(b"!!map {a: 1}", "tags are not read", id="a tag on a mapping"),
    pytest.param(b"a: &x 1\nb: *x\n", "aliases are not read", id="an alias"),
    pytest.param(b"a: &x 1\n", "anchors are not read", id="an anchor"),
    pytest.param(b"a: *x\n", "aliases are not read", id="an alias to nothing"),
    pytest.param(b"a: &x [*x]\n", "aliases are not read", id="a list inside itself"),
    pytest.param(b"? [a, b]\n: 1\n", "a key must be a word", id="a list as key"),
    pytest.param(b"? {a: b}\n: 1\n", "a key must be a word", id="a mapping as key"),
    pytest.param(b"a: [1, 2", "not valid YAML", id="an open bracket"),
    pytest.param(b"a: 'x", "not valid YAML", id="an open quote"),
    pytest.param(b"a:\n\t- 1\n", "not valid YAML", id="a tab as indentation"),
    pytest.param(b"%YAML 3.0\n---\na: 1\n", "not valid YAML", id="a YAML of the future"),
    pytest.param(b"a: %x\n", "not valid YAML", id="a percent sign"),
    pytest.param(b'a: "\\ud800"', "not valid YAML", id="half a sign, escaped"),
    pytest.param(b'{"a": "\\ude00\\ud800"}', "not valid YAML", id="two halves the wrong way round"),
    pytest.param(b'a: "\\U00110000"', "not valid YAML", id="a sign beyond all"),
    pytest.param(b"a: \x00b", "not valid YAML", id="a NUL"),
    pytest.param(b"a: \x1b[31m", "not valid YAML", id="an escape of a terminal"),
    pytest.param(bytes(range(256)), "not a text file", id="binary"),
    pytest.param(b"a: \xed\xa0\x80", "not a text file", id="half a sign, encoded"),
    pytest.param("a: 1".encode("utf-16"), "not a text file", id="UTF-16"),
    pytest.param("a: 1".encode("utf-16-le"), "not valid YAML", id="UTF-16 without its mark"),
    pytest.param("a: é".encode("latin-1"), "line 1) is not UTF-8", id="an old code page"),
    pytest.param(b"a: " + b"[" * 5000, "nest", id="5,000 deep in flow"),
    pytest.param(b"[" * 5000 + b"]" * 5000, "nest", id="5,000 deep in JSON lists"),
    pytest.param(b'{"a":' * 5000 + b"1" + b"}" * 5000, "nest", id="5,000 deep in JSON mappings"),
    pytest.param(b"- " * 5000 + b"x", f"nested deeper than {MOST_DEPTH}", id="5,000 deep in block lists"),
    pytest.param(
        b"".join(b" " * depth + b"a:\n" for depth in range(1200)), f"deeper than {MOST_DEPTH}", id="deep in blocks"
    ),
    pytest.param(b"[" + b"1," * MOST_NODES + b"]", f"more than {MOST_NODES} values", id="too many values"),
    pytest.param(
        b"".join(b"k%d: 1\n" % number for number in range(110_000)),
        f"more than {MOST_NODES} values",
        id="110,000 keys",
    ),
    pytest.param(b"a" * (MOST_BYTES + 1), "larger than 2 MB", id="too large"),
    pytest.param(b"[" + b"!x 1," * 100_000 + b"]", "so many mistakes", id="100,000 tags"),
    pytest.param(
        b"".join(b"l%d: &l%d [*l%d, *l%d]\n" % (n, n, n - 1, n - 1) for n in range(1, 100)),
        "aliases are not read",
        id="a billion laughs",
    ),
]


@pytest.mark.parametrize(("content", "said"), HOSTILE)
def test_a_hostile_file_is_refused_in_words(content, said):
    assert said in str(refused(content))


def test_the_deepest_file_that_is_read():
    assert parse(b"[" * (MOST_DEPTH) + b"]" * (MOST_DEPTH), "x").kind == "list"
    assert f"deeper than {MOST_DEPTH}" in str(refused(b"[" * (MOST_DEPTH + 1) + b"]" * (MOST_DEPTH + 1)))


def test_a_file_of_exactly_two_megabytes_is_read():
    assert parse(b"a: 1\n#" + b"x" * (MOST_BYTES - 6), "x").get("a").scalar == 1


def test_all_mistakes_are_said_at_once_in_the_order_of_the_file():
    error = refused(b"a: !x 1\nb: &y 2\na: 3\nc: *y\nd: [1")
    lines = [found.line for found in error.mistakes]
    assert lines == sorted(lines)
    assert len(error.mistakes) == 5
    assert str(error).startswith(
        "yard.yaml: 5 mistakes, nothing was written\nline 1, column 4: a: tags are not read"
    )


def test_a_key_of_a_megabyte_is_not_said_back():
    error = refused(b"? " + b"k" * 1_000_000 + b"\n: [" + b"!x 1," * 1000 + b"]")
    assert all(len(found.path) < 100 for found in error.mistakes)


def test_a_message_shows_what_was_read_shortly_and_printably():
    node = parse(b'a: "\\u001b[31m red\\n"\nb: [1, 2]\nc: {d: 1}\ne: {}\n' + b"f: " + b"x" * 200, "x")
    said = [value.described() for _, _, value in node.pairs]
    assert said == ["“?[31m red?”", "a list of 2", "a mapping with d", "a mapping with no keys", f"“{'x' * 60}…”"]


def test_keys_in_a_message_are_short_too():
    node = parse(b"{" + b"k" * 900 + b": 1}", "x")
    assert len(node.described()) < 100


def test_a_null_is_empty_and_an_empty_text_is_not():
    node = parse(b"a:\nb: ''\nc: []\n", "x")
    assert [value.empty for _, _, value in node.pairs] == [True, False, False]


def test_a_file_with_too_many_mistakes_is_given_up():
    mistakes = Mistakes("yard.yaml")
    place = parse(b"a", "x")
    wrong = mistake(place, "a", "wrong")
    for _ in range(MOST_MISTAKES - 1):
        mistakes.append(wrong)
    with pytest.raises(DocumentError) as caught:
        mistakes.append(wrong)
    assert caught.value.mistakes[-1].message == "so many mistakes that the rest was not read"
    assert len(caught.value.mistakes) == MOST_MISTAKES + 1


def test_no_mistakes_refuse_nothing():
    Mistakes("yard.yaml").refuse()


def test_without_the_fast_parser_the_tree_is_the_same(monkeypatch, root):
    content = (root / "tests/survey/full.yaml").read_bytes()
    fast = parse(content, "x")
    monkeypatch.delattr("yaml.CLoader")
    assert parse(content, "x") == fast
    assert "not valid YAML" in str(refused(b"a: \x00"))
