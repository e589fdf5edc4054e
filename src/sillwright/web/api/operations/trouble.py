"""Advice on a call: what was answered so far in, what is likely and what comes next out. Nothing is kept."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from django.http import HttpRequest
from django.utils.translation import gettext_noop
from ninja import Router
from pydantic import BaseModel, Field

from sillwright.base.errors import Mistake
from sillwright.trouble.answer import Call
from sillwright.trouble.said import Named, advice_as_json
from sillwright.web.api.limits import count
from sillwright.web.api.operations.calc import allowed
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import Asked, Words
from sillwright.web.trouble.address import LONGEST, MOST, NotACall, check
from sillwright.web.trouble.advised import advice_on, basis_for
from sillwright.web.trouble.pages import reader_of
from sillwright.web.workbench.admission import Busy, a_turn

router = Router(tags=[gettext_noop("Trouble")])

WEIGHT = 3  # requests that one answer counts for
Name = Annotated[Words, Field(max_length=LONGEST)]
WhoName = Literal["owner", "shift_lead", "technician"]
SafeAnswer = Literal["yes", "no", "unknown"]


class Answered(Asked):
    """The answer to one test."""

    test: Name
    outcome: Name | None = Field(description="Null: don’t know.")
    after_repairs: int = Field(0, ge=0, le=MOST, description="Repairs made before this answer.")


class CallAsked(Asked):
    """A call as far as it has come. Everything may be missing; answers keep their order."""

    who: WhoName | None = Field(None, description="Who stands at the door; each is asked only what he may do.")
    symptom: Name | None = Field(None, description="What the door does; null: not said, or none of these.")
    harm: dict[Name, SafeAnswer] = Field(default={}, max_length=MOST, description="Questions of making safe.")
    answers: list[Answered] = Field(default=[], max_length=MOST)
    facts: dict[Name, Name] = Field(default={}, max_length=MOST)
    repaired: list[Name] = Field(default=[], max_length=MOST, description="Repairs made that did not help.")
    booked_in: list[Name] = Field(default=[], max_length=MOST, description="Substitute parts that are still in.")


class AdviceAsked(Asked):
    """What is asked: a call."""

    call: CallAsked = Field(examples=[{"who": "technician", "symptom": "CALL-01"}])


class SuspectSaid(BaseModel):
    """A fault, or two at once, and how likely."""

    faults: list[str]
    words: list[str]
    probability: float


class OutcomeSaid(BaseModel):
    """An answer that a test may have."""

    id: str
    words: str


class CallStepSaid(BaseModel):
    """A step: what it is, what it costs, and why this one."""

    kind: Literal["make_safe", "test", "repair", "stop"]
    id: str
    words: str
    how: str
    outcomes: list[OutcomeSaid]
    minutes: float
    expected_minutes: float | None = Field(
        description="To the right repair, when going on from here; null: whoever is there comes to none."
    )
    why: list[str]


class AdviceSaid(BaseModel):
    """The advice, in the caller's words. What keeps people from harm comes before everything else."""

    suspects: list[SuspectSaid]
    next: CallStepSaid | None
    others: list[CallStepSaid]
    stop: str | None = Field(description="A danger: nobody goes on.")
    because: list[str]
    surprises: list[str] = Field(description="Tests whose answers do not fit the others.")
    bring: list[str]
    do: list[str]
    prove: list[str]
    cautions: list[str]
    blocked_by: list[str]


@router.post(
    "/trouble/advice",
    response=AdviceSaid,
    auth=allowed,
    summary=gettext_noop("Ask what is wrong with a door and what to do next; nothing is kept"),
)
def trouble_advice(request: HttpRequest, asked: AdviceAsked) -> Any:
    count(request, WEIGHT - 1)
    basis = basis_for(request.user, None)
    told = asked.call
    call = Call(
        who=told.who,
        symptom=told.symptom,
        harm=tuple(told.harm.items()),
        answers=tuple((each.test, each.outcome) for each in told.answers),
        facts=tuple(told.facts.items()),
        repaired=tuple(told.repaired),
        after=tuple((each.test, each.after_repairs) for each in told.answers if each.after_repairs),
        booked_in=tuple(told.booked_in),
    )
    try:
        check(call, basis.model, basis.questions)
        with a_turn():
            advice = advice_on(basis, call)
    except NotACall as error:
        raise Problem("mistakes", mistakes=(Mistake(path="call", message=str(error)),)) from None
    except Busy:
        raise Problem("not-now", headers={"Retry-After": "5"}) from None
    return advice_as_json(Named(basis.model), advice, reader_of(request, None))
