"""Questions as tests ask them."""

from __future__ import annotations

from typing import Any

from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Fact, Observation, Question
from sillwright.web.records.questions import Asked, ask, make_link

from .conftest import World

FACT = "operator.made"


def asked(world: World, **more: Any) -> Question:
    """A question of the technician to the advisor, unless said otherwise."""
    told = {"fact": FACT, "words": "When was it made?", "to": world.people["advisor"], **more}
    return ask(world.opening, Asked(**told), by=world.people["technician"])


def link_to(world: World, days: int = 7, **more: Any) -> tuple[Question, str]:
    """A question to somebody without an account, and the path of its link."""
    question = asked(world, **{"to": None, "name": "Gate Keeper", **more})
    return question, f"/asked/{make_link(question, days, by=world.people['technician'])}/"


def heads(world: World, fact: str = FACT) -> list[dict[str, str]]:
    """The readings of a fact that stand."""
    found = Fact.objects.filter(opening=world.opening, path=fact).first()
    return found.heads if found else []


def said(world: World, fact: str, who: str = "owner", **more: Any) -> Observation:
    """Something that somebody wrote on the fact's own card."""
    return write(world.site, world.opening, Said(fact=fact, **more), author=world.people[who])


def answers() -> list[Observation]:
    """What answers became."""
    return list(Observation.objects.filter(evidence__startswith="question ").order_by("received"))
