"""The audit trail as owners read it and take it out."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime
from typing import Any

import pytest

from sillwright.web.records.models import Event

from .conftest import World


def line(world: World, what: str, day: str, verb: str = "tried out", **more: Any) -> Event:
    at = datetime.fromisoformat(day).replace(tzinfo=UTC)
    return Event.objects.create(at=at, verb=verb, what=what, organisation=world.dealer, **more)


def shown(world: World, days: str = "") -> str:
    answer = world.client("owner").get(f"/organisations/{world.dealer.pk}/trail/{days}")
    assert answer.status_code == 200
    return answer.content.decode()


def table(world: World, days: str = "") -> list[list[str]]:
    answer = world.client("owner").get(f"/organisations/{world.dealer.pk}/trail.csv{days}")
    assert answer.status_code == 200
    assert "attachment" in answer["Content-Disposition"]
    text = b"".join(answer.streaming_content).decode("utf-8-sig")  # type: ignore[attr-defined]
    return list(csv.reader(io.StringIO(text)))


def test_lines_come_newest_first_and_only_those_of_this_organisation(world: World) -> None:
    line(world, "earlier line", "2031-01-01")
    line(world, "later line", "2031-01-02")
    Event.objects.create(verb="tried out", what="of another organisation", organisation=world.other)
    page = shown(world)
    assert 0 < page.index("later line") < page.index("earlier line")
    assert "of another organisation" not in page


def test_days_are_chosen_whole(world: World) -> None:
    for day in ("2031-03-01T23:59:59", "2031-03-02T00:00:00", "2031-03-03T23:59:59", "2031-03-04T00:00:00"):
        line(world, f"on {day}", day)
    days = "?since=2031-03-02&until=2031-03-03"
    kept = [row[3] for row in table(world, days)[1:]]
    assert kept == ["on 2031-03-03T23:59:59", "on 2031-03-02T00:00:00"]
    page = shown(world, days)
    assert "on 2031-03-02" in page
    assert "on 2031-03-01" not in page
    assert "on 2031-03-04" not in page


@pytest.mark.parametrize("days", ["?since=yesterday", "?since=2031-02-30", "?since=2031-03-02&until=2031-03-01"])
def test_days_that_are_none_are_named(world: World, days: str) -> None:
    for page in ("trail/", "trail.csv"):
        answer = world.client("owner").get(f"/organisations/{world.dealer.pk}/{page}{days}")
        assert answer.status_code == 422
        assert 'aria-invalid="true"' in answer.content.decode()


def test_many_lines_are_on_several_pages_which_keep_the_days(world: World) -> None:
    for number in range(51):
        line(world, f"number {number:02}", "2031-05-01")
    days = "?since=2031-05-01&until=2031-05-01"
    first, second = shown(world, days), shown(world, f"{days}&page=2")
    assert "number 50" in first
    assert "number 00" not in first
    assert "number 00" in second
    assert "?since=2031-05-01&amp;until=2031-05-01&amp;page=2" in first
    assert "number 00" in shown(world, f"{days}&page=999")


@pytest.mark.parametrize("formula", ["=1+1", "+1", "-1", "@sum(a1)", "\t=1", "\r=1"])
def test_no_cell_of_the_table_is_a_formula(world: World, formula: str) -> None:
    line(world, formula, "2031-06-01", verb=formula[:40])
    row = table(world, "?since=2031-06-01&until=2031-06-01")[1]
    assert row[2] == row[3]
    assert row[2][0] == "'"
    assert row[2].replace("'", "") == formula


def test_a_table_holds_every_line_with_who_and_where(world: World) -> None:
    opening = world.opening
    line(
        world, 'a "quoted", cell', "2031-07-01", who=world.people["reader"], site=world.site, opening=opening,
        before="b" * 64, request="1234",
    )  # fmt: skip
    rows = table(world, "?since=2031-07-01")
    assert rows[0] == ["time", "who", "done", "what", "site", "opening", "before", "after", "request"]
    assert rows[1] == [
        "2031-07-01T00:00:00+00:00", "Reader", "tried out", 'a "quoted", cell', world.site.name, opening.tag,
        "b" * 64, "", "1234",
    ]  # fmt: skip
    assert len(table(world)) == Event.objects.filter(organisation=world.dealer).count() + 1


def test_taking_the_table_out_leaves_a_line(world: World) -> None:
    table(world)
    assert Event.objects.get(verb="trail taken out").who == world.people["owner"]


def test_what_is_in_a_line_is_shown_as_text(world: World) -> None:
    line(world, "<script>alert(1)</script>", "2031-08-01")
    assert "<script>alert" not in shown(world)
    assert "&lt;script&gt;alert" in shown(world)
