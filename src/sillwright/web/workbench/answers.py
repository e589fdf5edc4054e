"""What each calculation answers, as one or two sentences in the reader's units."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from sillwright.base.words import Amount, Reader, in_words, retold
from sillwright.web.workbench.form import titles_of
from sillwright.web.workbench.names import choice_word
from sillwright.web.workbench.numbers import lines_of, share

Say = Callable[..., str]


def sentence_of(name: str, result: Any, reader: Reader) -> str:
    """The answer. A calculation without a sentence of its own answers with its first number."""

    def say(template: str, **values: Any) -> str:
        # a number never stands apart from its unit, nor from its fraction
        whole = str.maketrans({" ": "\u00a0", "-": "\u2011"})
        shown = {key: in_words(value, reader).translate(whole) for key, value in values.items()}
        return template.format_map(shown)

    if (own := ANSWERS.get(name)) is not None:
        return " ".join(own(result, say, reader))
    first = lines_of(result, reader)[0]
    return f"{first.title}: {first.shown}"


def _distance(found: Any, say: Say, reader: Reader) -> list[str]:
    said = []
    if found.distance is not None:
        distance = Amount(found.distance, "m")
        said.append(say(_("The device has to stand at least {distance} before the leaf."), distance=distance))
    if found.enough is not None:
        said.append(say(_("What is there is enough.") if found.enough else _("What is there is less.")))
    if found.needed_response_time is not None:
        time = Amount(found.needed_response_time, "s")
        said.append(say(_("The distance that is there allows {time} from being seen to standstill."), time=time))
    elif found.distance is None:
        said.append(say(_("For the distance that is there even an instant stop comes too late.")))
    return said


def _contact(found: Any, say: Say, reader: Reader) -> list[str]:
    force, time = Amount(found.peak_force, "N"), Amount(found.peak_time, "s")
    said = [say(_("The leaf presses with at most {force}, {time} after the touch."), force=force, time=time)]
    if found.contact_duration is None:
        duration = Amount(found.case.duration, "s")
        end = Amount(found.end_force, "N")
        words = _("It still touches when the look ends, after {duration}, with {force}.")
        return [*said, say(words, duration=duration, force=end)]
    return [*said, say(_("It lets go after {duration}."), duration=Amount(found.contact_duration, "s"))]


def _spread(found: Any, say: Say, reader: Reader) -> list[str]:
    band = found.band("peak_force")
    ends = {"middle": Amount(band.p50, "N"), "high": Amount(band.p95, "N")}
    limit = Amount(found.case.peak_limit, "N")
    titles = titles_of(type(found.case.base), reader)
    worth = titles.get(found.worth_measuring) or choice_word(found.worth_measuring)
    above = share(found.share_above_peak_limit)
    return [
        say(_("Half of the cases press with at most {middle}, 95 of 100 with at most {high}."), **ends),
        say(_("{share} of them press with more than {limit}."), share=above, limit=limit),
        say(_("Worth measuring first: {worth}."), worth=worth).replace("\u00a0", " "),
    ]


def _impact(found: Any, say: Say, reader: Reader) -> list[str]:
    force, time, travel = (
        Amount(found.peak_force, "N"),
        Amount(found.time_to_peak, "s"),
        Amount(found.travel, "m"),
    )
    words = _("It presses with at most {force}, {time} after the touch, and the spring gives {travel}.")
    return [say(words, force=force, time=time, travel=travel)]


def _overtravel(found: Any, say: Say, reader: Reader) -> list[str]:
    distance, required = Amount(found.stopping_distance, "m"), Amount(found.required_overtravel, "m")
    said = [
        say(_("After the edge has answered the leaf goes on for {distance}."), distance=distance),
        say(_("The edge has to give at least {required} after its answer."), required=required),
    ]
    for value, enough, words in (
        (found.available_overtravel, found.enough, (_("It gives {it}: enough."), _("It gives {it}: too little."))),
        (
            found.available_overtravel_cold,
            found.enough_cold,
            (_("In the cold it gives {it}: enough."), _("In the cold it gives {it}: too little.")),
        ),
    ):
        if value is not None:
            said.append(say(words[0] if enough else words[1], it=Amount(value, "m")))
    return said


def _length(found: Any, say: Say, reader: Reader) -> list[str]:
    main = found.bodies[0]
    said = [f"{capfirst(choice_word(main.place))}:"] if len(found.bodies) > 1 else []
    if found.body_length is None:
        return [*said, _("The length is not known yet.")]
    body, channel = Amount(found.body_length, "m"), Amount(found.channel_length, "m")
    said.append(say(_("Body {body}, channel {channel}."), body=body, channel=channel))
    if main.informs_only:
        return [*said, _("For information, not for an order.")]
    order = {"count": found.piece_count, "order": Amount(found.order_length, "m")}
    many = found.piece_count > 1
    if main.order_word == "sensing":
        words = (
            _("On the order: {count} pieces of {order} that answer.")
            if many
            else _("On the order: {order} that answer.")
        )
    else:
        words = _("On the order: {count} pieces of {order}.") if many else _("On the order: {order}.")
    return [*said, say(words, **order)]


def _cord(found: Any, say: Say, reader: Reader) -> list[str]:
    box = say(_("The box is {box} above the floor."), box=Amount(found.box_height, "m"))
    return [retold(found.why, reader), box]


def _floor(found: Any, say: Say, reader: Reader) -> list[str]:
    uneven = say(_("Highest less lowest: {unevenness}."), unevenness=Amount(found.unevenness, "m"))
    return [uneven, retold(found.why, reader)]


def _cutlist(found: Any, say: Say, reader: Reader) -> list[str]:
    by_length = found.case.stock[0].cost is None
    pieces = sum(each.count for each in found.case.pieces)
    bars = ngettext("{count} bar for {pieces} pieces", "{count} bars for {pieces} pieces", found.bar_count)
    bars = bars.format(count=found.bar_count, pieces=pieces)

    def cost(value: float) -> str:
        return say("{length}", length=Amount(value, "m")) if by_length else f"{value:,.6g}"

    what = _("{bars}, {cost} of stock.") if by_length else _("{bars}, cost {cost}.")
    said = [what.format(bars=bars, cost=cost(found.cost))]
    if found.proven:
        return [*said, _("No cutting costs less: that is proven.")]
    least = _("Whether a cutting costs less is not proven; none costs less than {bound}.")
    return [*said, least.format(bound=cost(found.bound))]


def _level(found: Any, say: Say, reader: Reader) -> list[str]:
    return [say(_("The risk graph asks for performance level {level}."), level=found.level)]


def _risk(found: Any, say: Say, reader: Reader) -> list[str]:
    level, chance = choice_word(found.level), Amount(found.probability, "1")
    said = [say(_("The risk is {level}: the harm has a probability of {chance}."), level=level, chance=chance)]
    if 0 < found.probability < 0.5:
        said.append(say(_("That is once in {count} lives of the product."), count=f"{1 / found.probability:,.0f}"))
    return said


def _margin(found: Any, say: Say, reader: Reader) -> list[str]:
    left, state = Amount(abs(found.margin), "V"), choice_word(found.deciding_state)
    if not found.works:
        misses = _("Not every part within its tolerances works: {state} misses its threshold by {left}.")
        return [say(misses, state=state, left=left)]
    right = _("Every state reads right with all parts at their worst; {left} is left in: {state}.")
    said = [say(right, left=left, state=state)]
    if found.weakest is not None:
        part, costs = choice_word(found.weakest), Amount(found.parts[0].costs, "V")
        said.append(say(_("Most of the margin goes to: {part}, {costs}."), part=part, costs=costs))
    return said


def _diagnosis(found: Any, say: Say, reader: Reader) -> list[str]:
    return [retold(found.in_short, reader)]


def _wire(found: Any, say: Say, reader: Reader) -> list[str]:
    one, pair = Amount(found.resistance, "ohm"), Amount(found.loop_resistance, "ohm")
    said = [say(_("One conductor resists {one}, a pair out and back {pair}."), one=one, pair=pair)]
    if found.voltage_drop is not None:
        said.append(say(_("On the way {lost} are lost."), lost=Amount(found.voltage_drop, "V")))
    return said


def _radio(found: Any, say: Say, reader: Reader) -> list[str]:
    said = [say(_("The link loses {loss} on its way."), loss=Amount(found.path_loss, "dB"))]
    if found.least_margin is not None:
        words = _("The least margin that was read is {margin}: {link}.")
        said.append(say(words, margin=Amount(found.least_margin, "dB"), link=choice_word(found.link)))
    elif found.link_margin_open is not None:
        words = _("With the leaf open {margin} are left: {link}.")
        worst = min(found.link_margin_open, found.link_margin)
        said.append(say(words, margin=Amount(worst, "dB"), link=choice_word(found.link)))
    if found.battery_years is not None:
        said.append(say(_("The battery lasts {years} years."), years=Amount(found.battery_years, "1")))
    return said


def _hanging(found: Any, say: Say, reader: Reader) -> list[str]:
    said = [retold(found.answer, reader)]
    return said if found.next_step is None else [*said, retold(found.next_step, reader)]


def _faults(found: Any, say: Say, reader: Reader) -> list[str]:
    return [retold(found.answer, reader)]


ANSWERS: dict[str, Callable[[Any, Say, Reader], list[str]]] = {
    "approach": _distance,
    "contact": _contact,
    "contact_spread": _spread,
    "cord": _cord,
    "cutlist": _cutlist,
    "diagnose": _diagnosis,
    "faults": _faults,
    "floor": _floor,
    "impact": _impact,
    "length": _length,
    "loop_reading": _hanging,
    "margin": _margin,
    "overtravel": _overtravel,
    "performance_level": _level,
    "radio": _radio,
    "risk_level": _risk,
    "wire": _wire,
}
