"""What a study cannot do without."""

from __future__ import annotations

from typing import Any

from sillwright.base.errors import Mistake
from sillwright.base.fact import Fact
from sillwright.base.words import N_, say
from sillwright.survey.model import Opening, Survey

_UNKNOWN = {"not asked", "not known", "none there"}


def missing_facts(opening: Opening) -> tuple[str, ...]:
    """The facts without which an opening cannot be studied: kind of leaf and, except for gates, its size."""
    door = opening.door
    wanted: list[Fact[Any]] = [door.kind] if door.is_gate else [door.kind, door.clear_width, door.clear_height]
    return tuple(fact.path for fact in wanted if fact.standing in _UNKNOWN)


def missing_for_study(survey: Survey) -> tuple[Mistake, ...]:
    """Every missing fact of every opening, as mistakes."""
    found = [
        Mistake(
            path=f"openings[{index}].{path}",
            message=say(N_("missing, and a study needs it")),
            accepted=say(
                N_("opening {tag}: ask for it, or keep the file as a draft and use check"), tag=opening.tag.value
            ),
        )
        for index, opening in enumerate(survey.openings)
        for path in missing_facts(opening)
    ]
    if not survey.openings:
        accepted = say(N_("list at least one"))
        found.append(Mistake(path="openings", message=say(N_("no opening to study")), accepted=accepted))
    return tuple(found)
