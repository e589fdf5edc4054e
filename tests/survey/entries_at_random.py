"""Things that somebody may have said of an opening, right and wrong ones, for tests of what becomes of them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from sillwright.survey.entries import Entry, entries_of
from sillwright.survey.model import Survey
from sillwright.survey.reading import read_survey

ROOT = Path(__file__).parents[2]
FILES = sorted(
    [
        *(ROOT / "examples").glob("*yard.yaml"),
        *(ROOT / "tests").rglob("full.yaml"),
        *ROOT.glob("src/sillwright/web/**/demo.yaml"),
    ]
)

FACTS = st.sampled_from(
    [
        ("door.kind", ["grille", "sectional", "nonsense"]),
        ("door.clear_width", ["10 ft 4 in", "3.1 m", "wide", "10.5 ft", "\u0081", "# ft"]),
        ("operator.made", ["2010", "2019-03", "soon"]),
        ("site_words", ["x"]),
        ("use.children", ["yes", "no", "TRUE", "perhaps"]),
        ("use.closings_per_day", ["80", "1e3", "many"]),
        ("protection.e1.kind", ["sensing_edge", "loop", "a stick"]),
        ("protection.e2.state", ["works", "dead"]),
        ("use.traffic.m1.who", ["adult", "forklift; two", "#1: “a”"]),
        ("use.traffic.m1.per_hour", ["20"]),
        ("operator.listed_to", ["UL 325; EN 12453", "none", "?"]),
        ("floor.points", ["0 in, 0 in; 48 in, 1/4 in", "1 m"]),
        ("name", ["a: b", "- x", "{y}", "null", "none", "?", "=1+1", "é \\ \" '", "a\nb", "\u2028", "@x"]),
    ]
)
MEMBERS = ("protection", "protection.e1", "use.traffic", "use.traffic.m1")


@st.composite
def entry(draw: Any) -> Entry:
    """Something that somebody may have said."""
    if draw(st.integers(0, 5)) == 0:
        path = draw(st.sampled_from(MEMBERS))
        return Entry(path=path, says="removed" if "." in path.removeprefix("use.") else draw(_NOT_A_VALUE))
    path, words = draw(FACTS)
    says = draw(st.sampled_from(["value", "value", "value", "unknown", "none"]))
    return Entry(
        path=path,
        says=says,
        typed=draw(st.sampled_from(words)) if says == "value" else "",
        origin=draw(st.sampled_from([None, "measured", "told", "assumed"])),
        by=draw(st.sampled_from([None, "Ana", "a: {b}"])),
        on=draw(st.sampled_from([None, "2026-03-04"])),
        evidence=draw(st.sampled_from([None, "photo-3"])),
    )


_NOT_A_VALUE = st.sampled_from(["unknown", "none"])


def told(survey: Survey) -> tuple[str, str, list[Entry], dict[str, list[Entry]]]:
    """Name, country, and every reading of a survey, as files are written from them."""
    openings = {str(each.tag.value): list(entries_of(each)) for each in survey.openings}
    return (
        str(survey.site.name.value),
        str(survey.site.country.value),
        list(entries_of(survey.site, "site")),
        openings,
    )


def told_by(path: Path) -> tuple[str, str, list[Entry], dict[str, list[Entry]]]:
    """What a file says."""
    return told(read_survey(path, draft=True))


def facts(survey: Survey) -> list[tuple[str, ...]]:
    """Everything that a survey comes to, with where it comes from."""
    known = [fact for group in (survey.site, *survey.openings) for _, fact in group.facts() if fact.readings]
    readings = [(fact, each) for fact in known for each in fact.readings]
    lists = [each for group in survey.openings for _, each in group.listings()]
    return [
        *((fact.path, fact.standing, repr(fact.value)) for fact in known),
        *(
            (fact.path, each.value and each.typed, *map(str, (each.origin, each.by, each.on, each.evidence)))
            for fact, each in readings
        ),
        *((each.path, each.standing, repr([len(items) for items in (each.items, *each.rivals)])) for each in lists),
    ]
