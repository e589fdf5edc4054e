"""What the words on a classified area come to: ordinary, classified, or a question that is still open."""

from __future__ import annotations

import re
from typing import Literal

from sillwright.base.fact import Fact

Area = Literal["ordinary", "classified", "open"]

_WHERE = r"( (here|at this (door|opening|leaf)))?"
_PLACE = r"(areas?|locations?|zones?|places?|rooms?)"
_PLAIN = "|".join(
    (
        rf"(no|none|nil|false){_WHERE}",
        rf"(there (is|are) )?no ((classified|hazardous|explosive|dangerous) )?({_PLACE}|classification){_WHERE}",
        rf"(there (is|are) )?no ((explosion|ignition|fire) )?(hazards?|risks?){_WHERE}",
        rf"((it )?is )?(not|non|un)[- ]?(an? )?(classified|hazardous|explosive)( {_PLACE})?{_WHERE}",
        rf"(ordinary|general[- ]purpose|normal)( {_PLACE})?{_WHERE}",
    )
)
_SAID_BY = r"( ?[(,;:–-] ?((by|as per|per|see|says|according to) )?(the )?(owner|plan|drawing|document)\b.*)?"
ORDINARY = re.compile(f"({_PLAIN}){_SAID_BY}")
DOUBT = re.compile(
    r"\?|\b(un)?known?\b|\b(sure|unsure|idea|maybe|perhaps|probably|possibly|think|guess|assumed?|yet|nobody|"
    r"but|except|unless|next|beside|near|until|only)\b|\bno one\b|\bas far as\b"
)
CALLED = re.compile(r"\b(zones?|class|div|division|atex|ex|group) ?(\d|[ivx]+\b)|\b(zones?|atex)\b")
DENIES = re.compile(r"(no|none|not|never|n/?a|tbd|tbc|ask|to be|-|–|$)(?!\w)")


def area_in_words(words: str) -> Area:
    """What one text says of the area.

    Only a plain denial counts as ordinary, with at most a remark on the owner's plan behind it: “no idea”, “none
    that I know of”, “no document”, “n/a” and a question mark leave it open. Any other words, an open question on a
    named zone too, count as a classified area. An open one is treated like a classified one until the owner's
    document is there: a spark in vapour does more harm than a question too many.

    >>> [area_in_words(each) for each in ("None", "no, by the owner's plan", "no idea", "n/a", "Zone 2?", "paint")]
    ['ordinary', 'ordinary', 'open', 'open', 'classified', 'classified']

    Source: trade rules of thumb (PRO-9), from memory: the owner's document classifies.
    """
    said = " ".join(words.casefold().split()).strip(" .!;")
    if ORDINARY.fullmatch(said) and not DOUBT.search(said):
        return "ordinary"
    if CALLED.search(said):
        return "classified"
    return "open" if DENIES.match(said) or DOUBT.search(said) else "classified"


def area_of(fact: Fact[str]) -> Area | None:
    """What the survey says of the area; the worse of two readings, None where nobody said anything."""
    if fact.standing == "none there":
        return "ordinary"
    told = {area_in_words(each) for each in (fact.value, *fact.rivals) if each is not None}
    return next((each for each in ("classified", "open", "ordinary") if each in told), None)
