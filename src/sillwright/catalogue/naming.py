"""When two names are one: what a person cannot tell apart on an order is the same name."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches

from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Phrase, say

_MOST_COMPARED, _LONGEST = 60, 80
_ALIKE = str.maketrans(
    "авеёкмнорстухіјѕԁѵαβεηικμνορτυχ‐‑‒–—―−ʼ’‘′“”″",  # after folding: Cyrillic, Greek, dashes, quotes
    "abeekmhopctyxijsdvabenikmvoptux-------''''\"\"\"",
)


def key(name: str) -> str:
    """What names are compared by: case, spaces, letters of other scripts that look alike and marks that cannot be
    seen make no difference.

    >>> key(" Edge  class A"), key("EDGE CLASS \\u0410") == key("edge class a")
    ('edge class a', True)
    """
    folded = name.casefold()
    if not folded.isascii():
        folded = unicodedata.normalize("NFKC", folded).casefold().translate(_ALIKE)
        folded = "".join(sign for sign in folded if unicodedata.category(sign) != "Cf")
    return " ".join(folded.split())


def nearest(name: str, known: Iterable[str]) -> Phrase:
    """What a message says about a name that is not known; in a large catalogue only names that begin alike are
    compared, so that many unknown names cost no more than a few.

    >>> nearest("Chanel class s", ["Channel class F", "Channel class S"])
    'did you mean “Channel class S”?'
    """
    names = list(known)
    if len(names) > _MOST_COMPARED:
        begin = name[:3].casefold()
        alike = [each for each in names if each[:3].casefold() == begin]
        names = (alike or names)[:_MOST_COMPARED]
    by_key = {key(each[:_LONGEST]): each for each in names}
    close = get_close_matches(key(name[:_LONGEST]), by_key, n=1, cutoff=0.6)
    return say(N_("did you mean “{word}”?"), word=by_key[close[0]]) if close else did_you_mean(name, names)
