"""What a state to begin with is made of, and how its source is said."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext_lazy as _

from sillwright.web.workbench.choices import Words
from sillwright.web.workbench.typed import Typed

INVENTED = _("An invented case.")
RULED = _("A worked case of the trade's rules of thumb, from memory.")
WORKED = _("A worked case of this program's own tests: computed apart from it.")
STEPPED = _("A reference case of this program's own tests: integrated apart from it, in steps of 0.4 µs.")


@dataclass(frozen=True, kw_only=True)
class Example:
    """One state: what was typed, where it comes from, and which results are known for it (SI, within what)."""

    title: Words
    source: Words
    state: dict[str, str | list[str]]
    expected: tuple[tuple[str, float | str, float], ...] = ()
    published: bool = False

    @property
    def typed(self) -> Typed:
        """The state as a query has it."""
        return {name: [value] if isinstance(value, str) else list(value) for name, value in self.state.items()}


def curve(path: str, *points: str) -> dict[str, str | list[str]]:
    """A curve as columns, from points like ``6.5 mm, 45 N``.

    >>> curve("c", "0 m, 0 N", "1 mm, 2 N")
    {'c.x': ['0 m', '1 mm'], 'c.y': ['0 N', '2 N']}
    """
    pairs = [point.split(", ") for point in points]
    return {f"{path}.x": [pair[0] for pair in pairs], f"{path}.y": [pair[1] for pair in pairs]}
