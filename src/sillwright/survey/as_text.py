"""Entries as a survey file: every reading with where it comes from, what cannot be read as a comment."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sillwright.base.words import N_
from sillwright.survey.entries import Entry, first_of, is_readable, origin_of, readings_of, survey_from_entries
from sillwright.survey.model import FORMAT, Opening, Site
from sillwright.survey.questions import value_of
from sillwright.survey.spec import ID, Group, GroupSpec, Spec, join
from sillwright.survey.writing import dumped

Lines = list[str]


def survey_text(
    name: str,
    country: str,
    site: Iterable[Entry],
    openings: Mapping[str, Iterable[Entry]],
    head: str = "",
    translate: Callable[[str], str] = str,
) -> str:
    """The survey file that entries make; ``head`` goes into comments on top.

    What a file cannot hold – a text that cannot be read, a reading beyond the fiftieth – goes out as a comment, in
    the language of ``translate``.

    >>> told = [Entry(path="door.kind", typed="grille", origin="told", by="Ana")]
    >>> print(survey_text("Ferry Yard", "US", [], {"G1": told}).splitlines()[-1])
          kind: {value: grille, from: told, by: Ana}
    """
    writer = _Writer(translate)
    lines = [f"# {_plain(line)}" for line in head.splitlines()]
    lines += [f"format: {FORMAT}", "site:", f"  name: {dumped(name)}"]
    told = [each for each in site if each.path != "site.name"]
    if "site.subdivision" in survey_from_entries(name, told, {}, country).mistakes:  # perhaps of another country
        lost = [each for each in told if each.path == "site.subdivision"]
        lines += writer.lost(lost, 2)
        told = [each for each in told if each not in lost]
    if not any(each.path == "site.country" and each.says == "value" and is_readable(each) for each in told):
        lines.append(f"  country: {dumped(country)}")
        told = [each for each in told if each.path != "site.country"]
    lines += writer.group(Site, _tree(told, "site."), "site", 2)
    lines.append("openings:" if openings else "openings: []")
    for tag, entries in openings.items():
        lines.append(f"  - tag: {dumped(tag)}")
        lines += writer.group(Opening, _tree((each for each in entries if each.path != "tag"), ""), "", 4)
    return "\n".join(lines) + "\n"


def _plain(words: str) -> str:
    """Words for a comment, without the signs that no file may carry as they are."""
    return "".join(sign if sign.isprintable() else " " for sign in words)


Tree = dict[str, Any]


def _tree(entries: Iterable[Entry], prefix: str) -> Tree:
    """Entries by the parts of their path; those of a group or member itself stand under the empty key."""
    tree: Tree = {}
    for each in entries:
        here, parts = tree, each.path.removeprefix(prefix).split(".")
        if "" in parts:
            continue  # no path at all
        for part in parts:
            here = here.setdefault(part, {})
        here.setdefault("", []).append(each)
    return tree


@dataclass(frozen=True)
class _Writer:
    """Writes groups line by line, each fact with all its readings."""

    translate: Callable[[str], str]

    def group(self, kind: type[Group], tree: Tree, path: str, indent: int) -> Lines:
        lines: Lines = []
        for name, spec in kind.specs.items():
            if name not in tree:
                continue
            here, margin = join(path, name), " " * indent
            if isinstance(spec, Spec):
                lines += self._fact(spec, tree[name].get("", []), here, indent)
            elif spec.many:
                lines += self._listing(spec, tree[name], here, indent)
            elif inner := self.group(spec.group, tree[name], here, indent + 2):
                lines += inner if _only_comments(inner) else [f"{margin}{name}:", *inner]
        return lines

    def _fact(self, spec: Spec, entries: Sequence[Entry], path: str, indent: int) -> Lines:
        margin = " " * indent
        lines = self.lost((each for each in entries if not is_readable(each)), indent)
        kept = readings_of(entries)
        told = [_reading(spec, each) for each in kept]
        beyond = (each for each in entries if is_readable(each) and not any(each is one for one in kept))
        more = N_("{fact}: one reading more, {text}")
        lines += [f"{margin}# {self._said(more, path, _reading(spec, each))}" for each in beyond]
        if len(told) == 1:
            lines.append(f"{margin}{spec.name}: {told[0]}")
        elif told:
            wrapped = [each if each.startswith("{") else f"{{value: {each}}}" for each in told]
            lines += [f"{margin}{spec.name}:", *(f"{margin}  - {each}" for each in wrapped)]
        return lines

    def lost(self, entries: Iterable[Entry], indent: int) -> Lines:
        """What was typed and cannot be read, as comments."""
        said = N_("{fact}: {text} cannot be read")
        return [f"{' ' * indent}# {self._said(said, each.path, each.typed)}" for each in entries]

    def _said(self, template: str, path: str, words: str) -> str:
        return _plain(self.translate(template).format(fact=path, text=f"“{' '.join(words.split())}”"))

    def _listing(self, spec: GroupSpec, tree: Tree, path: str, indent: int) -> Lines:
        margin = " " * indent
        says = {each.says for each in tree.get("", ())}
        members = {key: inner for key, inner in tree.items() if ID.fullmatch(key) and any(inner)}
        disputed = {key for key, inner in members.items() if "" in inner}
        if not members:
            empty = "none" in says or (set(tree) - {""} and "unknown" not in says)
            return [f"{margin}{spec.name}: {'[]' if empty else 'null'}"]
        if disputed or "none" in says:
            fewer = {} if "none" in says else {key: each for key, each in members.items() if key not in disputed}
            lines = [f"{margin}{spec.name}:"]
            for part in (members, fewer):
                inner = self._members(spec, part, path, indent + 4)
                lines += [f"{margin}  - value:", *inner] if inner else [f"{margin}  - value: []"]
            return lines
        if all(each.origin == "assumed" for each in _entries(members)):
            inner = self._members(spec, members, path, indent + 2)
            return [f"{margin}{spec.name}:", f"{margin}  value:", *inner, f"{margin}  from: assumed"]
        return [f"{margin}{spec.name}:", *self._members(spec, members, path, indent)]

    def _members(self, spec: GroupSpec, members: Tree, path: str, indent: int) -> Lines:
        return [line for key, each in members.items() for line in self._member(spec, key, each, path, indent)]

    def _member(self, spec: GroupSpec, key: str, tree: Tree, path: str, indent: int) -> Lines:
        margin, facts = " " * (indent + 4), {name: each for name, each in tree.items() if name}
        inner = self.group(spec.group, facts, join(path, key), indent + 4)
        if _only_comments(inner):  # a member of which nothing can be read is still there
            inner.append(f"{margin}{first_of(spec.group)}: null")
        if "id" in spec.group.specs:
            inner = [f"{margin}id: {dumped(key)}", *inner]
        at = next(number for number, line in enumerate(inner) if not _is_comment(line))
        return [*inner[:at], f"{' ' * (indent + 2)}- {inner[at].lstrip()}", *inner[at + 1 :]]


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def _only_comments(lines: Lines) -> bool:
    return all(map(_is_comment, lines))


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


def _entries(tree: Tree) -> Iterator[Entry]:
    for key, inner in tree.items():
        yield from inner if key == "" else _entries(inner)
