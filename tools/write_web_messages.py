"""Writes the catalogue of every sentence of the pages: ``make messages``. A test compares it.

Sentences stand in templates under ``trans`` and ``blocktrans`` and in Python under ``gettext`` and its kin. Django
reads translations of them from ``locale/<language>/LC_MESSAGES/django.mo`` beside this catalogue.
"""

from __future__ import annotations

import ast
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
WEB = ROOT / "src/sillwright/web"
TARGET = WEB / "locale/django.pot"
CALLS = {"_", "gettext", "gettext_lazy", "gettext_noop", "ngettext", "ngettext_lazy", "pgettext"}

Message = tuple[str, str]  # singular, plural or ""


def in_python(path: Path) -> Iterator[Message]:
    """Literals in calls of gettext."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and getattr(node.func, "id", getattr(node.func, "attr", "")) in CALLS:
            name = getattr(node.func, "id", getattr(node.func, "attr", ""))
            words = [
                each.value for each in node.args if isinstance(each, ast.Constant) and isinstance(each.value, str)
            ]
            if words:
                yield words[0], words[1] if name.startswith("ngettext") and len(words) > 1 else ""


def in_template(path: Path) -> Iterator[Message]:
    """What ``trans`` and ``blocktrans`` hold, as Django itself looks it up."""
    from django.template import engines

    template = engines["django"].engine.from_string(path.read_text(encoding="utf-8"))  # type: ignore[attr-defined]
    yield from _below(template.nodelist)


def _below(nodes: Any) -> Iterator[Message]:
    from django.templatetags.i18n import BlockTranslateNode, TranslateNode

    for node in nodes:
        if isinstance(node, TranslateNode):
            literal = node.filter_expression.var
            text = getattr(literal, "literal", literal)
            if isinstance(text, str):
                yield text, ""
        elif isinstance(node, BlockTranslateNode):
            yield _trimmed(node, node.singular), _trimmed(node, node.plural) if node.plural else ""
        for name in getattr(node, "child_nodelists", ()):
            yield from _below(getattr(node, name, None) or ())
        for _, inner in getattr(node, "conditions_nodelists", ()):
            yield from _below(inner)


def _trimmed(node: Any, tokens: Any) -> str:
    return str(node.render_token_list(tokens)[0])


def messages() -> dict[Message, set[str]]:
    """Every sentence, with the files that say it."""
    found: dict[Message, set[str]] = {}
    for path in sorted(WEB.rglob("*.py")):
        if "migrations" not in path.parts:
            for message in in_python(path):
                found.setdefault(message, set()).add(str(path.relative_to(WEB)))
    for path in sorted((WEB / "templates").rglob("*.html")) + sorted((WEB / "templates").rglob("*.txt")):
        for message in in_template(path):
            found.setdefault(message, set()).add(str(path.relative_to(WEB)))
    return found


def text() -> str:
    """The catalogue as it should stand."""
    lines = ["# Every sentence of the pages. Written by `make messages`.", 'msgid ""', 'msgstr ""']
    lines += ['"Content-Type: text/plain; charset=UTF-8\\n"', ""]
    for (singular, plural), files in sorted(messages().items()):
        lines += [f"#: {' '.join(sorted(files))}", f'msgid "{_escaped(singular)}"']
        lines += [f'msgid_plural "{_escaped(plural)}"', 'msgstr[0] ""', 'msgstr[1] ""'] if plural else ['msgstr ""']
        lines.append("")
    return "\n".join(lines)


def _escaped(words: str) -> str:
    return words.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")


if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.web.settings_for_tests")
    import sys

    sys.path.insert(0, str(ROOT))
    import django

    django.setup()
    TARGET.parent.mkdir(exist_ok=True)
    TARGET.write_text(text(), encoding="utf-8")
