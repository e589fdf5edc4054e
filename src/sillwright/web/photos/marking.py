"""What is drawn on a marked copy, in words: the picture alone says it to those who see it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

_KINDS = {
    "ring": gettext_lazy("Ring"),
    "arrow": gettext_lazy("Arrow"),
    "line": gettext_lazy("Line"),
    "measure": gettext_lazy("Length"),
    "words": gettext_lazy("Words"),
}


def marks_in_words(marks: Iterable[Mapping[str, Any]]) -> tuple[str, ...]:
    """Each mark as one line; a length says that it was typed."""
    return tuple(_in_words(each) for each in marks)


def _in_words(mark: Mapping[str, Any]) -> str:
    kind = str(_KINDS.get(str(mark.get("kind")), mark.get("kind")))
    if mark.get("typed"):
        told = {"kind": kind, "length": mark["typed"]}
        return _("%(kind)s: %(length)s, typed, not measured from the picture") % told
    return f"{kind}: {mark['words']}" if mark.get("words") else kind
