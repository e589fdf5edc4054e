"""A YAML or JSON text as a tree that remembers where everything stands.

YAML 1.2 core schema: only ``true`` and ``false`` are booleans; ``on``, ``no``, ``012``, dates and times stay
text until a field reads them. Tags, anchors and aliases are refused, and so are duplicate keys. Size, depth
and count are capped, so that a hostile file costs no more than an honest one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

import yaml

from sillwright.base.errors import DocumentError, Mistake
from sillwright.base.words import N_, say

MOST_BYTES = 2_000_000
MOST_DEPTH = 40
MOST_NODES = 200_000
MOST_MISTAKES = 500

Scalar = str | int | float | bool | None

_NULL = {"", "~", "null", "Null", "NULL"}
_FLAG = {"true": True, "false": False}
_INTEGER = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,17})", re.ASCII)
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", re.ASCII)
_SPECIAL = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)", re.ASCII)
_LEADING_ZERO = re.compile(r"[-+]?0[0-9]+", re.ASCII)
_SURROGATES = re.compile(r"(?<!\\)((?:\\\\)*)\\u([dD][89abAB][0-9a-fA-F]{2})\\u([dD][c-fC-F][0-9a-fA-F]{2})")


@dataclass(frozen=True, slots=True)
class Node:
    """A value in a document and its place. Lines and columns count from 1."""

    kind: Literal["scalar", "list", "mapping"]
    line: int
    column: int
    scalar: Scalar = None
    text: str = ""  # a scalar as typed
    items: tuple[Node, ...] = ()
    pairs: tuple[tuple[str, Node, Node], ...] = ()  # key, the key's place, value

    def get(self, key: str) -> Node | None:
        """The value at a key of a mapping."""
        return next((value for name, _, value in self.pairs if name == key), None)

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of a mapping, in order."""
        return tuple(name for name, _, _ in self.pairs)

    @property
    def empty(self) -> bool:
        """Whether this is a null."""
        return self.kind == "scalar" and self.scalar is None

    def described(self) -> str:
        """What was read, for a message: short, on one line, printable."""
        if self.kind == "list":
            return say(N_("a list of {count}"), count=len(self.items))
        if self.kind == "mapping" and not self.keys:
            return say(N_("a mapping with no keys"))
        if self.kind == "mapping":
            return say(N_("a mapping with {keys}"), keys=", ".join(map(short, self.keys[:4])))
        return say(N_("“{text}”"), text=short(self.text))


def short(text: str) -> str:
    """A text from a file as a message may print it: on one line, printable, at most 60 signs.

    >>> short("bay\\n2"), len(short("x" * 10_000))
    ('bay?2', 61)
    """
    shown = "".join(sign if sign.isprintable() else "?" for sign in text[:61])
    return f"{shown[:60]}…" if len(shown) > 60 else shown


class Mistakes(list[Mistake]):
    """The mistakes of a file so far. With very many the file is given up: it is of another kind."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name

    def append(self, found: Mistake) -> None:
        """Note one more; raises :class:`DocumentError` with all of them where they are too many."""
        super().append(found)
        if len(self) == MOST_MISTAKES:
            said, accepted = say(N_("so many mistakes that the rest was not read")), say(N_("mend these first"))
            super().append(Mistake(path="", message=said, accepted=accepted))
            self.refuse()

    def refuse(self) -> None:
        """Raise :class:`DocumentError` with all mistakes in the order of the file, if there are any."""
        if self:
            raise DocumentError(self.name, self.in_order())

    def in_order(self) -> tuple[Mistake, ...]:
        """The mistakes in the order of the file; those without a place come last."""
        last = (MOST_BYTES, 0)
        return tuple(sorted(self, key=lambda each: (each.line, each.column or 0) if each.line else last))


def mistake(node: Node, path: str, message: str, accepted: str = "", *, got: bool = True) -> Mistake:
    """A mistake at a node's place."""
    return Mistake(
        path=path,
        message=message,
        accepted=accepted,
        got=node.described() if got else "",
        line=node.line,
        column=node.column,
    )


def parse(content: bytes, name: str, noted: Mistakes | None = None) -> Node:
    """The tree of a YAML or JSON document.

    Raises :class:`DocumentError` with every mistake that could be found: syntax, tags, aliases, duplicate
    keys, depth. ``name`` is how messages call the file. Where ``noted`` is given, mistakes that leave the rest of
    the document readable are put there and not raised, so that its reader can add its own.

    >>> parse(b"door: {kind: sectional}", "yard.yaml").get("door").get("kind").scalar
    'sectional'
    """
    if len(content) > MOST_BYTES:
        raise DocumentError(name, (Mistake(path="", message=say(N_("the file is larger than 2 MB"))),))
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        where = {"byte": error.start, "line": content[: error.start].count(b"\n") + 1}
        said = say(N_("not a text file: byte {byte} (line {line}) is not UTF-8"), **where)
        accepted = say(N_("save it as YAML or JSON in UTF-8"))
        raise DocumentError(name, (Mistake(path="", message=said, accepted=accepted),)) from None
    mistakes = Mistakes(name) if noted is None else noted
    root = _Composer(_joined(text) if text.lstrip()[:1] in "{[" else text, mistakes).document()
    if noted is None:
        mistakes.refuse()
    return root


def _joined(text: str) -> str:
    """JSON writes signs beyond the base plane as two escapes; YAML has one."""

    def one(match: re.Match[str]) -> str:
        high, low = int(match[2], 16), int(match[3], 16)
        return f"{match[1]}\\U{0x10000 + ((high - 0xD800) << 10) + (low - 0xDC00):08x}"

    return _SURROGATES.sub(one, text)


def resolve(text: str) -> Scalar:
    """The value of a plain scalar by the YAML 1.2 core schema.

    >>> [resolve(text) for text in ("true", "on", "012", "12", "1e3", "~", "2026-03-04")]
    [True, 'on', '012', 12, 1000.0, None, '2026-03-04']
    """
    if text in _NULL:
        return None
    if text in _FLAG:
        return _FLAG[text]
    if _INTEGER.fullmatch(text):
        return int(text)
    if _SPECIAL.fullmatch(text):
        return float(text.replace(".", "").lower())
    if _FLOAT.fullmatch(text) and not _LEADING_ZERO.fullmatch(text):
        return float(text)
    return text


class _Composer:
    """Builds the tree from the parser's events, one by one, within the caps."""

    def __init__(self, text: str, mistakes: Mistakes) -> None:
        self.mistakes = mistakes
        self.count = 0
        self.events: Iterator[Any] = iter(yaml.parse(text, Loader=getattr(yaml, "CLoader", yaml.Loader)))

    def document(self) -> Node:
        try:
            return self._document()
        except yaml.YAMLError as error:
            mark = getattr(error, "problem_mark", None)
            told = getattr(error, "problem", None) or getattr(error, "reason", None)
            why = str(told) if told else say(N_("cannot be read"))
            self.mistakes.append(
                Mistake(
                    path="",
                    message=say(N_("not valid YAML: {why}"), why=why),
                    accepted=say(N_("check indentation, quotes and brackets at this place")),
                    line=mark.line + 1 if mark else None,
                    column=mark.column + 1 if mark else None,
                )
            )
        raise DocumentError(self.mistakes.name, self.mistakes.in_order())

    def _document(self) -> Node:
        root = None
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                if root is not None:
                    self._fatal(event, say(N_("a second document begins here")), say(N_("one site a file")))
                root = self._node(next(self.events), "", 1)
        if root is None:
            raise DocumentError(self.mistakes.name, (Mistake(path="", message=say(N_("the file is empty"))),))
        return root

    def _node(self, event: Any, path: str, depth: int) -> Node:
        self.count += 1
        if depth > MOST_DEPTH:
            self._fatal(
                event, say(N_("nested deeper than {most}"), most=MOST_DEPTH), say(N_("nothing here needs that"))
            )
        if self.count > MOST_NODES:
            self._fatal(event, say(N_("more than {most} values"), most=MOST_NODES), say(N_("split the file")))
        if isinstance(event, yaml.AliasEvent):
            self._note(event, path, say(N_("aliases are not read")), say(N_("write the value out")))
            return self._at(event, kind="scalar")
        if event.anchor is not None:
            self._note(event, path, say(N_("anchors are not read")), say(N_("write the value out")))
        if event.tag is not None:
            self._note(event, path, say(N_("tags are not read")), say(N_("write the value without a tag")))
        if isinstance(event, yaml.ScalarEvent):
            value = resolve(event.value) if event.style in {None, ""} else event.value
            return self._at(event, kind="scalar", scalar=value, text=event.value)
        if isinstance(event, yaml.SequenceStartEvent):
            return self._list(event, path, depth)
        return self._mapping(event, path, depth)

    def _list(self, start: Any, path: str, depth: int) -> Node:
        items: list[Node] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self._node(event, f"{path}[{len(items)}]", depth + 1))
        return self._at(start, kind="list", items=tuple(items))

    def _mapping(self, start: Any, path: str, depth: int) -> Node:
        pairs: dict[str, tuple[str, Node, Node]] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self._node(event, path, depth + 1)
            name = key.text if key.kind == "scalar" else "?"
            inside = f"{path}.{short(name)}" if path else short(name)
            value = self._node(next(self.events), inside, depth + 1)
            if key.kind != "scalar":
                self.mistakes.append(mistake(key, path, say(N_("a key must be a word"))))
            elif name in pairs:
                said = say(N_("the key “{key}” stands twice"), key=short(name))
                first = say(N_("first on line {line}"), line=pairs[name][1].line)
                self.mistakes.append(mistake(key, path, said, first, got=False))
            else:
                pairs[name] = (name, key, value)
        return self._at(start, kind="mapping", pairs=tuple(pairs.values()))

    @staticmethod
    def _at(event: Any, **parts: Any) -> Node:
        return Node(line=event.start_mark.line + 1, column=event.start_mark.column + 1, **parts)

    def _note(self, event: Any, path: str, message: str, accepted: str) -> None:
        mark = event.start_mark
        self.mistakes.append(
            Mistake(path=path, message=message, accepted=accepted, line=mark.line + 1, column=mark.column + 1)
        )

    def _fatal(self, event: Any, message: str, accepted: str) -> None:
        self._note(event, "", message, accepted)
        raise DocumentError(self.mistakes.name, self.mistakes.in_order())
