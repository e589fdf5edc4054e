"""A survey from facts by path, for examples that stand beside rules."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sillwright.base.node import Node
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import FORMAT, Survey


def node_of(value: Any) -> Node:
    """Plain lists, mappings and scalars as a tree, as if read from line 1 of a file."""
    if isinstance(value, Mapping):
        pairs = tuple((str(key), node_of(str(key)), node_of(inner)) for key, inner in value.items())
        return Node(kind="mapping", line=1, column=1, pairs=pairs)
    if isinstance(value, (list, tuple)):
        return Node(kind="list", line=1, column=1, items=tuple(node_of(item) for item in value))
    text = (
        ""
        if value is None
        else {True: "true", False: "false"}.get(value, str(value))
        if isinstance(value, bool)
        else str(value)
    )
    return Node(kind="scalar", line=1, column=1, scalar=value, text=text)


def survey_from_facts(facts: Mapping[str, Any], name: str = "example") -> Survey:
    """A site with one opening from facts by dotted path; ``site.…`` paths go to the site.

    >>> survey_from_facts({"door.kind": "grille"}).openings[0].door.kind.value
    'grille'
    """
    tree: dict[str, Any] = {"site": {"name": "example", "country": "US"}, "tag": "1"}
    for path, value in facts.items():
        *groups, last = path.split(".")
        here = tree
        for group in groups:
            here = here.setdefault(group, {})
        here[last] = value
    site = tree.pop("site")
    return survey_from(node_of({"format": FORMAT, "site": site, "openings": [tree]}), name)
