"""A survey as single entries, one said thing each, and back: how facts are kept where many people write them down.

An entry names a fact by its path (``door.kind``, ``protection.e1.state``) and says its value as typed, or that it
is not known, or that somebody looked and there is none. Of a member of a list (``protection.e1``) it may say that
it was taken away. Several entries of one fact are several readings of it. A text that cannot be read holds up no
other: it is named, and the fact stays not known.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from sillwright.base.errors import DocumentError, Mistake, UnknownName
from sillwright.base.fact import Origin, Reading
from sillwright.base.node import Mistakes, Node
from sillwright.base.words import N_, say
from sillwright.survey.from_facts import node_of
from sillwright.survey.from_node import MOST_READINGS, survey_from
from sillwright.survey.model import FORMAT, Opening, Site, Survey
from sillwright.survey.questions import mistake_in, value_of
from sillwright.survey.spec import ID, Group, GroupSpec, Listing, Spec, join

Says = Literal["value", "unknown", "none", "removed"]
SAYS: tuple[Says, ...] = ("value", "unknown", "none", "removed")
LONGEST_EVIDENCE = 200


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One said thing. ``on`` is the day as typed; paths of the site begin with ``site.``."""

    path: str
    says: Says = "value"
    typed: str = ""
    origin: Origin | None = None
    by: str | None = None
    on: str | None = None
    evidence: str | None = None


@dataclass(frozen=True, kw_only=True)
class Rebuilt:
    """A survey from entries: what could not be read, by path, and which member stands where in its list."""

    survey: Survey
    mistakes: Mapping[str, Mistake]
    members: Mapping[str, str]  # "use.traffic[0]" -> "use.traffic.m7"

    def named(self, path: str) -> str:
        """The path of a fact as entries call it, from how the survey calls it."""
        head, bracket, rest = path.partition("]")
        return self.members.get(head + bracket, head + bracket) + rest if bracket else path


# from a survey to entries


def entries_of(group: Group, path: str = "") -> Iterator[Entry]:
    """Every reading below a group as an entry; what was not asked has none.

    >>> from sillwright.survey.from_facts import survey_from_facts
    >>> survey = survey_from_facts({"door.kind": "grille", "tag": "G1"})
    >>> [(each.path, each.typed) for each in entries_of(survey.openings[0])]
    [('tag', 'G1'), ('door.kind', 'grille')]
    """
    for name, spec in group.specs.items():
        found, here = getattr(group, name), join(path, name)
        if isinstance(spec, Spec):
            yield from (_entry(here, spec, reading) for reading in found.readings)
        elif spec.many:
            yield from _of_list(found, here)
        else:
            yield from entries_of(found, here)


def _entry(path: str, spec: Spec, reading: Reading[Any]) -> Entry:
    says: Says = "value" if reading.value is not None else "none" if reading.origin else "unknown"
    typed = reading.typed if says == "value" else ""
    if says == "value" and spec.kind == "texts" and not reading.value:
        typed = "none"
    return Entry(
        path=path,
        says=says,
        typed=typed,
        origin=reading.origin,
        by=reading.by,
        on=reading.on,
        evidence=reading.evidence,
    )


def _of_list(listing: Listing[Any], path: str) -> Iterator[Entry]:
    if listing.standing == "not known":
        yield Entry(path=path, says="unknown")
    lists = listing.rivals or ((listing.items,) if listing.standing in {"known", "assumed"} else ())
    everywhere = set.intersection(*(set(_keys(each)) for each in lists)) if lists else set()
    told: set[str] = set()
    for items in lists:
        if not any(lists):  # beside another reading each of its members is told to be gone
            yield Entry(path=path, says="none")
        for key, item in zip(_keys(items), items, strict=True):
            here = join(path, key)
            said = [each for each in entries_of(item, here) if each.path != join(here, "id")]
            yield from said or [Entry(path=join(here, first_of(type(item))), says="unknown")]
            if key not in everywhere and key not in told:  # one reading has it, another has not
                yield Entry(path=here, says="removed")
            told.add(key)


def _keys(items: Sequence[Any]) -> list[str]:
    return [
        str(item.id.value) if "id" in item.specs and item.id.value else f"m{number}"
        for number, item in enumerate(items, 1)
    ]


# from entries to a survey


def survey_from_entries(
    name: str, site: Iterable[Entry], openings: Mapping[str, Iterable[Entry]], country: str = "US"
) -> Rebuilt:
    """The survey that entries tell of; ``openings`` by tag. ``country`` stands where no entry can say it.

    Raises :class:`DocumentError` only where the whole is more than a survey holds.

    >>> told = [Entry(path="door.kind", typed="grille"), Entry(path="door.clear_width", typed="wide")]
    >>> rebuilt = survey_from_entries("Ferry Yard", [], {"G1": told})
    >>> rebuilt.survey.openings[0].door.kind.value, list(rebuilt.mistakes)
    ('grille', ['door.clear_width'])
    """
    builder = _Builder()
    tree = builder.group(Site, _below(site, "site."), "site")
    tree["name"] = node_of(name)
    if not _readable(tree.get("country")):
        tree["country"] = node_of(country)
    found = []
    for tag, entries in openings.items():
        body = builder.group(Opening, _below(entries, ""), "")
        found.append(_mapping({**body, "tag": node_of(tag)}))
    survey = _read(name, tree, found, builder.mistakes)
    return Rebuilt(survey=survey, mistakes=builder.mistakes, members=builder.members)


def _read(name: str, site: dict[str, Node], openings: list[Node], mistakes: dict[str, Mistake]) -> Survey:
    whole = {"format": node_of(FORMAT), "site": _mapping(site), "openings": _list(openings)}
    try:
        return survey_from(_mapping(whole), name, Mistakes(name))
    except DocumentError as error:
        paths = [each.path for each in error.mistakes]
        if paths != ["site.subdivision"]:
            raise
        (wrong,) = error.mistakes  # a part of another country holds up no other fact
        mistakes["site.subdivision"] = Mistake(path=wrong.path, message=wrong.message, accepted=wrong.accepted)
        return _read(name, {key: node for key, node in site.items() if key != "subdivision"}, openings, mistakes)


def _below(entries: Iterable[Entry], prefix: str) -> dict[str, list[Entry]]:
    told: dict[str, list[Entry]] = {}
    for each in entries:
        if each.path.startswith(prefix) and each.path not in {"site.name", "tag"}:
            told.setdefault(each.path.removeprefix(prefix), []).append(each)
    return told


def _readable(node: Node | None) -> bool:
    return node is not None and any(item.get("value") and not item.get("value").empty for item in node.items)  # type: ignore[union-attr]


def _mapping(parts: Mapping[str, Node]) -> Node:
    return Node(
        kind="mapping", line=1, column=1, pairs=tuple((key, node_of(key), value) for key, value in parts.items())
    )


def _list(items: Iterable[Node]) -> Node:
    return Node(kind="list", line=1, column=1, items=tuple(items))


def _without(inner: Mapping[str, list[Entry]], key: str) -> dict[str, list[Entry]]:
    return {name: each for name, each in inner.items() if name != key}


@dataclass
class _Builder:
    """Builds the document of a survey from entries, group by group."""

    mistakes: dict[str, Mistake] = field(default_factory=dict)
    members: dict[str, str] = field(default_factory=dict)

    def group(self, kind: type[Group], told: Mapping[str, list[Entry]], path: str) -> dict[str, Node]:
        below: dict[str, dict[str, list[Entry]]] = {}
        for name, entries in told.items():
            first, _, rest = name.partition(".")
            below.setdefault(first, {})[rest] = entries
        tree: dict[str, Node] = {}
        for name, inner in below.items():
            spec, here = kind.specs.get(name), join(path, name)
            lost = set(inner) - {""} if isinstance(spec, Spec) else set()
            if isinstance(spec, Spec):
                if "" in inner and (node := self._fact(spec, inner[""], here)) is not None:
                    tree[name] = node
            elif spec is not None and spec.many:
                tree[name] = self._listing(spec, inner, here)
            else:
                lost = set(inner) if spec is None else {""} & set(inner)
                if spec is not None and (group := self.group(spec.group, _without(inner, ""), here)):
                    tree[name] = _mapping(group)
            for rest in lost:
                place = join(here, rest) if rest else here
                self.mistakes[place] = Mistake(path=place, message=say(N_("no fact of a survey")))
        return tree

    def _fact(self, spec: Spec, entries: Sequence[Entry], path: str) -> Node | None:
        for each in entries:
            if each.says == "value" and (wrong := _wrong(path, each.typed)) is not None:
                self.mistakes[path] = wrong
        readings = [
            _reading(each, value_of(spec, each.typed) if each.says == "value" else None)
            for each in readings_of(entries)
        ]
        return _list(readings) if readings else None

    def _listing(self, spec: GroupSpec, inner: Mapping[str, list[Entry]], path: str) -> Node:
        of_the_whole = {each.says for each in inner.get("", ())}
        keyed: dict[str, dict[str, list[Entry]]] = {}
        for name, entries in inner.items():
            key, _, rest = name.partition(".")
            if key and ID.fullmatch(key):
                keyed.setdefault(key, {})[rest] = entries
        members = {key: told for key, told in keyed.items() if any(told)}
        disputed = {key for key, told in members.items() if "" in told}
        items = {key: self._member(spec, key, told, join(path, key)) for key, told in members.items()}
        self.members |= {f"{path}[{index}]": f"{path}.{key}" for index, key in enumerate(items)}
        if not members:
            empty = "none" in of_the_whole or (keyed and "unknown" not in of_the_whole)
            return _list(()) if empty else node_of(None)
        whole = _list(items.values())
        if disputed or "none" in of_the_whole:
            fewer = () if "none" in of_the_whole else [items[key] for key in items if key not in disputed]
            return _list([_mapping({"value": whole}), _mapping({"value": _list(fewer)})])
        told = [each for member in members.values() for entries in member.values() for each in entries]
        if all(each.origin == "assumed" for each in told):
            return _mapping({"value": whole, "from": node_of("assumed")})
        return whole

    def _member(self, spec: GroupSpec, key: str, told: Mapping[str, list[Entry]], path: str) -> Node:
        tree = self.group(spec.group, _without(told, ""), path)
        tree = tree or {first_of(spec.group): node_of(None)}  # one of which nothing could be read is still there
        return _mapping({"id": node_of(key), **tree} if "id" in spec.group.specs else tree)


def first_of(group: type[Group]) -> str:
    """The fact that stands for a member of a list of which nothing is known but that it is there."""
    return next(name for name, spec in group.specs.items() if isinstance(spec, Spec) and name != "id")


def readings_of(entries: Iterable[Entry]) -> list[Entry]:
    """What a survey takes of the entries of one fact: those that can be read, at most fifty, repeats last.

    A text that cannot be read may say the opposite of one that can. Beside that one a reading without a value
    stands for it: the two disagree, and no rule rests on the fact until somebody settles it.
    """
    told = list(entries)
    good = [each for each in told if is_readable(each)]
    if len(good) > MOST_READINGS:
        keys = [(each.says, each.typed, each.origin) for each in good]
        good = [good[at] for at in sorted(range(len(good)), key=lambda at: keys[at] in keys[:at])]
    kept = good[:MOST_READINGS]
    unread = next((each for each in told if each.origin != "assumed" and not is_readable(each)), None)
    if unread and any(each.says == "value" and each.origin != "assumed" for each in kept):
        words = f"“{' '.join(unread.typed.split())}”"[:LONGEST_EVIDENCE]
        kept[MOST_READINGS - 1 :] = []
        kept.append(replace(unread, says="none", typed="", origin=unread.origin or "told", evidence=words))
    return kept


def is_readable(entry: Entry) -> bool:
    """Whether a survey can take what an entry says."""
    return entry.says != "value" or _wrong(entry.path, entry.typed) is None


def _wrong(path: str, typed: str) -> Mistake | None:
    try:
        return mistake_in(path, typed)
    except UnknownName as error:
        return Mistake(path=path, message=error.said)


def origin_of(entry: Entry) -> Origin | None:
    """Where it comes from, as a file says it: looked and none there was measured; not known comes from nowhere."""
    return None if entry.says == "unknown" else entry.origin or ("measured" if entry.says == "none" else None)


def _reading(entry: Entry, value: Any) -> Node:
    if isinstance(value, list):
        inner = _list(_list(map(node_of, each)) if isinstance(each, list) else node_of(each) for each in value)
    else:
        inner = node_of(value)
    words = {"from": origin_of(entry), "by": entry.by, "on": entry.on, "evidence": entry.evidence}
    return _mapping({"value": inner, **{key: node_of(said) for key, said in words.items() if said}})
