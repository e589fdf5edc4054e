"""Public functions of the core say what they do; calculations also on which source, with an example."""

from __future__ import annotations

import ast

from .tree import CORE, parsed, sources, where


def functions():
    """The public functions at the top of the core's modules."""
    for path in sources(*CORE):
        for node in parsed(path).body:
            if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and not node.name.startswith("_"):
                yield path, node


def is_calculation(node: ast.FunctionDef) -> bool:
    """Whether a function goes from one case to one result."""
    arguments = node.args.args + node.args.kwonlyargs
    hints = [ast.unparse(each.annotation) for each in arguments if each.annotation]
    returns = ast.unparse(node.returns) if node.returns else ""
    return len(hints) == 1 and hints[0].endswith("Case") and returns.endswith("Result")


def test_every_public_function_of_the_core_has_a_docstring():
    silent = [f"{where(path, node)} {node.name}" for path, node in functions() if not ast.get_docstring(node)]
    assert not silent


def test_every_module_and_public_class_of_the_core_has_a_docstring():
    silent = []
    for path in sources(*CORE):
        tree = parsed(path)
        if path.name != "__init__.py" and not ast.get_docstring(tree):
            silent.append(where(path))
        classes = (node for node in tree.body if isinstance(node, ast.ClassDef))
        silent += [
            f"{where(path, node)} {node.name}"
            for node in classes
            if not node.name.startswith("_") and not ast.get_docstring(node)
        ]
    assert not silent


def test_every_calculation_names_its_source_its_errors_and_an_example():
    poor = []
    for path, node in functions():
        if is_calculation(node):
            said = ast.get_docstring(node) or ""
            poor += [
                f"{where(path, node)} {node.name}: no “{word}”"
                for word in (">>>", "Source", "Raises", "Valid")
                if word not in said
            ]
    assert not poor


def test_the_present_calculations_are_found():
    assert "approach" in {node.name for _, node in functions() if is_calculation(node)}
