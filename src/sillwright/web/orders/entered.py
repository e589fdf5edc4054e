"""What somebody entered, read field by field: what cannot be used is noted by the name of its field."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from datetime import date
from decimal import Decimal
from math import inf
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.errors import DocumentError, InputError, Mistake, QuantityError
from sillwright.base.quantity import is_decimal_feet, parse
from sillwright.base.words import ENGLISH, Reader, retold
from sillwright.web.records.text import as_seen, unkept

LINE, TEXT = 200, 4000
"""Signs of what is entered in one line, and in a field of several."""
OPEN = ("open", "ol", "o.l.", "∞")
"""What a meter shows, and people write, where nothing conducts."""
_PERCENT = re.compile(r"\d{1,3}(?:\.\d{1,4})?", re.ASCII)
FIRST, LAST = date(2000, 1, 1), date(2100, 1, 1)


class Entries:
    """The fields of a form, or of what a program sent; read as text, whatever they came as."""

    def __init__(self, told: Mapping[str, Any], place: str = "", reader: Reader = ENGLISH) -> None:
        self.told, self.place, self.reader = told, place, reader
        self.mistakes: list[Mistake] = []

    def wrong(self, name: str, message: str, accepted: str = "") -> None:
        """Note what cannot be used, and what would be right."""
        self.mistakes.append(Mistake(path=f"{self.place}{name}", message=message, accepted=accepted))

    def refuse(self) -> None:
        """Raise :class:`DocumentError` with everything that was noted; nothing where nothing was."""
        if self.mistakes:
            raise DocumentError(self.place.rstrip(".-") or "form", tuple(self.mistakes))

    def text(self, name: str, most: int = LINE, *, wanted: bool = False) -> str:
        """A text without spaces around it; with ``wanted`` an empty one is noted."""
        given = self.told.get(name)
        words = "" if given is None else str(given).replace("\r\n", "\n").strip()
        if sign := unkept(words):
            self.wrong(name, _("The sign %(sign)s cannot be kept.") % {"sign": sign})
        elif len(words) > most:
            self.wrong(name, _("This is too long."), _("at most %(most)d signs") % {"most": most})
        elif wanted and not words:
            self.wrong(name, _("This is missing."))
        else:
            return words
        return ""

    def name(self, name: str) -> str:
        """A text that something is called by, as an eye reads it; one of which nothing is seen is noted."""
        words = self.text(name, wanted=True)
        seen = as_seen(words)
        if words and not seen:
            self.wrong(name, _("This is missing."))
        return seen

    def lines(self, name: str, most: int = 20) -> list[str]:
        """The lines of a text, or the members of a list, without empty ones."""
        given = self.told.get(name) or ""
        if isinstance(given, (list, tuple)):
            given = "\n".join(map(str, given))
        kept = Entries({name: given}, self.place, self.reader)
        found = [each.strip() for each in kept.text(name, TEXT).split("\n") if each.strip()]
        self.mistakes += kept.mistakes
        if len(found) > most or any(len(each) > TEXT // 8 for each in found):
            told = {"most": most, "signs": TEXT // 8}
            self.wrong(name, _("This is too much."), _("at most %(most)d lines of %(signs)d signs each") % told)
            return []
        return found

    def choice(self, name: str, known: Collection[str], message: str = "") -> str:
        """One of the known words, or nothing."""
        words = self.text(name)
        if words and words not in known:
            self.wrong(name, message or _("This cannot be chosen here."), ", ".join(list(known)[:9]))
            return ""
        return words

    def count(self, name: str, least: int, most: int, default: int) -> int:
        """A whole number; ``default`` where nothing was entered."""
        words = self.text(name)
        if not words:
            return default
        if words.isascii() and words.isdecimal() and len(words) < 9 and least <= int(words) <= most:
            return int(words)
        accepted = _("a whole number from %(least)d to %(most)d") % {"least": least, "most": most}
        self.wrong(name, _("“%(words)s” is no such number.") % {"words": words[:40]}, accepted)
        return default

    def percent(self, name: str) -> str:
        """A percentage from 0 to 100 as text, with at most four digits after the point; 0 where nothing stands."""
        words = self.text(name).removesuffix("%").strip().replace(",", ".") or "0"
        if _PERCENT.fullmatch(words) and Decimal(words) <= 100:
            return f"{Decimal(words):f}"
        self.wrong(
            name, _("“%(words)s” is no such percentage.") % {"words": words[:40]}, _("from 0 to 100, like 5")
        )
        return "0"

    def day(self, name: str, *, default: date | None = None) -> date | None:
        """A day; ``default`` where nothing was entered."""
        words = self.text(name)
        if not words:
            return default
        try:
            found = date.fromisoformat(words)
        except ValueError:
            found = None
        if found is None or not FIRST <= found < LAST:
            told = {"words": words[:40]}
            self.wrong(name, _("“%(words)s” is no such day.") % told, _("year-month-day, like 2026-03-04"))
            return default
        return found

    def quantity(self, name: str, unit: str, accepted: str = "") -> float | None:
        """A quantity with its unit, in SI; None where nothing was entered."""
        words = self.text(name)
        if not words:
            return None
        if unit == "m" and is_decimal_feet(words):
            said = _("“%(words)s” can be read two ways, in feet or as feet and inches.") % {"words": words[:40]}
            self.wrong(name, said, accepted or _("like 10 ft 6 in, or 3.2 m"))
            return None
        try:
            return parse(words, unit)
        except QuantityError as error:
            self.wrong(name, retold(error.message, self.reader), accepted or retold(error.accepted, self.reader))
        return None

    def ohms(self, name: str) -> float | None:
        """A reading in ohms, infinite where the meter shows open; None where nobody read."""
        if self.text(name).casefold() in OPEN:
            return inf
        return self.quantity(name, "ohm", _("like 9.9 kohm, or: open"))

    def against(self, name: str, error: InputError) -> None:
        """Note what a calculation says against a field."""
        self.wrong(name, error.in_words(self.reader))
