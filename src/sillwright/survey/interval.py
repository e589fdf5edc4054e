"""A date known to the day, the month or the year is the interval of its days."""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date

WRITTEN = re.compile(r"(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?", re.ASCII)


@dataclass(frozen=True, order=True)
class Interval:
    """From ``first`` to ``last`` day, both included."""

    first: date
    last: date

    def __str__(self) -> str:
        if self.first == self.last:
            return self.first.isoformat()
        year_long = self.last.month - self.first.month == 11
        return f"{self.first.year}" if year_long else f"{self.first.year}-{self.first.month:02}"

    def agrees_with(self, other: Interval) -> bool:
        """Whether one lies inside the other, so that both can be said of one day."""
        return self in other or other in self

    def __contains__(self, other: Interval) -> bool:
        return self.first <= other.first and other.last <= self.last


def read_interval(text: str) -> Interval | None:
    """The interval of a year, a year and month, or a date; None where the text is none of these.

    >>> str(read_interval("2010-08").last), str(read_interval("2010"))
    ('2010-08-31', '2010')
    >>> read_interval("2010-13") is None, read_interval("March 2010") is None
    (True, True)
    """
    match = WRITTEN.fullmatch(text.strip())
    if not match:
        return None
    year, month, day = (int(part) if part else None for part in match.groups())
    if year is None or not 1900 <= year <= 2100 or (month is not None and not 1 <= month <= 12):
        return None
    if month is None:
        return Interval(date(year, 1, 1), date(year, 12, 31))
    longest = monthrange(year, month)[1]
    if day is not None and not 1 <= day <= longest:
        return None
    return Interval(date(year, month, day or 1), date(year, month, day or longest))
