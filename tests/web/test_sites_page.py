"""The page of a site: its openings with the answer to each, names, and putting away."""

from __future__ import annotations

import uuid
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from sillwright.web.records.answers import answer_of, reader_for
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Answer, Event, Opening, Site
from sillwright.web.records.sites import make_opening, make_site, put_away, rename, share

from .conftest import World

HOSTILE = '<img src=x onerror="alert(1)">'
NOT_STUDIED = "Not studied yet. Open it to study it."


def seen(client: Client, site: Site, more: str = "") -> str:
    answer = client.get(f"/sites/{site.pk}/{more}")
    assert answer.status_code == 200
    return answer.content.decode()


def kept(world: World, opening: Opening, closing: str, who: str = "owner", headline: str = "It may.") -> Answer:
    """An answer as if the opening had been studied for somebody."""
    reader = reader_for(world.people[who], opening.site)
    answer = answer_of(opening, reader, lambda *_: "body")
    Answer.objects.filter(pk=answer.pk).update(closing=closing, headline=headline, level="stop")
    return answer


def bare(world: World) -> Site:
    """A site with three openings of which nothing is known, which are studied in no time."""
    site = make_site(world.dealer, "Quay", "US", author=world.people["owner"])
    for tag in ("Q1", "Q2", "Q3"):
        make_opening(site, tag, author=world.people["owner"], said=[Said(fact="name", typed=f"Bay {tag}")])
    return Site.objects.get(pk=site.pk)


@pytest.mark.parametrize(
    ("who", "status"),
    [("owner", 200), ("advisor", 200), ("technician", 200), ("reader", 200), ("friend", 200), ("stranger", 404)],
)
def test_who_sees_a_site(world: World, who: str, status: int) -> None:
    assert world.client(who).get(f"/sites/{world.site.pk}/").status_code == status


def test_nothing_is_studied_when_the_page_is_asked_for(world: World, monkeypatch: Any) -> None:
    monkeypatch.setattr("sillwright.web.records.answers.study_of", lambda *_: pytest.fail("studied"))
    page = seen(world.client("owner"), world.site)
    assert page.count(NOT_STUDIED) == world.site.openings.count()
    assert f"/openings/{world.opening.pk}/headline.json" in page


def test_an_opening_shows_tag_name_answer_and_weight_in_words(world: World) -> None:
    site = bare(world)
    kept(world, site.openings.get(tag="Q1"), "no", headline="It may only while held.")
    page = seen(world.client("owner"), site)
    assert '<strong>Q1</strong> <span class="quiet">Bay Q1</span>' in page
    assert "It may only while held." in page
    assert 'weighed stop"' in page
    assert "stop today" in page
    assert page.count(NOT_STUDIED) == 2


def test_the_counts_say_how_many_may_how_many_may_not_and_what_is_open(world: World) -> None:
    site = bare(world)
    for tag, closing in (("Q1", "yes"), ("Q2", "no")):
        kept(world, site.openings.get(tag=tag), closing)
    page = " ".join(seen(world.client("owner"), site).split())
    assert "3 openings." in page
    for name, number in (("yes", 1), ("no", 1), ("unknown", 0), ("open", 1)):
        assert f'<b data-count="{name}">{number}</b>' in page


def test_an_answer_does_not_outlive_the_facts_it_rests_on(world: World) -> None:
    site = bare(world)
    opening = site.openings.get(tag="Q1")
    kept(world, opening, "yes")
    assert "It may." in seen(world.client("owner"), site)
    write(site, opening, Said(fact="door.kind", typed="grille"), author=world.people["owner"])
    assert "It may." not in seen(world.client("owner"), site)


def test_an_answer_in_the_units_of_another_reader_is_not_shown(world: World) -> None:
    site = bare(world)
    world.people["reader"].units = "metric"
    world.people["reader"].save()
    kept(world, site.openings.get(tag="Q1"), "yes")
    assert "It may." in seen(world.client("owner"), site)
    assert "It may." not in seen(world.client("reader"), site)


@pytest.mark.parametrize("who", ["technician", "reader", "friend"])
def test_the_answer_of_one_opening_is_studied_when_it_is_asked_for_and_kept(world: World, who: str) -> None:
    opening = bare(world).openings.get(tag="Q2")
    share(opening.site, world.other, "read", author=world.people["owner"])
    answer = world.client(who).get(f"/openings/{opening.pk}/headline.json")
    assert answer.json() == {
        "closing": "unknown",
        "headline": "Too little is known for a study.",
        "level": "",
        "level_in_words": "",
    }
    assert opening.answers.count() == 1


def test_a_stranger_gets_no_answer(world: World) -> None:
    assert world.client("stranger").get(f"/openings/{world.opening.pk}/headline.json").status_code == 404
    assert Answer.objects.count() == 0


def test_the_answer_of_an_opening_of_the_example_is_a_sentence_with_its_weight(world: World) -> None:
    answer = world.client("reader").get(f"/openings/{world.opening.pk}/headline.json").json()
    assert answer["closing"] in {"yes", "no", "unknown"}
    assert answer["headline"].endswith(".")
    assert answer["level_in_words"]
    assert answer["headline"] in seen(world.client("reader"), world.site).replace("&#x27;", "'")


@pytest.mark.parametrize(
    ("who", "writes", "manages"),
    [
        ("owner", True, True), ("advisor", True, True), ("technician", True, False), ("reader", False, False),
        ("friend", False, False),
    ],
)  # fmt: skip
def test_a_page_offers_what_its_reader_may_do_and_nothing_else(
    world: World, who: str, writes: bool, manages: bool
) -> None:
    page, here = seen(world.client(who), world.site), f"/sites/{world.site.pk}"
    for address in (f"{here}/openings/new/", f"{here}/take-in/"):
        assert (f'"{address}"' in page) == writes
    for address in (f"{here}/sharing/", f"{here}/name/", f"{here}/put-away/"):
        assert (f'"{address}"' in page) == manages
    for address in (f"{here}/facts/", f"{here}/papers/", f"{here}/survey.yaml", f"{here}/survey.xlsx"):
        assert f'"{address}"' in page


def test_a_reader_of_a_shared_site_is_told_whose_it_is(world: World) -> None:
    assert "This site belongs to Harbour Doors." in seen(world.client("friend"), world.site)
    assert "This site belongs to" not in seen(world.client("reader"), world.site)


def test_a_site_without_openings_says_what_to_do_next(world: World) -> None:
    site = make_site(world.dealer, "Quay", "US", author=world.people["owner"])
    assert "Stand at the first door and make one." in seen(world.client("technician"), site)
    assert "Stand at the first door" not in seen(world.client("reader"), site)


def test_many_openings_come_in_pages_and_can_be_searched_by_tag_and_name(
    world: World, django_assert_max_num_queries: Any
) -> None:
    site = make_site(world.dealer, "Quay", "US", author=world.people["owner"])
    for number in range(101):
        said = [Said(fact="name", typed="Engine house")] if number == 100 else []
        make_opening(site, f"Q{number}", author=world.people["owner"], said=said)
    client = world.client("reader")
    with django_assert_max_num_queries(9):
        first = seen(client, site)
    assert "<strong>Q100</strong>" not in first
    assert "101 openings." in first
    assert "<strong>Q100</strong>" in seen(world.client("reader"), site, "?page=2")
    found = seen(world.client("reader"), site, "?q=engine")
    assert "<strong>Q100</strong>" in found
    assert "<strong>Q99</strong>" not in found
    assert "101 openings." in found
    assert "No opening has this" in seen(world.client("reader"), site, "?q=nowhere")


def test_what_people_wrote_is_shown_as_text(world: World) -> None:
    site = bare(world)
    rename(site, HOSTILE, author=world.people["owner"])
    opening = site.openings.get(tag="Q1")
    rename(opening, HOSTILE, author=world.people["owner"])
    write(site, opening, Said(fact="name", typed=HOSTILE), author=world.people["owner"])
    kept(world, Opening.objects.get(pk=opening.pk), "no", headline=HOSTILE)
    for page in (seen(world.client("owner"), site), seen(world.client("owner"), site, f"?q={HOSTILE}")):
        assert "<img" not in page
        assert page.count("&lt;img") >= 3
    assert "<img" not in world.client("owner").get(f"/openings/{opening.pk}/name/").content.decode()


# names


@pytest.mark.parametrize(
    ("who", "site", "opening"),
    [
        ("owner", 302, 302), ("advisor", 302, 302), ("technician", 403, 302), ("reader", 403, 403),
        ("friend", 403, 403), ("stranger", 404, 404),
    ],
)  # fmt: skip
def test_who_may_give_another_name(world: World, who: str, site: int, opening: int) -> None:
    client = world.client(who)
    assert client.post(f"/sites/{world.site.pk}/name/", {"name": "Quay"}).status_code == site
    assert client.post(f"/openings/{world.opening.pk}/name/", {"name": "Z9"}).status_code == opening
    assert client.get(f"/openings/{world.opening.pk}/name/").status_code == (200 if opening == 302 else opening)


def test_another_tag_is_kept_with_its_line_in_the_trail_and_the_answer_is_made_anew(world: World) -> None:
    opening = bare(world).openings.get(tag="Q1")
    kept(world, opening, "yes")
    answer = world.client("technician").post(f"/openings/{opening.pk}/name/", {"name": " Gate  1 "}, follow=True)
    assert "It is called “Gate 1” now." in answer.content.decode()
    line = Event.objects.get(verb="renamed")
    assert (line.what, line.opening, line.who) == ("Q1 → Gate 1", opening, world.people["technician"])
    assert line.request
    assert NOT_STUDIED in seen(world.client("owner"), opening.site)


@pytest.mark.parametrize(
    ("name", "said"), [("Q2", "has an opening “Q2” already"), ("", "A name is wanted"), ("x" * 101, "at most 100")]
)
def test_a_tag_that_cannot_be_kept_says_why_and_keeps_what_was_typed(world: World, name: str, said: str) -> None:
    opening = bare(world).openings.get(tag="Q1")
    answer = world.client("owner").post(f"/openings/{opening.pk}/name/", {"name": name})
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert f'value="{name}"' in answer.content.decode()
    assert Opening.objects.get(pk=opening.pk).tag == "Q1"


def test_the_same_name_again_changes_nothing(world: World) -> None:
    before = Site.objects.get(pk=world.site.pk).revision
    world.client("owner").post(f"/sites/{world.site.pk}/name/", {"name": world.site.name})
    assert Site.objects.get(pk=world.site.pk).revision == before
    assert not Event.objects.filter(verb="renamed").exists()


# putting away


def test_an_opening_put_away_leaves_the_list_and_comes_back_with_one_tap(world: World) -> None:
    site, client = bare(world), world.client("technician")
    address = f"/openings/{site.openings.get(tag='Q2').pk}/put-away/"
    page = client.post(address, follow=True).content.decode()
    assert "“Q2” is put away. Nothing is lost." in page
    assert "2 openings." in page
    assert "<strong>Q2</strong>" not in page
    back = client.post(address, {"back": "1"}, follow=True).content.decode()
    assert "3 openings." in back
    assert list(Event.objects.filter(verb__startswith="put").values_list("verb", flat=True).order_by("pk")) == [
        "put away",
        "put back",
    ]


@pytest.mark.parametrize(("who", "status"), [("reader", 403), ("friend", 403), ("stranger", 404)])
def test_who_may_not_write_puts_no_opening_away(world: World, who: str, status: int) -> None:
    assert world.client(who).post(f"/openings/{world.opening.pk}/put-away/").status_code == status
    assert Opening.objects.get(pk=world.opening.pk).put_away is None


def test_nothing_is_put_away_by_looking(world: World) -> None:
    for address in (f"/openings/{world.opening.pk}/put-away/", f"/sites/{world.site.pk}/put-away/"):
        assert world.client("owner").get(address).status_code == 405


def test_putting_away_twice_is_one_line_in_the_trail(world: World) -> None:
    for _ in range(2):
        put_away(world.opening, author=world.people["owner"])
    assert Event.objects.filter(verb="put away").count() == 1


def test_a_site_that_is_not_there_is_not_found(world: World) -> None:
    for path in ("", "openings/new/", "sharing/", "name/", "take-in/", "survey.yaml", "survey.xlsx"):
        assert world.client("owner").get(f"/sites/{uuid.uuid4()}/{path}").status_code == 404


def test_the_script_of_the_page_is_its_own_file_and_says_no_words() -> None:
    script = (Path(__file__).parents[2] / "src/sillwright/web/static/sites.js").read_text(encoding="utf-8")
    assert "innerHTML" not in script
