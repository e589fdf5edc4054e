"""The opening's headline: its answer as one sentence that an owner understands."""

from __future__ import annotations

from sillwright.base.words import N_, Sentence
from sillwright.duty import Duty
from sillwright.duty.held import TRAINED_ONLY
from sillwright.study.why import fact_in_words
from sillwright.survey.model import Opening

NO = N_("This leaf may close under power only while someone holds the control in full view.")
NO_GATE = N_("This gate may move under power only while someone holds a fixed control in full view.")
NO_EUROPE = N_(
    "This leaf may close under power only while a trained person, never the public, holds the control in full view."
)
NO_GATE_EUROPE = N_(
    "This gate may move under power only while a trained person, never the public, holds a fixed control in full view."
)
YES = N_("By the facts taken down, this leaf may close under power without someone holding the control.")
YES_OLD = N_(
    "This older installation may close under power as it did when it was made; its devices may die unseen, so every visit tests them."
)
TROUBLE = {
    "duty.temporary_part": N_(
        "A temporary part is in place: this leaf may not close by itself until it is out and tested."
    ),
    "duty.defeated": N_(
        "A protective device has been defeated: this leaf may not close by itself until it is restored and tested."
    ),
    "duty.device_not_working": N_(
        "A protective device does not work: this leaf may not close by itself until it is repaired and tested."
    ),
    "duty.reading": N_(
        "A reading shows a protective device that does not work: this leaf may not close by itself until it is repaired and tested."
    ),
    "duty.test_not_met": N_(
        "A protective device failed its test: this leaf may not close by itself until it is repaired and tested."
    ),
    "duty.closes_on_objects": N_("This leaf closes on objects: take it out of powered closing today."),
}
UNKNOWN = N_("Whether this leaf may close under power is not known: ask for {facts}.")
UNKNOWN_MANY = N_(
    "Whether this leaf may close under power is not known: ask first for {facts}, then for {count} more facts."
)
NO_RULES = N_(
    "No rules are known here for this place: until someone who knows them has answered, let it close only while held in full view."
)
FIRST = 3


def headline(opening: Opening, duty: Duty) -> Sentence:
    """The answer on powered closing as one sentence."""
    found = {finding.id for finding in duty.findings}
    trouble = next((text for name, text in TROUBLE.items() if name in found), None)
    if trouble and duty.powered_closing == "no":
        return Sentence(trouble)
    if duty.no_rules:
        return Sentence(NO_RULES)
    if duty.powered_closing == "yes":
        old = "duty.older_installation" in found and not any(each.monitored == "yes" for each in duty.devices)
        return Sentence(YES_OLD if old else YES)
    if duty.powered_closing == "no":
        return Sentence(_no(opening.door.is_gate, duty.regime == TRAINED_ONLY))
    first = [fact_in_words(opening, path) for path in duty.deciding_facts[:FIRST]]
    more = len(duty.deciding_facts) - FIRST
    if more > 0:
        return Sentence(UNKNOWN_MANY, {"facts": first, "count": more})
    return Sentence(UNKNOWN, {"facts": first})


def _no(gate: bool, trained_only: bool) -> str:
    if trained_only:
        return NO_GATE_EUROPE if gate else NO_EUROPE
    return NO_GATE if gate else NO
