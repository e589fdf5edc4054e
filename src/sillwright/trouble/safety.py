"""Before any fault is thought of: that nobody gets hurt, and in which state the opening is left until it is mended.

The questions and their order are fixed and hang on nothing else that is known of the call. An answer "unknown"
never counts as the good one. Nothing here says how to make a leaf run.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.errors import UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Sentence, say
from sillwright.trouble.answer import Call

ANSWERS: Mapping[str, str] = {"yes": N_("yes"), "no": N_("no"), "unknown": N_("not known")}


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """A question that is answered by yes, no or unknown."""

    id: str
    words: Sentence


@dataclass(frozen=True, kw_only=True, slots=True)
class MakeSafe:
    """How far the questions have come: either the next one, or the state to leave the opening in."""

    next: Question | None
    state: str | None  # its id; its words are the first of `sentences` once it is settled
    sentences: tuple[Sentence, ...]  # what holds by now, the most pressing first
    may_run: bool  # whether anybody may run the leaf, and then only as the state says; never before it is settled


def questions() -> tuple[Question, ...]:
    """All questions in their order; which of them are asked hangs on the answers."""
    return tuple(Question(id=row["id"], words=Sentence(row["text"])) for row in _table()["question"])


def states() -> Mapping[str, Sentence]:
    """The states in which an opening may be left, in the order in which they are chosen."""
    return {row["id"]: Sentence(row["text"]) for row in _table()["state"]}


def make_safe(call: Call) -> MakeSafe:
    """The next question that keeps people from harm, or the state in which to leave the opening; and what to say.

    Raises :class:`UnknownName` where the call has an answer to no such question, or none of yes, no and unknown.

    >>> make_safe(Call()).next.id, make_safe(Call(harm=(("hurt", "yes"),))).state
    ('hurt', 'emergency')

    Source: common practice; the order of states from memory.
    """
    told = _told(call)
    asked = _next(told)
    state = None if asked else _state(told)
    said = [_spoken(name, call) for name in _said(call, told, state)]
    return MakeSafe(
        next=next((each for each in questions() if each.id == asked), None),
        state=state,
        sentences=(*((states()[state],) if state else ()), *said),
        may_run=state in {"watched_exit", "close_once"},
    )


def read_back(call: Call) -> tuple[Sentence, ...]:
    """What the caller said so far, to be read back: every question with its answer."""
    told = _told(call)
    words = {
        "yes": Sentence(ANSWERS["yes"]),
        "no": Sentence(ANSWERS["no"]),
        "unknown": Sentence(ANSWERS["unknown"]),
    }
    return tuple(
        Sentence(N_("{question} – {answer}."), {"question": each.words, "answer": words[told[each.id]]})
        for each in questions()
        if each.id in told
    )


def _told(call: Call) -> dict[str, str]:
    """The answers by question; of two to one question the later."""
    known = [each.id for each in questions()]
    for name, answer in call.harm:
        if name not in known:
            nearest = did_you_mean(name, known)
            raise UnknownName(say(N_("no such question: “{name}”; {nearest}"), name=name[:80], nearest=nearest))
        if answer not in ANSWERS:
            words = ", ".join(ANSWERS)
            raise UnknownName(
                say(N_("{name}: no such answer: “{answer}”; {words}"), name=name, answer=answer[:80], words=words)
            )
    return dict(call.harm)


def _next(told: Mapping[str, str]) -> str | None:
    """The question that is still open, in the fixed order, where its answer changes anything."""
    if told.get("hurt") == "yes":
        return None
    wanted = ["hurt", "hanging", "only_way_out"]
    if "hurt" in told and "hanging" in told and not _dangerous(told):
        wanted += ["closed"]
        if told.get("closed", "yes") != "yes":
            wanted += ["guard", *(["trained"] if told.get("guard", "yes") != "yes" else [])]
    return next((name for name in (*wanted, "fire_door") if name not in told), None)


def _dangerous(told: Mapping[str, str]) -> bool:
    """Whether the leaf stays where it is: somebody may be under it, or what carries it may be broken."""
    return told["hurt"] != "no" or told["hanging"] != "no"


def _state(told: Mapping[str, str]) -> str:
    """The first state that the answers allow."""
    if told["hurt"] == "yes":
        return "emergency"
    if _dangerous(told):
        return "as_it_is"
    if told["closed"] == "yes":
        return "closed" if told["only_way_out"] == "no" else "watched_exit"
    if told["guard"] == "yes":
        return "open"
    return "close_once" if told["trained"] == "yes" and told["only_way_out"] == "no" else "barred"


def _said(call: Call, told: Mapping[str, str], state: str | None) -> list[str]:
    """What is said, the most pressing first."""
    hurt, hanging, way_out = (told.get(name) for name in ("hurt", "hanging", "only_way_out"))
    said = ["emergency"] if hurt == "yes" else ["look"] if hurt == "unknown" else []
    if hanging in {"yes", "unknown"}:
        said += ["hanging_unknown"] if hanging == "unknown" else []
        said += ["hands_off"]
    if way_out in {"yes", "unknown"}:
        said += ["way_out", *(["trapped_behind"] if state in {"as_it_is", "emergency"} else [])]
    if ("leaf", "gate") in call.facts and hurt == "no":
        said += ["gate"]
    if state in {"closed", "open", "close_once", "barred"}:
        said += ["power_off"]
    if told.get("fire_door") in {"yes", "unknown"}:
        said += ["fire_door"]
    return [*said, "never", *(["write_down"] if state else [])]


def _spoken(name: str, call: Call) -> Sentence:
    """A text as it is said to whoever calls."""
    who = call.who or "owner"
    return next(
        Sentence(row["text"]) for row in _table()["say"] if row["id"] == name and who in row.get("to", (who,))
    )


@cache
def _table() -> Mapping[str, Any]:
    return data.table("sillwright.trouble", "safety")
