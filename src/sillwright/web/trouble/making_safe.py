"""The pages before any fault is thought of: that nobody gets hurt, and how the opening is left meanwhile."""

from __future__ import annotations

from dataclasses import replace

from django.utils.translation import gettext as _

from sillwright.base.words import Reader, render
from sillwright.trouble.answer import Call
from sillwright.trouble.leading import STAYS
from sillwright.trouble.safety import MakeSafe, make_safe, questions, states
from sillwright.web.trouble.address import SAFE_ANSWERS, At
from sillwright.web.trouble.shown import SAFE_WORDS, Choice, Sheet


def safe_sheet(at: At, question: str, reader: Reader) -> Sheet:
    """One question of making safe."""
    words = {each.id: render(each.words, reader) for each in questions()}
    given = dict(at.call.harm).get(question)
    answers = [
        Choice(
            words=SAFE_WORDS[answer],
            address=at.with_safe(question, answer).address(),
            plain=answer == "unknown",
            current=answer == given,
        )
        for answer in SAFE_ANSWERS
    ]
    return Sheet(question=words[question], over=_("First: nobody gets hurt"), answers=answers)


def safe_step(at: At, call: Call, reader: Reader) -> Sheet | None:
    """The next question of making safe, or how the opening is left; None once that was read.

    The first page is headed by what it is for; ``call`` is the call with what the opening tells.
    """
    found = make_safe(call)
    if found.next is not None:
        sheet = safe_sheet(at, found.next.id, reader)
        said = [
            render(each, reader) for each in found.sentences[:-1]
        ]  # the last one holds always, and is said at the end
        return replace(sheet, first=not call.harm, cautions=said)
    if stays(found):
        return _left(at, found, reader)
    return None if at.left or call.who is None else _left(at, found, reader)


def stays(found: MakeSafe) -> bool:
    """Whether nobody goes on to look for the fault."""
    return found.state in STAYS


def _left(at: At, found: MakeSafe, reader: Reader) -> Sheet:
    """How the opening is left until it is mended, and what to say."""
    state, *more = (render(each, reader) for each in found.sentences)
    go_on = Choice(words=_("It is left so: find the fault"), address=at.as_left().address())
    return Sheet(
        page="end",
        question=state,
        over=_("First: nobody gets hurt"),
        cautions=more,
        stays=stays(found),
        answers=() if stays(found) else [go_on],
    )


def left_in_words(call: Call, reader: Reader) -> str:
    """How the opening is left by what was answered; empty while that is open."""
    state = make_safe(call).state
    return render(states()[state], reader) if state else ""
