"""Which item of an acknowledgement answers which line of the order."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence

from sillwright.takeoff.ordering.acknowledgement import Confirmed
from sillwright.takeoff.ordering.line import OrderLine

Pair = tuple[OrderLine, Confirmed, bool]
"""A line, the item that answers it, and whether the item named it."""
Key = Callable[[OrderLine], Hashable]
ItemKey = Callable[[Confirmed], Hashable]


def paired(
    lines: Sequence[OrderLine], items: Sequence[Confirmed]
) -> tuple[list[Pair], list[OrderLine], list[Confirmed]]:
    """Pairs, then the lines and the items that are left.

    By what an item names first (the label of a line, a tag, a number); then by profile and length; then, for items
    without a tag, in order. An item with a tag that is none of ours stays alone, and so does one that says neither
    profile nor length.
    """
    left_lines, left_items, pairs = list(lines), list(items), list[Pair]()
    named: tuple[tuple[Key, ItemKey], ...] = (
        (lambda line: (_plain(line.label), *_content(line)), lambda item: (_tag(item), *_content_of(item))),
        (lambda line: (_plain(line.tag), *_content(line)), lambda item: (_tag(item), *_content_of(item))),
        (lambda line: _plain(line.label), _tag),
        (lambda line: _plain(line.tag), _tag),
        (lambda line: str(line.number), lambda item: "" if _tag(item) else _said(item, "number").strip(" .#")),
    )
    for ours, theirs in named:
        pairs += _matched(left_lines, left_items, ours, theirs, by_name=True)
    nameless = [item for item in left_items if not _tag(item) and _content_of(item) != ("", None)]
    foreign = [item for item in left_items if item not in nameless]
    pairs += _matched(left_lines, nameless, _content, _content_of, by_name=False)
    for line, item in zip(list(left_lines), list(nameless), strict=False):
        pairs.append((line, item, False))
        left_lines.remove(line)
        nameless.remove(item)
    left = sorted([*foreign, *nameless], key=lambda item: item.line)
    return pairs, left_lines, left


def _matched(
    lines: list[OrderLine], items: list[Confirmed], ours: Key, theirs: ItemKey, *, by_name: bool
) -> list[Pair]:
    """The pairs of equal keys; both are taken out of what is left."""
    waiting: dict[Hashable, list[OrderLine]] = {}
    for line in lines:
        waiting.setdefault(ours(line), []).append(line)
    found: list[Pair] = []
    for item in list(items):
        key = theirs(item)
        if _says(key) and waiting.get(key):
            line = waiting[key].pop(0)
            found.append((line, item, by_name))
            lines.remove(line)
            items.remove(item)
    return found


def _says(key: Hashable) -> bool:
    parts = key if isinstance(key, tuple) else (key,)
    return all(part not in {"", None} for part in parts)


def _plain(text: str) -> str:
    return " ".join(text.split()).casefold()


def _said(item: Confirmed, key: str) -> str:
    read = item.values.get(key)
    return str(read.value or "") if read else ""


def _tag(item: Confirmed) -> str:
    return _plain(_said(item, "tag"))


def _content(line: OrderLine) -> tuple[str, int | None]:
    return (_plain(line.profile), _millimetres(line.length))


def _content_of(item: Confirmed) -> tuple[str, int | None]:
    read = next((item.values[key] for key in ("body", "sensing", "length") if key in item.values), None)
    return (_plain(_said(item, "profile")), _millimetres(read.value if read else None))


def _millimetres(length: float | None) -> int | None:
    """A length to about 5 mm, by which two numbers are taken for the same."""
    return None if length is None else round(length / 0.005)
