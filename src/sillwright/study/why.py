"""Facts in words, and why each is worth asking."""

from __future__ import annotations

import re

from sillwright.base.words import N_, Sentence
from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Group, GroupSpec, Spec

WHY = {
    "door.kind": N_("the kind of leaf decides which rules apply"),
    "door.occupancy": N_("residential and commercial doors follow different rules"),
    "operator.made": N_("operators made since 29 August 2010 (gates: 12 January 2016) need watched devices"),
    "operator.board_made": N_("a newer board follows its own instructions"),
    "operator.instructions": N_("a list of devices counts only when title, page, reader and date are recorded"),
    "operator.lists_devices": N_("a watched device counts only where the operator's instructions list it"),
    "operator.closing_control": N_(
        "a leaf that closes by itself asks for more than one that somebody closes in view"
    ),
    "operator.station_in_view": N_("without devices that see, only a person in view of the leaf protects"),
    "operator.warning": N_("unattended closing needs a warning that is heard and seen for 5 s"),
    "operator.kind": N_("it decides whether the drive pushes or the leaf's weight presses"),
    "operator.force_limit": N_("it decides how hard the drive goes on pressing"),
    "protection": N_("what protects here decides whether power closing is allowed"),
    "protection.*.state": N_("a device that is not watched counts only when it has been tried"),
    "protection.*.circuit": N_("a plain circuit is never watched"),
    "protection.*.model": N_("without its name nobody can find it in the operator's instructions"),
    "protection.*.through": N_("every link between device and operator must be listed"),
    "protection.*.height": N_("a photo-eye protects a person on the floor only up to 6 in (152 mm) high"),
    "stations": N_("a station that closes without a view of the leaf counts, not only the first"),
    "zones": N_("each zone of a gate needs two unlike means, in both directions"),
    "tests": N_("a test that was not met stands until a later one is; in Europe a force record shows the force"),
    "use.users": N_("the public asks for more protection than trained users"),
    "use.public": N_("the public asks for more protection than trained users"),
    "door.closing_speed": N_("the force of a touch grows with the speed"),
    "door.leaf_mass": N_("the force of a touch and the lasting force grow with the weight"),
    "door.moving_mass": N_("the force of a touch grows with the moving mass"),
    "operator.deceleration": N_("a leaf that stops later presses harder and longer"),
    "operator.reaction": N_("a leaf that stops later presses harder and longer"),
    "operator.dwell": N_("a leaf that rests longer presses longer"),
    "door.opening_speed": N_("it says how soon the leaf lets go, and it is limited at one-piece leaves"),
    "site.coldest": N_("an edge grows stiff in the cold"),
    "operator.exposed_height": N_("moving parts below 8 ft (2.44 m) are guarded"),
    "operator.guarded": N_("moving parts below 8 ft (2.44 m) are guarded"),
    "operator.listed_to": N_("codes ask for listed equipment"),
    "operator.gate_class": N_("the class says whom the gate may serve"),
    "door.last_drop_test": N_("a fire door is drop-tested every year"),
    "door.fire_label": N_("parts of a labelled door come through its maker"),
    "door.underside": N_("a gap between 4 and 16 in (102 and 406 mm) under a swing gate is an entrapment zone"),
    "operator.inputs": N_("which wires go where depends on what each input reads"),
    "operator.inputs.*.circuit": N_("a device joins only an input that reads its circuit"),
    "operator.inputs.*.resistance": N_("the end element in the edge has the value that the input expects"),
    "operator.model": N_("by its class the catalogue knows its inputs, their terminals and its accessory supply"),
    "converters": N_("a converter takes an input, a home and part of the accessory supply"),
    "protection.*.input": N_("what a device does depends on the terminal that it is joined to"),
    "protection.*.joined": N_(
        "end to end in one loop a cut is seen; side by side one device answers for the other"
    ),
    "protection.*.resistance": N_("it has to be the value that the input expects, and readings are judged by it"),
    "mesh": N_("no limb may pass through a moving gate or the fence it covers"),
    "as_found": N_("a leaf that closes on objects must stop today"),
    "temporary_parts": N_("a temporary part left in takes the protection away"),
    "defeats": N_("what people did to a device takes the protection away"),
}
WAITED_FOR = N_("a rule that applies here waits for it")


def pattern(path: str) -> str:
    """A fact's path without the names of list members: ``protection.*.state``."""
    plain = re.sub(r"\[\d+\]", ".*", path)
    return re.sub(r"^protection\.(?!\*)[^.]+", "protection.*", plain)


def why(path: str) -> Sentence:
    """Why a fact is worth asking, in one line."""
    plain = pattern(path)
    while plain:
        if plain in WHY:
            return Sentence(WHY[plain])
        plain = plain.rpartition(".")[0]
    return Sentence(WAITED_FOR)


THE = N_("the {what}")
THE_DEVICE = N_("the {what} of device {name}")
THE_MEMBER = N_("the {what} of {list} number {number}")
OF_DEVICE = {
    "model": N_("the name on device {name}"),
    "through": N_("what stands between device {name} and the operator"),
    "input": N_("the operator input that device {name} is joined to"),
    "resistance": N_("the value of the end element in device {name}"),
    "state": N_("whether device {name} works"),
}
OF_MEMBER = {
    "stations.closes": N_("whether station number {number} closes the leaf"),
    "stations.in_view": N_("whether the leaf is in view from station number {number}"),
    "controls.closes": N_("whether control number {number} closes the leaf"),
    "operator.inputs.name": N_("the name of input number {number} of the operator"),
    "operator.inputs.circuit": N_("what input number {number} of the operator reads"),
    "operator.inputs.resistance": N_("the end element that input number {number} of the operator expects"),
    "zones.direction": N_("in which direction zone number {number} catches"),
}
WHOLE = {
    "protection": N_("the protective devices there"),
    "zones": N_("the entrapment zones of the gate and the means at each"),
    "tests": N_("the results of its tests, in Europe with a force record"),
    "stations": N_("all stations that close it"),
    "operator.inputs": N_("the operator's inputs for protective devices"),
    "operator.model": N_("the class or name on the operator's plate"),
    "converters": N_("the converters between devices and operator"),
    "operator.instructions": N_("the operator's instructions, with title, page, reader and date"),
    "operator.made": N_("the operator's date of manufacture"),
    "operator.lists_devices": N_("the devices that the operator's instructions list"),
    "operator.closing_control": N_("how it is told to close"),
    "operator.station_in_view": N_("whether the closing station is in view of the leaf"),
    "door.occupancy": N_("whether it is a residential or a commercial door"),
    "temporary_parts": N_("whether a temporary part is in place"),
    "defeats": N_("whether a device has been defeated"),
}


def fact_in_words(opening: Opening, path: str) -> Sentence:
    """What a fact is called in a sentence."""
    if path in WHOLE:
        return Sentence(WHOLE[path])
    spec = _spec(path)
    title = Sentence(spec.title if spec else path)
    match = re.match(r"protection\.([^.\[]+)\.(.*)", path)
    if match:
        phrase = OF_DEVICE.get(match[2], THE_DEVICE)
        return Sentence(phrase, {"what": title, "name": match[1]})
    match = re.match(r"(stations|controls|zones|operator\.inputs)\[(\d+)\]\.(.*)", path)
    if match:
        phrase = OF_MEMBER.get(f"{match[1]}.{match[3]}", THE_MEMBER)
        values = {"what": title, "list": Sentence(match[1]), "number": int(match[2]) + 1}
        return Sentence(phrase, values)
    return Sentence(THE, {"what": title})


def _spec(path: str) -> Spec | GroupSpec | None:
    here: type[Group] = Site if path.startswith("site.") else Opening
    found: Spec | GroupSpec | None = None
    for name in [part for part in pattern(path).removeprefix("site.").split(".") if part != "*"]:
        found = here.specs.get(name)
        if found is None:
            return None
        if isinstance(found, GroupSpec):
            here = found.group
    return found
