"""Where the lead comes out of an edge: the first rule that applies advises, what the survey says is ordered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sillwright.base.fact import Fact
from sillwright.base.scale import FOOT, INCH
from sillwright.base.words import N_, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import End, Lead
from sillwright.takeoff.leads.lead_findings import lead_findings
from sillwright.takeoff.leads.lead_side import Advice, advice

GUIDED = {"rolling", "grille", "rolling_fire"}
UPRIGHT_SPARE = float(12 * INCH)


def lead(opening: Opening) -> Lead:
    """The five facts of the lead, inside looking out: end, exit, distance from that end, free length, fin.

    The first of SIDE-1 to SIDE-11 that applies advises an end. An end that the survey gives stands against it and
    is the one that is ordered; where two readings of it disagree there is none. What the survey does not say of
    exit, length and fin is what is usual for the kind of leaf; None where nothing is usual.

    Source: trade rules of thumb (SIDE-1 to SIDE-11), from memory; always confirmed on site or from a photo.
    """
    advised = advice(opening)
    told = opening.lead.end
    end, facts, why = _end(told, advised)
    usual = usual_of(opening)
    confirmed = opening.lead.confirmed
    return Lead(
        end=end,
        rule=advised.rule,
        why=why,
        exit=_settled(opening.lead.exit, usual.exit),
        from_end=_settled(opening.lead.from_end, usual.from_end),
        length=_settled(opening.lead.length, usual.length),
        fin=_settled(opening.lead.fin, usual.fin),
        confirmed_by=_words(confirmed.by),
        confirmed_on=_words(confirmed.on),
        facts=facts,
        advised=advised.end,
        findings=tuple(lead_findings(opening, advised, end)),
    )


def _end(told: Fact[str], advised: Advice) -> tuple[End | None, tuple[str, ...], Sentence]:
    """The end that is ordered, the facts it rests on, and why."""
    if told.standing == "two readings":
        said = N_("Two readings of the lead's end do not agree; neither is ordered. By rule: {why}")
        return None, (told.path,), Sentence(said, {"why": advised.why})
    if told.standing == "known" and told.value is not None:
        values = {"end": Sentence(SIDE_IN_WORDS[told.value]), "why": advised.why}
        if told.value == "both":
            said = N_("The survey says: {end}. {why}")
        elif advised.end is None:
            said = N_("The survey says: {end}. No rule gives an end. {why}")
        elif advised.end == told.value:
            said = N_("The survey says: {end}, and so does the rule. {why}")
        else:
            said = N_("The survey says: {end}. By rule it would be otherwise. {why}")
        return told.value, (told.path,), Sentence(said, values)  # type: ignore[return-value]
    if told.standing == "none there":
        return None, (told.path,), Sentence(N_("Somebody looked: no lead leaves this edge."))
    if advised.end is None and told.standing == "assumed" and told.value is not None:
        said = N_("No rule gives an end; somebody assumes it. {why}")
        return told.value, (told.path,), Sentence(said, {"why": advised.why})  # type: ignore[return-value]
    return advised.end, advised.facts, advised.why


SIDE_IN_WORDS = {"left": N_("left"), "right": N_("right"), "both": N_("both ends")}


def _settled(fact: Fact[Any], usual: Any) -> Any:
    """What the survey says, else what is usual; None where two readings disagree."""
    if fact.standing == "two readings":
        return None
    return usual if fact.value is None else fact.value


def _words(fact: Fact[Any]) -> str:
    """A fact that somebody stands for, as text; an assumption confirms nothing."""
    return str(fact.value) if fact.standing == "known" and fact.value is not None else ""


@dataclass(frozen=True, kw_only=True)
class Usual:
    """How the lead usually leaves a body on one kind of leaf."""

    exit: str | None
    from_end: float | None
    length: float | None
    fin: str | None


USUAL = {
    "sectional": Usual(exit="end", from_end=0.0, length=float(3 * FOOT), fin="outside"),
    **dict.fromkeys(
        GUIDED, Usual(exit="inside_face", from_end=float(2 * INCH), length=float(36 * INCH), fin="outside")
    ),
    "one_piece": Usual(exit="end", from_end=0.0, length=None, fin="outside"),
    "high_speed": Usual(exit=None, from_end=None, length=None, fin=None),
    "slide_gate": Usual(exit="down", from_end=0.0, length=None, fin="none"),
    "swing_gate": Usual(exit="down", from_end=0.0, length=None, fin="none"),
}
NOTHING = Usual(exit=None, from_end=None, length=None, fin=None)


def usual_of(opening: Opening) -> Usual:
    """What is usual for the kind of leaf; the lead of a gate reaches to its box and 12 in farther."""
    usual = USUAL.get(opening.door.kind.value or "", NOTHING)
    offset, height = opening.box.offset.value, opening.box.height.value
    if not opening.door.is_gate or offset is None or height is None:
        return usual
    return Usual(exit=usual.exit, from_end=usual.from_end, length=offset + height + UPRIGHT_SPARE, fin=usual.fin)
