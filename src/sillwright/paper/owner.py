"""The first page: what each opening comes to, what to do first, and the cautions, in words for the owner."""

from __future__ import annotations

from typing import Any

from sillwright.base.finding import LEVEL_IN_WORDS, LEVELS, Finding
from sillwright.base.words import N_
from sillwright.paper.hookup_page import wired_for_the_owner
from sillwright.paper.voice import Voice
from sillwright.study.model import OpeningStudy, SiteStudy

CAUTIONS = (
    N_("Work on springs, cables and operators is for trained technicians, with power locked out."),
    N_("Never stand under a moving leaf. Test with two people and a full view of the opening."),
    N_("Fire doors are tested by qualified persons."),
    N_(
        "The operator's instructions, the listed system and the authority having jurisdiction decide. "
        "This paper is an aid to a qualified person, not an approval."
    ),
    N_("What is not known never counts as met."),
)
LONGEST_NAME = 120


def owner_page(study: SiteStudy, voice: Voice) -> dict[str, Any]:
    """The data of the owner's page."""
    return {
        "summary": _summary(study, voice),
        "counts": _counts(study, voice),
        "rows": [_row(each, voice) for each in study.openings],
        "enforced": _enforced(study, voice),
    }


def _summary(study: SiteStudy, voice: Voice) -> str:
    answers = [each.duty.powered_closing for each in study.openings]
    if len(answers) == 1:
        return {
            "yes": voice(N_("This leaf may close under power without someone holding the control, as it stands.")),
            "no": voice(N_("This leaf may not close under power unless someone holds the control.")),
            "unknown": voice(N_("Whether this leaf may close under power is not known yet.")),
        }[answers[0]]
    return voice(
        N_(
            "Of {count} openings, {yes} may close under power without someone holding the control, as they stand; "
            "{no} may not; for {unknown} it is not known yet."
        ),
        count=len(answers),
        yes=answers.count("yes"),
        no=answers.count("no"),
        unknown=answers.count("unknown"),
    )


def _counts(study: SiteStudy, voice: Voice) -> str:
    found = [finding.level for each in study.openings for finding in each.findings]
    parts = [f"{voice.word(LEVEL_IN_WORDS[level])} {found.count(level)}" for level in LEVELS]
    return voice(N_("Findings: {counts}."), counts=" · ".join(parts))


def _row(study: OpeningStudy, voice: Voice) -> dict[str, Any]:
    first = first_to_do(study.findings)
    return {
        "tag": short(study.opening.tag.value),
        "name": short(study.opening.name.value),
        "headline": voice.of(study.headline),
        "level": first.level if first else "",
        "level_word": voice.word(LEVEL_IN_WORDS[first.level]) if first else "",
        "first": _to_do(first, study, voice),
        "wired": wired_for_the_owner(study, voice),
    }


def first_to_do(findings: tuple[Finding, ...]) -> Finding | None:
    """The heaviest finding that asks for something to be done."""
    return next((each for each in findings if each.level != "good" and each.do), None)


def _to_do(first: Finding | None, study: OpeningStudy, voice: Voice) -> str:
    if first:
        return voice.of(first.do)
    if study.unknown:
        return voice(N_("Find out what is still asked on the technician's page."))
    return voice(N_("Nothing was found that has to be done first."))


def _enforced(study: SiteStudy, voice: Voice) -> list[dict[str, str]]:
    found: dict[tuple[str, str], dict[str, str]] = {}
    for each in study.openings:
        for text in each.duty.enforced:
            who, what = voice.of(text.who), voice.of(text.what)
            found.setdefault((who, what), {"who": who, "what": what, "source": voice.cite(text.source)})
    return list(found.values())


def short(words: str | None, most: int = LONGEST_NAME) -> str:
    """A name as a heading can carry it."""
    text = words or ""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"
