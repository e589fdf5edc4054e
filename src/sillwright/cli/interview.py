"""A call as an interview: which question stands next, and what the call is after its answer."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any, Literal, TypeVar

from sillwright.base.words import N_, Sentence
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.choosing import may
from sillwright.trouble.leading import stays
from sillwright.trouble.model import FaultModel, Test, Who
from sillwright.trouble.reading import CallFile
from sillwright.trouble.safety import ANSWERS, make_safe, questions

Kind = Literal["harm", "who", "symptom", "test", "repair", "end"]
Choice = tuple[str, str]  # what it is by name, and its words
Lead = Callable[[Call], Advice]

WHO: dict[Who, str] = {
    "owner": N_("the owner, a tenant, a caretaker"),
    "shift_lead": N_("the shift lead, who runs the door every day"),
    "technician": N_("a technician, with tools and a meter"),
}
UNKNOWN = "?"
NONE = "none"
HELPED = "helped"
NO_WORDS = Sentence("")


@dataclass(frozen=True, kw_only=True)
class Ask:
    """A question with its answers; an end has none. ``unknown``: it may be answered by "don't know"."""

    kind: Kind
    id: str = ""
    words: Sentence = NO_WORDS
    choices: tuple[Choice, ...] = ()
    unknown: bool = True
    test: Test | None = None
    advice: Advice | None = None  # what is known by now, where it was reckoned
    before: tuple[Sentence, ...] = ()  # what has to be read before it is answered


@dataclass(frozen=True, eq=False)
class Interview:
    """The questions of a fault model."""

    model: FaultModel
    lead: Lead

    def next(self, told: CallFile) -> Ask:
        """The question that stands next: harm, who is there, what the door does, then what helps most."""
        call = told.call
        safe = make_safe(call)
        if safe.next is not None:
            return replace(self.safe(safe.next.id), before=safe.sentences[:-1])  # the last one holds always
        if stays(safe):
            return Ask(kind="end", advice=self.lead(call))
        if call.who is None:
            return self.who()
        if call.symptom is None and not told.none_of_these:
            return self.symptom()
        return self._advised(call)

    def _advised(self, call: Call) -> Ask:
        advice = self.lead(call)
        step = advice.next
        if advice.stop is not None or step is None or step.kind == "stop":
            return Ask(kind="end", advice=advice)
        if step.kind == "test":
            return replace(self.as_booked(self.test(step.id), call), advice=advice)
        repair = next(each for each in self.model.repairs if each.id == step.id)
        if repair.outside or not may(call.who, repair.who):
            return Ask(kind="end", advice=advice)
        choices = ((HELPED, N_("done, and the door does what it should")), (repair.id, N_("done, it did not help")))
        words = Sentence(N_("Do this: {repair}"), {"repair": Sentence(repair.words)})
        return Ask(kind="repair", id=repair.id, words=words, choices=choices, unknown=False, advice=advice)

    def safe(self, name: str) -> Ask:
        """A question of making safe."""
        words = next(each.words for each in questions() if each.id == name)
        choices = tuple((each, ANSWERS[each]) for each in ("yes", "no"))
        return Ask(kind="harm", id=name, words=words, choices=choices)

    def who(self) -> Ask:
        """Who is at the door. Only a technician opens a box, so that this is never left open."""
        words = Sentence(N_("Who is at the door?"))
        return Ask(kind="who", id="who", words=words, choices=tuple(WHO.items()), unknown=False)

    def symptom(self) -> Ask:
        """What the door does: what takes it out of service comes first, then what is complained of most."""
        rows = sorted(self.model.symptoms, key=lambda each: (not each.harm, -each.share))
        choices = (*((each.id, each.words) for each in rows), (NONE, N_("none of these")))
        return Ask(kind="symptom", id="symptom", words=Sentence(N_("What does the door do?")), choices=choices)

    def test(self, name: str) -> Ask:
        """A test with what it may show."""
        test = next(each for each in self.model.tests if each.id == name)
        choices = tuple((each.id, each.words) for each in test.outcomes)
        return Ask(kind="test", id=name, words=Sentence(test.question), choices=choices, test=test)

    def as_booked(self, ask: Ask, call: Call) -> Ask:
        """The question as it stands; with a substitute part it has no answers until the part is booked in."""
        if ask.test is None or ask.test.stage != "substitute" or call.booked_in:
            return ask
        return replace(ask, choices=())

    def given(self, told: CallFile) -> Iterator[tuple[Ask, str]]:
        """What was answered so far, in order: the question, and the answer in words."""
        call = told.call
        for name, safe in call.harm:
            yield self.safe(name), ANSWERS[safe]
        if call.who is not None:
            yield self.who(), WHO[call.who]
        if told.none_of_these or call.symptom is not None:
            yield self._said(self.symptom(), call.symptom or NONE)
        for name, outcome in call.answers:
            yield self._said(self.test(name), outcome)

    def _said(self, ask: Ask, value: str | None) -> tuple[Ask, str]:
        return ask, dict(ask.choices).get(value or "", N_("don’t know"))

    def answered(self, told: CallFile, ask: Ask, value: str) -> CallFile:
        """The call after an answer; what was answered before is changed in its place."""
        call = told.call
        if ask.kind == "harm":
            said = "unknown" if value == UNKNOWN else value
            return replace(told, call=replace(call, harm=_put(call.harm, ask.id, said)))
        if ask.kind == "who":
            return replace(told, call=self._with_who(call, value))
        if ask.kind == "symptom":
            none = value in {NONE, UNKNOWN}
            return replace(told, call=replace(call, symptom=None if none else value), none_of_these=none)
        if ask.kind == "repair":
            return replace(told, call=replace(call, repaired=(*call.repaired, value)))
        outcome = None if value == UNKNOWN else value
        if call.repaired and ask.id not in dict(call.answers):
            call = replace(call, after=(*call.after, (ask.id, len(call.repaired))))
        return replace(told, call=replace(call, answers=_put(call.answers, ask.id, outcome)))

    def _with_who(self, call: Call, value: str) -> Call:
        """Somebody else is there: answers that only a technician can give stay only with one."""
        who = next(each for each in WHO if each == value)
        least = {test.id: test.who for test in self.model.tests}
        kept = tuple(each for each in call.answers if may(who, least[each[0]]))
        after = tuple(each for each in call.after if each[0] in dict(kept))
        return replace(call, who=who, answers=kept, after=after)

    def way_to(self, told: CallFile) -> list[CallFile]:
        """The states that a call from a file came through, the empty one first: the way back."""
        call, whole = told.call, [CallFile(call=Call(facts=told.call.facts, booked_in=told.call.booked_in))]
        for each in call.harm:
            whole.append(_and(whole[-1], harm=(*whole[-1].call.harm, each)))
        if call.who is not None:
            whole.append(_and(whole[-1], who=call.who))
        if told.none_of_these or call.symptom is not None:
            whole.append(replace(_and(whole[-1], symptom=call.symptom), none_of_these=told.none_of_these))
        after = dict(call.after)
        for made in range(len(call.repaired) + 1):
            for answer in (each for each in call.answers if after.get(each[0], 0) == made):
                more = ((answer[0], made),) if made else ()
                before = whole[-1].call
                whole.append(_and(whole[-1], answers=(*before.answers, answer), after=(*before.after, *more)))
            if made < len(call.repaired):
                whole.append(_and(whole[-1], repaired=call.repaired[: made + 1]))
        return whole


def _and(told: CallFile, **more: Any) -> CallFile:
    return replace(told, call=replace(told.call, **more))


T = TypeVar("T")


def _put(told: tuple[tuple[str, T], ...], name: str, value: T) -> tuple[tuple[str, T], ...]:
    if all(each != name for each, _ in told):
        return (*told, (name, value))
    return tuple((each, value if each == name else before) for each, before in told)
