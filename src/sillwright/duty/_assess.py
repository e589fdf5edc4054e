"""May this leaf close under power, which facts decide, and what do the rules ask?"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace

from sillwright.base.expression import And, Compare, Const, Not, Or, Path, Quantified, parse
from sillwright.base.finding import Finding, by_weight
from sillwright.base.logic import Diagram, Diagrams, Kleene, TooManyWays, support
from sillwright.base.rule import Evaluator, Rule
from sillwright.base.source import Source
from sillwright.base.words import Sentence
from sillwright.duty import rulebook
from sillwright.duty.devices import answer_of, device_standings, place_of
from sillwright.duty.facts import OpeningFacts, rank
from sillwright.duty.findings import duty_findings
from sillwright.duty.model import Answer, Duty, Enforced, RuleVerdict, Verdict
from sillwright.duty.resting import gives, rests_on
from sillwright.duty.rulebook import Regime
from sillwright.survey.model import Opening, Site

_DEFEATED = parse("defeated()")


@dataclass(frozen=True)
class Judge:
    """One opening with both ways of reasoning about it."""

    facts: OpeningFacts
    exact: Evaluator[Diagram]
    kleene: Evaluator[bool | None]

    @classmethod
    def of(cls, site: Site, opening: Opening) -> Judge:
        """The judge of an opening."""
        facts = OpeningFacts(site, opening, rulebook.thresholds())
        definitions = rulebook.definitions()
        return cls(facts, Evaluator(facts, Diagrams(), definitions), Evaluator(facts, Kleene(), definitions))


def assess(site: Site, opening: Opening) -> Duty:
    """What the rules ask of an opening, and whether its leaf may close under power as it stands today.

    The answer is yes (no) when every combination of values of the unknown facts gives yes (no), thresholds
    splitting ranges; else unknown, with the facts that decide. A single rule is evaluated by Kleene's logic.
    Valid for the places that the rule tables name; elsewhere the answer is unknown and ``no_rules`` is set.

    Source: the documents that stand beside each rule in ``data/rules.toml``, each with how sure it is.
    """
    judge = Judge.of(site, opening)
    no_rules = not rulebook.known_at(site)
    answer, deciding = _settled(judge)
    if no_rules:
        answer, deciding = ("no" if answer == "no" and _whatever_else(judge) else "unknown"), ()
    governing = next((each for each in rulebook.regimes() if judge.kleene.value(_applies(each)) is True), None)
    regime = governing.id if governing else None
    verdicts = tuple(_verdict(judge, rule) for rule in rulebook.rules())
    devices = device_standings(judge.kleene, opening)
    found = duty_findings(site, opening, answer, regime, verdicts, devices)
    return Duty(
        powered_closing=answer,
        regime=regime,
        deciding_facts=deciding,
        deciding_sets=(deciding,) if deciding else (),
        no_rules=no_rules,
        rules=verdicts,
        devices=devices,
        enforced=_enforced(site, opening, regime),
        findings=by_weight(_resting(each, judge, (answer, deciding, governing)) for each in found),
    )


def _resting(finding: Finding, judge: Judge, duty: tuple[Answer, tuple[str, ...], Regime | None]) -> Finding:
    """The finding on the answer with the facts that give it; while it is not known, with those that decide it."""
    answer, deciding, regime = duty
    if finding.id != "duty.powered_closing":
        return finding
    if answer == "unknown":
        return replace(finding, facts=deciding)
    here = () if regime is None else (_applies(regime), regime.allows)
    return replace(finding, facts=gives(judge.facts, judge.kleene, And((Not(_DEFEATED), *here))))


def _applies(regime: Regime) -> And:
    country = Compare("in", Path(("site", "country")), Const(regime.where))
    return And((country, regime.when))


def _closing() -> And:
    """What lets a leaf close under power anywhere: nothing defeated, and the rules of its place allow it."""
    allowed = Or(tuple(And((_applies(each), each.allows)) for each in rulebook.regimes()))
    return And((Not(_DEFEATED), allowed))


def _whatever_else(judge: Judge) -> bool:
    return judge.kleene.value(_DEFEATED) is True


def _settled(judge: Judge) -> tuple[Answer, tuple[str, ...]]:
    """The answer and the facts that decide it, exact; where too much is entangled, what three values can tell."""
    try:
        outcome = judge.exact.value(_closing())
        facts = {each.fact for each in support(outcome)}
        answer = _answer(outcome)
    except TooManyWays:
        answer = answer_of(judge.kleene.value(_closing()))
        algebra = judge.exact.algebra
        facts = {each.fact for each in algebra.variables} if isinstance(algebra, Diagrams) else set()
    if answer != "unknown":
        return answer, ()
    return answer, tuple(sorted(facts, key=lambda fact: (rank(fact), fact)))


def _answer(outcome: Diagram) -> Answer:
    return {True: "yes", False: "no"}.get(outcome, "unknown") if isinstance(outcome, bool) else "unknown"  # type: ignore[return-value]


def judge_rule(judge: Judge, rule: Rule) -> Verdict:
    """The verdict of one rule, by Kleene's logic."""
    when = judge.kleene.value(rule.when)
    if when is False:
        return "not applicable"
    holds = judge.kleene.value(rule.holds)
    if when is None or holds is None:
        return "unknown"
    return "holds" if holds else "fails"


def _verdict(judge: Judge, rule: Rule) -> RuleVerdict:
    verdict = judge_rule(judge, rule)
    waits: tuple[str, ...] = ()
    if verdict == "unknown":
        with suppress(TooManyWays):
            parts = [judge.exact.value(part) for part in (rule.when, rule.holds, And((rule.when, rule.holds)))]
            waits = tuple(dict.fromkeys(each.fact for part in parts for each in support(part)))
    return RuleVerdict(
        id=rule.id,
        asks=Sentence(rule.asks),
        verdict=verdict,
        source=rule.source,
        remedy=Sentence(rule.remedy) if rule.remedy else None,
        facts=waits,
        rests_on=rests_on(judge.facts, judge.kleene, rule) if verdict == "fails" else (),
        place=_culprit(judge, rule) or _general_place(rule) if verdict == "fails" else None,
    )


def _culprit(judge: Judge, rule: Rule) -> str | None:
    """The device or zone that a rule fails at, or that it speaks of."""
    for part, wanted in ((rule.holds, False), (rule.when, True)):
        if isinstance(part, Quantified):
            for item in judge.facts.members(part.over, {}).options[0]:
                if judge.kleene.bind(**{part.name: item}).value(part.body) is wanted:
                    return place_of(item)
    return None


def _general_place(rule: Rule) -> str | None:
    return "bottom" if rule.place == "protection" else "zone.0" if rule.place == "zone" else rule.place


def _enforced(site: Site, opening: Opening, regime: str | None) -> tuple[Enforced, ...]:
    return tuple(
        Enforced(who=Sentence(row["who"]), what=Sentence(row["what"]), source=Source(**row["source"]))
        for row in rulebook.enforced()
        if regime in row["regimes"]
        and site.country.value in row.get("countries", [site.country.value])
        and opening.door.kind.value in row.get("kinds", [opening.door.kind.value])
    )
