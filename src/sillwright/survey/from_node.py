"""From a document's tree to a survey: every fact with its origin, every mistake with its place.

A mapping is a wrapped fact exactly when it has ``value``; a list is several readings of one fact exactly
when every item is wrapped. An origin given for a group or a list goes to every fact inside.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from sillwright.base import quantity
from sillwright.base.fact import ORIGINS, Fact, Origin, Reading, settle
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, mistake, short
from sillwright.base.words import N_, say
from sillwright.survey.model import FORMAT, SHORTHAND, Opening, Site, Survey
from sillwright.survey.places import country_mistake
from sillwright.survey.spec import ID, Group, GroupSpec, Listing, Spec, join
from sillwright.survey.values import Refused, read_value, typed_text

WRAPPER = ("value", "from", "by", "on", "evidence", "seen_from")
_NONE = "none"
_MIRROR = {"left": "right", "right": "left"}
MOST_OPENINGS = 5_000
MOST_ITEMS = 1_000
MOST_READINGS = 50  # of one fact
_FIRST_LINE = f"format: {FORMAT}"


@dataclass(frozen=True)
class Provenance:
    """Where a value comes from, as the file says it."""

    origin: Origin | None = None
    by: str | None = None
    on: str | None = None
    evidence: str | None = None
    outside: bool = False


@dataclass(frozen=True)
class Given:
    """A node and where its value comes from."""

    node: Node
    source: Provenance = Provenance()


def survey_from(node: Node, name: str, noted: Mistakes | None = None) -> Survey:
    """The survey that a document describes.

    Raises :class:`DocumentError` with all mistakes at once, those that were ``noted`` of the document included.
    """
    builder = _Builder(Mistakes(name) if noted is None else noted)
    survey = builder.survey(node)
    builder.mistakes.refuse()
    return survey


def _missing(key: str) -> str:
    return say(N_("“{key}” is missing"), key=key)


class _Builder:
    def __init__(self, mistakes: Mistakes) -> None:
        self.mistakes = mistakes
        self.prefix = ""  # where the present opening stands in the file

    def survey(self, node: Node) -> Survey:
        if node.kind != "mapping":
            begin = say(N_("begin with {line}"), line=_FIRST_LINE)
            self.mistakes.append(mistake(node, "", say(N_("a survey is a mapping")), begin))
            return Survey(Site("site", {}), ())
        self._known(node, ("format", "site", "openings"), "")
        self._format(node)
        site_node = node.get("site")
        if site_node is None:
            needs = say(N_("name and country of the site"))
            self.mistakes.append(mistake(node, "site", _missing("site"), needs, got=False))
        site = self._group(Site, [Given(site_node)] if site_node else [], "site")
        self._required(site, site_node or node, "site")
        if site.country.value and (wrong := country_mistake(site.country.value, site.subdivision.value)):
            key, message, accepted = wrong
            place = (site_node.get(key) if site_node else None) or node
            self.mistakes.append(mistake(place, f"site.{key}", message, accepted))
        return Survey(site, self._openings(node))

    def _format(self, node: Node) -> None:
        found = node.get("format")
        if found is None:
            self.mistakes.append(mistake(node, "format", _missing("format"), _FIRST_LINE, got=False))
        elif found.text != FORMAT:
            self.mistakes.append(mistake(found, "format", say(N_("not a format that is read here")), FORMAT))

    def _openings(self, node: Node) -> tuple[Opening, ...]:
        found = node.get("openings")
        if found is None or found.kind != "list":
            said = say(N_("a list of openings is wanted"))
            self.mistakes.append(mistake(found or node, "openings", said, "- tag: …", got=found is not None))
            return ()
        if self._too_many(found, "openings", MOST_OPENINGS):
            return ()
        openings: list[Opening] = []
        tags: dict[str, Node] = {}
        for index, item in enumerate(found.items):
            self.prefix = f"openings[{index}]"
            opening = self._group(Opening, [Given(item)], "")
            self._required(opening, item, "")
            if opening.tag.standing == "two readings":
                said, accepted = say(N_("an opening has one tag")), say(N_("write one of them"))
                self.mistakes.append(mistake(item, join(self.prefix, "tag"), said, accepted, got=False))
            tag = opening.tag.value
            if tag is not None and tag in tags:
                said = say(N_("the tag “{tag}” stands twice"), tag=short(tag))
                first = say(N_("first on line {line}"), line=tags[tag].line)
                self.mistakes.append(mistake(item, join(self.prefix, "tag"), said, first, got=False))
            tags.setdefault(str(tag), item)
            openings.append(opening)
        self.prefix = ""
        return tuple(openings)

    def _required(self, group: Group, node: Node, path: str) -> None:
        """Only what a draft needs: facts of this group itself, not of groups inside."""
        for name, spec in group.specs.items():
            if (
                isinstance(spec, Spec)
                and spec.required
                and getattr(group, name).standing in {"not asked", "not known"}
            ):
                wanted = self._place(join(path, name))
                if any(found.path == wanted for found in self.mistakes):
                    continue  # it is there, and what is wrong with it is said
                self.mistakes.append(mistake(node, wanted, _missing(name), got=False))

    def _place(self, path: str) -> str:
        return join(self.prefix, path) if path else self.prefix

    def _known(self, node: Node, known: Iterable[str], path: str) -> None:
        names = tuple(known)
        for key, place, _ in node.pairs:
            if key not in names:
                where = self._place(join(path, short(key)))
                said = say(N_("unknown key"))
                self.mistakes.append(mistake(place, where, said, did_you_mean(key, names), got=False))

    # groups

    def _group(self, kind: type[Any], given: list[Given], path: str) -> Any:
        bodies = [body for each in given for body in self._bodies(each, kind, path)]
        values: dict[str, Any] = {}
        for name, spec in kind.specs.items():
            found = [part for body in bodies for part in self._parts(body, kind, name)]
            if found:
                values[name] = self._read(spec, found, join(path, name))
        return kind(path, values)

    def _read(self, spec: Spec | GroupSpec, given: list[Given], path: str) -> Any:
        if isinstance(spec, Spec):
            return self._fact(spec, given, path)
        return self._listing(spec, given, path) if spec.many else self._group(spec.group, given, path)

    def _bodies(self, given: Given, kind: type[Group], path: str) -> list[Given]:
        """The mappings that describe a group, unwrapped; a null stays a null."""
        bodies = []
        for each in self._unwrapped(given, path, group=True):
            if each.node.kind == "scalar" and not each.node.empty and kind in SHORTHAND:
                pairs = ((SHORTHAND[kind], each.node, each.node),)
                bodies.append(replace(each, node=replace(each.node, kind="mapping", pairs=pairs)))
            elif each.node.kind == "mapping":
                self._known(each.node, kind.specs, path)
                bodies.append(each)
            elif each.node.empty:
                bodies.append(each)
            else:
                said = say(N_("a mapping is wanted here"))
                self.mistakes.append(mistake(each.node, self._place(path), said))
        return bodies

    def _parts(self, body: Given, kind: type[Group], name: str) -> list[Given]:
        """What a group's mapping says of one of its facts; sides change places when seen from outside."""
        if body.node.empty:
            return [body]
        mirrored = body.source.outside and set(kind.specs) == set(_MIRROR)
        found = body.node.get(_MIRROR[name] if mirrored else name)
        return [] if found is None else [replace(body, node=found)]

    def _listing(self, spec: GroupSpec, given: list[Given], path: str) -> Listing[Any]:
        bodies = [body for each in given for body in self._lists(spec, each, path)]
        bodies = [each for each in bodies if each.source.origin != "assumed"] or bodies
        telling = [each for each in bodies if not each.node.empty or each.source.origin is not None]
        if not telling:
            return Listing(path=path, standing="not known")
        found = [self._items(spec, body, path) for body in telling]
        told = {tuple(item.signature() for item in items) for items in found}
        if len(told) > 1:
            return Listing(path=path, standing="two readings", rivals=tuple(found))
        standing = "assumed" if telling[0].source.origin == "assumed" else "known"
        return Listing(path=path, standing=standing, items=found[0])  # type: ignore[arg-type]

    def _lists(self, spec: GroupSpec, given: Given, path: str) -> list[Given]:
        """The readings of a list. Members that carry an origin each are members, not readings of the whole."""
        node = given.node
        wrapped = [item for item in node.items if item.kind == "mapping" and "value" in item.keys]
        if wrapped and len(wrapped) == len(node.items):
            inner = [item.get("value") for item in wrapped]
            if all(each is not None and each.kind != "list" and not each.empty for each in inner):
                return [given]
        if node.kind == "scalar" and not node.empty and spec.group in SHORTHAND:
            items = () if node.text.strip() == _NONE else (node,)
            return [replace(given, node=replace(node, kind="list", items=items))]
        return self._unwrapped(given, path, group=True)

    def _items(self, spec: GroupSpec, body: Given, path: str) -> tuple[Any, ...]:
        node = body.node
        if node.kind != "list" and not node.empty:
            said, accepted = say(N_("a list is wanted here")), say(N_("write [ … ]"))
            self.mistakes.append(mistake(node, self._place(path), said, accepted))
        if node.kind != "list" or self._too_many(node, path, MOST_ITEMS):
            return ()
        for index, item in enumerate(node.items):
            if item.empty or (item.kind == "mapping" and not item.pairs):
                said, accepted = say(N_("an empty member of a list")), say(N_("write [] for none"))
                self.mistakes.append(mistake(item, self._place(f"{path}[{index}]"), said, accepted))
        items = tuple(self._item(spec, body, item, index, path) for index, item in enumerate(node.items))
        self._same_id(node, items, path)
        return items

    def _item(self, spec: GroupSpec, body: Given, item: Node, index: int, path: str) -> Any:
        inner = item.get("value") if item.kind == "mapping" else None
        inner = item if inner is None else inner
        named = inner.get("id") if inner.kind == "mapping" and "id" in spec.group.specs else None
        if named is not None and named.kind == "mapping":
            named = named.get("value")
        name = named.text.strip() if named is not None and named.kind == "scalar" else ""
        where = join(path, name) if ID.fullmatch(name) else f"{path}[{index}]"
        if name and not ID.fullmatch(name) and named is not None:
            said, accepted = say(N_("not a short name")), say(N_("letters, figures, - and _"))
            self.mistakes.append(mistake(named, self._place(f"{path}[{index}].id"), said, accepted))
        return self._group(spec.group, [replace(body, node=item)], where)

    def _too_many(self, node: Node, path: str, most: int) -> bool:
        if len(node.items) > most:
            said, accepted = say(N_("more than {most} are not read"), most=most), say(N_("split the file"))
            self.mistakes.append(mistake(node, self._place(path), said, accepted))
        return len(node.items) > most

    def _same_id(self, node: Node, items: tuple[Any, ...], path: str) -> None:
        seen: dict[str, int] = {}
        for index, item in enumerate(items):
            name = item.id.value if "id" in item.specs else None
            if name is not None and name in seen:
                place = node.items[index]
                said = say(N_("the id “{id}” stands twice"), id=short(name))
                self.mistakes.append(mistake(place, self._place(f"{path}[{index}].id"), said, got=False))
            seen.setdefault(str(name), index)

    # facts

    def _fact(self, spec: Spec, given: list[Given], path: str) -> Fact[Any]:
        readings = []
        for each in given:
            for one in self._unwrapped(each, path, group=False, many=spec.kind in {"texts", "points"}):
                inherited = each.source != Provenance() and spec.kind != "points"
                if one.source.outside and not spec.side and not one.node.empty and not inherited:
                    said = say(N_("{key} says nothing here"), key="seen_from")
                    accepted = say(N_("only a side is turned; write the others as seen from inside"))
                    self.mistakes.append(mistake(one.node, self._place(path), said, accepted, got=False))
                reading = self._reading(spec, one, path)
                if reading is not None:
                    readings.append(reading)
        if len(readings) > MOST_READINGS:
            said = say(N_("more than {most} readings of one fact"), most=MOST_READINGS)
            accepted = say(N_("keep those that matter"))
            self.mistakes.append(mistake(given[0].node, self._place(path), said, accepted, got=False))
            return Fact(path=path)
        return settle(path, readings, same=spec.same, repeats=spec.repeats, breadth=spec.breadth)

    def _reading(self, spec: Spec, given: Given, path: str) -> Reading[Any] | None:
        node, source = given.node, given.source
        value = None
        if not node.empty:
            try:
                value = read_value(spec, node, self._place(path))
            except Refused as refused:
                self.mistakes.append(refused.mistake)
                return None
        typed = typed_text(spec, node)
        if spec.side and source.outside:
            value = _MIRROR.get(value, value) if isinstance(value, str) else value
            typed = value if isinstance(value, str) else typed
        return Reading(
            value=value,
            typed=typed,
            origin=source.origin,
            by=source.by,
            on=source.on,
            evidence=source.evidence,
            line=node.line,
            doubtful=spec.unit == "m" and isinstance(node.scalar, str) and quantity.is_decimal_feet(node.text),
        )

    def _unwrapped(self, given: Given, path: str, *, group: bool, many: bool = False) -> list[Given]:
        node = given.node
        if node.kind == "mapping" and "value" in node.keys:
            return [self._wrapped(given, path)]
        if node.kind == "list" and node.items:
            wrapped = [item.kind == "mapping" and "value" in item.keys for item in node.items]
            if all(wrapped):
                return [self._wrapped(replace(given, node=item), path) for item in node.items]
            if any(wrapped):
                said = say(N_("plain values and readings with an origin are mixed"))
                accepted = say(N_("give every reading its value and origin, or none of them"))
                self.mistakes.append(mistake(node, self._place(path), said, accepted))
                return []
            if not group and not many:
                said = say(N_("several values of one fact"))
                accepted = say(N_("give each reading as {{value: …, from: …}}"))
                self.mistakes.append(mistake(node, self._place(path), said, accepted))
                return []
        return [given]

    def _wrapped(self, given: Given, path: str) -> Given:
        node = given.node
        self._known(node, WRAPPER, path)
        source = given.source
        words = {key: self._word(node.get(key), path, key) for key in ("from", "by", "on", "evidence", "seen_from")}
        origin = words["from"]
        if origin is not None and origin not in ORIGINS:
            place = node.get("from") or node
            said, where = say(N_("not an origin")), self._place(join(path, "from"))
            self.mistakes.append(mistake(place, where, said, did_you_mean(origin, ORIGINS)))
            origin = None
        seen = words["seen_from"]
        if seen not in {None, "inside", "outside"}:
            place = node.get("seen_from") or node
            said, accepted = say(N_("not a viewpoint")), say(N_("inside or outside"))
            self.mistakes.append(mistake(place, self._place(join(path, "seen_from")), said, accepted))
        return Given(
            node.get("value") or node,
            Provenance(
                origin=origin or source.origin,
                by=words["by"] or source.by,
                on=words["on"] or source.on,
                evidence=words["evidence"] or source.evidence,
                outside=seen == "outside" if seen else source.outside,
            ),
        )

    def _word(self, node: Node | None, path: str, key: str) -> str | None:
        if node is None or node.empty:
            return None
        if node.kind != "scalar":
            said = say(N_("one word is wanted here"))
            self.mistakes.append(mistake(node, self._place(join(path, key)), said))
            return None
        return node.text
