"""The advice on a call: the fault model that counts for whoever asks, and what the facts of an opening add."""

from __future__ import annotations

import hashlib
import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from django.conf import settings

from sillwright.trouble.advising import advise
from sillwright.trouble.answer import Advice, Call, Step
from sillwright.trouble.book import fault_book
from sillwright.trouble.electrical import for_circuit
from sillwright.trouble.learning import Closed, Learned, learn
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine
from sillwright.trouble.safety import make_safe, questions
from sillwright.web.accounts.models import User
from sillwright.web.records.models import Opening
from sillwright.web.trouble.address import At
from sillwright.web.trouble.facts_told import facts_told
from sillwright.web.trouble.learned import closed_calls, organisations_of
from sillwright.web.trouble.substitutes import still_in

QUESTIONS = tuple(each.id for each in questions())
HANGING = dict.fromkeys(("cable_slack", "leaf_crooked", "spring_gap", "grinding"), "no")
"""Tests that one question of making safe asks all at once: who said no to it is not asked each of them again."""
STAYS = ("emergency", "as_it_is")
"""States in which nobody goes on to look for the fault: the leaf may fall, or somebody may be under it."""
SAFE_MINUTES = 0.2  # that a question of making safe takes
MOST_KEPT = 512  # advices in the memory of a process


class Compiler:
    """Brings the compiled engine in a thread of its own: compiling takes longer than anybody waits for a page."""

    def __init__(self) -> None:
        self._begun, self._done = threading.Lock(), threading.Event()

    def engine(self) -> Engine:
        """The compiled engine once it is there, the plain one until then."""
        if settings.COMPILES and self._begun.acquire(blocking=False):
            threading.Thread(target=self._compile, daemon=True).start()
        return "kernel" if self._done.is_set() else "plain"

    def _compile(self) -> None:
        advise(fault_book(), Call(who="technician"), engine="kernel")
        self._done.set()


_COMPILER = Compiler()


@dataclass(frozen=True, eq=False)
class Basis:
    """What a call is judged by. One that was made is equal to itself alone: a model is too large to compare."""

    model: FaultModel
    questions: tuple[str, ...]  # those of making safe, by id
    learned: int = 0  # closed calls that moved the shares
    account: tuple[Learned, ...] = ()  # of every share: before, what it is worth, what was counted, after


def basis_for(user: Any, opening: Opening | None) -> Basis:
    """The fault model for somebody: moved by the calls that the organisation closed; for nobody as it comes."""
    return basis_of(organisations_of(user, opening) if isinstance(user, User) else [])


def basis_of(organisations: Sequence[Any]) -> Basis:
    """The fault model moved by the calls that were closed at the sites of these organisations."""
    return _basis(tuple(closed_calls(organisations)) if organisations else ())


@lru_cache(maxsize=32)
def _basis(closed: tuple[Closed, ...]) -> Basis:
    book = fault_book()
    faults, symptoms = {each.id for each in book.faults}, {each.id for each in book.symptoms}
    # A call that speaks of what this version no longer has teaches it nothing.
    told = tuple(each for each in closed if faults.issuperset(each.faults) and each.symptom in {None, *symptoms})
    model, account = learn(book, told)
    return Basis(model if told else book, QUESTIONS, len(told), account)


def fingerprint_of(model: FaultModel) -> str:
    """What a fault model is known by: another one for any change of a share, a minute or a word."""
    return hashlib.sha256(repr(model).encode()).hexdigest()


def whole(at: At, basis: Basis, opening: Opening | None) -> Call:
    """The call with the facts of the opening, where the call says nothing else, and the parts that are in there."""
    call = _once(at.call)
    if opening is None:
        return call
    known, there = {name for name, _value in call.facts}, dict(basis.model.facts)
    more = (each for each in facts_told(opening) if each[0] not in known and each[1] in there.get(each[0], ()))
    parts = tuple(each.number for each in still_in([opening.pk]))
    return replace(call, facts=(*call.facts, *more), booked_in=parts)


def _once(call: Call) -> Call:
    """The call without a second question about what holds the leaf, where none of it is wrong."""
    if dict(call.safe).get("hanging") != "no":
        return call
    given = {name for name, _outcome in call.answers}
    return replace(
        call, answers=(*((name, said) for name, said in HANGING.items() if name not in given), *call.answers)
    )


def advice_on(basis: Basis, call: Call) -> Advice:
    """The advice on a call: questions of making safe come first, and where nobody goes on no step comes at all."""
    found, advice = make_safe(call), _advice(basis, call)
    if found.next is not None:
        left = advice.next.expected_minutes if advice.next else 0.0
        step = Step(kind="make_safe", id=found.next.id, minutes=SAFE_MINUTES, expected_minutes=left)
        return replace(advice, next=step, others=(), cautions=(*found.sentences, *advice.cautions))
    if found.state in STAYS:
        state, *more = found.sentences
        return replace(advice, next=None, others=(), stop=state, cautions=(*more, *advice.cautions))
    return advice


@lru_cache(maxsize=MOST_KEPT)
def _advice(basis: Basis, call: Call) -> Advice:
    return advise(_for_circuit(basis, dict(call.facts).get("circuit")), call, engine=_COMPILER.engine())


@lru_cache(maxsize=32)
def _for_circuit(basis: Basis, circuit: str | None) -> FaultModel:
    """The model with its meter readings for the circuit, where that is known."""
    return for_circuit(basis.model, circuit) if circuit else basis.model
