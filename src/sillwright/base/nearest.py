"""The nearest known word to one that is not known."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

from sillwright.base.words import N_, Phrase, say


def did_you_mean(word: str, known: Iterable[str]) -> Phrase:
    """What a message says about an unknown word.

    >>> did_you_mean("clear_widht", ["clear_width", "clear_height"])
    'did you mean “clear_width”?'
    >>> did_you_mean("zzz", ["left", "right"])
    'known here: left, right'
    """
    names = sorted(known)
    small = {name.lower(): name for name in names}
    close = get_close_matches(word[:80].lower(), small, n=1, cutoff=0.6)
    if close:
        return say(N_("did you mean “{word}”?"), word=small[close[0]])
    shown = ", ".join(names[:MOST_SHOWN]) + (" …" if len(names) > MOST_SHOWN else "")
    return say(N_("known here: {words}"), words=shown)


MOST_SHOWN = 9
