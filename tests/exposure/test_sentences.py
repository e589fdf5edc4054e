"""A number never reads like the limit that it is not."""

from __future__ import annotations

from sillwright.base.source import Source
from sillwright.base.words import Reader, Sentence, in_words
from sillwright.exposure.answer import JudgedLimit
from sillwright.exposure.findings import _amount

LIMIT = JudgedLimit(
    id="fd-400", title=Sentence("greatest force"), quantity="peak_force", limit=400.0, unit="N", verdict="above",
    source=Source(document="EN 12453", sure="second-hand"),
)  # fmt: skip
METRIC = Reader(units="metric")


def test_a_force_just_above_its_limit_shows_what_is_above_it() -> None:
    assert in_words(_amount(400.4, LIMIT), METRIC) == "400.4 N"
    assert in_words(_amount(812.3, LIMIT), METRIC) == "812 N"
    assert in_words(_amount(400.0, LIMIT), METRIC) == "400 N"
    assert in_words(_amount(None, LIMIT), METRIC) == "no end"
