"""What the screen says of a call: a question with what stands behind it, and the answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import fill

from sillwright.base.words import N_, Sentence, render, translate
from sillwright.cli.interview import Ask
from sillwright.cli.speech import HERE, said
from sillwright.cli.table import plain, table
from sillwright.trouble.amounts import minutes_in_words, share_in_words
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.choosing import may
from sillwright.trouble.model import FaultModel, Repair
from sillwright.trouble.safety import make_safe, questions

MOST_LIKELY = 4
LEAST_SHARE = 0.02
WIDTH = 100
FIRST = N_("First: nobody gets hurt")


def question_lines(model: FaultModel, call: Call, ask: Ask) -> Iterator[str]:
    """A question: what is likely so far and why it is asked, how it is done, and its answers by number."""
    yield ""
    if ask.advice is not None:
        yield from behind(model, call, ask.advice)
    for each in ask.before:
        yield _wrapped(render(each, HERE), "! ")
    yield _wrapped(render(ask.words, HERE))
    if ask.test is not None:
        yield _wrapped(translate(ask.test.how, HERE), "  ")
        yield "  " + said(HERE, N_("Takes {minutes} min."), minutes=minutes_in_words(ask.test.minutes))
    if ask.advice is not None and ask.advice.next is not None:
        for why in ask.advice.next.why:
            yield _wrapped(said(HERE, N_("Why: {why}"), why=why), "  ")
        for caution in ask.advice.cautions:
            yield _wrapped(render(caution, HERE), "  ! ")
    yield from answer_lines(ask)


def answer_lines(ask: Ask) -> Iterator[str]:
    """The answers by number."""
    for number, (_, words) in enumerate(ask.choices, 1):
        yield _wrapped(translate(words, HERE), f"  {number:2}  ")
    if ask.kind == "test" and not ask.choices:
        yield _wrapped(said(HERE, NOT_BOOKED), "  ! ")


NOT_BOOKED = N_(
    "A substitute part is booked in before it goes in. Write the number of its red tag under “booked_in” in the "
    "recorded call and resume it, or answer ? for not done."
)


def behind(model: FaultModel, call: Call, advice: Advice) -> Iterator[str]:
    """What the last answer changed, what does not fit, and what is likely so far."""
    for each in advice.because[:1]:
        yield _wrapped(render(each, HERE))
    yield from _surprised(model, call, advice)
    likely = [f"{words.rstrip('.')} ({share})" for words, share in _likely(model, advice)]
    if likely:
        yield _wrapped(said(HERE, N_("Likely so far: {faults}"), faults="; ".join(likely)))


def _likely(model: FaultModel, advice: Advice) -> list[list[str]]:
    """The likeliest faults in words, each with its share."""
    words = {fault.id: translate(fault.words, HERE) for fault in model.faults}
    found = [each for each in advice.shares[:MOST_LIKELY] if each[1] >= LEAST_SHARE]
    return [[words[name], render(share_in_words(share), HERE)] for name, share in found]


def _surprised(model: FaultModel, call: Call, advice: Advice) -> Iterator[str]:
    """Answers that do not fit; one that was put in for the question of making safe is that question's."""
    asked = {test.id: Sentence(test.question) for test in model.tests if test.id in dict(call.answers)}
    hanging = next(each.words for each in questions() if each.id == "hanging")
    for question in dict.fromkeys(render(asked.get(name, hanging), HERE) for name in advice.surprises):
        words = N_("This answer does not fit the others: “{question}” Look again, then change it with c.")
        yield _wrapped(said(HERE, words, question=question), "! ")


def answer_of(model: FaultModel, call: Call, advice: Advice) -> Iterator[str]:
    """The answer to a call as far as it has come: its sentence first, then what to bring, do, prove and mind."""
    yield _wrapped(_headline(model, call, advice))
    safe = make_safe(call)
    if advice.stop is None and safe.state is not None:
        yield _wrapped(said(HERE, N_("Until it is mended: {state}"), state=safe.sentences[0]))
    if advice.stop is None and safe.next is None:
        yield from _reckoned(model, call, advice)
    cautions = (*(() if advice.stop or safe.next else safe.sentences[1:]), *advice.cautions)
    yield from _listed(N_("Mind"), dict.fromkeys(render(each, HERE) for each in cautions))
    held = N_("A substitute part is still in: {part}. Nothing closes before it is out and booked out.")
    for part in advice.blocked_by:
        yield _wrapped(said(HERE, held, part=plain(part)), "! ")


def _reckoned(model: FaultModel, call: Call, advice: Advice) -> Iterator[str]:
    if rows := _likely(model, advice):
        yield ""
        yield table([said(HERE, N_("likely")), said(HERE, N_("in such calls"))], rows, widest=70)
    yield from _surprised(model, call, advice)
    going_on = advice.next is not None and advice.next.kind == "test"
    doing = N_("Do, if nothing else turns up") if going_on else N_("Do")
    for heading, texts in ((N_("Bring"), advice.bring), (doing, advice.do), (N_("Prove"), advice.prove)):
        yield from _listed(heading, (translate(each, HERE) for each in texts))


def _listed(heading: str, texts: Iterable[str]) -> Iterator[str]:
    rows = list(texts)
    if rows:
        yield ""
        yield translate(heading, HERE)
        yield from (_wrapped(each, "  - ") for each in rows)


def _headline(model: FaultModel, call: Call, advice: Advice) -> str:
    """The answer as one sentence."""
    step = advice.next
    if advice.stop is not None:
        return said(HERE, N_("Stop. {why}"), why=advice.stop)
    if step is None or step.kind == "stop":
        return said(HERE, N_("Somebody who knows this door has to look.") if _technician(call) else TECHNICIAN)
    if step.kind == "repair":
        return _of_repair(call, next(each for each in model.repairs if each.id == step.id))
    if step.kind == "make_safe":
        asked = next(each.words for each in questions() if each.id == step.id)
        return said(HERE, N_("First it is asked: {question}"), question=asked)
    asked = next(Sentence(each.question) for each in model.tests if each.id == step.id)
    return said(HERE, N_("Next it is asked: {question}"), question=asked)


TECHNICIAN = N_("A technician has to come.")


def _technician(call: Call) -> bool:
    return call.who == "technician"


def _of_repair(call: Call, repair: Repair) -> str:
    told = {"minutes": minutes_in_words(repair.minutes), "repair": Sentence(repair.words)}
    if repair.outside:
        return said(HERE, N_("Somebody from outside has to come: {repair}"), **told)
    if may(call.who, repair.who):
        return said(HERE, N_("Do this, about {minutes} min: {repair}"), **told)
    if repair.who == "shift_lead":
        return said(HERE, N_("The shift lead does this, about {minutes} min: {repair}"), **told)
    return said(HERE, N_("A technician has to come, for about {minutes} min: {repair}"), **told)


def _wrapped(text: str, first: str = "") -> str:
    return fill(plain(text), WIDTH, initial_indent=first, subsequent_indent=" " * len(first))
