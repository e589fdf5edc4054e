"""What the page of a walk makes of readings, as its scripts say it: values in, values out, in a real browser."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from sillwright.base.display import show

from .browser import PHONE, Served, browsing, page_of, serving

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

SHORTHAND = """async (more) => {
  const from = (name) => import(`/static/offline/walk/${name}.js`);
  const [door, says, before, state, saying] = await Promise.all(["door", "says", "before", "state",
    "../saying"].map(from));
  const book = JSON.parse(document.getElementById("walk").dataset.book);
  let number = 0;
  const head = (typed, origin = "measured", author = "Tess", more = {}) => ({ id: `h${++number}`, says: "value",
    typed, origin, author, by: author, at: "2026-03-04T08:00:00.000000+00:00", ...more });
  const made = (id, facts = {}, more = {}) => ({ id, tag: id,
    facts: Object.fromEntries(Object.entries(facts).map(([path, heads]) => [path, { heads: [heads].flat(),
    awaited: [] }])), remarks: [], photos: [], answer: null, ...more });
  const about = { site: "s", opening: "o", by: "Tess", on: "2026-03-04" };
  const facts = (entries) => entries.map(({ fact, says, typed, origin }) => [fact, says, typed, origin]);
  CODE
}"""


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Any]:
    with serving(tmp_path_factory.mktemp("rules")) as served, browsing() as browser:
        yield _open(browser, served)


def _open(browser: Any, served: Served) -> Any:
    found = page_of(browser, served, "technician", PHONE)
    found.goto(f"/sites/{served.site}/walk/")
    return found


def run(page: Any, code: str, more: Any = None) -> Any:
    """What a few lines come to with the scripts of the walk at hand."""
    return page.evaluate(SHORTHAND.replace("CODE", code), more)


@pytest.mark.parametrize(
    ("tags", "expected"),
    [
        ([], "1"),
        (["B7"], "B8"),
        (["Bay 09"], "Bay 10"),
        (["B8", "B9", "B7"], "B10"),
        (["3A"], "4A"),
        (["Door"], "Door 2"),
        (["Door", "Door 2"], "Door 3"),
        (["B9 (2)"], "B9 (3)"),
    ],
)
def test_the_tag_that_is_offered_follows_the_last_one_and_is_free(
    page: Any, tags: list[str], expected: str
) -> None:
    assert run(page, "return state.nextTag(more);", tags) == expected


def test_what_was_seen_at_the_door_before_comes_with_one_tap_and_nothing_else_does(page: Any) -> None:
    found = run(
        page,
        """const like = made("B1", { "door.kind": head("sectional"), "door.clear_width": head("10 ft"),
          "operator.kind": head("jackshaft", "told"),
          "protection.e1.kind": head("air_edge"), "protection.e1.wires": head("4"),
            as_found: head("closes_by_tap") });
        const here = made("B2");
        return facts(before.allTheSame(book, before.sameHere(book, like, here), here, about));""",
    )
    assert found == [
        ["door.kind", "value", "sectional", "measured"],
        ["protection.e1.kind", "value", "air_edge", "measured"],
        ["protection.e1.wires", "value", "4", "measured"],
    ]


def test_what_was_said_here_already_is_not_said_again_by_the_tap(page: Any) -> None:
    found = run(
        page,
        """const like = made("B1", { "door.kind": head("sectional"), "protection.e1.kind": head("sensing_edge"),
          "protection.e1.wires": head("2") });
        const here = made("B2", { "door.kind": head("rolling"), protection: head("", "measured", "Tess",
          { says: "none" }) });
        return facts(before.allTheSame(book, before.sameHere(book, like, here), here, about));""",
    )
    assert found == []


def test_an_assumed_value_is_replaced_by_what_is_seen(page: Any) -> None:
    found = run(
        page,
        """const like = made("B1", { "door.kind": head("sectional") });
        const here = made("B2", { "door.kind": head("sectional", "assumed") });
        const [entry] = before.allTheSame(book, before.sameHere(book, like, here), here, about);
        return [entry.origin, entry.replaces, door.headsAt(here, "door.kind").map((each) => each.id)];""",
    )
    assert found[0] == "measured"
    assert found[1] == found[2]


def test_the_rest_comes_over_as_assumed_without_what_is_of_one_door_or_in_dispute(page: Any) -> None:
    found = run(
        page,
        """const like = made("B1", { "door.kind": head("sectional"), "door.lift": head("high"),
          "door.serial": head("77"), name: head("Bay 1"),
          "door.leaf_mass": [head("420 kg", "told"), head("510 kg", "plate")], "site_room": head("x"),
            "operator.side": head("right"),
          "protection.e1.kind": head("sensing_edge"), "protection.e1.circuit": head("resistor"),
            "protection.e1.state": head("dead"), "protection.y1.kind": head("photo_eye"),
            "protection.y1.height": head("6 in"),
          "use.traffic.m1.who": head("adult"), "stations.m1.place": head("wall"), "door.fitted": head("", "",
            "Tess", { says: "unknown" }) });
        const here = made("B2", { "protection.e1.kind": head("sensing_edge"), "operator.side": head("left"),
          "stations.m9.place": head("post") });
        const taken = before.takenOver(before.restOf(book, like, here), about, "comparison with B1");
        return [facts(taken), taken.map((each) => each.by)];""",
    )
    taken = {fact: (typed, origin) for fact, _says, typed, origin in found[0]}
    assert taken == {
        "door.lift": ("high", "assumed"),
        "site_room": ("x", "assumed"),
        "protection.e1.circuit": ("resistor", "assumed"),
        "use.traffic.m1.who": ("adult", "assumed"),
    }
    assert set(found[1]) == {"comparison with B1"}


def test_neither_edge_nor_eye_takes_away_what_was_seen_and_an_edge_alone_takes_the_eye_away(page: Any) -> None:
    facts = '{ "protection.e1.kind": head("sensing_edge"), "protection.e1.wires": head("2"), '
    facts += '"protection.y1.kind": head("photo_eye") }'
    row = 'book.rows.find((each) => each.entry === "devices")'
    none = run(
        page, f"return says.answered(book, made('B', {facts}), {row}, {{ edge: false, eye: false }}, about);"
    )
    assert [(each["fact"], each["says"]) for each in none] == [("protection", "none")]
    assert len(none[0]["replaces"]) == 3
    edge = run(page, f"return says.answered(book, made('B', {facts}), {row}, {{ edge: true, eye: false }}, about);")
    assert [(each["fact"], each["says"], each["typed"]) for each in edge] == [
        ("protection.e1.kind", "value", "sensing_edge"),
        ("protection.y1", "removed", ""),
    ]
    both = run(page, f"return says.answered(book, made('B'), {row}, {{ edge: true, eye: true }}, about);")
    assert [(each["fact"], each["typed"]) for each in both] == [
        ("protection.e1.kind", "sensing_edge"),
        ("protection.y1.kind", "photo_eye"),
    ]


def test_a_loop_that_is_there_stays_when_edge_and_eye_are_said_to_be_none(page: Any) -> None:
    found = run(
        page,
        """const here = made("B", { "protection.l1.kind": head("loop"),
          "protection.e1.kind": head("sensing_edge", "assumed") });
        return says.answered(book, here, book.rows.find((each) => each.entry === "devices"), { edge: false,
          eye: false }, about);""",
    )
    assert [(each["fact"], each["says"]) for each in found] == [("protection.e1", "removed")]


def test_a_gate_is_asked_for_its_leaf_and_a_door_for_its_opening(page: Any) -> None:
    rows = "return door.rowsOf(book, made('G', more ? { 'door.kind': head(more) } : {})).map((each) => each.path);"
    gate, rolling, unknown = (run(page, rows, kind) for kind in ("slide_gate", "rolling", None))
    assert {"door.leaf_length", "door.leaf_height"} <= set(gate)
    assert "door.clear_width" not in gate
    assert {"door.clear_width", "door.clear_height"} <= set(rolling)
    assert rolling == unknown


def test_the_heaviest_word_counts_and_what_the_study_says_is_the_least(page: Any) -> None:
    code = """const said = more[1].map(([words, author], id) => ({ id: String(id), says: "urgency", words,
      author, at: "" }));
      const found = state.urgencyOf(book, made("B", {}, { remarks: said, answer: more[0] && { level: more[0] } }));
      return [found.word, [...found.lower]];"""
    assert run(page, code, [None, []]) == ["", []]
    assert run(page, code, ["act", [["watch", "Tess"]]]) == ["quote", ["watch", ""]]
    assert run(page, code, ["act", [["stop", "Tess"], ["watch", "Tom"]]]) == ["stop", ["watch", ""]]
    assert run(page, code, ["good", [["watch", "Tom"]]]) == ["watch", []]


def test_what_is_left_out_on_purpose_is_missing_no_longer_and_an_assumption_is_still_missing(page: Any) -> None:
    code = """const here = made("B", { "door.kind": head("rolling", "assumed"), "door.clear_width": head("", "",
      "Tess", { says: "unknown" }) },
      { remarks: [{ id: "r", says: "left", about: "plate", words: "no lift", author: "Tess", at: "" }],
        photos: [{ id: "p", shot: "bottom_right", state: "coming" }] });
      return [state.missing(book, here, [{ id: "w", shot: "inside" }]).map((each) => each.about),
        state.stateOf(book, here, [])];"""
    about, said = run(page, code)
    assert about == ["door.kind", "door.clear_height", "operator.kind", "protection", "as_found", "urgency"]
    assert said == "begun"
    assert run(page, "return state.stateOf(book, made('B'), []);") == "not-begun"


def test_the_next_door_is_the_next_one_in_walking_order_that_is_not_done(page: Any) -> None:
    code = """const done = made("B2", {}, { remarks: [...state.lacks(book, made("B2"), []).map((each, id) =>
      ({ id, says: "left", about: each.about, words: "locked", at: "" }))] });
      const doors = [made("B1"), done, made("B3")];
      return ["B1", "B3", null].map((after) => state.nextDoor(book, doors, () => [], after)?.id);"""
    assert run(page, code) == ["B3", "B1", "B1"]


def test_who_else_wrote_in_the_last_hours_is_named_and_nobody_from_yesterday(page: Any) -> None:
    code = """const late = { at: "2026-03-04T07:00:00.000000+00:00" },
      old = { at: "2026-03-03T07:00:00.000000+00:00" };
      const here = made("B", { "door.kind": head("rolling", "measured", "Tom", late), "door.lift": head("high",
        "measured", "Ann", old), as_found: head("only_held", "measured", "Tess", late) });
      return state.othersAt(here, "Tess", Date.parse("2026-03-04T09:00:00Z")).map((each) => each.author);"""
    assert run(page, code) == ["Tom"]


def test_taking_back_the_first_device_leaves_it_not_known_whether_there_is_one(page: Any) -> None:
    code = """const row = book.rows.find((each) => each.entry === "devices");
      const [entry] = says.answered(book, made("B"), row, { edge: true, eye: false }, about);
      const none = head("", "measured", "Tom", { says: "none" });
      const [over] = says.answered(book, made("B", { protection: none }), row, { edge: true, eye: false }, about);
      return [entry, over].map((each) => facts(saying.undoing({ ...each, id: "mine" })));"""
    first, over = run(page, code)
    assert first == [["protection.e1", "removed", "", ""], ["protection", "unknown", "", ""]]
    assert over == [["protection.e1", "removed", "", ""], ["protection", "none", "", "measured"]]


def test_taking_back_says_again_what_stood_before(page: Any) -> None:
    code = """const old = head("rolling", "told", "Tom");
      const [entry] = says.answered(book, made("B", { "door.kind": old }), book.rows[0], { typed: "sectional" },
        about);
      const left = says.remark(about, "left", "locked", [], "plate");
      return [saying.undoing({ ...entry, id: "mine" }), saying.undoing({ ...left, id: "its" })].flat();"""
    again, back = run(page, code)
    assert (again["fact"], again["typed"], again["origin"], again["by"]) == ("door.kind", "rolling", "told", "Tom")
    assert again["replaces"] == ["mine"]
    assert (back["says"], back["words"], back["replaces"]) == ("remark", "", ["its"])


def test_a_door_in_the_walk_has_one_place_earlier_and_one_later_but_at_the_ends(page: Any) -> None:
    places = run(
        page,
        """const doors = ["A", "B", "C"].map((id, position) => ({ id, position }));
        return doors.map(({ id }) => Object.entries(state.placeOf(doors, id)));""",
    )
    assert [dict(each) for each in places] == [
        {"number": 1, "before": None, "earlier": None, "later": "B"},
        {"number": 2, "before": "A", "earlier": None, "later": "C"},
        {"number": 3, "before": "B", "earlier": "A", "later": None},
    ]


@pytest.mark.parametrize(
    ("after", "expected"),
    [(None, "CABD"), ("A", "ACBD"), ("B", "ABCD"), ("D", "ABDC"), ("C", "ABCD"), ("X", "ABCD")],
)
def test_a_door_that_is_moved_here_stands_where_the_server_will_put_it(
    page: Any, after: str | None, expected: str
) -> None:
    code = """const { moved } = await import("/static/offline/outbox.js");
        const doors = ["D", "C", "B", "A"].map((id, at) => ({ id, position: 9 - 3 * at }));
        const order = moved(doors, { opening: "C", after: more });
        return order.sort((a, b) => a.position - b.position).map(({ id }) => id).join("");"""
    assert run(page, code, after) == expected


def test_a_move_that_may_have_arrived_is_undone_by_moving_back(page: Any) -> None:
    code = """const [back] = saying.undoing({ ...says.move(about, "B", null), id: "m" });
        return [back.kind, back.site, back.opening, back.after, back.before];"""
    assert run(page, code) == ["move", "s", "o", None, "B"]


def test_a_length_is_read_back_in_the_words_of_the_server(page: Any) -> None:
    sixteenths = [number / 16 * 0.0254 for number in (0, 1, 2, 7, 12, 16, 17, 100, 191, 192, 193, 2023, 9999)]
    lengths = [*sixteenths, *(-each for each in sixteenths), 3.71, 0.999, 1.0, 0.0096, 0.00099, 3.2042, 12.3456]
    code = """const { inFeet, inMetres } = await import("/static/offline/lengths.js");
        return more.map((each) => [inFeet(each), inMetres(each)]);"""
    assert run(page, code, lengths) == [[show(each, "m", "us"), show(each, "m", "metric")] for each in lengths]
