"""The sentences of the answer that a phone gives by itself, in the reader's language."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sillwright.base.words import Reader, translate
from sillwright.duty import rulebook
from sillwright.study import headline, why
from sillwright.web.offline.takeoff_book import takeoff_words


def words(reader: Reader) -> dict[str, Any]:
    """Templates by what they are for: the headline, what a rule asks, what a fact is called and why it matters."""

    def said(templates: Mapping[str, str]) -> dict[str, str]:
        return {name: translate(template, reader) for name, template in templates.items()}

    return {
        "headline": said(
            {
                "no": headline.NO,
                "no_gate": headline.NO_GATE,
                "no_europe": headline.NO_EUROPE,
                "no_gate_europe": headline.NO_GATE_EUROPE,
                "yes": headline.YES,
                "yes_old": headline.YES_OLD,
                "unknown": headline.UNKNOWN,
                "unknown_many": headline.UNKNOWN_MANY,
                "no_rules": headline.NO_RULES,
                **headline.TROUBLE,
            }
        ),
        "trouble": list(headline.TROUBLE),
        "named_first": headline.FIRST,
        "asks": said({rule.id: rule.asks for rule in rulebook.rules()}),
        "why": said({**why.WHY, "": why.WAITED_FOR}),
        "whole": said(why.WHOLE),
        "of_device": said({**why.OF_DEVICE, "": why.THE_DEVICE}),
        "of_member": said({**why.OF_MEMBER, "": why.THE_MEMBER}),
        "lists": said({name: name for name in dict.fromkeys(each.split(".")[0] for each in why.OF_MEMBER)}),
        "the": translate(why.THE, reader),
        "takeoff": takeoff_words(reader),
    }
