"""The words of this chapter: circuits as the trade calls them, and why a device joins an input or does not."""

from __future__ import annotations

from typing import Any

from sillwright.base.words import N_, Sentence

DEVICE: dict[str, str] = {
    "plain": N_("plain two-wire"),
    "normally_closed": N_("normally closed contact"),
    "resistor": N_("two-wire with a resistor at its end"),
    "diode_capacitor": N_("two-wire with a diode or capacitor at its end"),
    "four_wire": N_("four-wire loop"),
    "air": N_("air"),
    "optical": N_("optical pulse"),
    "radio": N_("radio"),
    "pulse_two_wire": N_("pulsed two-wire"),
    "pulse_three_wire": N_("pulsed three-wire"),
}
INPUT: dict[str, str] = {
    "plain": N_("plain contact, normally open"),
    "normally_closed": N_("plain contact, normally closed"),
    "resistor": N_("resistor input"),
    "diode_capacitor": N_("diode or capacitor input"),
    "four_wire": N_("four-wire input"),
    "pulse_two_wire": N_("pulsed two-wire input"),
    "pulse_three_wire": N_("pulsed three-wire input"),
    "optical": N_("optical input"),
    "tested_contact": N_("contact with a self-test"),
}
BECAUSE: dict[str, str] = {
    "bare": N_("It joins directly, and helps; the operator never sees when it is gone."),
    "relay": N_("A relay turns it over for this input; the operator never sees when it is gone."),
    "no_end": N_("This input wants an element at the end of the loop, which this circuit does not have."),
    "no_loop": N_("This input wants a loop that comes back on four wires, which this circuit does not have."),
    "no_pulse": N_("This input wants pulses, which this circuit does not give."),
    "no_light": N_("This input wants a beam of light through the edge, which this circuit does not have."),
    "no_test": N_("This input tests its device before every run, and this device has nothing that could answer."),
    "turned_over": N_(
        "A normally closed contact on a normally open input reads pressed at rest and free when it is touched: "
        "a relay has to turn it over. The operator never sees when it is gone."
    ),
    "opens": N_("It joins directly; a broken wire stops the leaf, a contact that stays closed shows nowhere."),
    "end_unseen": N_(
        "It joins directly, but this input does not see the resistor: it counts as a plain device only."
    ),
    "as_contact": N_("A converter shows it to the operator as a contact, which nothing watches."),
    "same_value": N_("It joins directly where its end element has the value that the input expects."),
    "other_end": N_("This input expects another element at the end of the loop."),
    "rare": N_(
        "A converter from a resistor to four wires is rare; its instructions say whether it hands on a failure."
    ),
    "as_pulse": N_("A converter watches the edge and answers the operator in pulses."),
    "handed_on": N_("A converter stands between; its instructions say whether it hands on a failure of the edge."),
    "as_tested": N_("A converter watches the edge and answers the operator's test before every run."),
    "polarity": N_("It joins directly, the right way round."),
    "own_converter": N_("Only the converter that its maker gives with it reads this end element."),
    "pairs_joined": N_(
        "Both ends of each strip joined it works as a plain two-wire edge; the operator never sees when it is gone."
    ),
    "pairs_kept": N_("It joins directly: both strips go out and come back."),
    "air_switch": N_("The air switch joins directly; nothing shows a hose that is off or leaks."),
    "air_other": N_(
        "The other contact of the air switch joins directly; nothing shows a hose that is off or leaks."
    ),
    "air_test": N_("The air switch joins directly; only a test at the floor in every run shows that it works."),
    "lit_at_rest": N_("Light pulses are not a contact: a converter for another input is wanted."),
    "light": N_("It joins directly: the light through the edge is what the operator watches."),
    "receiver_contact": N_("The receiver shows it as a contact, which nothing watches."),
    "receiver_end": N_(
        "The receiver shows the operator an end element of its own, and takes it away for an alarm."
    ),
    "receiver": N_("The receiver answers in the circuit that this input reads."),
    "pulses_only": N_("It speaks in pulses, which this input does not read."),
    "pulse": N_("It joins directly: the operator watches its pulses."),
    "other_pulse": N_("Two-wire and three-wire pulses do not read each other."),
    "direct_here": N_("The catalogue says that this input takes it directly; practice does not know that."),
    "link_unseen": N_("This radio link does not check itself: nobody sees when nothing arrives."),
    "told_between": N_("What stands between is not in the catalogue; its instructions say what it gives."),
    "not_taken": N_("What stands between does not take this circuit."),
    "gives_other": N_("What stands between gives another circuit than this input reads."),
}
"""By the word that a field of the table gives."""
ONLY_LISTED = N_(
    "It counts as monitored only where the operator's instructions list the whole chain, link by link."
)


def circuit(name: str | None, *, of_input: bool = False) -> Sentence:
    """A circuit in words."""
    table = INPUT if of_input else DEVICE
    return Sentence(table[name]) if name in table else Sentence(N_("circuit not known"))


def because(name: str) -> Sentence:
    """Why a device joins an input so."""
    return Sentence(BECAUSE[name])


def said(template: str, **values: Any) -> Sentence:
    """A marked sentence with its values."""
    return Sentence(template, values)
