"""Pieces of work of a catalogue, in words that people read."""

from __future__ import annotations

from sillwright.base.words import N_, Sentence

WORK: dict[str, str] = {
    "edge_factory_sealed": N_("fit and test an edge sealed by its maker"),
    "edge_cut_on_site": N_("cut, fit and test an edge"),
    "channel": N_("fit a channel"),
    "cord": N_("fit a coiled cord"),
    "reel": N_("fit a take-up reel"),
    "radio": N_("fit a radio link"),
    "converter": N_("fit a converter"),
    "photo_eye": N_("fit and test a photo eye"),
    "second_beam": N_("fit and test another beam"),
    "light_curtain": N_("fit and test a light curtain"),
    "presence": N_("fit and test a presence sensor"),
    "motion": N_("fit and test a motion sensor"),
    "loop": N_("lay and test a loop"),
    "seal": N_("fit a seal"),
    "tapered_filler": N_("fit a tapered filler"),
    "springs": N_("change the springs"),
    "operator": N_("fit an operator"),
    "test": N_("test and record"),
    "planned_visit": N_("planned visit"),
}


def work_in_words(what: str) -> Sentence:
    """A piece of work as people read it: the words of the program for its own, those of the catalogue for others.

    >>> str(work_in_words("loop").template), work_in_words("paint_the_frame").values
    ('lay and test a loop', {'work': 'paint the frame'})
    """
    known = WORK.get(what)
    return Sentence(known) if known else Sentence("{work}", {"work": what.replace("_", " ")})
