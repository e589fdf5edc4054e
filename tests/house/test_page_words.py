"""Every sentence of the pages comes from the catalogue: in templates, in Python, and none in scripts."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

import pytest
from django.template import engines
from django.template.base import Lexer, TokenType

from .tree import ROOT, SOURCE, where

WEB = SOURCE / "web"
TEMPLATES = sorted((WEB / "templates").rglob("*.html"))
SCRIPTS = sorted((WEB / "static").rglob("*.js"))

OURS = re.compile(r"\b(wide|Sillwright|ISO \d+[-:\d]*|EN \d+[-:\d]*|YAML|JSON|XLSX|PDF|SVG|CSV|API|OpenAPI|CSRF)\b")
READ = re.compile(r"\b(?:aria-label|title|placeholder|alt|aria-description|aria-valuetext|label)=\"([^\"]*)\"")
MARKUP = re.compile(r"<!--.*?-->|<(style|script)\b.*?</\1>|<[^>]*>|&[a-z#0-9]+;", re.DOTALL)
WORD = re.compile(r"[^\W\d_]{3,}")


def unmarked_in_template(source: str) -> Iterator[str]:
    """Words of a template that stand outside ``trans`` and ``blocktrans``."""
    kept, inside = [], False
    for token in Lexer(source).tokenize():
        if token.token_type == TokenType.BLOCK:
            name = token.contents.split()[0]
            if name in {"blocktrans", "blocktranslate", "comment"}:
                inside = True
            elif name in {"endblocktrans", "endblocktranslate", "endcomment"}:
                inside = False
        elif token.token_type == TokenType.TEXT and not inside:
            kept.append(token.contents)
        else:
            kept.append("\x00")
    text = "".join(kept)
    for attribute in READ.findall(text):
        if WORD.search(OURS.sub("", attribute)):
            yield attribute
    shown = OURS.sub("", MARKUP.sub(" ", text))
    yield from (match[0] for match in WORD.finditer(shown))


# What programmers read, in English: the document of the API and the descriptions in its models.
FOR_PROGRAMS = re.compile(r"/api/(?!problems|pages|front)")
DATABASE = re.compile(r"^(PRAGMA|SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|BEGIN|SET) ")
SENTENCE = re.compile(r"^[A-Z“][^\s]*(?: [^\s]+){2,}")
MARKS = {"_", "gettext", "gettext_lazy", "ngettext", "ngettext_lazy", "N_", "say"}


def unmarked_in_python(tree: ast.Module) -> Iterator[str]:
    """Literals that read like sentences and are in no call of gettext, and no docstring."""
    marked: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in MARKS:
            marked |= set(ast.walk(node))
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            marked.add(node.value)
        if isinstance(node, ast.Dict):
            marked |= {key for key in node.keys if key is not None}  # a key is looked up, its value is shown
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node not in marked:
            data = DATABASE.match(node.value) or node.value.endswith("(invented)")
            if SENTENCE.match(node.value) and not data:
                yield node.value


IN_SCRIPT = re.compile(r"""(["'`])((?:\\.|(?!\1).)*)\1""")


def sentences_in_script(source: str) -> Iterator[str]:
    """Literals of a script that read like sentences."""
    bare = re.sub(r"^\s*(//.*|/\*.*?\*/)$", "", source, flags=re.MULTILINE)
    bare = re.sub(r"/\*.*?\*/|(?<![:\"'`])//[^\n]*", "", bare, flags=re.DOTALL)
    for match in IN_SCRIPT.finditer(bare):
        if re.search(r"[A-Za-z]{3,} [a-z]{2,} [a-z]{2,}", match[2]) and "${" not in match[2]:
            yield match[2]


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: str(path.relative_to(WEB / "templates")))
def test_a_template_compiles_and_its_words_are_in_the_catalogue(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    engines["django"].engine.from_string(source)  # type: ignore[attr-defined]
    assert not list(unmarked_in_template(source))


def test_a_word_outside_the_catalogue_would_be_found() -> None:
    assert list(unmarked_in_template("<p>{% trans 'Kept' %} loose</p>")) == ["loose"]
    assert list(unmarked_in_template('<img alt="A door">')) == ["A door"]
    assert not list(
        unmarked_in_template('<p class="card">{{ door }} {% blocktrans %}Three doors{% endblocktrans %}</p>')
    )
    assert list(unmarked_in_python(ast.parse("tell('This was not kept')"))) == ["This was not kept"]
    assert not list(unmarked_in_python(ast.parse("'''A docstring of this.'''\ntell(_('This was not kept'))")))
    assert list(sentences_in_script("show('Kept on this phone');")) == ["Kept on this phone"]


def test_python_says_nothing_outside_the_catalogue() -> None:
    for path in sorted(WEB.rglob("*.py")):
        if "migrations" in path.parts or FOR_PROGRAMS.search(path.as_posix()):
            continue
        found = list(unmarked_in_python(ast.parse(path.read_text(encoding="utf-8"))))
        assert not found, f"{where(path)}: {found}"


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda path: path.name)
def test_a_script_says_nothing_of_its_own(path: Path) -> None:
    assert not list(sentences_in_script(path.read_text(encoding="utf-8")))


def test_the_catalogue_of_the_pages_is_up_to_date() -> None:
    spec = spec_from_file_location("write_web_messages", ROOT / "tools/write_web_messages.py")
    assert spec is not None
    assert spec.loader is not None
    module = module_from_spec(spec)
    spec.loader.exec_module(module)
    written = (WEB / "locale/django.pot").read_text(encoding="utf-8")
    assert written == module.text(), "run make messages"
