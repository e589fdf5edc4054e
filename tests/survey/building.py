"""Small surveys for tests, built from facts by path."""

from __future__ import annotations

from typing import Any

import yaml

from sillwright.base.node import parse
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import Opening, Survey


class _Plain(yaml.SafeDumper):
    """Writes a value out again where it stands twice."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def nested(facts: dict[str, Any]) -> dict[str, Any]:
    """Facts by dotted path as nested mappings."""
    tree: dict[str, Any] = {}
    for path, value in facts.items():
        *groups, name = path.split(".")
        here = tree
        for group in groups:
            here = here.setdefault(group, {})
        here[name] = value
    return tree


def text_of(*openings: dict[str, Any], **site: Any) -> str:
    """A survey file of openings given by dotted paths; ``site.…`` paths of the first go to the site."""
    trees = [nested({"tag": f"T{number}", **facts}) for number, facts in enumerate(openings, 1)]
    where = {"name": "Quillback Sheds", "country": "US", **trees[0].pop("site", {}), **site}
    for tree in trees:
        tree.pop("site", None)
        door = tree.setdefault("door", {})
        door.setdefault("kind", "sectional")
        if door["kind"] not in {"slide_gate", "swing_gate"}:
            door.setdefault("clear_width", "10 ft 4 in")
            door.setdefault("clear_height", "10 ft")
    document = {"format": "sillwright-survey/1", "site": where, "openings": trees}
    return yaml.dump(document, Dumper=_Plain, allow_unicode=True, sort_keys=False)


def survey_of(*openings: dict[str, Any], **site: Any) -> Survey:
    """The survey of openings given by dotted paths."""
    return survey_from(parse(text_of(*openings, **site).encode(), "test.yaml"), "test.yaml")


def opening_of(facts: dict[str, Any]) -> Opening:
    """The only opening of such a survey."""
    return survey_of(facts).openings[0]
