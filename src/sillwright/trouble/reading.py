"""A call from a file, strictly: every mistake at once, each with its place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, get_args

from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, mistake, short
from sillwright.base.words import N_, say
from sillwright.survey.reading import read_document
from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel, Who
from sillwright.trouble.safety import ANSWERS, questions

FORMAT = "sillwright-call/1"
NONE_OF_THESE = "none"
"""A symptom: what the door does was asked, and none of the list fits."""
KEYS = ("format", "who", "symptom", "harm", "answers", "facts", "repaired", "booked_in")
AFTER = "after_repairs"  # of an answer: how many repairs were made before it
LONGEST = 80
MOST = 200


@dataclass(frozen=True, kw_only=True)
class CallFile:
    """A call, and whether the symptoms were read to the caller and none of them fits."""

    call: Call = field(default_factory=Call)
    none_of_these: bool = False


def read_call(path: Path, model: FaultModel) -> CallFile:
    """The call in a YAML or JSON file. Raises :class:`InputError` where it cannot be used."""
    return call_file_of(read_document(path), model, path.name)


def call_file_of(root: Node, model: FaultModel, name: str) -> CallFile:
    """The call that a tree describes.

    Raises :class:`DocumentError` with all mistakes; ``name`` is how they call the file.
    """
    mistakes = Mistakes(name)
    _format(root, mistakes)
    read = _Reading(root, mistakes)
    outcomes = {test.id: [each.id for each in test.outcomes] for test in model.tests}
    facts = dict(model.facts)
    symptom = read.one("symptom", [*(each.id for each in model.symptoms), NONE_OF_THESE])
    who: Any = read.one("who", get_args(Who))
    answers = list(_answers(read, outcomes))
    repaired = tuple(read.names("repaired", [each.id for each in model.repairs]))
    call = Call(
        who=who,
        symptom=None if symptom == NONE_OF_THESE else symptom,
        harm=tuple(read.pairs("harm", {each.id: tuple(ANSWERS) for each in questions()})),
        answers=tuple((test, outcome) for test, outcome, _ in answers),
        facts=tuple(read.pairs("facts", facts)),
        repaired=repaired,
        after=tuple(_after(read, answers, len(repaired))),
        booked_in=tuple(read.names("booked_in", None)),
    )
    mistakes.refuse()
    return CallFile(call=call, none_of_these=symptom == NONE_OF_THESE)


def _format(root: Node, mistakes: Mistakes) -> None:
    begin = say(N_("begin with {line}"), line=f"format: {FORMAT}")
    found = root.get("format") if root.kind == "mapping" else None
    if found is None or found.text != FORMAT:
        mistakes.append(mistake(found or root, "format", say(N_("not the format of a call")), begin))
        mistakes.refuse()
    for key, place, _ in root.pairs:
        if key not in KEYS:
            said = say(N_("unknown name"))
            mistakes.append(mistake(place, short(key), said, did_you_mean(key[:LONGEST], KEYS), got=False))


def _answers(read: _Reading, outcomes: dict[str, list[str]]) -> Iterator[tuple[str, str | None, Node | None]]:
    """Tests with their outcomes, and after how many repairs; an outcome that is left empty is "don't know"."""
    for path, row in read.rows("answers"):
        test, outcome = row.get("test"), row.get("outcome")
        if row.kind != "mapping" or test is None or set(row.keys) - {"test", "outcome", AFTER}:
            wanted = say(N_("a test and its outcome, such as {example}"), example="{test: lamp, outcome: null}")
            read.mistakes.append(mistake(row, path, say(N_("not an answer")), wanted))
            continue
        name = read.known(test, f"{path}.test", outcomes)
        if name is None or outcome is None or outcome.empty:
            said: str | None = None
        else:
            said = read.known(outcome, f"{path}.outcome", outcomes[name])
        if name is not None:
            yield name, said, row.get(AFTER)


def _after(
    read: _Reading, answers: list[tuple[str, str | None, Node | None]], made: int
) -> Iterator[tuple[str, int]]:
    """The tests that were answered after repairs, and after how many; of two answers to one the last counts."""
    found: dict[str, int] = {}
    for name, _, node in answers:
        count = node.scalar if node is not None and node.kind == "scalar" and not node.empty else 0
        if node is not None and (type(count) is not int or not 0 <= count <= made):
            wanted = say(N_("a whole number from 0 to {most}, the repairs that were made"), most=made)
            read.mistakes.append(mistake(node, f"answers.{name}.{AFTER}", say(N_("not such a number")), wanted))
        elif isinstance(count, int):
            found[name] = count
    yield from ((name, count) for name, count in found.items() if count)


@dataclass(frozen=True)
class _Reading:
    """The tree of a call, and the list to which its mistakes go."""

    root: Node
    mistakes: Mistakes

    def one(self, key: str, known: Iterable[str]) -> str | None:
        """One name, or nothing."""
        found = self.root.get(key)
        return None if found is None or found.empty else self.known(found, key, known)

    def known(self, node: Node, path: str, known: Iterable[str] | None) -> str | None:
        """A name that is known; any short text where every one is."""
        names = None if known is None else list(known)
        if node.kind != "scalar" or node.empty:
            self.mistakes.append(mistake(node, path, say(N_("a name is wanted here"))))
        elif names is not None and node.text not in names:
            hint = did_you_mean(node.text[:LONGEST], names)
            self.mistakes.append(mistake(node, path, say(N_("unknown name")), hint))
        elif not 0 < len(node.text) <= LONGEST:
            self.mistakes.append(mistake(node, path, say(N_("a name has 1 to {most} signs"), most=LONGEST)))
        else:
            return node.text
        return None

    def rows(self, key: str) -> Iterator[tuple[str, Node]]:
        """The members of a list, each with its path."""
        found = self.root.get(key)
        if found is None or found.empty:
            return
        if found.kind != "list" or len(found.items) > MOST:
            wanted = say(N_("a list of at most {most}"), most=MOST)
            self.mistakes.append(mistake(found, key, say(N_("a list is wanted here")), wanted))
            return
        yield from ((f"{key}[{at}]", item) for at, item in enumerate(found.items))

    def names(self, key: str, known: Iterable[str] | None) -> Iterator[str]:
        """The names of a list; one that stands twice counts once."""
        told = (self.known(item, path, known) for path, item in self.rows(key))
        yield from dict.fromkeys(name for name in told if name is not None)

    def pairs(self, key: str, known: dict[str, tuple[str, ...]]) -> Iterator[tuple[str, str]]:
        """Names and what is said of each, both of what is known."""
        found = self.root.get(key)
        if found is None or found.empty:
            return
        if found.kind != "mapping":
            self.mistakes.append(mistake(found, key, say(N_("names and what is said of each are wanted here"))))
            return
        for name, place, value in found.pairs:
            path = f"{key}.{short(name)}"
            if name not in known:
                hint = did_you_mean(name[:LONGEST], known)
                self.mistakes.append(mistake(place, path, say(N_("unknown name")), hint, got=False))
            elif (said := self.known(value, path, known[name])) is not None:
                yield name, said
