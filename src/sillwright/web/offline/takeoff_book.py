"""What a phone needs to work out, without a signal, what to order: lengths, the lead's side and the cord, as data.

All of it comes from the tables and declarations of the take-off itself. The scripts in
``static/offline/evaluator/takeoff`` read it and nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from string import ascii_lowercase
from typing import Any

from sillwright.base import data
from sillwright.base.model import fields_of
from sillwright.base.words import Reader, Sentence, translate
from sillwright.paper.takeoff_page import PLACES, UNCONFIRMED
from sillwright.survey.door import GATES
from sillwright.takeoff.answer import Lead
from sillwright.takeoff.leads import lead, lead_side
from sillwright.takeoff.leads.lead_words import ENDS, EXITS, FINS, MIRROR, lead_in_words
from sillwright.takeoff.lengths import bodies, length_facts, measure_how, measures, repeats, rules_of_length
from sillwright.takeoff.lengths.length_model import LengthCase
from sillwright.takeoff.ways.cord_model import CordCase
from sillwright.web.offline.patterns import as_script

Row = dict[str, Any]


def takeoff_book() -> Row:
    """The tables of the take-off that the scripts go by.

    >>> takeoff_book()["quarter"], takeoff_book()["lengths"]["joint-gap"]
    ([127, 20000], 0.003175)
    """
    return {
        "quarter": [measures.QUARTER.numerator, measures.QUARTER.denominator],
        "round_off": measures.ROUND_OFF,
        **_lengths(),
        "facts": _facts(),
        "patterns": _patterns(),
        "alike": _alike(),
        "folds": _folds(),
        "lead": _lead(),
        "cord": _cord(),
    }


def _lengths() -> Row:
    rows = data.table("sillwright.takeoff", "lengths")["value"]
    return {
        "lengths": {row["id"]: row["number"] for row in rows},
        "up_to": {row["id"]: row["up_to"] for row in rows if "up_to" in row},
        "usual_gap": rules_of_length.USUAL_GAP,
        "gates": list(GATES),
        "edges": dict(rules_of_length.EDGES),
    }


def _facts() -> Row:
    """Which fact each field of the calculation is taken from, and what stands in for what."""
    return {
        "used": {
            kind: {name: list(paths) for name, paths in used.items()} for kind, used in length_facts.USED.items()
        },
        "guided": list(length_facts.GUIDED),
        "most_cases": length_facts.MOST_CASES,
        "most_gap": next(each.limits.at_most for each in fields_of(LengthCase) if each.name == "underside_open"),
        "repeats": repeats.REPEATS,
        "fact_of": measure_how.FACT_OF,
        "fallback": bodies.FALLBACK,
    }


def _patterns() -> Row:
    found = {
        "straight": length_facts.STRAIGHT,
        "bent": length_facts.BENT,
        "locks": length_facts.LOCKS,
        "not_straight": length_facts.NOT_STRAIGHT,
        "no_hurt": length_facts.NO_HURT,
        "tail": length_facts.TAIL,
        "receiving": length_facts.RECEIVING,
        "fixed": length_facts.FIXED,
        "below": length_facts.BELOW,
        "left": lead_side.LEFT,
        "right": lead_side.RIGHT,
        "outside": lead_side.OUTSIDE,
    }
    return {name: list(as_script(each)) for name, each in found.items()}


def _beyond_ascii() -> Iterable[str]:
    return map(chr, range(0x80, 0x10000))


def _alike() -> dict[str, str]:
    """Letters that count as one of a to z where case does not matter; a script takes some of them for others."""
    found = {sign for sign in _beyond_ascii() if re.fullmatch("[a-z]", sign, re.IGNORECASE)}
    return {
        sign: next(each for each in ascii_lowercase if re.fullmatch(each, sign, re.IGNORECASE))
        for sign in sorted(found)
    }


def _folds() -> dict[str, str]:
    """Letters that fold into one of a to z, and more than small letters do."""
    return {sign: sign.casefold() for sign in _beyond_ascii() if any(each.isascii() for each in sign.casefold())}


def _lead() -> Row:
    return {
        "free_wall": lead_side.FREE_WALL,
        "centre": sorted(lead_side.CENTRE),
        "usual": {kind: vars(usual) for kind, usual in lead.USUAL.items()},
        "nothing": vars(lead.NOTHING),
        "upright_spare": lead.UPRIGHT_SPARE,
        "other": lead_side.OTHER,
    }


def _cord() -> Row:
    table = data.table("sillwright.takeoff", "cord")
    cord, reel = table["cord"], table["reel"]
    return {
        "retracted": sorted(cord["retracted"]),
        "coldest": cord["coldest"],
        "most_ratio": CordCase(highest=1, offset=0).most_ratio,
        "cables": sorted(reel["cables"]),
        "stays_wound": reel["stays_wound"],
        "travel": reel["travel"],
        "rewind": reel["rewind"],
        "offset": table["box"]["offset"],
        "free_wall": table["wire"]["free_wall"],
    }


# words


def takeoff_words(reader: Reader) -> Row:
    """The sentences of the take-off that a phone says, in the reader's language."""

    def said(templates: dict[Any, str]) -> dict[str, str]:
        return {name or "": translate(template, reader) for name, template in templates.items()}

    nothing, all_told = _told(None), _told("plain")
    odd = _told("odd")
    inside, outside = (translate(each.template, reader) for each in lead_in_words(nothing))
    return {
        "places": said(dict(PLACES)),
        "unconfirmed": translate(UNCONFIRMED, reader),
        "mirror": MIRROR,
        "lead": {
            "inside": inside,
            "outside": outside,
            "ends": said(dict(ENDS)),
            "lower": _part(_told("down"), "end", reader),
            "exits": said(dict(EXITS)) | {"": _part(nothing, "exit", reader)},
            "fins": said(dict(FINS)) | {"": _part(nothing, "fin", reader)},
            "other_exit": _part(odd, "exit", reader),
            "other_fin": _part(odd, "fin", reader),
            "distance": [_part(nothing, "distance", reader), _part(all_told, "distance", reader)],
            "length": [_part(nothing, "length", reader), _part(all_told, "length", reader)],
        },
    }


def _told(way: str | None) -> Lead:
    """A lead of which nothing is known, or all, so that its sentence shows what it is made of."""
    far = None if way is None else 0.0
    return Lead(
        end=None, rule="", why=Sentence(""), exit=way, from_end=far, length=far, fin=way,
        confirmed_by="", confirmed_on="",
    )  # fmt: skip


def _part(of: Lead, name: str, reader: Reader) -> str:
    return translate(lead_in_words(of)[0].values[name].template, reader)
