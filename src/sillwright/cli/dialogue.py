"""A call in the terminal: one question at a time, and a way back from each of them.

Questions go to standard error, the answer to standard output. Whatever ends it – the last question, the end of what
is typed, Ctrl-C – the call is written down by then as it stands.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import click

from sillwright.base.words import N_, render, translate
from sillwright.cli.call_said import FIRST, answer_lines, answer_of, question_lines
from sillwright.cli.interview import HELPED, UNKNOWN, Ask, Interview
from sillwright.cli.speech import HERE, said
from sillwright.trouble.reading import CallFile
from sillwright.trouble.safety import make_safe

Keep = Callable[[CallFile], None]
BACK, CHANGE, QUIT = "b", "c", "q"


class Stopped(Exception):
    """Nobody answers any more."""


class Dialogue:
    """A call under way: the states it came through, the newest last."""

    def __init__(self, interview: Interview, told: CallFile, keep: Keep, *, answers: bool = True) -> None:
        self._interview = interview
        self._way = interview.way_to(told)
        self._keep = keep
        self._answers = answers  # whether an end is printed when it is come to
        self._left = ""  # how the opening is left, as it was said last
        self._before = ""  # the kind of the question before
        self._ended_at: CallFile | None = None  # the call whose answer was printed last

    @property
    def told(self) -> CallFile:
        """The call as it stands."""
        return self._way[-1]

    def run(self) -> None:
        """Ask until there is an end, or nobody answers; every answer is kept at once."""
        try:
            while self._step():
                self._keep(self.told)
        except (Stopped, KeyboardInterrupt):
            click.echo(err=True)
        if self._answers and self._ended_at != self.told:
            self._answer_so_far()

    def _step(self) -> bool:
        """One question; False where the call is over."""
        self._say_how_it_is_left()
        ask = self._interview.next(self.told)
        if ask.kind in {"end", "repair"} and self._answers:
            self._answer_so_far()
        if ask.kind == "harm" and self._before != "harm":
            _err(["", translate(FIRST, HERE)])
        self._before = ask.kind
        if ask.kind == "repair":
            _err(["", *answer_lines(ask)])
        elif ask.kind != "end":
            _err(question_lines(self._interview.model, self.told.call, ask))
        return self._answer(ask)

    def _answer_so_far(self) -> None:
        advice = self._interview.lead(self.told.call)
        click.echo("\n" + "\n".join(answer_of(self._interview.model, self.told.call, advice)))
        self._ended_at = self.told

    def _say_how_it_is_left(self) -> None:
        found = make_safe(self.told.call)
        words = "\n".join(render(each, HERE) for each in found.sentences) if found.state else ""
        if words and words != self._left:
            _err(["", said(HERE, N_("How the opening is left until it is mended:")), words])
        self._left = words

    def _answer(self, ask: Ask) -> bool:
        while True:
            typed = _typed(ask)
            if typed == QUIT or (not typed and ask.kind == "end"):
                return False
            if typed == BACK:
                return self._back()
            if typed == CHANGE:
                return self._change()
            value = _value(ask, typed)
            if value == HELPED:
                return False
            if value is not None:
                self._way.append(self._interview.answered(self.told, ask, value))
                return True
            _err([f"    {_hint(ask)}"])

    def _back(self) -> bool:
        if len(self._way) == 1:
            _err([f"    {said(HERE, N_('this is the first question'))}"])
        else:
            self._way.pop()
        return True

    def _change(self) -> bool:
        """Ask again what was asked before; the answers after it stay."""
        given = list(self._interview.given(self.told))
        if not given:
            _err([f"    {said(HERE, N_('nothing was answered yet'))}"])
            return True
        rows = (
            f"  {number:2}  {render(ask.words, HERE)} – {translate(words, HERE)}"
            for number, (ask, words) in enumerate(given, 1)
        )
        _err(["", said(HERE, N_("Which answer changes?")), *rows])
        at = _chosen(len(given))
        if at is None:
            return True
        ask = self._interview.as_booked(given[at][0], self.told.call)
        _err(question_lines(self._interview.model, self.told.call, ask))
        return self._answer(ask)


def _chosen(most: int) -> int | None:
    """A place in a list; None for none of them."""
    while typed := _prompt(said(HERE, N_("number, or Enter for none"))):
        if (at := _number(typed, most)) is not None:
            return at
        _err([f"    {said(HERE, N_('a number from 1 to {most}'), most=most)}"])
    return None


def _typed(ask: Ask) -> str:
    unknown = said(HERE, N_("? don’t know, ")) if ask.unknown and ask.kind != "end" else ""
    keys = said(HERE, N_("{unknown}b back, c change an answer, q stop"), unknown=unknown)
    if ask.kind == "end":
        keys = said(HERE, N_("b back, c change an answer, Enter stop"))
    return _prompt(keys)


def _value(ask: Ask, typed: str) -> str | None:
    """What an answer says; None where it is none."""
    if typed == UNKNOWN and ask.unknown and ask.kind != "end":
        return UNKNOWN
    at = _number(typed, len(ask.choices))
    return None if at is None else ask.choices[at][0]


def _number(typed: str, most: int) -> int | None:
    """A number from 1 on as a place from 0 on."""
    if not (typed.isascii() and typed.isdigit() and len(typed) < 4 and 1 <= int(typed) <= most):
        return None
    return int(typed) - 1


def _hint(ask: Ask) -> str:
    if not ask.choices:
        return said(HERE, N_("one of the letters"))
    if ask.unknown:
        return said(HERE, N_("a number from 1 to {most}, or ? for don’t know"), most=len(ask.choices))
    return said(HERE, N_("a number from 1 to {most}"), most=len(ask.choices))


def _prompt(text: str) -> str:
    try:
        answer: str = click.prompt(f"[{text}]", default="", show_default=False, err=True)
    except click.Abort:
        raise Stopped from None
    return answer.strip().casefold()


def _err(lines: Iterable[str]) -> None:
    click.echo("\n".join(lines), err=True)
