"""What somebody types is read on a phone as the server reads it: the same number to the last bit, or none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import Any

import pytest

from sillwright.base import data
from sillwright.base.quantity import WITH_UNIT, _tidy
from sillwright.survey.spec import Spec
from sillwright.web.offline.book import book

from .offline_cases import RARE, _spec, facts_looked_at
from .offline_phone import Phone, phone, server_reads

pytestmark = [pytest.mark.enable_socket]

UNITS = tuple(data.table("sillwright.base", "units")["unit"])
SPACES = ("", " ", "  ", "\u00a0", "\t", "\u2009", "\x1f", "\ufeff", "\n", "\x85")
NUMBERS = (
    "10", "0", "1", "3.71", "10.", ".5", "1e3", "1E-3", "-2", "+4", "−3", "–7", "1_000", "1__0", "_1", "٣", "１２",
    "𝟗𝟘", "1e999", "nan", "inf", "-inf", "0x10", "12345678901234567890", "0.1", "2.675", "1/2", "3 1/2", "3-1/2",
    "1/0", "10½", "½", "٣½", "3,71", "1,000.5", "1.5.2", "", "10 11/16", "9007199254740993", "00012", "1e-400",
    "¾", "2²",
)  # fmt: skip
LENGTHS = (
    "10 ft 4 in", "10' 4-1/2\"", "10′ 4½″", "10 ft 4.5 in", "10 feet 4 inches", "4 in 10 ft", "10 ft. 4 in.",
    "10ft4in", "10-4", "10 ft - 4 in", "10.5 ft", "10.5 ft 4 in", "10 ft 12 in", "10 ft 11.999 in",
    "10 ft 11-15/16 in", "1/3 in", "-4 in", "+4 in", "10 FT 4 IN", "126-7/16\"", "10 ft 4", "'", "\"", "ft",
    "10 ft 4/0 in", "3 1/2 ft", "10 1/2 ft 3 in", "10 ſt", "0.3333333333333333333333333333333333 in",
    "99999999999999999999999 in", "  3.71 m ", "10 ft 4 in (told)", "10’ 4”", "1 in 2 in", "0 ft 0 in", "-0 in",
    "8.000000000000000000000000001 ft", "33 5/64 in", "10\u00a0ft\u00a04\u00a0in", "10' 6''", "10′ 6½′′", "6’’",
    "10' 6'''", "10'' 6''", "10' 6' '",
)  # fmt: skip
WORDS = (
    "yes", "no", "Y", "N", "TRUE", "False", "YEſ", "perhaps", "none", "None", "NONE", "?", "sectional",
    "Sectional", "sectional (told)", "sectional(a)(b)", "met", "not met (rain)", "fail", "Passed", "passed",
    "pulse", "left", "UL 325; EN 12453", ";;", "a;b;", " a ; ; b ", "a\tb", "a\u0007b", "a\nb", "a\x0bb",
    "x"*2000, "x"*2001, "𝒳"*2000, "2019", "2019-3", "2019-03", "2019-02-29", "2020-02-29", "1900-02-29", "1899",
    "2101", "2100-12-31", "2019-00", "2019-13", "2019-03-00", "٢٠١٩", "400 USD/h", "400 USD", "400 USD/hour",
    "1.5 EUR / day", "400 usd/h", "400 USD/week", "US", "us", "USA", "DE", "ZZ", "Germany", "WA",
    "0 in, 0 in; 48 in, 1/4 in", "0 in; 1 in", "0 in, 0 in, 0 in", "0 m, 60 m", "1,2;3,4", "0 in, x", "\u0085",
    "\u200b", "é", ";".join(["a"]*1001), ";".join(["a"]*1000),
)  # fmt: skip
PATHS = (
    "door.clear_width", "lead.length", "site.coldest", "door.leaf_mass", "operator.reaction",
    "operator.deceleration", "operator.force_limit", "door.closing_speed", "protection.e1.resistance",
    "protection.e1.height", "use.closings_per_day", "cord.conductors", "door.kind", "tests.m1.result",
    "protection.e1.circuit", "use.children", "operator.made", "site.country", "use.downtime_cost",
    "operator.listed_to", "floor.points", "name", "site.subdivision", "use.traffic.m1.speed", "door.colour",
    "door", "protection.e1", "site", "site.site.country", "",
)  # fmt: skip
STRANGE = "0123456789.,-+/'\"′″½¼ ftincmkgoΩµμ°²^eE_;()٣\u00a0\u2009\x1f\ufeff%KſÅ"


@pytest.fixture(scope="module")
def here() -> Iterator[Phone]:
    with phone() as found:
        found.keep(book())
        yield found


def texts() -> list[tuple[str, str]]:
    """Each text from above at each sort of fact, numbers with every unit, and texts with slips of the finger."""
    random = Random(7)  # noqa: S311 - chosen for variety, nothing is kept secret by it
    said = [*NUMBERS, *LENGTHS, *WORDS, *RARE]
    found = [(path, text) for path in PATHS for text in said]
    for path in PATHS[:10]:
        found += [
            (path, f"{random.choice(NUMBERS)}{random.choice(SPACES)}{unit}") for unit in UNITS for _ in range(6)
        ]
    for path in random.choices([*PATHS, *facts_looked_at()], k=6000):
        found.append((path, _slipped(random.choice(said), random)))
        feet, inches, over, under = (random.randint(0, most) for most in (40, 12, 17, 17))
        found.append((path, f"{feet} ft {inches}-{over}/{under} in"))
    return found


def _slipped(text: str, random: Random) -> str:
    signs = list(text[:80])
    for _ in range(random.randint(1, 3)):
        at = random.randint(0, len(signs))
        signs[at : at + random.randint(0, 1)] = random.choice((random.choice(STRANGE), random.choice(STRANGE), ""))
    return "".join(signs)


def is_of_a_rare_unit(path: str, typed: str) -> bool:
    """Whether a text has a unit that does not stand in the table of every day."""
    spec: Spec | None = _spec(path)
    if spec is None or spec.kind not in {"quantity", "points"}:
        return False
    parts = [typed] if spec.kind == "quantity" else [end for pair in typed.split(";") for end in pair.split(",")]
    units = [match[2] for part in parts if (match := WITH_UNIT.fullmatch(_tidy(part)))]
    return any(unit not in UNITS for unit in units)


def test_a_text_is_read_on_the_phone_as_the_server_reads_it(here: Phone) -> None:
    typed = texts()
    counted: Counter[Any] = Counter()
    for (path, text), found in zip(typed, here.reads(typed), strict=True):
        if found.get("unsure"):
            assert is_of_a_rare_unit(path, text), (path, text)
        else:
            assert found == server_reads(path, text), (path, text)
        counted[found["ok"], bool(found.get("unsure"))] += 1
    assert counted[True, False] > 3000, counted
    assert counted[False, False] > 3000, counted
    assert counted[False, True] > 20, counted
