"""How it is wired, in words: each device, the accessory supply, what a meter shows, the readings so far."""

from __future__ import annotations

from typing import Any

from sillwright.base.words import N_, Amount, Sentence, retold
from sillwright.circuit.bands import WORDS
from sillwright.duty.model import Answer
from sillwright.hookup.answer import Joint, Power, Wiring
from sillwright.hookup.words import circuit
from sillwright.paper.connections import connections
from sillwright.paper.labels import LABELS
from sillwright.paper.readings_table import SHORT_HEAD, short_rows
from sillwright.paper.terms import DEVICE, STATE
from sillwright.paper.voice import Voice
from sillwright.paper.wiring_sheet import NO_DEVICE, NOT_LOOKED
from sillwright.study.hookup_answer import monitored
from sillwright.study.model import OpeningStudy
from sillwright.study.ohms import OhmHistory, ReadOhms, months_after, taken_for_granted
from sillwright.study.why import fact_in_words

MOST_READ = 12
"""Readings of a device in a table, the newest ones."""
MOST_TOLD = 4
"""Devices that the owner's page says something of."""
DOWN = {"dead", "missing", "torn_off", "defeated"}
COUNTS: dict[tuple[Answer, bool | None], str] = {
    ("yes", True): N_("Watched by its circuit, and listed by the operator's instructions: it counts as monitored."),
    ("yes", None): N_("Its whole chain is listed by the operator's instructions: it counts as monitored."),
    ("no", False): N_("Ancillary only: the operator does not see when it fails. Test it at every visit."),
    ("no", True): N_("Ancillary only: its circuit can be watched, but the operator's instructions do not list it."),
    ("no", None): N_("Ancillary only: the operator's instructions do not list it."),
    ("unknown", True): N_(
        "Ancillary until somebody reads it in the operator's instructions: its circuit can be watched, whether "
        "they list it is not known."
    ),
    ("unknown", None): N_("Whether the operator watches it is not known; until then it counts as ancillary only."),
}
OHMS_HEAD = (N_("Day"), N_("ohms, where, temperature"), N_("what it says"))
AT = {"operator": N_("operator"), "box": N_("box"), "edge": N_("edge")}


def hookup_page(study: OpeningStudy, voice: Voice) -> dict[str, Any]:
    """What the technician's page and the study page say of the wiring of one opening."""
    found = study.hookup
    return {
        "headline": _headline(study, voice),
        "devices": [_device(each, study, voice) for each in found.joints],
        "head": [voice.word(each) for each in SHORT_HEAD],
        "power": _power(found.power, study, voice),
        "free": voice(N_("Inputs with nothing on them: {names}."), names=names) if (names := _free(study)) else "",
        "ohms": [_readings(each, study, voice) for each in study.ohms],
        "ohms_head": [voice.word(each) for each in OHMS_HEAD],
        "ohms_notes": [voice.of(each) for each in taken_for_granted(study.ohms)],
        "taken": [voice.of(each) for each in (*found.assumptions, *found.power.assumptions)],
    }


def _free(study: OpeningStudy) -> list[str]:
    return [each.name for each in study.hookup.left if each.name]


def name_of_device(joint: Joint, voice: Voice) -> str:
    """A device as people call it: its kind and its name."""
    kind = voice.word(DEVICE.get(joint.kind or "", N_("device")))
    return kind if "[" in joint.name else f"{kind} {joint.name}"


def counts_as(joint: Joint, study: OpeningStudy) -> Answer:
    """Whether a device counts as monitored as it stands; one that is down does not, whatever its wires."""
    if _state(joint, study) in DOWN:
        return "no"
    standings = {each.path: each for each in study.duty.devices}
    return monitored(joint, standings.get(joint.device))


def _state(joint: Joint, study: OpeningStudy) -> str | None:
    device = next((each for each in study.opening.protection if each.path == joint.device), None)
    return device.state.value if device is not None else None


def _headline(study: OpeningStudy, voice: Voice) -> str:
    joints = study.hookup.joints
    if not joints:
        return voice(NO_DEVICE if study.hookup.looked else NOT_LOOKED)
    by_answer: dict[str, list[str]] = {"yes": [], "no": [], "unknown": []}
    for each in joints:
        by_answer[counts_as(each, study)].append(each.name)
    if len(joints) == 1:
        words = {
            "yes": N_("The {device} is watched and listed: it counts as monitored."),
            "no": N_("The {device} does not count as monitored as it stands."),
            "unknown": N_("Whether the {device} counts as monitored is not known yet."),
        }[counts_as(joints[0], study)]
        return voice(words, device=name_of_device(joints[0], voice))
    groups = (
        ("yes", N_("Counts as monitored: {names}.")),
        ("unknown", N_("Not known yet whether it counts as monitored: {names}.")),
        ("no", N_("Ancillary only, as it stands: {names}.")),
    )
    return " ".join(voice(words, names=by_answer[answer]) for answer, words in groups if by_answer[answer])


def _device(joint: Joint, study: OpeningStudy, voice: Voice) -> dict[str, Any]:
    expected = [each for each in study.hookup.readings if each.device == joint.device]
    asks = [fact_in_words(study.opening, each) for each in joint.asks]
    return {
        "name": name_of_device(joint, voice),
        "mark": counts_as(joint, study),
        "goes": _goes(joint, voice),
        "counts": _counts(joint, study, voice),
        "why": [voice.of(each) for each in joint.reasons],
        "open": voice(N_("Still to find out: {facts}."), facts=asks) if asks else "",
        "wires": connections(sheet, voice) if (sheet := _sheet(joint, study)) else None,
        "rows": short_rows(expected, voice),
        "how": voice.word(LABELS["shows_how"]) if any(each.low is not None for each in expected) else "",
    }


def _sheet(joint: Joint, study: OpeningStudy) -> Wiring | None:
    return next((each for each in study.hookup.wiring if each.device == joint.device), None)


def _goes(joint: Joint, voice: Voice) -> str:
    """The input that a device goes to, and by which way."""
    if joint.way == "not_joinable":
        return voice(N_("It joins no input of this operator."))
    if joint.way == "unknown":
        return voice(N_("How it is joined is not known yet."))
    where = Sentence(N_("the input “{name}”"), {"name": joint.input}) if joint.input else Sentence(N_("an input"))
    if joint.way == "direct" and joint.end_element is not None:
        words = N_("Directly to {input}; an end element of {ohms} belongs in the far end of the edge.")
        return voice(words, input=where, ohms=Amount(joint.end_element, "ohm"))
    if joint.way == "direct":
        return voice(N_("Directly to {input}."), input=where)
    gives = circuit(joint.gives or joint.input_circuit, of_input=True)
    if joint.converter:
        return voice(N_("To {input} through {converter} (to: {circuit})."),
                     input=where, converter=joint.converter, circuit=gives)  # fmt: skip
    return voice(
        N_("To {input} through a converter that nobody has named (to: {circuit})."), input=where, circuit=gives
    )


def _counts(joint: Joint, study: OpeningStudy, voice: Voice) -> str:
    state = _state(joint, study)
    if state in DOWN:
        return voice(N_("It is {state}: nothing rests on it."), state=Sentence(STATE[state or ""]))
    if joint.way == "not_joinable":
        return voice(N_("As it stands the operator knows nothing of it."))
    listed = next((each.listed for each in study.duty.devices if each.path == joint.device), "unknown")
    answer = counts_as(joint, study)
    if answer == "no" and joint.watched is not False and listed != "no":
        return voice(N_("Ancillary only, as it stands: the findings say what speaks against it."))
    if answer == "unknown" and listed == "yes":
        return voice(N_("Whether it counts as monitored is not known; until then it counts as ancillary only."))
    return voice(COUNTS.get((answer, joint.watched), COUNTS["unknown", None]))


def _power(power: Power, study: OpeningStudy, voice: Voice) -> list[str]:
    """What is used of the accessory supply, what it gives, what is left; what is not known is said."""
    said = [voice.of(power.why)] if power.why else []
    known = power.most is not None and all(each.current is not None for each in power.draws)
    if power.draws and known and power.most is not None and power.needs <= power.most:
        said.append(voice(N_("{left} is left."), left=Amount(power.most - power.needs, "A")))
    asks = [fact_in_words(study.opening, each) for each in power.asks]
    if asks:
        said.append(voice(N_("Still to find out: {facts}."), facts=asks))
    return said


def _readings(history: OhmHistory, study: OpeningStudy, voice: Voice) -> dict[str, Any]:
    """The readings of a device, newest first, and where they are heading."""
    shown, more = history.readings[::-1][:MOST_READ], len(history.readings) - MOST_READ
    trend = history.trend
    return {
        "name": history.name,
        "of": "" if "[" in history.name else history.name,
        "at": "box" if _through(history, study) else "operator",
        "answer": retold(trend.answer, voice.reader) if trend else voice(_no_trend(history)),
        "rows": [_read(each, voice) for each in shown],
        "notes": [*([voice(N_("{count} older ones are not shown."), count=more)] if more > 0 else []),
                  *(retold(each, voice.reader) for each in (trend.notes if trend else ()))],
    }  # fmt: skip


def _through(history: OhmHistory, study: OpeningStudy) -> bool:
    """Whether a converter stands between: what is read at the operator is then its output."""
    return any(each.way == "through" for each in study.hookup.joints if each.device == history.device)


def _no_trend(history: OhmHistory) -> str:
    if history.element is not None:
        return N_("No reading at rest with its day is kept yet.")
    return N_("Without an end element, or without its value, no trend is told.")


def _read(reading: ReadOhms, voice: Voice) -> list[str]:
    says = [voice.word(WORDS[reading.band])] if reading.band else []
    says += [voice.of(reading.left_out)] if reading.left_out else []
    where = voice.word(AT[reading.at]) if reading.at else reading.written_at or ""
    shown = [voice.amount(reading.ohm, "ohm"), where]
    shown += [voice.amount(reading.temperature, "K")] if reading.temperature is not None else []
    day = str(reading.on) if reading.on else "–"
    return [day, ", ".join(each for each in shown if each), "; ".join(says) or "–"]


def wired_for_the_owner(study: OpeningStudy, voice: Voice) -> list[str]:
    """One plain sentence a device, where its wiring matters to whoever owns the door."""
    histories = {each.device: each for each in study.ohms}
    said = (_for_the_owner(each, study, histories.get(each.device), voice) for each in study.hookup.joints)
    return [each for each in said if each][:MOST_TOLD]


def _for_the_owner(joint: Joint, study: OpeningStudy, history: OhmHistory | None, voice: Voice) -> str:
    if _state(joint, study) in DOWN:
        return ""  # a finding says so already
    device = name_of_device(joint, voice)
    trend = history.trend if history else None
    if trend and trend.sure and trend.months is not None and trend.rows:
        least = trend.months if trend.months_least is None else trend.months_least
        words = N_("The readings of the {device} are drifting: have it looked at before {month}.")
        return voice(words, device=device, month=months_after(trend.rows[-1].on, least))
    if joint.way == "not_joinable":
        return voice(N_("The {device} joins no input of this operator."), device=device)
    if joint.watched is False and joint.way in {"direct", "through"}:
        return voice(N_("Nobody sees when the {device} fails: it has to be tried at every visit."), device=device)
    return ""
