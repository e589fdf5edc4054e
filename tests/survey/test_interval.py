"""A date known to the day, the month or the year is the interval of its days."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.survey.interval import Interval, read_interval


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("2010", date(2010, 1, 1), date(2010, 12, 31)),
        ("2010-08", date(2010, 8, 1), date(2010, 8, 31)),
        ("2010-02", date(2010, 2, 1), date(2010, 2, 28)),
        ("2012-02", date(2012, 2, 1), date(2012, 2, 29)),
        ("1900-02", date(1900, 2, 1), date(1900, 2, 28)),
        ("2010-08-29", date(2010, 8, 29), date(2010, 8, 29)),
        (" 2010 ", date(2010, 1, 1), date(2010, 12, 31)),
        ("2100-12-31", date(2100, 12, 31), date(2100, 12, 31)),
    ],
)
def test_a_date_is_the_interval_of_its_days(text, first, last):
    assert read_interval(text) == Interval(first, last)


@pytest.mark.parametrize(
    "text",
    [
        "", "19", "1899", "2101", "2010-13", "2010-00", "2010-02-29", "2010-08-32", "2010-08-00", "2010-8",
        "20100829", "2010/08", "Aug 2010", "2010-08-29T00:00", "٢٠١٠", "-2010", "2010-",
    ],
)  # fmt: skip
def test_what_no_calendar_has_is_no_date(text):
    assert read_interval(text) is None


@given(st.dates(date(1900, 1, 1), date(2100, 12, 31)), st.sampled_from([4, 7, 10]))
def test_a_date_prints_as_it_was_written(day, length):
    text = day.isoformat()[:length]
    found = read_interval(text)
    assert str(found) == text
    assert found is not None
    assert found.first <= day <= found.last


@given(*[st.tuples(st.dates(date(2009, 1, 1), date(2011, 12, 31)), st.sampled_from([4, 7, 10]))] * 2)
def test_two_dates_agree_when_one_lies_inside_the_other(one, other):
    first, second = (read_interval(day.isoformat()[:length]) for day, length in (one, other))
    assert first is not None
    assert second is not None
    overlap = first.first <= second.last and second.first <= first.last
    assert first.agrees_with(second) is second.agrees_with(first) is overlap
