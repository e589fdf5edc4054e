"""Which member of a file's list is which member that is known already.

Members without an id are only numbered in a file, and called by another name where they were taken down. They are
the same where they say the same; else where the fact that names them does.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import count

from sillwright.base.errors import UnknownName
from sillwright.survey.entries import Entry
from sillwright.survey.model import Opening, Site
from sillwright.survey.questions import answer_at, pattern_of, spec_at
from sillwright.survey.spec import Group, GroupSpec
from sillwright.survey.values import Refused as Unread
from sillwright.web.records.log import Head

Heads = Mapping[str, Sequence[Head]]
Reading = tuple[str, str, str]  # fact, what is said, value
Signature = frozenset[Reading]


def says_the_same(entry: Entry, head: Head) -> bool:
    """Whether two readings of one fact agree, as the fact itself judges it."""
    if entry.says != head.says:
        return False
    if entry.says != "value" or entry.typed == head.typed:
        return True
    try:
        one, other = answer_at(entry.path, entry.typed), answer_at(entry.path, head.typed)
        return spec_at(entry.path).same(one, other)
    except (UnknownName, Unread):
        return False


def list_and_member(path: str) -> tuple[str, str]:
    """The list that a path goes into, and the member's name; empty where it goes into none.

    >>> list_and_member("use.traffic.m2.who"), list_and_member("protection.e1"), list_and_member("door.kind")
    (('use.traffic', 'm2'), ('protection', 'e1'), ('', ''))
    """
    names, pattern = path.split("."), pattern_of(path).split(".")
    if "*" not in pattern:
        return "", ""
    at = pattern.index("*")
    return ".".join(names[:at]), names[at]


def members(paths: Iterable[str]) -> dict[str, list[str]]:
    """The members of each list that something is said of, in order."""
    found: dict[str, dict[str, None]] = {}
    for path in paths:
        listed, key = list_and_member(path)
        if listed and path != f"{listed}.{key}":
            found.setdefault(listed, {})[key] = None
    return {listed: list(keys) for listed, keys in found.items()}


def matched(entries: Iterable[Entry], heads: Heads) -> list[Entry]:
    """What a file says, its members called as those that are known."""
    told, found = list(entries), [(path, head) for path, here in heads.items() for head in here]
    known = _signatures(found)
    names = {
        f"{listed}.{key}": f"{listed}.{name}"
        for listed, inner in _signatures((each.path, each) for each in told).items()
        if "id" not in _group(listed).specs
        for key, name in _names(inner, known.get(listed, {}), next(iter(_group(listed).specs))).items()
    }
    return [replace(each, path=_renamed(each.path, names)) for each in told]


def _renamed(path: str, names: Mapping[str, str]) -> str:
    listed, key = list_and_member(path)
    here = f"{listed}.{key}"
    return f"{names[here]}{path.removeprefix(here)}" if here in names else path


def _signatures(readings: Iterable[tuple[str, Entry | Head]]) -> dict[str, dict[str, Signature]]:
    """Everything that is said of each member of each list."""
    found: dict[str, dict[str, set[Reading]]] = {}
    for path, each in readings:
        listed, key = list_and_member(path)
        if listed and path != f"{listed}.{key}":
            fact = path.removeprefix(f"{listed}.{key}.")
            found.setdefault(listed, {}).setdefault(key, set()).add((fact, each.says, _value(path, each)))
    return {listed: {key: frozenset(said) for key, said in inner.items()} for listed, inner in found.items()}


def _value(path: str, each: Entry | Head) -> str:
    if each.says != "value":
        return ""
    try:
        return repr(answer_at(path, each.typed))
    except (UnknownName, Unread):
        return each.typed


def _names(told: Mapping[str, Signature], known: Mapping[str, Signature], first: str) -> Mapping[str, str]:
    """What each member of a file's list is called here: as the one that says the same, or that is named so."""
    names: dict[str, str] = {}
    for same in (frozenset, lambda said: frozenset(each for each in said if each[0] == first)):
        free: dict[Signature, list[str]] = {}
        for name, said in known.items():
            if name not in names.values() and same(said):
                free.setdefault(same(said), []).append(name)
        for key, said in told.items():
            if key not in names and free.get(same(said)):
                names[key] = free[same(said)].pop(0)
    taken = {*known, *names.values()}
    numbers = (name for number in count(1) if (name := f"m{number}") not in taken)
    return {key: names[key] if key in names else next(numbers) for key in told}


def _group(listed: str) -> type[Group]:
    group: type[Group] = Site if listed.startswith("site.") else Opening
    for name in listed.removeprefix("site.").split("."):
        spec = group.specs[name]
        if not isinstance(spec, GroupSpec):
            raise KeyError(listed)
        group = spec.group
    return group
