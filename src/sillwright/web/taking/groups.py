"""Every other fact of an opening, by groups."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.questions import question_at
from sillwright.survey.spec import Group, Spec, join
from sillwright.web.taking.lists import LISTS, facts_of_member
from sillwright.web.taking.members import fits_beside
from sillwright.web.taking.order import NOT_KEPT_HERE, AnyCard, Cards, questions_of
from sillwright.web.taking.saying import is_fact
from sillwright.web.taking.subject import Subject

_GROUPS = {
    "door": ("name", "door"),
    "bottom": ("door.bottom",),
    "operator": ("operator",),
    "lead": ("lead", "cord", "box", "free_wall"),
    "devices": ("protection",),
    "stations": ("stations", "controls", "converters"),
    "use": ("use",),
    "around": ("floor", "surroundings", "zones", "mesh", "grade"),
    "record": (
        "as_found", "tests", "readings", "temporary_parts", "defeats", "statements", "last_work", "incident",
        "parts_kept", "photos",
    ),
}  # fmt: skip


def group_cards(subject: Subject, group: str, without: frozenset[str]) -> tuple[AnyCard, ...]:
    """The cards of a group that the page has not asked already: ``without`` names further ones that it has."""
    asked = without | frozenset(questions_of(subject))
    told = Cards(subject, None, frozenset(), "facts")
    return told.of(path for path in _paths(subject) if path not in asked and _group_of(path) == group)


def facts_by_group(subject: Subject) -> dict[str, list[str]]:
    """Every single fact that can be told of an opening, by group."""
    found: dict[str, list[str]] = {name: [] for name in _GROUPS}
    for path in _paths(subject):
        if is_fact(path):
            found[_group_of(path)].append(path)
    return found


def _group_of(path: str) -> str:
    """The group of a fact: that of the longest beginning of its path."""
    starts = [(len(start), name) for name, known in _GROUPS.items() for start in known if _begins(path, start)]
    return max(starts)[1]


def _begins(path: str, start: str) -> bool:
    return f"{path}.".startswith(f"{start}.")


def _paths(subject: Subject) -> Iterator[str]:
    """Every fact in the order of the model: a list as a whole, of devices each fact."""
    listed: set[str] = set()
    for path in _in_order():
        name = path.partition(".*")[0]
        if name == path:
            if question_at(path).asked_of(subject.kind) or path in subject.facts.heads:
                yield path
        elif name not in listed:
            listed.add(name)
            yield name
    for key in subject.members("protection"):
        paths = (f"protection.{key}.{name}" for name in facts_of_member(LISTS["protection"]))
        yield from (path for path in paths if fits_beside(subject, path))


@cache
def _in_order() -> tuple[str, ...]:
    return tuple(path for path in _walk(OpeningFacts, "") if path not in NOT_KEPT_HERE)


def _walk(group: type[Group], path: str) -> Iterator[str]:
    for name, spec in group.specs.items():
        here = join(path, name)
        if isinstance(spec, Spec):
            yield here
        else:
            yield from _walk(spec.group, f"{here}.*" if spec.many else here)
