"""The nearest known word to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """What a message says about an unknown word.

    >>> did_you_mean("clear_widht", ["clear_width", "clear_height"])
    'did you mean “clear_width”?'
    >>> did_you_mean("zzz", ["left", "right"])
    'known here: left, right'
    """
    names = sorted(known)
    close = get_close_matches(word[:80].lower(), names, n=1, cutoff=0.6)
    shown = ", ".join(names[:MOST_SHOWN]) + (" …" if len(names) > MOST_SHOWN else "")
    return f"did you mean “{close[0]}”?" if close else f"known here: {shown}"


MOST_SHOWN = 9
