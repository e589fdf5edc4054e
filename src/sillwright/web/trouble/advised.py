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
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.leading import asked_once, lead
from sillwright.trouble.learning import Closed, Learned, learn
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine
from sillwright.trouble.safety import questions
from sillwright.web.accounts.models import User
from sillwright.web.records.models import Opening
from sillwright.web.trouble.address import At, moment_of
from sillwright.web.trouble.facts_told import facts_told
from sillwright.web.trouble.learned import closed_calls, organisations_of
from sillwright.web.trouble.substitutes import still_in

QUESTIONS = tuple(each.id for each in questions())
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
    call = asked_once(basis.model, at.call)
    if opening is None:
        return call
    day = moment_of(at).date()
    known, there = {name for name, _value in call.facts}, dict(basis.model.facts)
    more = (each for each in facts_told(opening, day) if each[0] not in known and each[1] in there.get(each[0], ()))
    parts = tuple(each.number for each in still_in([opening.pk]))
    return replace(call, facts=(*call.facts, *more), booked_in=parts)


@lru_cache(maxsize=MOST_KEPT)
def advice_on(basis: Basis, call: Call) -> Advice:
    """The advice on a call: questions of making safe come first, and where nobody goes on no step comes at all."""
    return lead(basis.model, call, engine=_COMPILER.engine())
