"""Shares and minutes as they are said. Loads nothing heavy."""

from __future__ import annotations

from sillwright.base.words import N_, Sentence


def share_in_words(share: float) -> Sentence:
    """A probability as so many of a hundred.

    >>> share_in_words(0.124).values["count"], share_in_words(0.0004).template
    (12, 'less than 1 of 100')
    """
    if 0 < share < 0.01:
        return Sentence(N_("less than 1 of 100"))
    if 0.99 < share < 1:
        return Sentence(N_("more than 99 of 100"))
    return Sentence(N_("{count} of 100"), {"count": round(100 * share)})


def minutes_in_words(minutes: float) -> str:
    """Minutes to half a minute below ten, to whole ones above.

    >>> minutes_in_words(0.5), minutes_in_words(12.4)
    ('0.5', '12')
    """
    return f"{round(2 * minutes) / 2:g}" if minutes < 10 else f"{minutes:.0f}"
