"""A reason that stands against an order, and facts by the names that people call them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sillwright.base.words import Sentence
from sillwright.survey.model import Opening
from sillwright.survey.questions import named
from sillwright.takeoff.answer import Block


def block(name: str, reason: str, releases: str, *facts: str, **values: Any) -> Block:
    """A reason and what releases it; ``values`` fill both sentences."""
    return Block(id=name, reason=Sentence(reason, values), releases=Sentence(releases, values), facts=facts)


def titles(opening: Opening, paths: Iterable[str]) -> list[Sentence | str]:
    """Facts by what a person calls them; a list, or a fact of the site, by its path."""
    specs = {fact.path: spec for spec, fact in opening.facts()}
    return [Sentence(named(specs[path], path)) if path in specs else path for path in paths]
