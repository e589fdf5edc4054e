"""One answer at a time: every kind of fact, wrong values, two taps, two readings, undo."""

from __future__ import annotations

import json
import uuid

import pytest

from sillwright.web.records.models import Observation
from sillwright.web.records.surveys import facts_of

from .conftest import World
from .taking import address, card_of, heads, opening_of, say, say_json, seen, site_seen, words
from .taking import quick_studies as quick_studies

ANSWERS = [  # the fact, what its form sends, what is kept, what is shown
    pytest.param("operator.kind", {"choose": "hoist"}, "hoist", "Hoist", id="a choice"),
    pytest.param("use.children", {"choose": "yes"}, "yes", "yes", id="yes or no"),
    pytest.param("door.clear_width", {"typed": "10 ft 6 1/2 in"}, "10 ft 6 1/2 in", "10 ft 6-1/2 in", id="length"),
    pytest.param("door.closing_speed", {"typed": "0.2 m/s"}, "0.2 m/s", "7.87 in/s", id="a speed"),
    pytest.param("door.leaf_mass", {"typed": "700 lb"}, "700 lb", "700 lb", id="a weight"),
    pytest.param("operator.reaction", {"typed": "0.1 s"}, "0.1 s", "100 ms", id="a time"),
    pytest.param("surroundings.cold_side", {"typed": "-4 °F"}, "-4 °F", "-4 °F", id="a temperature"),
    pytest.param("protection.e1.resistance", {"typed": "8.2 kohm"}, "8.2 kohm", "8.2 kΩ", id="a resistance"),
    pytest.param("operator.force_limit", {"typed": "700 N"}, "700 N", "700 N (157 lbf)", id="a force"),
    pytest.param("operator.made", {"year": "2019", "month": "3", "day": "4"}, "2019-03-04", "March 4, 2019",
                 id="a day"),
    pytest.param("operator.made", {"year": "2019", "month": "3", "day": ""}, "2019-03", "2019-03", id="a month"),
    pytest.param("operator.made", {"year": "2019", "month": "", "day": ""}, "2019", "2019", id="a year"),
    pytest.param("operator.lists_devices", {"typed": "edge-m\r\neye-t"}, "edge-m; eye-t", "edge-m; eye-t",
                 id="words of a list"),
    pytest.param("use.closings_per_day", {"typed": "120"}, "120", "120", id="a count"),
    pytest.param("use.downtime_cost", {"typed": "400 USD/h"}, "400 USD/h", "400 USD/h", id="money"),
    pytest.param("floor.points", {"typed": "0 in, 0 in\n4 ft, 1/4 in"}, "0 in, 0 in; 4 ft, 1/4 in",
                 "0 in: 0 in; 4 ft: 1/4 in", id="points"),
    pytest.param("lead.exit", {"choose": "back", "typed": ""}, "back", "back", id="an offered word"),
    pytest.param("lead.exit", {"typed": "in the middle"}, "in the middle", "in the middle", id="other words"),
]  # fmt: skip


@pytest.mark.parametrize(("fact", "sent", "typed", "shown"), ANSWERS)
def test_a_form_keeps_every_kind_of_answer_and_leads_back_to_its_card(
    world: World, fact: str, sent: dict[str, str], typed: str, shown: str
) -> None:
    client, opening = world.client("technician"), world.opening
    answer = say(client, opening, fact, origin="measured", by="Ana", on="2026-11-03", **sent)
    assert answer.status_code == 302
    assert answer["Location"].startswith(address(opening))
    assert answer["Location"].endswith(f"#f-{fact}")
    (head,) = heads(opening, fact)
    assert (head.typed, head.origin, head.by, head.on) == (typed, "measured", "Ana", "2026-11-03")
    assert fact not in facts_of(opening).rebuilt.mistakes
    page = client.get(address(opening, f"facts/{fact}"))
    assert f"{shown} measured, by Ana, written down by Technician, November 3, 2026" in words(page)


@pytest.mark.parametrize(("fact", "sent", "typed", "shown"), ANSWERS)
def test_a_page_that_goes_on_gets_the_card_the_drawing_and_the_sentence(
    world: World, fact: str, sent: dict[str, str], typed: str, shown: str
) -> None:
    answer = say_json(world.client("technician"), world.opening, fact, **sent)
    body = answer.json()
    assert answer.status_code == 200
    assert body["kept"] is True
    assert body["fact"] == fact
    assert heads(world.opening, fact)[0].typed == typed
    assert (
        shown in words(answer).replace("\\n", " ").encode().decode("unicode-escape", "ignore")
        or shown in body["card"]
    )
    assert f'id="f-{fact}"' in body["card"]
    assert body["drawing"].startswith("<svg")
    assert body["headline"].endswith(".")
    assert body["mistake"] == ""


@pytest.mark.parametrize("says", ["unknown", "none"])
def test_not_knowing_and_there_being_none_are_answers(world: World, says: str) -> None:
    opening = world.opening
    say(world.client("technician"), opening, "operator.made", says=says, typed="2019", origin="plate")
    (head,) = heads(opening, "operator.made")
    assert (head.says, head.typed) == (says, "")
    standing = facts_of(opening).rebuilt.survey.openings[0].operator.made.standing
    assert standing == {"unknown": "not known", "none": "none there"}[says]


def test_whoever_says_nothing_of_where_it_comes_from_sees_that(world: World) -> None:
    client = world.client("technician")
    say(client, world.opening, "operator.kind", choose="hoist")
    assert "Hoist origin not recorded, by Technician" in words(
        client.get(address(world.opening, "facts/operator.kind"))
    )


def test_a_wrong_value_is_kept_as_typed_and_what_would_be_right_stands_beside_it(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    body = say_json(client, opening, "door.clear_width", typed="10").json()
    assert body["kept"] is True
    assert body["mistake"].startswith("a number without its unit; write for example")
    assert heads(opening, "door.clear_width")[0].typed == "10"
    back = client.get(say(client, opening, "door.clear_width", typed="wide")["Location"].partition("#")[0])
    card = card_of(back, "door.clear_width")
    assert "Kept as written, but it cannot be used: not a quantity" in words(back)
    assert 'value="wide"' in card
    assert 'aria-invalid="true"' in card


def test_a_second_tap_on_the_same_button_writes_once(world: World) -> None:
    client, opening, key = world.client("technician"), world.opening, str(uuid.uuid4())
    shown = seen(opening, "operator.kind")
    before = Observation.objects.count()
    for _ in range(2):
        answer = say(client, opening, "operator.kind", choose="hoist", id=key, seen=shown)
        assert answer.status_code == 302
    assert Observation.objects.count() == before + 1


def test_a_tap_on_another_button_of_a_form_that_was_sent_is_told_so(world: World) -> None:
    client, opening, key = world.client("technician"), world.opening, str(uuid.uuid4())
    shown = seen(opening, "operator.kind")
    say(client, opening, "operator.kind", choose="hoist", id=key, seen=shown)
    answer = say(client, opening, "operator.kind", choose="chain", id=key, seen=shown)
    assert answer.status_code == 422
    assert "This form was sent before with another answer" in words(answer)
    assert heads(opening, "operator.kind")[0].typed == "hoist"


@pytest.mark.parametrize(
    ("sent", "why"),
    [
        ({"fact": "door.clear_width", "typed": "10\x00 ft"}, "U+0000"),
        ({"fact": "door.clear_width", "typed": "  "}, "There is no value"),
        ({"fact": "door.clear_width", "typed": "x" * 4001}, "at most 4000"),
        ({"fact": "door.clear_width", "typed": "10 ft", "by": "x" * 201}, "at most 200"),
        ({"fact": "door.clear_width", "typed": "10 ft", "origin": "dreamt"}, "is one of"),
        ({"fact": "door.clear_width", "typed": "10 ft", "seen": "nothing"}, "This is no id"),
        ({"fact": "door.clear_width", "typed": "10 ft", "id": "1"}, "This is no id"),
        ({"fact": "door.clear_width", "typed": "10 ft", "at": "yesterday"}, "is a moment"),
        ({"fact": "door.colour", "typed": "red"}, "no fact"),
        ({"fact": "tag", "typed": "B9"}, "no fact"),
        ({"fact": "site.coldest", "typed": "0 degF"}, "no fact"),
        ({"fact": "door.kind\x00", "typed": "grille"}, "no fact"),
        ({"fact": "door.clear_width", "says": "removed"}, "cannot be said"),
        ({"fact": "door.clear_width", "take": str(uuid.uuid4())}, "Nothing like that"),
        ({"fact": "door.clear_width", "undo": str(uuid.uuid4())}, "Nothing like that"),
    ],
)  # fmt: skip
def test_what_cannot_be_kept_is_refused_plainly_and_the_field_keeps_what_was_typed(
    world: World, sent: dict[str, str], why: str
) -> None:
    client, opening = world.client("technician"), world.opening
    before = Observation.objects.count()
    form = client.post(address(opening, "say"), sent)
    as_json = client.post(address(opening, "say"), sent, content_type="application/json")
    assert form.status_code == as_json.status_code == 422
    assert why in words(form)
    assert as_json.json()["kept"] is False
    assert why in as_json.json()["refused"]
    assert Observation.objects.count() == before
    typed = sent.get("typed", "").replace("\x00", "").strip()
    if sent["fact"] == "door.clear_width" and typed and "says" not in sent:
        assert f'value="{typed}"' in form.content.decode()


@pytest.mark.parametrize(
    "body",
    ['{"fact": "door.clear_width", "typed": "10\\ud800 ft"}', '{"fact": "door.clear_width", "typed": 10}', "[1]",
     "{", '"x"', '{"fact": ["door.kind"], "typed": "grille"}', '{"fact": "\\ud800", "typed": "1"}', "[" * 100_000],
)  # fmt: skip
def test_json_that_cannot_be_read_or_kept_is_refused_plainly(world: World, body: str) -> None:
    before = Observation.objects.count()
    client = world.client("technician")
    answer = client.post(address(world.opening, "say"), body, content_type="application/json")
    assert answer.status_code == 422
    assert json.loads(answer.content)["kept"] is False
    assert Observation.objects.count() == before


def test_two_readings_stand_side_by_side_and_choosing_one_replaces_both(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "D3")
    card = card_of(client.get(address(opening)), "door.leaf_mass")
    assert (
        "Different things were written. Choose one, or write what is right below. Both stay in the record." in card
    )
    assert "Take “926 lb”" in card
    assert "Take “1,120 lb”" in card
    plate = next(head for head in heads(opening, "door.leaf_mass") if head.origin == "plate")
    body = say_json(client, opening, "door.leaf_mass", take=plate.id).json()
    assert body["kept"] is True
    (head,) = heads(opening, "door.leaf_mass")
    assert (head.typed, head.origin, head.author) == ("510 kg", "plate", "Technician")
    assert Observation.objects.filter(opening=opening, fact="door.leaf_mass").count() == 3


def test_writing_what_is_right_settles_two_readings_too(world: World) -> None:
    opening = opening_of(world, "D3")
    say(world.client("technician"), opening, "door.leaf_mass", typed="500 kg", origin="measured")
    assert [head.typed for head in heads(opening, "door.leaf_mass")] == ["500 kg"]


def test_equal_values_in_other_units_are_no_contradiction(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    say(client, opening, "door.clear_width", typed="3.150 m", origin="measured", seen="")
    assert len(heads(opening, "door.clear_width")) == 2
    assert "Different things were written" not in card_of(client.get(address(opening)), "door.clear_width")


def test_what_was_not_seen_is_not_replaced(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    shown = seen(opening, "door.clear_width")
    say(client, opening, "door.clear_width", typed="10 ft 2 in", seen=shown, origin="measured")
    say(world.client("advisor"), opening, "door.clear_width", typed="11 ft", seen=shown, origin="measured")
    assert "Take “10 ft 2 in”" in card_of(client.get(address(opening)), "door.clear_width")


def test_a_width_with_a_decimal_point_is_asked_about_and_both_readings_are_one_tap(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    card = card_of(client.get(address(opening)), "door.clear_width")
    assert "Feet with a decimal point can be read two ways: 10 ft 6 in / 10 ft 7-3/16 in" in card
    assert 'value="10 ft 6 in"' in card
    assert 'value="10 ft 7-3/16 in"' in card


# undo


def test_undo_says_again_what_stood_before(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    kept = say_json(client, opening, "door.clear_width", typed="11 ft").json()["id"]
    back = say_json(client, opening, "door.clear_width", undo=kept).json()
    assert back["kept"] is True
    (head,) = heads(opening, "door.clear_width")
    assert (head.typed, head.origin, head.by) == ("10 ft 4 in", "measured", "technician")
    assert Observation.objects.filter(opening=opening, fact="door.clear_width").count() == 3


def test_undo_is_offered_after_a_form_too_and_works_without_a_script(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    page = client.get(say(client, opening, "operator.kind", choose="hoist")["Location"].partition("#")[0])
    assert "Kept: kind of operator, Hoist." in words(page)
    kept = heads(opening, "operator.kind")[0].id
    assert f'name="undo" value="{kept}"' in page.content.decode()
    assert say(client, opening, "operator.kind", undo=kept).status_code == 302
    assert heads(opening, "operator.kind")[0].typed == "jackshaft"


def test_undoing_a_first_answer_leaves_the_fact_not_known(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    kept = say_json(client, opening, "operator.deceleration", typed="2 m/s^2").json()["id"]
    say_json(client, opening, "operator.deceleration", undo=kept)
    assert [head.says for head in heads(opening, "operator.deceleration")] == ["unknown"]


def test_undoing_a_choice_brings_both_readings_back(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "D3")
    told = heads(opening, "door.leaf_mass")[0]
    kept = say_json(client, opening, "door.leaf_mass", take=told.id).json()["id"]
    say_json(client, opening, "door.leaf_mass", undo=kept)
    assert sorted(head.typed for head in heads(opening, "door.leaf_mass")) == ["420 kg", "510 kg"]
    assert facts_of(opening).rebuilt.survey.openings[0].door.leaf_mass.standing == "two readings"


def test_a_second_tap_on_undo_undoes_once(world: World) -> None:
    client, opening, key = world.client("technician"), world.opening, str(uuid.uuid4())
    kept = say_json(client, opening, "door.clear_width", typed="11 ft").json()["id"]
    for _ in range(2):
        assert say_json(client, opening, "door.clear_width", undo=kept, id=key).status_code == 200
    assert [head.typed for head in heads(opening, "door.clear_width")] == ["10 ft 4 in"]


def test_what_somebody_has_replaced_meanwhile_is_not_undone(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    kept = say_json(client, opening, "door.clear_width", typed="11 ft").json()["id"]
    say(world.client("advisor"), opening, "door.clear_width", typed="12 ft")
    answer = say_json(client, opening, "door.clear_width", undo=kept)
    assert answer.status_code == 422
    assert "Something newer stands there" in answer.json()["refused"]


def test_an_older_reading_can_be_said_again_from_the_history(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    say(client, opening, "door.clear_width", typed="11 ft")
    page = client.get(address(opening, "facts/door.clear_width"))
    assert "Say “10 ft 4 in” again" in words(page)
    first = Observation.objects.filter(opening=opening, fact="door.clear_width").order_by("at").first()
    assert first is not None
    body = say_json(client, opening, "door.clear_width", take=str(first.id), page="fact").json()
    assert heads(opening, "door.clear_width")[0].typed == "10 ft 4 in"
    assert "Instead of “11 ft”." in body["history"]


def test_a_reading_of_another_fact_cannot_be_taken(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    other = heads(opening, "door.clear_height")[0]
    assert say_json(client, opening, "door.clear_width", take=other.id).status_code == 422


def test_the_device_is_kept_as_a_short_label(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    agent = "Mozilla/5.0 (Linux; Android 14) Mobile"
    data = {"fact": "operator.kind", "choose": "hoist", "seen": seen(opening, "operator.kind")}
    client.post(address(opening, "say"), data, headers={"User-Agent": agent})
    latest = Observation.objects.filter(opening=opening, fact="operator.kind").latest("received")
    assert latest.device == "phone"
    assert "on: phone" in words(client.get(address(opening, "facts/operator.kind")))


# the site's own facts


def test_a_site_s_facts_are_written_the_same_way(world: World) -> None:
    client, site = world.client("technician"), world.site
    where = f"/sites/{site.pk}"
    sent = {"fact": "site.coldest", "typed": "-10 °F", "seen": site_seen(site, "site.coldest"), "origin": "told"}
    assert client.post(f"{where}/say/", sent).status_code == 302
    page = client.get(f"{where}/facts/")
    assert "Coldest it gets: -10 °F told, Technician" in words(page)
    body = client.post(f"{where}/say/", {**sent, "seen": ""}, content_type="application/json").json()
    assert body["kept"] is True
    assert "-10 °F" in words(client.get(f"{where}/facts/site.coldest/"))


def test_an_opening_s_fact_is_not_written_at_the_site(world: World) -> None:
    client = world.client("technician")
    sent = {"fact": "door.clear_width", "typed": "10 ft"}
    assert client.post(f"/sites/{world.site.pk}/say/", sent).status_code == 422


# reading back


@pytest.mark.parametrize(
    ("fact", "typed", "found"),
    [
        ("door.clear_width", "10 ft 6 1/2 in", {"words_us": "10 ft 6-1/2 in", "words_metric": "3.213 m"}),
        ("door.clear_width", "10 ft 6 1/2 in", {"us": "10 ft 6-1/2 in", "metric": "3.213 m"}),
        ("door.clear_width", "3.204 m", {"words_us": "10 ft 6-1/8 in", "metric": "3.204 m"}),
        ("door.leaf_mass", "1320 lb", {"metric": "599 kg", "us": "1320 lb"}),
        ("operator.force_limit", "700 N", {"us": "157 lbf", "metric": "700 N"}),
        ("surroundings.cold_side", "-40 °C", {"us": "-40 °F", "words_metric": "-40 °C"}),
        ("door.clear_width", "10.6 ft", {"us": "10 ft 7-3/16 in"}),
        ("operator.kind", "hoist", {"mistake": "", "words_us": ""}),
        ("door.clear_width", " ", {"mistake": "", "words_us": ""}),
    ],
)  # fmt: skip
def test_what_is_typed_is_read_back_in_both_systems(
    world: World, fact: str, typed: str, found: dict[str, str]
) -> None:
    where = address(world.opening, "read")
    answer = world.client("reader").post(where, {"fact": fact, "typed": typed}, content_type="application/json")
    assert answer.status_code == 200
    assert {name: answer.json()[name] for name in found} == found


def test_feet_with_a_decimal_point_are_doubted_while_they_are_typed(world: World) -> None:
    sent = {"fact": "door.clear_width", "typed": "10.6 ft"}
    answer = world.client("technician").post(address(world.opening, "read"), sent, content_type="application/json")
    assert "10 ft 6 in / 10 ft 7-3/16 in" in answer.json()["doubtful"]


def test_what_is_neither_yes_nor_no_is_answered_in_the_words_of_the_page(world: World) -> None:
    sent = {"fact": "use.children", "typed": "maybe"}
    answer = world.client("technician").post(address(world.opening, "read"), sent, content_type="application/json")
    assert answer.json()["mistake"] == "not an answer; write yes or no"


@pytest.mark.parametrize("body", ["{", "[]", '{"fact": "door.colour", "typed": "1"}', '{"typed": "1"}'])
def test_what_cannot_be_read_back_says_so(world: World, body: str) -> None:
    answer = world.client("technician").post(address(world.opening, "read"), body, content_type="application/json")
    assert answer.status_code == 422
