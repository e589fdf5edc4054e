"""Entries as a survey file: every reading with where it comes from, what cannot be read as a comment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sillwright.survey.entries import Entry, origin_of
from sillwright.survey.model import FORMAT, Opening, Site
from sillwright.survey.questions import mistake_in, value_of
from sillwright.survey.spec import ID, Group, GroupSpec, Spec, join
from sillwright.survey.writing import dumped

Lines = list[str]


def survey_text(
    name: str, country: str, site: Iterable[Entry], openings: Mapping[str, Iterable[Entry]], head: str = ""
) -> str:
    """The survey file that entries make; ``head`` goes into comments on top.

    >>> told = [Entry(path="door.kind", typed="grille", origin="told", by="Ana")]
    >>> print(survey_text("Ferry Yard", "US", [], {"G1": told}).splitlines()[-2])
          kind: {value: grille, from: told, by: Ana}
    """
    lines = [f"# {line}" for line in head.splitlines()]
    lines += [f"format: {FORMAT}", "site:", f"  name: {dumped(name)}"]
    told = [each for each in site if each.path != "site.name"]
    if not any(each.path == "site.country" and _readable(each) for each in told):
        lines.append(f"  country: {dumped(country)}")
        told = [each for each in told if each.path != "site.country"]
    lines += _group(Site, _tree(told, "site."), "site", 2)
    lines.append("openings:" if openings else "openings: []")
    for tag, entries in openings.items():
        lines.append(f"  - tag: {dumped(tag)}")
        lines += _group(Opening, _tree((each for each in entries if each.path != "tag"), ""), "", 4)
    return "\n".join(lines) + "\n"


Tree = dict[str, Any]


def _tree(entries: Iterable[Entry], prefix: str) -> Tree:
    """Entries by the parts of their path; those of a group or member itself stand under the empty key."""
    tree: Tree = {}
    for each in entries:
        here = tree
        for part in each.path.removeprefix(prefix).split("."):
            here = here.setdefault(part, {})
        here.setdefault("", []).append(each)
    return tree


def _group(kind: type[Group], tree: Tree, path: str, indent: int) -> Lines:
    lines: Lines = []
    for name, spec in kind.specs.items():
        if name not in tree:
            continue
        here, margin = join(path, name), " " * indent
        if isinstance(spec, Spec):
            lines += _fact(spec, tree[name].get("", []), here, indent)
        elif spec.many:
            lines += _listing(spec, tree[name], here, indent)
        elif inner := _group(spec.group, tree[name], here, indent + 2):
            empty = all(line.lstrip().startswith("#") for line in inner)
            lines += inner if empty else [f"{margin}{name}:", *inner]
    return lines


def _fact(spec: Spec, entries: Sequence[Entry], path: str, indent: int) -> Lines:
    margin = " " * indent
    lost = [each for each in entries if not _readable(each)]
    lines = [f"{margin}# {path}: {dumped(each.typed)} cannot be read" for each in lost]
    told = [_reading(spec, each) for each in entries if _readable(each)]
    if len(told) == 1:
        lines.append(f"{margin}{spec.name}: {told[0]}")
    elif told:
        wrapped = [each if each.startswith("{") else f"{{value: {each}}}" for each in told]
        lines += [f"{margin}{spec.name}:", *(f"{margin}  - {each}" for each in wrapped)]
    return lines


def _readable(entry: Entry) -> bool:
    return entry.says != "value" or mistake_in(entry.path, entry.typed) is None


def _reading(spec: Spec, entry: Entry) -> str:
    """One reading on one line: wrapped where it says where it comes from."""
    value = _value(value_of(spec, entry.typed)) if entry.says == "value" else "null"
    words = {"from": origin_of(entry), "by": entry.by, "on": entry.on, "evidence": entry.evidence}
    more = "".join(f", {key}: {dumped(said)}" for key, said in words.items() if said)
    return f"{{value: {value}{more}}}" if more else value


def _value(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    return dumped(value)


def _listing(spec: GroupSpec, tree: Tree, path: str, indent: int) -> Lines:
    margin = " " * indent
    says = {each.says for each in tree.get("", ())}
    members = {key: inner for key, inner in tree.items() if ID.fullmatch(key) and any(inner)}
    disputed = {key for key, inner in members.items() if "" in inner}
    if not members:
        kept = any(key for key in tree)
        empty = "none" in says or (kept and "unknown" not in says)
        return [f"{margin}{spec.name}: {'[]' if empty else 'null'}"]
    if disputed or "none" in says:
        fewer = {} if "none" in says else {key: each for key, each in members.items() if key not in disputed}
        lines = [f"{margin}{spec.name}:"]
        for part in (members, fewer):
            inner = [line for key, each in part.items() for line in _member(spec, key, each, path, indent + 4)]
            lines += [f"{margin}  - value:", *inner] if inner else [f"{margin}  - value: []"]
        return lines
    if all(each.origin == "assumed" for each in _entries(members)):
        inner = [line for key, each in members.items() for line in _member(spec, key, each, path, indent + 2)]
        return [f"{margin}{spec.name}:", f"{margin}  value:", *inner, f"{margin}  from: assumed"]
    inner = [line for key, each in members.items() for line in _member(spec, key, each, path, indent)]
    return [f"{margin}{spec.name}:", *inner]


def _entries(tree: Tree) -> Iterator[Entry]:
    for key, inner in tree.items():
        yield from inner if key == "" else _entries(inner)


def _member(spec: GroupSpec, key: str, tree: Tree, path: str, indent: int) -> Lines:
    margin = " " * (indent + 4)
    inner = _group(spec.group, {name: each for name, each in tree.items() if name}, join(path, key), indent + 4)
    if "id" in spec.group.specs:
        inner = [f"{margin}id: {dumped(key)}", *inner]
    if all(line.lstrip().startswith("#") for line in inner):
        first = next(name for name, each in spec.group.specs.items() if isinstance(each, Spec))
        inner.append(f"{margin}{first}: null")
    at = next(number for number, line in enumerate(inner) if not line.lstrip().startswith("#"))
    return [*inner[:at], f"{' ' * (indent + 2)}- {inner[at].lstrip()}", *inner[at + 1 :]]
