"""What came and what failed: goods-in of a line and claims, as they are entered, kept and judged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.errors import InputError
from sillwright.base.fact import Fact, Origin, Reading, settle
from sillwright.base.words import Reader, translate
from sillwright.takeoff.ordering.goods_in import Received
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.ohms import Meter
from sillwright.takeoff.ordering.warranty import NUMBERS, TEXTS, TITLES, Sorted, sort_claim
from sillwright.web.orders.entered import Entries
from sillwright.web.orders.fields import Ask, Options

YES_NO: Options = (("", gettext_lazy("not looked at")), ("yes", gettext_lazy("yes")), ("no", gettext_lazy("no")))
KNOWN: Options = (("", gettext_lazy("not known")), ("yes", gettext_lazy("yes")), ("no", gettext_lazy("no")))
ENDS: Options = (
    ("", gettext_lazy("not looked at")),
    ("left", gettext_lazy("left")),
    ("right", gettext_lazy("right")),
    ("both", gettext_lazy("both")),
)
ORIGINS: Options = (
    ("measured", gettext_lazy("seen or measured")),
    ("photo", gettext_lazy("from a photo")),
    ("told", gettext_lazy("told")),
    ("assumed", gettext_lazy("assumed")),
)
PHOTOS = ("photo_left", "photo_right", "photo_closed")
_UNSAID = ("", "no")
LENGTHS, OHMS, TEMPERATURES = (
    ("length", "lead_length", "off_flat"),
    ("rest", "pressed", "strips"),
    ("carried_at", "room"),
)


# goods-in


def asks_of(line: OrderLine, profiles: Options, photos: Options) -> list[Ask]:
    """What is looked at on an edge that came, in the order in which it is done."""
    ohms = gettext_lazy("with clips, like 9.9 kohm, or: open")
    found = [
        Ask(name="hours", label=gettext_lazy("Hours since it came"), why=gettext_lazy("48 is the aim")),
        Ask(name="carton_whole", label=gettext_lazy("Is the carton whole?"), entry="choice", options=YES_NO),
        Ask(
            name="length",
            label=gettext_lazy("Body by tape, without loose fins"),
            why=gettext_lazy("like 10 ft 6 in"),
        ),
        Ask(name="lead_length", label=gettext_lazy("Free length of the lead"), why=gettext_lazy("like 20 ft")),
        Ask(name="wires", label=gettext_lazy("Number of wires")),
        Ask(name="rest", label=gettext_lazy("Ohms at rest"), why=ohms),
        Ask(name="pressed", label=gettext_lazy("Ohms while it is pressed"), why=ohms),
    ]
    if line.circuit == "four_wire":
        found.append(Ask(name="strips", label=gettext_lazy("Ohms of both strips, end to end"), why=ohms))
    end = gettext_lazy("held as it will hang, inside looking out")
    found += [
        Ask(name="end", label=gettext_lazy("Which end has the lead?"), why=end, entry="choice", options=ENDS),
        Ask(name="profile", label=gettext_lazy("Which profile is it?"), entry="choice", options=profiles),
        Ask(name="photo", label=gettext_lazy("Photo of both ends and the label"), entry="choice", options=photos),
        Ask(name="carried_at", label=gettext_lazy("How cold it was on the way"), why=gettext_lazy("like 20 degF")),
        Ask(name="room", label=gettext_lazy("Temperature of the room"), why=gettext_lazy("like 68 degF")),
        Ask(name="rested", label=gettext_lazy("How long it has rested unrolled"), why=gettext_lazy("like 20 min")),
        Ask(
            name="off_flat",
            label=gettext_lazy("Where it still stands off the floor"),
            why=gettext_lazy("like 1/4 in"),
        ),
    ]
    return found


def goods_in_from(told: Mapping[str, Any], photos: Sequence[str], reader: Reader) -> dict[str, Any]:
    """What was entered of an edge that came, as it is kept: as typed, and as numbers.

    ``photos`` are the keys of the opening's photos. Raises :class:`DocumentError`.
    """
    said = Entries(told, "", reader)
    found: dict[str, Any] = {name: said.quantity(name, "m") for name in LENGTHS}
    found |= {name: _told(said.ohms(name)) for name in OHMS}
    found |= {name: said.quantity(name, "K") for name in TEMPERATURES}
    found["hours"], found["rested"] = (
        said.quantity("hours", "1", _("a number like 3")),
        said.quantity("rested", "s"),
    )
    found["wires"] = said.count("wires", 0, 99, -1)
    found["carton_whole"] = {"yes": True, "no": False}.get(said.choice("carton_whole", ("yes", "no")))
    found["end"] = said.choice("end", ("left", "right", "both")) or None
    found["profile"] = said.text("profile") or None
    found["photo"] = _photo(said, "photo", photos)
    found["wires"] = None if found["wires"] < 0 else found["wires"]
    for name in found:
        _judge(said, name, found[name])
    said.refuse()
    typed = {name: said.text(name) for name in found if said.text(name)}
    if not typed:
        said.wrong("hours", _("Nothing is entered yet."), _("what was looked at; the rest stays open"))
    said.refuse()
    return {"typed": typed, "found": found}


def received_of(found: Mapping[str, Any]) -> Received:
    """What is kept of an edge that came, as it is judged."""
    meter = Meter(**{name: _ohms(found[name]) for name in OHMS})
    same = ("hours", "carton_whole", "length", "lead_length", "wires", "end", "profile", "rested", "off_flat")
    return Received(
        **{name: found[name] for name in (*same, *TEMPERATURES)}, meter=meter, photo=bool(found["photo"]) or None
    )


def _judge(said: Entries, name: str, value: Any) -> None:
    """Note beside its field what no edge can be."""
    try:
        if name in OHMS:
            Meter(**{name: _ohms(value)})
        elif name != "photo":
            Received(**{name: value})
    except InputError as error:
        said.against(name, error)


def _photo(said: Entries, name: str, photos: Sequence[str]) -> str:
    key = said.text(name)
    if key not in {*photos, *_UNSAID}:
        said.wrong(name, _("This photo is none of this opening's."))
        return ""
    return key if key not in _UNSAID else ""


def _told(ohms: float | None) -> float | str | None:
    return "open" if ohms == inf else ohms


def _ohms(told: float | str | None) -> float | None:
    return inf if told == "open" else told  # type: ignore[return-value]


# claims


def asks_of_claim(photos: Options, reader: Reader) -> list[Ask]:
    """The facts of a claim, each with how it is entered."""
    whys = {
        "compression": gettext_lazy("like 1/4 in"),
        "ohms": gettext_lazy("at the free edge, like 9.9 kohm, or: open"),
        "ohms_before": gettext_lazy("as it was written down then"),
        "fitted_on": gettext_lazy("year-month-day"),
    }
    found = []
    for name, title in TITLES.items():
        label = translate(title, reader).capitalize()
        if name in PHOTOS:
            options: Options = (*photos[:1], ("no", gettext_lazy("there is none")), *photos[1:])
            found.append(Ask(name=name, label=label, entry="choice", options=options))
        elif name in (*NUMBERS, *TEXTS):
            found.append(Ask(name=name, label=label, why=whys.get(name, "")))
        else:
            found.append(Ask(name=name, label=label, entry="choice", options=KNOWN))
    return found


def origin_name(name: str) -> str:
    """The field that says where a fact of a claim comes from."""
    return f"{name}.from"


def claim_from(told: Mapping[str, Any], photos: Sequence[str], reader: Reader) -> dict[str, Any]:
    """What was entered of a claim, as it is kept. Raises :class:`DocumentError`."""
    said = Entries(told, "", reader)
    found: dict[str, Any] = {}
    for name in TITLES:
        value = _of_claim(said, name, photos)
        if value not in {None, ""}:
            known = said.choice(origin_name(name), [key for key, _words in ORIGINS]) or "measured"
            origin = "photo" if name in PHOTOS else known
            found[name] = {"value": value, "from": origin, "typed": said.text(name)}
    words = said.text("words", 1000)
    if not found and not said.mistakes:
        said.wrong("date_code", _("Nothing is entered yet."), _("what is known; the rest is asked for"))
    said.refuse()
    return {"facts": found, "words": words}


def _of_claim(said: Entries, name: str, photos: Sequence[str]) -> Any:
    if name in {"ohms", "ohms_before"}:
        return _told(said.ohms(name))
    if name == "compression":
        return said.quantity(name, "m")
    if name in TEXTS:
        return said.text(name)
    if name in PHOTOS:
        return None if said.text(name) == "" else bool(_photo(said, name, photos))
    return {"yes": True, "no": False}.get(said.choice(name, ("yes", "no")))


def sorted_claim(told: Mapping[str, Any], line: OrderLine) -> Sorted:
    """A claim that is kept, sorted by its evidence."""
    return sort_claim(
        {name: _fact(name, each) for name, each in told["facts"].items()}, line.circuit, line.end_element
    )


def _fact(name: str, told: Mapping[str, Any]) -> Fact[Any]:
    value: Any = _ohms(told["value"]) if name in {"ohms", "ohms_before"} else told["value"]
    origin: Origin = told["from"]
    return settle(f"claim.{name}", [Reading(value=value, typed=told["typed"], origin=origin)])
