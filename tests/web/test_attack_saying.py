"""What is said clumsily or twice at a door never turns into a better answer than the door deserves."""

from __future__ import annotations

from django.test import Client
from django.urls import reverse

from sillwright.base.words import Reader
from sillwright.survey.entries import Entry, survey_from_entries
from sillwright.survey.from_node import MOST_READINGS
from sillwright.web.records.answers import study_of
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Opening
from sillwright.web.taking.units import mistake_words

from .conftest import World


def _closing(opening: Opening) -> str:
    studied = study_of(Opening.objects.select_related("site").get(pk=opening.pk)).study
    return studied.duty.powered_closing if studied else ""


def _say(world: World, fact: str, typed: str, origin: str = "measured") -> None:
    """One more reading, by somebody who saw none of the others."""
    said = Said(fact=fact, typed=typed, origin=origin)
    write(world.site, world.opening, said, author=world.people["technician"])


def _by_the_file(client: Client, world: World) -> str:
    """What the survey that is handed out comes to."""
    from sillwright.study import study_opening
    from sillwright.survey.reading import survey_of

    text = client.get(reverse("site_survey", args=[world.site.pk])).content
    survey = survey_of(text, "handed-out.yaml")
    return study_opening(survey.site, survey.openings[0]).duty.powered_closing


def test_a_reading_that_nobody_can_read_beside_a_good_one_is_not_counted_as_good(world: World) -> None:
    assert _closing(world.opening) == "yes"
    _say(world, "protection.e1.state", "ripped to pieces")
    assert _closing(world.opening) == "unknown"
    assert _by_the_file(world.client("technician"), world) == "unknown"


def test_both_texts_stand_on_the_page_until_somebody_settles_them(world: World) -> None:
    _say(world, "protection.e1.state", "ripped to pieces")
    page = world.client("technician").get(reverse("opening", args=[world.opening.pk])).content.decode()
    assert "ripped to pieces" in page
    assert page.count("“none”") == 0


def test_a_width_that_can_be_read_is_drawn_and_studied_beside_one_that_cannot(world: World) -> None:
    _say(world, "door.clear_width", "10 6")
    studied = study_of(world.opening)
    assert studied.study is not None
    width = studied.facts.rebuilt.survey.openings[0].door.clear_width
    assert width.standing == "two readings"
    assert 3.1 < max(each for each in width.rivals if each is not None) < 3.2


def test_a_dead_device_is_not_lost_behind_fifty_readings_that_say_it_works() -> None:
    works = [Entry(path="protection.e1.state", typed="works")] * (MOST_READINGS + 5)
    told = [Entry(path="protection.e1.kind", typed="sensing_edge"), *works]
    rebuilt = survey_from_entries("Yard", [], {"B1": [*told, Entry(path="protection.e1.state", typed="dead")]})
    (edge,) = rebuilt.survey.openings[0].protection.items
    assert set(edge.state.rivals) == {"works", "dead"}


def _undone(world: World, listed: str, typed: str) -> None:
    """Add the first member of a list, and take that back with the button beside it."""
    client = world.client("technician")
    address = reverse("list", args=[world.opening.pk, listed])
    kept, _, fact = client.post(address, {"typed": typed})["Location"].partition("?kept=")[2].partition("#f-")
    client.post(reverse("say", args=[world.opening.pk]), {"fact": fact, "undo": kept})


def test_taking_back_the_first_device_does_not_say_that_somebody_looked_and_found_none(world: World) -> None:
    world.opening.facts.filter(path__startswith="protection.").delete()
    before = _closing(world.opening)
    _undone(world, "protection", "photo_eye")
    assert before == _closing(world.opening) == "unknown"


def test_taking_back_a_jumper_leaves_the_answer_as_it_was(world: World) -> None:
    _undone(world, "temporary_parts", "a jumper")
    assert _closing(world.opening) == "yes"


def test_taking_back_the_second_device_leaves_the_first_one_there(world: World) -> None:
    _undone(world, "protection", "photo_eye")
    (edge,) = study_of(world.opening).facts.rebuilt.survey.openings[0].protection.items
    assert edge.kind.value == "sensing_edge"


def test_a_clock_at_the_ends_of_the_calendar_is_named_and_breaks_nothing(world: World) -> None:
    for at in ("0001-01-01T00:00:00+23:59", "9999-12-31T23:59:59-23:59"):
        sent = {"fact": "use.children", "typed": "yes", "at": at}
        answer = world.client("technician").post(reverse("say", args=[world.opening.pk]), sent)
        assert answer.status_code == 422, at
        assert "is a moment like" in answer.content.decode()


def test_an_endless_amount_of_money_is_kept_as_typed_and_not_counted(world: World) -> None:
    typed = "9" * 400 + " USD/h"
    world.client("technician").post(
        reverse("say", args=[world.opening.pk]), {"fact": "use.downtime_cost", "typed": typed}
    )
    facts = study_of(world.opening).facts
    assert facts.heads["use.downtime_cost"][0].typed == typed
    assert "use.downtime_cost" in facts.rebuilt.mistakes


def test_a_range_is_told_in_the_units_that_the_reader_types() -> None:
    us, metric = Reader(units="us"), Reader(units="metric")
    feet, metres = (
        mistake_words("door.clear_width", typed, reader) for typed, reader in (("1000 ft", us), ("1000 m", metric))
    )
    assert feet.endswith("at least 7-7/8 in and at most 196 ft 10-3/16 in is accepted")
    assert metres.endswith("at least 200 mm and at most 60.000 m is accepted")
