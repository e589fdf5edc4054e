"""What calculations, their inputs and the words of their choices are called on the pages."""

from __future__ import annotations

import re

from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from sillwright.base.words import Reader, translate
from sillwright.web.workbench.choices import CHOICES, Words

NAMES: dict[str, Words] = {
    "approach": _("Approach distance"),
    "contact": _("Contact"),
    "contact_spread": _("Contact with ranges"),
    "cord": _("Coiled cord"),
    "cutlist": _("Cut list"),
    "diagnose": _("Diagnosis"),
    "faults": _("Faults of a loop"),
    "floor": _("Floor"),
    "impact": _("Impact"),
    "length": _("Edge length"),
    "loop_reading": _("What hangs there"),
    "margin": _("Circuit margin"),
    "overtravel": _("Overtravel"),
    "performance_level": _("Performance level"),
    "radio": _("Radio link"),
    "risk_level": _("Risk level"),
    "wire": _("Wire"),
}

QUESTIONS: tuple[Words, ...] = (
    _("How far from the leaf does a device have to see someone?"),
    _("How hard and how long a closing leaf presses on what it meets."),
    _("What a contact comes to while inputs are ranges, and which of them is worth measuring."),
    _("Which coiled cord reaches from the box to the lead over the whole travel, and where the box is best."),
    _("Which bars to buy, and how to cut them, so that the stock costs least?"),
    _("What is likely wrong with a door by what was told, and which step comes next."),
    _("How uneven is the floor, which profile seals on it, and what is the first cure where none does?"),
    _("How long the edge of a leaf is: body, sensing and channel length, pieces, and the strip its ends leave."),
    _("How hard a moving mass presses on a linear spring, in closed form."),
    _("What an input reads from a loop in each state, how far that is from its thresholds, and what would eat it."),
    _("How much overtravel an edge has to have, and whether it has it."),
    _("Which performance level does the risk graph require of a safeguard?"),
    _("How grave is a scenario of harm, from the probability of its steps and its severity?"),
    _("What an operator sees of everything that can be wrong with a circuit, and what the leaf then still feels."),
    _("What hangs there: the circuits that fit the readings of a meter, what is still open, and what settles it."),
    _(
        "What a radio link loses on its way, what margin is left with the leaf open, "
        "and how long its battery lasts."
    ),
    _("What a copper wire of a gauge resists: one conductor, and a pair out and back."),
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
    "cord.stock.retracted": _("retracted"),
    "cord.stock.extended": _("rated, drawn out"),
    "cord.stock.conductors": _("conductors"),
    "cord.reel_cables": _("Cable lengths of the reels that can be had; none = those of the trade"),
    "cutlist.pieces.length": _("length"),
    "cutlist.pieces.count": _("how many"),
    "cutlist.pieces.label": _("what it is for"),
    "cutlist.pieces.construction": _("what it is"),
    "cutlist.stock.name": _("name"),
    "cutlist.stock.length": _("length"),
    "cutlist.stock.cost": _("cost of one"),
    "cutlist.stock.count": _("how many"),
    "cord.obstacles": _("Heights of hooks and beams beside the opening"),
    "result.cost": _("Cost of the stock"),
    "result.first_fit_cost": _("Cost with the longest pieces put first, to compare"),
    "result.slope": _("Slope of the best line, positive where it rises to the right"),
    "bars.name": _("Stock"),
    "bars.length": _("Length"),
    "bars.cuts": _("Pieces, from its start on"),
    "bars.off_cut": _("Left over"),
    "bars.kept": _("Back to stock"),
    "diagnose.answers.test": _("test"),
    "diagnose.answers.outcome": _("answer"),
    "diagnose.facts.fact": _("fact"),
    "diagnose.facts.value": _("value"),
    "loop_reading.readings.at": _("read at"),
    "loop_reading.readings.pressed": _("edge pressed"),
    "loop_reading.readings.swapped": _("probes swapped"),
    "loop_reading.readings.between": _("between"),
    "loop_reading.readings.diode_test": _("diode test"),
    "loop_reading.readings.ohm": _("ohms"),
    "loop_reading.readings.volt": _("volts"),
    "loop_reading.readings.over_range": _("showed OL"),
    "loop_reading.readings.steady": _("it"),
    "floor.points": _("Points along the landing line, inside looking out"),
    "floor.points.x": _("from left jamb"),
    "floor.points.y": _("what was read"),
    "floor.profiles.name": _("name"),
    "floor.profiles.height": _("free height"),
    "floor.profiles.actuation_travel": _("answers after"),
    "floor.profiles.fin": _("its fin takes up"),
    "floor.profiles.curves": _("force over travel by temperature, like “20 degC: 0 mm 0 N, 6 mm 45 N; 0 degC: …”"),
}

SHORT: dict[str, Words] = {
    "What happens after the edge has answered": _("After the answer"),
    "What the leaf meets": _("Obstruction"),
}
"""Titles of groups where they stand before the name of a field."""

ASIDE = {"case", "trace", "branch", "effort"}
"""Fields of cases and results that are shown in another form, or not at all; no page works longer than usual."""

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
