"""What calculations, their inputs and the words of their choices are called on the pages."""

from __future__ import annotations

import re

from django.utils.functional import Promise
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from sillwright.base.words import Reader, translate

Words = str | Promise

NAMES: dict[str, Words] = {
    "approach": _("Approach distance"),
    "contact": _("Contact"),
    "contact_spread": _("Contact with ranges"),
    "impact": _("Impact"),
    "overtravel": _("Overtravel"),
    "performance_level": _("Performance level"),
    "risk_level": _("Risk level"),
}

QUESTIONS: tuple[Words, ...] = (
    _("How far from the leaf does a device have to see someone?"),
    _("How hard and how long a closing leaf presses on what it meets."),
    _("What a contact comes to while inputs are ranges, and which of them is worth measuring."),
    _("How hard a moving mass presses on a linear spring, in closed form."),
    _("How much overtravel an edge has to have, and whether it has it."),
    _("Which performance level does the risk graph require of a safeguard?"),
    _("How grave is a scenario of harm, from the probability of its steps and its severity?"),
)
"""The first lines of the calculations' own descriptions, marked here for translation."""

LABELS: dict[str, Words] = {
    "performance_level.severity": _("How bad the injury would be"),
    "performance_level.exposure": _("How often, or how long, somebody is there"),
    "performance_level.avoidance": _("Whether the harm can be avoided"),
    "risk_level.severity": _("How bad it ends"),
    "risk_level.steps": _("Probability of each step, 0 to 1"),
    "approach.method": _("What sees the person, and which formula"),
    "contact_spread.base": _("The contact"),
    "contact_spread.ranges": _("The inputs that are ranges; each replaces the number above"),
    "contact_spread.ranges.name": _("Input"),
    "contact_spread.ranges.low": _("least"),
    "contact_spread.ranges.high": _("greatest"),
    "contact_spread.ranges.kind": _("spread"),
    "curve.x": _("travel"),
    "curve.y": _("force"),
}

SHORT: dict[str, Words] = {
    "What happens after the edge has answered": _("After the answer"),
    "What the leaf meets": _("Obstruction"),
}
"""Titles of groups where they stand before the name of a field."""

CHOICES: dict[str, Words] = {
    "iso13855-normal": _("Curtain, walked into or reached through – ISO 13855"),
    "iso13855-beams": _("Two or more separate beams – ISO 13855"),
    "iso13855-single-beam": _("One single beam – ISO 13855"),
    "iso13855-parallel": _("Field along the floor – ISO 13855"),
    "iso13855-mat": _("Mat that is stepped on – ISO 13855"),
    "iso13855-two-hand": _("Two-hand control, hold-to-run at a distance – ISO 13855"),
    "osha-1910-217": _("Hands at a press – 29 CFR 1910.217"),
    "b11-19": _("Curtain, hands at a machine – ANSI B11.19"),
    "impact-free": _("Nothing: it coasts"),
    "impact-driven": _("A constant force, from the touch on"),
    "impact-held-speed": _("A stiff drive that holds the speed"),
    "impact-two-bodies": _("Nothing: both bodies are free"),
    "S1": _("S1 slight"),
    "S2": _("S2 serious"),
    "F1": _("F1 seldom"),
    "F2": _("F2 often or long"),
    "P1": _("P1 possible"),
    "P2": _("P2 hardly possible"),
    "approach.edition.": _("both"),
    "uniform": _("evenly"),
    "log_uniform": _("in ratios"),
    "edge.force_scale": _("Sensing edge: its forces, times"),
    "edge.stretch": _("Sensing edge: its travels, times"),
    "risk_level.severity.1": _("1 first aid"),
    "risk_level.severity.2": _("2 emergency visit"),
    "risk_level.severity.3": _("3 hospital"),
    "risk_level.severity.4": _("4 fatal"),
    "low": _("low"),
    "medium": _("medium"),
    "high": _("high"),
    "serious": _("serious"),
    "true": _("yes"),
    "false": _("no"),
}

ASIDE = {"case", "trace", "branch"}
"""Fields of cases and results that are shown in another form, or not at all."""

_ASIDE = re.compile(r"[;:,] ")
_NULL = re.compile(r"[;,] null(?: =| where) (.+)$")


def name_of(calculation: str) -> str:
    """What a calculation is called.

    >>> name_of("some_thing")
    'Some thing'
    """
    return str(NAMES.get(calculation) or calculation.replace("_", " ").capitalize())


def question_of(title: str) -> str:
    """What a calculation answers, in the reader's language."""
    return gettext(title)


def label_of(title: str, reader: Reader) -> str:
    """The title of a field, without what it says of an empty one.

    >>> label_of("Stiffness; null = rigid", Reader())
    'Stiffness'
    """
    return _NULL.sub("", translate(title, reader))


def short_label(title: str, reader: Reader) -> str:
    """The title of a field as short as an axis or a heading needs it.

    >>> short_label("Deceleration; this or the stopping time", Reader())
    'Deceleration'
    """
    return str(SHORT.get(title) or _ASIDE.split(label_of(title, reader))[0])


def empty_means(title: str, reader: Reader) -> str:
    """What an empty field stands for, as its title says it.

    >>> empty_means("Stiffness; null = rigid", Reader()), empty_means("Mass", Reader())
    ('rigid', '')
    """
    found = _NULL.search(translate(title, reader))
    return found[1] if found else ""


def choice_word(word: str, *owners: str) -> str:
    """What a word of a choice is called; ``owners`` are the paths under which it may have a name of its own."""
    for owner in owners:
        if (found := CHOICES.get(f"{owner}.{word}")) is not None:
            return str(found)
    return str(CHOICES.get(word, word))
