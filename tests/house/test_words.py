"""Every sentence below the pages comes from the catalogue: nothing is said that ``N_`` does not mark.

Left out: the command line's own help, which is English reference; messages about the text of rule tables, which
only whoever writes a rule can meet; and what libraries and the system say of a file, which is passed on as it is.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest

from .tree import SOURCE, parsed, sources, where

RULE_TABLES = {"base/expression.py", "base/rule.py", "duty/facts.py"}
"""Raised where a rule's text is wrong; the tables ship with the program, and a test reads every one."""
AS_IT_STANDS = {"- tag: …", "format: ", "none", "Noto Sans, DejaVu Sans, sans-serif"}
"""What a person types, or a program reads, in every language alike."""
HELP = {"COMMANDS"}
"""Tables of the command line's own help; the rest of it stands in decorators and docstrings."""

ERRORS = (
    "SillwrightError",
    "InputError",
    "QuantityError",
    "OutOfRange",
    "UnknownName",
    "OutputError",
    "MissingPart",
)
SPOKEN = {
    **dict.fromkeys(ERRORS, 0), "UsageError": 0, "ClickException": 0, "BadParameter": 0, "echo": 0, "prompt": 0,
    "Sentence": 0, "Phrase": 0, "say": 0, "translate": 0, "voice": 0, "word": 0, "said": 1,
    "mistake": 2, "_note": 2, "_refused": 1, "_fatal": 1, "_no_sheet": 1, "_hint": 0, "_out": 2,
}  # fmt: skip
"""Calls whose arguments are read by people, from which one on."""
FIRST_ALONE = {"Sentence", "Phrase", "say", "translate", "said"}
"""Of these only the template; what follows is put into it."""
READ = {"message", "accepted", "why", "assumption", "assumptions", "notes", "valid_for"}
"""Names of arguments that are read by people, of whatever call."""
MARKS = {
    "N_",
    "say",
    "said",
    "translate",
    "render",
    "retold",
    "in_words",
    "voice",
    "word",
    "cite",
    "of",
    "Sentence",
}

WORD = re.compile(r"[^\W\d_]{3,}")
PLACEHOLDER = re.compile(r"\{\w*\}")
SENTENCE = re.compile(r"^[A-Z“]\S*(?: \S+){2,}")
IN_A_VALUE = re.compile(r"[a-z]{3,} [a-z]{3,}")

Loose = Iterator[tuple[ast.expr, str]]


def called(node: ast.expr) -> str:
    """What a function is called."""
    return getattr(node, "id", getattr(node, "attr", ""))


def has_words(text: str) -> bool:
    """Whether a literal says something of its own."""
    return text not in AS_IT_STANDS and bool(WORD.search(PLACEHOLDER.sub("", text)))


class Module:
    """A module, and what its names were given."""

    def __init__(self, tree: ast.Module) -> None:
        self.tree = tree
        self.help = help_of(tree)
        self.given: dict[int, dict[str, list[ast.expr]]] = {}
        self.inside: dict[ast.AST, list[ast.AST]] = {}
        for scope in [tree, *(n for n in ast.walk(tree) if isinstance(n, (ast.FunctionDef, ast.Lambda)))]:
            names: dict[str, list[ast.expr]] = {}
            for node in ast.walk(scope):
                self.inside.setdefault(node, []).append(scope)
                for name, value in _assigned(node):
                    names.setdefault(name, []).append(value)
            self.given[id(scope)] = names

    def values(self, name: str, at: ast.AST) -> list[ast.expr]:
        """What a name may stand for: what the innermost function gives it, else the module."""
        for scope in reversed(self.inside.get(at, [])):
            if found := self.given[id(scope)].get(name):
                return found
        return []

    def loose(self, node: ast.expr, seen: frozenset[str] = frozenset()) -> Loose:
        """Literals with words in an expression, outside every mark; names are followed to what they were given."""
        if isinstance(node, ast.Constant):
            if isinstance(node.value, str) and has_words(node.value):
                yield node, node.value
        elif isinstance(node, ast.Call):
            if isinstance(node.func, ast.Attribute) and node.func.attr in {"join", "format", "strip"}:
                yield from self.loose(node.func.value, seen)
        elif isinstance(node, ast.Name):
            if node.id not in seen:
                for value in self.values(node.id, node):
                    yield from self.loose(value, seen | {node.id})
        elif isinstance(node, ast.Subscript):
            yield from self.loose(node.value, seen)
        elif isinstance(node, ast.Dict):
            for value in node.values:
                yield from self.loose(value, seen)
        elif isinstance(node, ast.IfExp):
            yield from (each for part in (node.body, node.orelse) for each in self.loose(part, seen))
        elif isinstance(node, (ast.JoinedStr, ast.FormattedValue, ast.BinOp, ast.BoolOp, ast.Tuple, ast.List)):
            parts = [child for child in ast.iter_child_nodes(node) if isinstance(child, ast.expr)]
            yield from (each for part in parts for each in self.loose(part, seen))

    def spoken(self) -> Iterator[ast.expr]:
        """Every expression that somebody reads."""
        for node in ast.walk(self.tree):
            if not isinstance(node, ast.Call) or node in self.help:
                continue
            name = called(node.func)
            first = SPOKEN.get(name)
            if first is not None:
                yield from node.args[first : first + 1 if name in FIRST_ALONE else None]
            if name not in {"dict", "Source"}:
                yield from (each.value for each in node.keywords if each.arg in READ)


def help_of(tree: ast.Module) -> set[ast.AST]:
    """What a module says as the command line's help: decorators, and tables of commands."""
    found: set[ast.AST] = set()
    for node in ast.walk(tree):
        for decorator in getattr(node, "decorator_list", ()):
            found |= set(ast.walk(decorator))
        if isinstance(node, ast.Assign) and any(called(target) in HELP for target in node.targets):
            found |= set(ast.walk(node.value))
    return found


def _assigned(node: ast.AST) -> Iterator[tuple[str, ast.expr]]:
    targets = (
        node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    )
    value = getattr(node, "value", None)
    if value is None:
        return
    for target in targets:
        if isinstance(target, ast.Name):
            yield target.id, value
        elif isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple):
            pairs = zip(target.elts, value.elts, strict=False)
            yield from ((one.id, other) for one, other in pairs if isinstance(one, ast.Name))


def unmarked(tree: ast.Module) -> list[str]:
    """What a module would say in words of its own."""
    module = Module(tree)
    found = {(each.lineno, text) for spoken in module.spoken() for each, text in module.loose(spoken)}
    return [f"{line}: {text}" for line, text in sorted(found | set(sentences(tree)))]


def sentences(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Literals that read like sentences and stand in no mark, wherever they are; documentation left out."""
    quiet = help_of(tree)
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            quiet.add(node.value)
        if isinstance(node, ast.Call) and called(node.func) in {"N_", "Source", "field"}:
            quiet |= set(ast.walk(node))
    for node in ast.walk(tree):
        text = node.value if isinstance(node, ast.Constant) and node not in quiet else None
        if isinstance(text, str) and text not in AS_IT_STANDS and SENTENCE.match(text):
            yield node.lineno, text  # type: ignore[attr-defined]


def misused(tree: ast.Module) -> list[str]:
    """Marks around what no catalogue can hold, templates and values that do not fit, values that are sentences."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        name, first = called(node.func), node.args[:1]
        if name == "N_" and not (len(node.args) == 1 and isinstance(node.args[0], ast.Constant)):
            found.append(f"{node.lineno}: N_ takes one literal")
        first = node.args[1:2] if name == "said" else first
        if name in {"say", "said", "voice"} and first and (template := _literal(first[0])) is not None:
            found += _ill_fitting(node, template)
    return found


def _literal(node: ast.expr) -> str | None:
    marked = isinstance(node, ast.Call) and called(node.func) == "N_" and node.args
    return str(node.args[0].value) if marked and isinstance(node.args[0], ast.Constant) else None  # type: ignore[union-attr]


def _ill_fitting(node: ast.Call, template: str) -> Iterator[str]:
    given = {each.arg: each.value for each in node.keywords}
    wanted = {name for _, name, _, _ in Formatter().parse(template) if name}
    if None not in given and set(given) != wanted:
        yield f"{node.lineno}: {sorted(map(str, given))} do not fit “{template}”"
    for name, value in given.items():
        marked = {inner for each in ast.walk(value) if is_mark(each) for inner in ast.walk(each)}
        literals = (each for each in ast.walk(value) if isinstance(each, ast.Constant) and each not in marked)
        if name != "typed" and any(IN_A_VALUE.search(str(each.value)) for each in literals):
            yield f"{node.lineno}: a sentence as the value “{name}”"


def is_mark(node: ast.AST) -> bool:
    """Whether this is a call that says what it holds in the reader's words."""
    return isinstance(node, ast.Call) and called(node.func) in MARKS


def below_the_pages() -> list[Path]:
    """Every module outside the web application whose messages people can meet."""
    skipped = {SOURCE / name for name in RULE_TABLES}
    return [path for path in sources() if "web" not in path.relative_to(SOURCE).parts and path not in skipped]


@pytest.mark.parametrize("path", below_the_pages(), ids=where)
def test_a_module_says_nothing_that_is_not_marked(path: Path) -> None:
    assert not unmarked(parsed(path))


@pytest.mark.parametrize("path", below_the_pages(), ids=where)
def test_marks_and_values_of_a_module_fit(path: Path) -> None:
    assert not misused(parsed(path))


PLANTED = [
    'raise InputError("no such file")',
    'raise OutOfRange(f"{path}: too heavy")',
    'raise OutputError("the papers " + name)',
    'def f():\n    said = "an opening has one tag"\n    raise InputError(said)',
    'mistake(node, path, "a list is wanted")',
    'mistake(node, path, say(N_("x")), accepted="write it")',
    'mistake(node, path, say(N_("x")), f"first on line {n}")',
    'Mistake(path="a.b", message="missing", accepted="")',
    'Refused(mistake(node, path, "not a date"))',
    'Sentence("The leaf is {width} wide", {})',
    'WHY = {"a": "walking counts"}\nsay(WHY[branch])',
    'click.echo("stopped")',
    'click.echo(f"{count} openings")',
    'click.echo("done" if count else N_("x"))',
    'raise click.UsageError(f"{file} is there already")',
    'Result(assumptions=("the spring is linear",))',
    'notes.append("The mat has to be deep.")',
    'said(HERE, "studying: {done}", done=1)',
]


@pytest.mark.parametrize("source", PLANTED)
def test_what_is_not_marked_would_be_found(source: str) -> None:
    assert unmarked(ast.parse(source))


@pytest.mark.parametrize(
    "source",
    [
        'raise InputError(say(N_("{file}: no such file"), file=path))',
        'def f():\n    said = N_("an opening has one tag")\n    raise InputError(say(said))',
        'def f():\n    said = "quiet words here"\n\ndef g():\n    said = N_("x")\n    raise InputError(say(said))',
        'mistake(node, f"openings[{n}].door", say(N_("a list is wanted here")))',
        'Sentence("{what}", {"what": title})',
        'click.echo(json.dumps({"case": case}))',
        'click.echo(f"  {said(HERE, N_("missing: {fact}"), fact=path)}")'.replace('"missing: {fact}"', "'missing'"),
        '"""The mat has to be deep."""',
    ],
)
def test_what_is_marked_is_left_in_peace(source: str) -> None:
    assert not unmarked(ast.parse(source))


@pytest.mark.parametrize(
    "source",
    [
        'N_(f"{count} points")',
        'N_("one " + "other")',
        'say(N_("{count} points"), number=1)',
        'say(N_("{count} points"))',
        'say(N_("not valid: {why}"), why="the file is empty")',
    ],
)
def test_a_mark_that_does_not_fit_would_be_found(source: str) -> None:
    assert misused(ast.parse(source))


@pytest.mark.parametrize("name", sorted(RULE_TABLES))
def test_the_exempted_modules_are_there_and_speak(name: str) -> None:
    assert unmarked(parsed(SOURCE / name)), "take it off the list"
