"""The words of answers, origins, lists and groups, as a person at a door reads them."""

from __future__ import annotations

from collections.abc import Mapping

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from sillwright.base.words import Reader, translate
from sillwright.survey.questions import pattern_of

Text = str | Promise
Words = Mapping[str, Text]

_SIDES: Words = {
    "left": _("Left"),
    "right": _("Right"),
    "both": _("Both ends"),
    "in": _("Inwards"),
    "out": _("Outwards"),
}
_FACES: Words = {"inside": _("Inside"), "outside": _("Outside")}
_LEAVES: Words = {
    "sectional": _("Sectional: panels on tracks"),
    "rolling": _("Rolling curtain"),
    "grille": _("Rolling grille"),
    "rolling_fire": _("Rolling fire door"),
    "high_speed": _("High-speed fabric"),
    "one_piece": _("One-piece"),
    "slide_gate": _("Slide gate"),
    "swing_gate": _("Swing gate"),
}
_CIRCUITS: Words = {
    "plain": _("Plain contact"),
    "normally_closed": _("Contact, normally closed"),
    "resistor": _("Resistor at its end"),
    "diode_capacitor": _("Diode and capacitor"),
    "four_wire": _("Four wires"),
    "air": _("Air"),
    "optical": _("Optical"),
    "radio": _("Radio"),
    "pulse_two_wire": _("Pulse, two wires"),
    "pulse_three_wire": _("Pulse, three wires"),
    "tested_contact": _("Contact that the operator tests"),
}
_PEOPLE: Words = {
    "adult": _("Adult"),
    "child": _("Child"),
    "wheelchair": _("Wheelchair"),
    "bicycle": _("Bicycle"),
    "car": _("Car"),
    "van": _("Van"),
    "bus": _("Bus"),
    "truck": _("Truck"),
    "forklift": _("Forklift"),
    "trailer": _("Trailer"),
    "pallet_truck": _("Pallet truck"),
    "animal": _("Animal"),
}
_CONTROL: Words = {"fixed": _("Fixed to the building"), "portable": _("Carried")}
FLAG: Words = {"yes": _("Yes"), "no": _("No")}
DEVICES: Words = {
    "sensing_edge": _("Sensing edge"),
    "air_edge": _("Air edge"),
    "photo_eye": _("Photo-eye"),
    "light_curtain": _("Light curtain"),
    "presence": _("Presence sensor"),
    "motion": _("Motion sensor"),
    "loop": _("Loop detector"),
    "inherent": _("Force sensing in the operator"),
    "guard": _("Guard"),
}
_ANSWERS: Mapping[str, Words] = {
    "site.units": {"us": _("Feet and inches"), "metric": _("Metric")},
    "door.kind": _LEAVES,
    "door.second_leaf.kind": _LEAVES,
    "door.occupancy": {"commercial": _("Commercial"), "residential": _("Residential")},
    "door.lift": {
        "standard": _("Standard lift"),
        "high": _("High lift"),
        "vertical": _("Vertical lift"),
        "follows_roof": _("Follows the roof"),
    },
    "door.bottom.material": {
        "wood": _("Wood"),
        "steel": _("Steel"),
        "aluminium": _("Aluminium"),
        "insulated": _("Insulated, metal over foam"),
    },
    "door.mounted": _FACES,
    "door.second_leaf.mounted": _FACES,
    "door.opens": {**_SIDES, "left": _("To the left"), "right": _("To the right")},
    "door.meets": {"overlaps": _("Overlaps the opening"), "between_jambs": _("Closes between the jambs")},
    "door.bottom.channel": {"t_slot": _("Two T-slots"), "c_channel": _("C-channel"), "clip_strip": _("Clip strip")},
    "operator.kind": {
        "trolley": _("Trolley"),
        "jackshaft": _("Jackshaft"),
        "hoist": _("Hoist"),
        "chain": _("Chain-driven"),
        "rail": _("Rail"),
        "arm": _("Arm"),
        "ram": _("Ram"),
        "barrel": _("In the barrel"),
    },
    "operator.wall": _FACES,
    "operator.closing_control": {
        "held": _("Held all the way"),
        "momentary": _("One tap"),
        "timer": _("A timer"),
        "automatic": _("A sensor or loop"),
        "unattended": _("From far away"),
    },
    "operator.gate_class": {"I": _("Class I"), "II": _("Class II"), "III": _("Class III"), "IV": _("Class IV")},
    "operator.inputs.*.circuit": _CIRCUITS,
    "operator.controls.*.kind": _CONTROL,
    "controls.*.kind": _CONTROL,
    "protection.*.kind": DEVICES,
    "protection.*.circuit": _CIRCUITS,
    "protection.*.joined": {
        "end_to_end": _("End to end, in one loop"),
        "side_by_side": _("Side by side"),
        "own_wires": _("Each with wires of its own"),
    },
    "protection.*.end_element_at": {"far_end": _("Far end")},
    "protection.*.state": {
        "works": _("Works"),
        "dead": _("Dead"),
        "missing": _("Missing"),
        "torn_off": _("Torn off"),
        "defeated": _("Defeated"),
        "unknown": _("Not tried"),
    },
    "protection.*.carries": {"near": _("Near end"), "far": _("Far end")},
    "use.traffic.*.who": _PEOPLE,
    "use.intended.*.who": _PEOPLE,
    "use.users": {
        "trained": _("Trained people"),
        "trained_public": _("Trained people where the public passes"),
        "public": _("The public"),
    },
    "as_found": {
        "closes_by_tap": _("Closes by a tap"),
        "only_held": _("Closes only while held"),
        "not_at_all": _("Does not close under power"),
        "closes_on_objects": _("Closes on objects"),
    },
    "floor.read_as": {"heights": _("Heights, up is high floor"), "gaps_below_level": _("Gaps down from a level")},
    "zones.*.direction": {"opening": _("Opening"), "closing": _("Closing"), "both": _("Both")},
    "tests.*.result": {"met": _("Met"), "not met": _("Not met"), "not tested": _("Not tested")},
}


def named_answer(path: str, word: str) -> str:
    """A word that answers a fact, as it stands on a button; a word that nobody has named stays as it is.

    >>> named_answer("protection.e1.state", "torn_off"), named_answer("lead.exit", "inside face")
    ('Torn off', 'inside face')
    """
    pattern = pattern_of(path)
    sided = pattern.endswith((".side", ".end", ".operator_side"))
    named = _ANSWERS.get(pattern) or (_SIDES if sided else {})
    return str(named.get(word, word))


def on_a_button(path: str, word: str, reader: Reader) -> str:
    """The same with a capital letter; an offer of a question in the reader's language."""
    named = named_answer(path, word)
    shown = translate(word.replace("_", " "), reader) if named == word else named
    return shown[:1].upper() + shown[1:]


ORIGINS: Words = {
    "measured": _("Measured"),
    "plate": _("Plate"),
    "instructions": _("Instructions"),
    "photo": _("Photo"),
    "support": _("Support"),
    "told": _("Told"),
    "assumed": _("Assumed"),
}
"""Where a fact comes from, as it stands on a button."""

FROM: Words = {
    "measured": _("measured"),
    "plate": _("read from the plate"),
    "instructions": _("read in the instructions"),
    "photo": _("seen on a photo"),
    "support": _("told by support"),
    "told": _("told"),
    "assumed": _("assumed"),
    "": _("origin not recorded"),
}
"""Where a fact comes from, inside a sentence."""

GROUPS: Words = {
    "door": _("The leaf and its opening"),
    "bottom": _("The bottom edge"),
    "operator": _("The operator"),
    "lead": _("Lead, cord and box"),
    "devices": _("Protective devices"),
    "stations": _("Stations, controls and converters"),
    "use": _("Who passes, and how often"),
    "around": _("Floor and surroundings"),
    "record": _("Tests, readings and what was said"),
}
"""What the groups of all facts are called, in the order in which they stand."""
