"""Which page a call has come to."""

from __future__ import annotations

from dataclasses import replace
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.translation import gettext as _

from sillwright.base.words import Reader, render, translate
from sillwright.trouble.answer import Advice, Call
from sillwright.trouble.model import Repair, Test
from sillwright.trouble.said import Named
from sillwright.web.records.models import Opening
from sillwright.web.trouble.address import At, NotACall, may
from sillwright.web.trouble.advised import QUESTIONS, Basis, advice_on, whole
from sillwright.web.trouble.making_safe import safe_sheet, safe_step
from sillwright.web.trouble.shown import (
    Choice,
    Sheet,
    answers_told,
    minutes_in_words,
    symptom_sheet,
    test_sheet,
    who_sheet,
    with_advice,
)


def sheet_for(at: At, basis: Basis, opening: Opening | None, reader: Reader) -> Sheet:
    """The page of a call: harm first, then who is there, what the door does, and the step that helps most.

    Raises :class:`NotACall` where something is to be asked anew that was never asked.
    """
    named, call = Named(basis.model), whole(at, basis, opening)
    sheet = _asked_anew(at, call, named, reader) or _before_advice(at, call, named, reader)
    if sheet is None:
        advice = advice_on(basis, call)
        sheet = with_advice(_advised(at, named, call, advice, reader), at, named, advice, reader, basis.learned)
    else:
        sheet = replace(sheet, told=answers_told(at, named, reader))
    keep = f"{reverse('trouble_keep')}?{at.changing('').query}" if at.call.harm else ""
    return replace(sheet, keep=keep)


def _asked_anew(at: At, call: Call, named: Named, reader: Reader) -> Sheet | None:
    """The question whose answer is to be changed."""
    what, given = at.change, dict(at.call.answers)
    if not what:
        return None
    if what == "who":
        return who_sheet(at, named)
    if what == "symptom":
        return symptom_sheet(at, named, reader)
    if what in QUESTIONS:
        return safe_sheet(at, what, reader)
    if what in given:
        return _test(at, call, named.tests[what], reader)
    raise NotACall(_("“%(name)s” was never answered, so the answer cannot be changed.") % {"name": what})


def _before_advice(at: At, call: Call, named: Named, reader: Reader) -> Sheet | None:
    """What comes before any fault is thought of: that nobody gets hurt, who is there, what the door does."""
    if (sheet := safe_step(at, call, reader)) is not None:
        return sheet
    if at.call.who is None:
        return who_sheet(at, named)
    return None if at.symptom_known else symptom_sheet(at, named, reader)


def _advised(at: At, named: Named, call: Call, advice: Advice, reader: Reader) -> Sheet:
    step = advice.next
    if advice.stop is None and step is not None and step.kind == "test":
        test = named.tests[step.id]
        watch = [render(each, reader) for each in advice.cautions[len(test.cautions) :]]
        sheet = _test(at, call, test, reader)
        symptom = named.symptoms.get(call.symptom or "")
        if symptom is not None and symptom.harm:  # out of service before anything else: before the answers, too
            return replace(sheet, cautions=(*watch, *sheet.cautions))
        return replace(sheet, watch=watch)
    return _end(at, named, advice, reader)


def _test(at: At, call: Call, test: Test, reader: Reader) -> Sheet:
    """One question. A step with a substitute part is answered only once the part is booked in."""
    sheet = test_sheet(at, test, reader)
    if test.stage != "substitute" or call.booked_in:
        return sheet
    unknown = Choice(words=_("Not done"), address=at.with_answer(test.id, None).address(), plain=True)
    if at.opening is None:
        words = _(
            "A substitute part is booked in first, at an opening. Begin this call on the page of the opening."
        )
        return replace(sheet, notice=words, answers=[unknown])
    back = urlencode({"call": at.query})
    book = Choice(words=_("Book the part in"), address=f"{reverse('substitutes', args=[at.opening])}?{back}")
    return replace(sheet, notice=_("The part is booked in before it goes in."), answers=[book, unknown])


def _end(at: At, named: Named, advice: Advice, reader: Reader) -> Sheet:
    """What to bring, do, prove and mind."""
    step = advice.next
    repair = named.repairs.get(step.id) if step is not None and step.kind == "repair" else None
    mine = repair is not None and may(at.call.who, repair.who) and not repair.outside
    return Sheet(
        page="end",
        question=_headline(at, advice, repair, mine=mine, reader=reader),
        stop=render(advice.stop, reader) if advice.stop else "",
        minutes=minutes_in_words(repair.minutes) if mine and repair else "",
        cautions=[render(each, reader) for each in advice.cautions],
        bring=[translate(each, reader) for each in advice.bring],
        do=[translate(each, reader) for each in advice.do],
        prove=[translate(each, reader) for each in advice.prove],
        answers=[_no_help(at, repair)] if mine and repair else (),
        mine=mine,
    )


def _no_help(at: At, repair: Repair) -> Choice:
    return Choice(words=_("Done, and it did not help"), address=at.with_repair(repair.id).address(), plain=True)


def _headline(at: At, advice: Advice, repair: Repair | None, *, mine: bool, reader: Reader) -> str:
    if advice.stop is not None:
        return _("Stop: nobody runs this door")
    if repair is not None and mine:
        return translate(repair.words, reader)
    if repair is not None and repair.outside:
        return _("A specialist from outside has to come")
    if at.call.who != "technician":
        return _("A technician has to come")
    return _("Somebody who knows this door has to look")
