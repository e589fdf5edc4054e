"""What a phone needs to say, without a signal, what the rules ask of an opening and what to order for it.

One document of plain data. All of it comes from the tables and declarations that the server itself goes by: the
rules with their expressions as trees, the facts of a survey, the units, the patterns of what people type, the
tables of the take-off. The scripts in ``static/offline/evaluator`` read it and nothing else.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from typing import Any

from sillwright.base import data, logic, quantity
from sillwright.base.expression import And, Call, Compare, Const, Expr, Not, Or, Path, Quantified
from sillwright.base.fact import WEIGHT
from sillwright.base.rule import SAME_NUMBER
from sillwright.base.scale import INCH, SIXTEENTH
from sillwright.base.words import ENGLISH, Reader, translate
from sillwright.circuit import watching
from sillwright.duty import chain, evidence, findings, rulebook
from sillwright.duty.facts import COUNTRIES, GOOD_DEVICES, IMAGINED, NEEDED_LISTS, NO_VALUE, Imagined
from sillwright.duty.zones import SAYS_BENEATH
from sillwright.survey import from_node, interval, values
from sillwright.survey.devices import DEVICE_CIRCUITS, DEVICE_KINDS, SHARED
from sillwright.survey.door import GATES
from sillwright.survey.element_place import DOUBTS, ENDED, SIGNS
from sillwright.survey.model import Opening, Site
from sillwright.survey.operator import INPUT_CIRCUITS
from sillwright.survey.places import countries
from sillwright.survey.questions import YES
from sillwright.survey.spec import ID, Group, GroupSpec, Spec
from sillwright.web.offline.patterns import SPACE, as_script
from sillwright.web.offline.takeoff_book import takeoff_book
from sillwright.web.offline.words import words

FORMAT = 3
"""Counted up when the scripts have to go about it in another way: scripts of another format give no answer."""

Row = dict[str, Any]


def book(reader: Reader = ENGLISH) -> Mapping[str, Any]:
    """Everything that the scripts go by, with its sentences in the reader's language; callers never change it.

    >>> book()["format"], "monitored" in book()["definitions"]
    (3, True)
    """
    return _book(reader.language)


@cache
def _book(language: str) -> Mapping[str, Any]:
    reader = Reader(language=language)
    whole = {
        "format": FORMAT,
        "language": language,
        **_rules(),
        "groups": dict(_groups(reader)),
        "limits": _limits(),
        "patterns": _patterns(),
        "units": _units(),
        "typed": {
            "signs": {chr(sign): written for sign, written in quantity.SIGNS.items()},
            "vulgar": quantity.VULGAR,
            "yes": YES,
            "countries": " ".join(code for code, _ in countries()),
        },
        "weights": {origin or "": weight for origin, weight in WEIGHT.items()},
        "devices": _devices(),
        "imagined": _imagined(),
        "takeoff": takeoff_book(),
        "words": words(reader),
    }
    written = json.dumps(whole, sort_keys=True, ensure_ascii=False).encode()
    return {"version": hashlib.sha256(written).hexdigest()[:16], **whole}


# rules


def _rules() -> Row:
    return {
        "regimes": [
            {"id": each.id, "where": list(each.where), "when": tree(each.when), "allows": tree(each.allows)}
            for each in rulebook.regimes()
        ],
        "rules": [{"id": each.id, "when": tree(each.when), "holds": tree(each.holds)} for each in rulebook.rules()],
        "definitions": {
            name: [list(each.parameters), tree(each.body)] for name, each in rulebook.definitions().items()
        },
        "thresholds": {name: each for name, found in rulebook.thresholds().items() if (each := _steps(found))},
    }


def _steps(found: tuple[Any, ...]) -> Row:
    """The values that split ranges: numbers in order, dates; words split nothing."""
    numbers = sorted(value for value in found if isinstance(value, (int, float)))
    dates = [plain(value) for value in found if isinstance(value, date)]
    return {**({"numbers": numbers} if numbers else {}), **({"dates": dates} if dates else {})}


def plain(value: Any) -> Any:
    """A literal of the rule language as JSON has it: a date as its ISO text, a list as a list."""
    if isinstance(value, tuple):
        return [plain(each) for each in value]
    return value.isoformat() if isinstance(value, date) else value


def tree(expr: Expr) -> list[Any]:
    """An expression as nested lists, the name of the node first.

    >>> from sillwright.base.expression import parse
    >>> tree(parse("not p.made < 2010-08-29"))
    ['not', ['compare', '<', ['p', 'made'], ['const', '2010-08-29']]]
    """
    match expr:
        case Const(value):
            return ["const", plain(value)]
        case Path(parts):
            return ["path", list(parts)]
        case Compare(op, left, right):
            return ["compare", op, list(left.parts), tree(right)]
        case And(items):
            return ["and", *map(tree, items)]
        case Or(items):
            return ["or", *map(tree, items)]
        case Not(item):
            return ["not", tree(item)]
        case Quantified(kind, name, over, body):
            return [kind, name, list(over.parts), tree(body)]
        case Call(name, args):
            return ["call", name, *map(tree, args)]


# facts of a survey


def _groups(reader: Reader) -> Iterator[tuple[str, list[Row]]]:
    """The facts of every group in the order of declaration, groups by name, each once."""
    waiting: list[type[Group]] = [Site, Opening]
    seen: set[type[Group]] = set()
    while waiting:
        group = waiting.pop(0)
        if group in seen:
            continue
        seen.add(group)
        yield group.__name__, [_fact(spec, reader) for spec in group.specs.values()]
        waiting += [spec.group for spec in group.specs.values() if isinstance(spec, GroupSpec)]


def _fact(spec: Spec | GroupSpec, reader: Reader) -> Row:
    row: Row = {"name": spec.name, "title": translate(spec.title, reader)}
    if isinstance(spec, GroupSpec):
        return {**row, "group": spec.group.__name__, "many": spec.many}
    ends = {"above": spec.limits.above, "at_least": spec.limits.at_least}
    ends |= {"below": spec.limits.below, "at_most": spec.limits.at_most}
    more: Row = {
        "unit": spec.unit if spec.unit != "1" else None,
        "choices": list(spec.choices),
        "synonyms": dict(spec.synonyms),
        "limits": {name: end for name, end in ends.items() if end is not None},
    }
    more["whole"] = spec.whole
    return {**row, "kind": spec.kind, **{name: said for name, said in more.items() if said}}


# what people type


def _limits() -> Row:
    return {
        "nodes": logic.MOST_NODES,
        "readings": from_node.MOST_READINGS,
        "members": from_node.MOST_ITEMS,
        "text": values.LONGEST_TEXT,
        "list": values.LONGEST_LIST,
        "quantity": quantity.LONGEST,
        "same_number": SAME_NUMBER,
        "sixteenth": SIXTEENTH,
        "inch": [INCH.numerator, INCH.denominator],
    }


def _patterns() -> Row:
    found = {
        "bare": quantity.BARE,
        "with_unit": quantity.WITH_UNIT,
        "feet_inches": quantity.FEET_INCHES,
        "date": interval.WRITTEN,
        "aside": values.ASIDE,
        "money": values.MONEY,
        "id": ID,
        "beneath": SAYS_BENEATH,
    }
    return {"space": [f"[{SPACE}]", "u"], **{name: list(as_script(each)) for name, each in found.items()}}


def _units() -> Row:
    """Factor, offset and dimension of the units met every day; a rarer one only the server can read."""
    rows = data.table("sillwright.base", "units")["unit"]
    return {symbol: [row["factor"], row.get("offset", 0.0), row["dimension"]] for symbol, row in rows.items()}


# devices and records


def _devices() -> Row:
    return {
        "kinds": list(DEVICE_KINDS),
        "circuits": list(DEVICE_CIRCUITS),
        "input_circuits": list(INPUT_CIRCUITS),
        "watched_inputs": sorted(chain.WATCHED_INPUTS),
        "read_origins": sorted(origin or "" for origin in chain.READ_ORIGINS),
        "radio_links": chain.RADIO_LINKS,
        "value_tolerance": watching.ALIKE,
        "ended": list(ENDED),
        "end_signs": [[place, list(signs)] for place, signs in SIGNS.items()],
        "end_doubts": list(DOUBTS),
        "edges": sorted(watching.EDGES),
        "unwired": sorted(watching.UNWIRED),
        "gone": sorted(watching.GONE),
        "shared": list(SHARED),
        "strip_ends": watching.STRIP_ENDS,
        "least_element": watching.LEAST_ELEMENT,
        "most_element": watching.MOST_ELEMENT,
        "most_placed": watching.MOST_PLACED,
        "stop": watching.STOP,
        "reverse": watching.REVERSE,
        "metered": sorted(evidence.METERED),
        "tests": sorted(evidence.DEVICE_TESTS),
        "all_tests": sorted(evidence.TESTS),
        "pressed_at_most": evidence.PRESSED_AT_MOST,
        "trips_below": evidence.TRIPS_BELOW,
        "open_above": evidence.OPEN_ABOVE,
        "usual_end_element": evidence.USUAL_END_ELEMENT,
        "gates": list(GATES),
        "board_rule": findings.BOARD_RULE.isoformat(),
    }


def _imagined() -> Row:
    return {
        "countries": list(COUNTRIES),
        "needed": sorted(NEEDED_LISTS),
        "no_value": NO_VALUE,
        "good_devices": [_member(each) for each in GOOD_DEVICES],
        "members": {group.__name__: [_member(each) for each in some] for group, some in IMAGINED.items()},
    }


def _member(imagined: Imagined) -> Row:
    return {"path": imagined.path, "group": imagined.group.__name__, "facts": dict(imagined.facts)}
