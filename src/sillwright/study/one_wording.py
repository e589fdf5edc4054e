"""One question is asked once: what take-off and hookup both find of the same wires stands in one finding."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sillwright.base.finding import Finding
from sillwright.base.words import Sentence

ASKED = "ASK-9"
"""The take-off's question on wires and end element: it blocks an order, and keeps its number."""
ALSO = {"HOOK-2", "HOOK-3"}
"""What the hookup says of the same conductors and elements: in which device, on which input, and why it matters."""


def asked_once(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in their order, with those joined that ask for the same facts.

    The question keeps its number; its words are the hookup's, which name device and input; what to do is both: stop
    the order, and what to fit. A finding of another level, such as an element before the edge, stands on its own.
    """
    told = list(findings)
    gone: set[int] = set()
    for at, question in enumerate(told):
        if question.id != ASKED:
            continue
        twin = next(
            (
                n
                for n, each in enumerate(told)
                if n not in gone
                and each.id in ALSO
                and each.level == question.level
                and _of_the_same(each, question)
            ),
            None,
        )
        if twin is not None:
            told[at] = _joined(question, told[twin])
            gone.add(twin)
    return tuple(each for n, each in enumerate(told) if n not in gone)


def _of_the_same(one: Finding, other: Finding) -> bool:
    return bool(one.facts) and one.facts[0] in other.facts


def _joined(question: Finding, wired: Finding) -> Finding:
    both = [each for each in (question.do, wired.do) if each is not None]
    do = Sentence("{one} {more}", {"one": both[0], "more": both[1]}) if len(both) > 1 else next(iter(both), None)
    return replace(
        question,
        text=wired.text,
        why=wired.why or question.why,
        do=do,
        facts=tuple(dict.fromkeys((*question.facts, *wired.facts))),
        place=wired.place or question.place,
        sources=tuple(dict.fromkeys((*question.sources, *wired.sources))),
    )
