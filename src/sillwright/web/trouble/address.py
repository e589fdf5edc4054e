"""A call as an address, and an address as a call: nothing else holds its state.

``who``, ``symptom`` (``-``: none of these), ``harm=question:answer``, ``a=test:outcome`` (``-``: don't know),
``f=fact:value``, ``r=repair`` that did not help, in the order in which they were given. ``a=test:outcome:1`` was
answered after one repair; an answer without a number before them all. Beside the call:
``opening``, ``t`` (when it began, seconds since 1970), ``left`` (how the opening is left was read) and ``change``
(what is asked anew).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import TypeVar
from urllib.parse import urlencode
from uuid import UUID

from django.http import QueryDict
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from sillwright.base.nearest import did_you_mean
from sillwright.base.words import Reader, translate
from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel, Test

UNKNOWN = "-"
WHO = ("owner", "shift_lead", "technician")
SAFE_ANSWERS = ("yes", "no", "unknown")
NAMES = ("who", "harm", "symptom", "a", "f", "r", "opening", "t", "left", "change")
MOST = 200  # parts of one address
LONGEST = 80  # signs of one name


class NotACall(Exception):
    """An address that tells of something that was never asked; its words say what would be right."""


@dataclass(frozen=True, kw_only=True)
class At:
    """Where a call has come to: the call, and what stands beside it in the address."""

    call: Call = field(default_factory=Call)
    none_of_these: bool = False  # the symptoms were read, and none of them fits
    opening: UUID | None = None
    started: int = 0
    left: bool = False  # how the opening is left meanwhile was read
    change: str = ""

    @property
    def symptom_known(self) -> bool:
        """Whether nobody has to be asked what the door does."""
        return self.call.symptom is not None or self.none_of_these

    def address(self, name: str = "trouble") -> str:
        """The address of this state; a part that is not told is not in it."""
        return f"{reverse(name)}?{self.query}" if self.query else reverse(name)

    @property
    def query(self) -> str:
        """The state as the query of an address."""
        return urlencode(list(self.pairs()), safe=":")

    def pairs(self) -> Iterable[tuple[str, str]]:
        """Names and values of the address, in their order."""
        call = self.call
        told = [("who", call.who or ""), *(("harm", f"{name}:{said}") for name, said in call.harm)]
        told.append(("symptom", UNKNOWN if self.none_of_these else call.symptom or ""))
        told += [("a", ":".join((name, said or UNKNOWN, *_after(call, name)))) for name, said in call.answers]
        told += [("f", f"{name}:{said}") for name, said in call.facts]
        told += [("r", name) for name in call.repaired]
        told += [("opening", str(self.opening or "")), ("t", str(self.started or ""))]
        told += [("left", "1" if self.left else ""), ("change", self.change)]
        return [(name, value) for name, value in told if value]

    def changing(self, what: str) -> At:
        """The same call, asked anew about ``what``."""
        return replace(self, change=what)

    def with_who(self, who: str, tests: Mapping[str, Test]) -> At:
        """Somebody else is at the door: answers that only a technician can give stay only with one."""
        kept = tuple(each for each in self.call.answers if may(who, tests[each[0]].who))
        after = tuple(each for each in self.call.after if each[0] in dict(kept))
        call = replace(self.call, who=who, answers=kept, after=after)  # type: ignore[arg-type]
        return replace(self, call=call, change="")

    def with_safe(self, question: str, answer: str) -> At:
        """With an answer to a question of making safe; one that was given before is changed in its place."""
        safe = _put(self.call.harm, question, answer)
        return replace(self, call=replace(self.call, harm=safe), left=False, change="")

    def as_left(self) -> At:
        """Where it was read how the opening is left meanwhile."""
        return replace(self, left=True, change="")

    def with_symptom(self, symptom: str | None) -> At:
        """With what the door does; None: none of these."""
        return replace(self, call=replace(self.call, symptom=symptom), none_of_these=symptom is None, change="")

    def with_answer(self, test: str, outcome: str | None) -> At:
        """With the answer to a test; one that was given before is changed in its place."""
        call = self.call
        if call.repaired and test not in dict(call.answers):
            call = replace(call, after=(*call.after, (test, len(call.repaired))))
        return replace(self, call=replace(call, answers=_put(call.answers, test, outcome)), change="")

    def with_repair(self, repair: str) -> At:
        """With a repair that was made and did not help."""
        return replace(self, call=replace(self.call, repaired=(*self.call.repaired, repair)), change="")


def _after(call: Call, test: str) -> tuple[str, ...]:
    """The repairs before an answer, as its address has them: nothing where there was none."""
    return tuple(str(made) for name, made in call.after if name == test)


T = TypeVar("T")


def _put(told: tuple[tuple[str, T], ...], name: str, value: T) -> tuple[tuple[str, T], ...]:
    if all(each != name for each, _said in told):
        return (*told, (name, value))
    return tuple((each, value if each == name else before) for each, before in told)


def may(who: str | None, least: str) -> bool:
    """Whether somebody may do what at least ``least`` may; nobody yet named may everything.

    >>> may("owner", "technician"), may("technician", "owner"), may(None, "technician")
    (False, True, True)
    """
    return who is None or WHO.index(who) >= WHO.index(least)


def begun() -> At:
    """A call about which nothing is known, that begins now."""
    return At(started=int(timezone.now().timestamp()))


def moment_of(at: At) -> datetime:
    """When a call began; now where its address does not say so, or says what cannot be."""
    now = timezone.now()
    try:
        told = datetime.fromtimestamp(at.started, UTC)
    except (ValueError, OverflowError, OSError):
        return now
    return told if at.started > 0 and told <= now else now


def read(query: QueryDict, model: FaultModel, questions: Iterable[str]) -> At:
    """The call that an address tells of; ``questions`` are those of making safe.

    Raises :class:`NotACall` for a name, an answer or a question that there is not, and for one given twice.
    """
    _fit(query)
    symptom = query.get("symptom", "")
    answers, after = _answers(query.getlist("a"))
    call = Call(
        who=query.get("who") or None,  # type: ignore[arg-type]  # looked at below
        symptom=None if symptom in ("", UNKNOWN) else symptom,
        harm=tuple(_parted(query.getlist("harm"))),
        answers=answers,
        facts=tuple(_parted(query.getlist("f"))),
        repaired=tuple(dict.fromkeys(query.getlist("r"))),
        after=after,
    )
    check(call, model, questions)
    return At(
        call=call,
        none_of_these=symptom == UNKNOWN,
        opening=_uuid(query.get("opening", "")),
        started=_whole(query.get("t", "")),
        left=bool(query.get("left")),
        change=query.get("change", ""),
    )


def _fit(query: QueryDict) -> None:
    if sum(len(values) for _name, values in query.lists()) > MOST:
        raise NotACall(_("More is told here than can be asked: %(most)d parts at most.") % {"most": MOST})
    for name, values in query.lists():
        _known(name, NAMES, _("Part of the address"))
        for value in values:
            if len(value) > LONGEST:
                told = {"what": name, "most": LONGEST}
                raise NotACall(_("%(what)s: a name has %(most)d signs at most.") % told)
    for name in ("who", "symptom", "opening", "t", "left", "change"):
        if len(query.getlist(name)) > 1:
            raise NotACall(_("%(what)s: told twice. Once is enough.") % {"what": name})


def _answers(told: Iterable[str]) -> tuple[tuple[tuple[str, str | None], ...], tuple[tuple[str, int], ...]]:
    """Tests with their answers, and those that came after repairs with how many."""
    answers: list[tuple[str, str | None]] = []
    after: list[tuple[str, int]] = []
    for name, said in _parted(told):
        outcome, colon, made = said.partition(":")
        answers.append((name, None if outcome == UNKNOWN else outcome))
        if colon and _whole(made) == 0:
            said = _("“%(name)s”: after how many repairs, as a number above 0.")
            raise NotACall(said % {"name": name})
        if colon:
            after.append((name, _whole(made)))
    return tuple(answers), tuple(after)


def _parted(told: Iterable[str]) -> list[tuple[str, str]]:
    """Names and answers; each name stands once."""
    found: dict[str, str] = {}
    for each in told:
        name, _colon, answer = each.partition(":")
        if name in found:
            raise NotACall(_("“%(name)s” is answered twice. Change the answer instead.") % {"name": name})
        found[name] = answer
    return list(found.items())


def check(call: Call, model: FaultModel, questions: Iterable[str]) -> None:
    """Raise :class:`NotACall` where a call names what is never asked, or never asked of whoever is there."""
    tests, values = {each.id: each for each in model.tests}, dict(model.facts)
    if call.who is not None:
        _known(call.who, WHO, _("Who is at the door"))
    if call.symptom is not None:
        _known(call.symptom, [each.id for each in model.symptoms], _("What the door does"))
    asked = tuple(questions)
    for name, answer in call.harm:
        _known(name, asked, _("Question of making safe"))
        _known(answer, SAFE_ANSWERS, _("Answer"))
    for name, outcome in call.answers:
        _known(name, tests, _("Question"))
        if outcome is not None:
            _known(outcome, [each.id for each in tests[name].outcomes], _("Answer"))
        if not may(call.who, tests[name].who):
            said = _("“%(name)s” was never asked: it is not for whoever is at the door.")
            raise NotACall(said % {"name": name})
    for name, answer in call.facts:
        _known(name, values, _("Fact"))
        _known(answer, values[name], _("Value"))
    for name in call.repaired:
        _known(name, [each.id for each in model.repairs], _("Repair"))
    for name, made in call.after:
        if made > len(call.repaired):
            said = _("“%(name)s” is answered after more repairs than were made (%(made)d).")
            raise NotACall(said % {"name": name, "made": made})


def _known(name: str, known: Iterable[str], what: str) -> None:
    names = list(known)
    if name not in names:
        hint = translate(did_you_mean(name, names), Reader(language=get_language() or "en"))
        told = {"what": what, "name": name, "hint": hint}
        raise NotACall(_("%(what)s: there is no “%(name)s”; %(hint)s") % told)


def _uuid(words: str) -> UUID | None:
    try:
        return UUID(words) if words else None
    except ValueError:
        raise NotACall(_("Opening: this is no id of one.")) from None


def _whole(words: str) -> int:
    return int(words) if words.isascii() and words.isdigit() and len(words) < 12 else 0
