"""What a page of a call shows: one question or one answer, and behind it what is likely and what was told."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.words import Reader, render, translate
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.model import Test
from sillwright.trouble.safety import questions
from sillwright.trouble.said import Named
from sillwright.web.trouble.address import At, begun

MOST_LIKELY = 6
LEAST_SHARE = 0.02
WHO = {
    "owner": gettext_lazy("The owner, a tenant, a caretaker"),
    "shift_lead": gettext_lazy("The shift lead, who runs the door every day"),
    "technician": gettext_lazy("A technician, with tools and a meter"),
}
SAFE_WORDS = {"yes": gettext_lazy("Yes"), "no": gettext_lazy("No"), "unknown": gettext_lazy("Don’t know")}


@dataclass(frozen=True, kw_only=True)
class Choice:
    """An answer as a link to the next address."""

    words: Any
    address: str
    plain: bool = False  # "don't know" and what leads away
    current: bool = False


@dataclass(frozen=True, kw_only=True)
class ToldSo:
    """An answer that was given, and where it is changed; ``odd``: it does not fit the others."""

    question: str
    answer: Any
    change: str = ""
    odd: bool = False


@dataclass(frozen=True, kw_only=True)
class Likely:
    """A fault and its share, in words and as a number."""

    words: str
    share: str


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """One page."""

    question: Any
    page: str = "question"  # its template: question, end
    first: bool = False  # the first page of a call
    stays: bool = False  # nobody goes on: somebody may be hurt
    mine: bool = False  # whoever is there may do what it says
    over: Any = ""
    how: str = ""
    minutes: str = ""
    notice: str = ""  # before the answers
    because: str = ""  # after them
    stop: str = ""
    many: bool = False
    answers: Sequence[Choice] = ()
    why: Sequence[str] = ()
    cautions: Sequence[str] = ()
    watch: Sequence[str] = ()  # what holds until the fault is found, beside what goes with this step
    bring: Sequence[str] = ()
    do: Sequence[str] = ()
    prove: Sequence[str] = ()
    likely: Sequence[Likely] = ()
    learned: int = 0
    told: Sequence[ToldSo] = ()
    keep: str = ""
    anew: str = field(default_factory=lambda: begun().address())


def who_sheet(at: At, named: Named) -> Sheet:
    """Who is at the door."""
    answers = [
        Choice(words=words, address=at.with_who(who, named.tests).address(), current=at.call.who == who)
        for who, words in WHO.items()
    ]
    how = _("Everybody may look and tell. Only a technician opens a box, lifts a lead or measures.")
    return Sheet(question=_("Who is at the door?"), how=how, many=True, answers=answers)


def symptom_sheet(at: At, named: Named, reader: Reader) -> Sheet:
    """What the door does; what takes it out of service comes first, then what is complained of most."""
    rows = sorted(named.model.symptoms, key=lambda each: (not each.harm, -each.share))
    answers = [
        Choice(
            words=translate(each.words, reader),
            address=at.with_symptom(each.id).address(),
            current=at.call.symptom == each.id,
        )
        for each in rows
    ]
    none = Choice(words=_("None of these, or don’t know"), address=at.with_symptom(None).address(), plain=True)
    return Sheet(question=_("What does the door do?"), many=True, answers=[*answers, none])


def test_sheet(at: At, test: Test, reader: Reader) -> Sheet:
    """One question with its answers."""
    given = dict(at.call.answers)
    answers = [
        Choice(
            words=translate(each.words, reader),
            address=at.with_answer(test.id, each.id).address(),
            current=test.id in given and given[test.id] == each.id,
        )
        for each in test.outcomes
    ]
    unknown = Choice(words=SAFE_WORDS["unknown"], address=at.with_answer(test.id, None).address(), plain=True)
    return Sheet(
        question=translate(test.question, reader),
        how=translate(test.how, reader),
        minutes=minutes_in_words(test.minutes),
        many=len(test.outcomes) > 4,
        answers=[*answers, unknown],
        cautions=[translate(each, reader) for each in test.cautions],
    )


def minutes_in_words(minutes: float) -> str:
    """How long a step takes."""
    if minutes < 1:
        return _("Takes half a minute.") if minutes >= 0.4 else _("Takes some seconds.")
    return _("Takes about %(minutes)d min.") % {"minutes": round(minutes)}


def with_advice(sheet: Sheet, at: At, named: Named, advice: Advice, reader: Reader, learned: int) -> Sheet:
    """The same page with what is behind it: why, what is likely, what was told."""
    step = advice.next
    return replace(
        sheet,
        notice=sheet.notice or (_odd() if advice.surprises else ""),
        because=_changed(at, advice, reader),
        why=[
            render(each, reader)
            for each in (*(step.why if step else ()), *advice.because[1 : len(at.call.answers)])
        ],
        likely=likely_of(named, advice, reader),
        learned=learned,
        told=answers_told(at, named, reader, surprises=advice.surprises),
    )


def _odd() -> str:
    return _("An answer does not fit the others. Look at the answers so far, and ask it again.")


def _changed(at: At, advice: Advice, reader: Reader) -> str:
    """What the last answer changed."""
    told = advice.because if at.call.answers or at.call.repaired else ()
    return render(told[0], reader) if told else ""


def likely_of(named: Named, advice: Advice, reader: Reader) -> list[Likely]:
    """The faults that are likely by now, alone or with another one."""
    rows = sorted(advice.shares, key=lambda each: -each[1])
    return [
        Likely(words=named.fault(name, reader), share=share_in_words(share))
        for name, share in rows[:MOST_LIKELY]
        if share >= LEAST_SHARE
    ]


def share_in_words(share: float) -> str:
    """A probability as a person says it, and as a number.

    >>> share_in_words(0.31), share_in_words(0.004), share_in_words(0.999)
    ('about 3 in 10 (31 %)', 'hardly (0 %)', 'almost certainly (100 %)')
    """
    number = f"{round(100 * share)} %"
    tenths = round(10 * share)
    if share < 0.05:
        words = _("hardly")
    elif share > 0.95:
        words = _("almost certainly")
    elif tenths == 5:
        words = _("as likely as not")
    else:
        words = _("about %(tenths)d in 10") % {"tenths": max(tenths, 1)}
    return f"{words} ({number})"


def answers_told(
    at: At, named: Named, reader: Reader, *, surprises: Iterable[str] = (), kept: bool = False
) -> list[ToldSo]:
    """What was told so far in its order, with the links that change it; of a kept call nothing is changed."""
    call, odd = at.call, set(surprises)
    told = [*_safe_told(at, call, reader), *_who_told(at, call)]
    if at.symptom_known:
        found = named.symptoms.get(call.symptom or "")
        words = translate(found.words, reader) if found else _("None of these, or don’t know")
        told.append(ToldSo(question=_("What does the door do?"), answer=words, change=_change(at, "symptom")))
    after = dict(call.after)
    for made in range(len(call.repaired) + 1):
        for name, outcome in call.answers:
            if after.get(name, 0) == made:
                told.append(_answer_told(at, name, outcome, named, reader, odd=name in odd))
        told += _repair_told(call, made, named, reader)
    return [replace(each, change="") for each in told] if kept else told


def _safe_told(at: At, call: Call, reader: Reader) -> list[ToldSo]:
    words = {each.id: render(each.words, reader) for each in questions()}
    return [
        ToldSo(question=words.get(name, name), answer=SAFE_WORDS[said], change=_change(at, name))
        for name, said in call.harm
    ]


def _who_told(at: At, call: Call) -> list[ToldSo]:
    if call.who is None:
        return []
    return [ToldSo(question=_("Who is at the door?"), answer=WHO[call.who], change=_change(at, "who"))]


def _answer_told(at: At, name: str, outcome: str | None, named: Named, reader: Reader, *, odd: bool) -> ToldSo:
    test = named.tests.get(name)
    return ToldSo(
        question=translate(test.question, reader) if test else name,
        answer=named.outcome(name, outcome, reader) or SAFE_WORDS["unknown"],
        change=_change(at, name),
        odd=odd,
    )


def _repair_told(call: Call, made: int, named: Named, reader: Reader) -> list[ToldSo]:
    """A repair of a call by its place; none behind the last one, nor where this version no longer has it."""
    found = named.repairs.get(call.repaired[made]) if made < len(call.repaired) else None
    return [ToldSo(question=translate(found.words, reader), answer=_("Made; it did not help."))] if found else []


def _change(at: At, what: str) -> str:
    return at.changing(what).address()
