"""The security page names tests that there are, and every one of them tests something."""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_every_test_that_the_security_page_names_exists() -> None:
    page = (ROOT / "docs" / "security.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`(test_\w+)`", page))
    there = {
        node.name
        for path in (ROOT / "tests").rglob("test_*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef)
    }
    assert len(named) > 50
    assert not named - there
