"""Findings of this chapter, all from rules of thumb."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sillwright.base.finding import Finding, Level
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence

RULES = Source(document=N_("trade rules of thumb"), sure="memory")


def found(
    name: str,
    level: Level,
    text: str,
    values: Mapping[str, Any],
    *,
    do: str,
    facts: tuple[str, ...] = (),
    place: str | None = "cord",
) -> Finding:
    """A finding with what to do about it; ``values`` fill both sentences."""
    return Finding(
        id=f"takeoff.{name}",
        level=level,
        text=Sentence(text, values),
        do=Sentence(do, values),
        facts=facts,
        place=place,
        sources=(RULES,),
    )
