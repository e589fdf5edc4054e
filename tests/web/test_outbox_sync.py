"""The sender of a phone against a server that is away, in the middle of something, full, or not ours at all."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import urlsplit

import pytest

from .browser import ROOT, browsing
from .offline import until

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

STATIC = ROOT / "src/sillwright/web/static"
HERE = "https://phone.test"  # no such host: everything is answered by this test
YARD = str(uuid.UUID(int=1))
SCRIPT = """
import * as outbox from "/offline/outbox.js";
import { send, status } from "/offline/sync.js";
const about = { kind: "observation", site: "YARD", opening: "DOOR", fact: "door.headroom", says: "value" };
const told = ({ typed, tag, state, why, later }) => ({ typed, tag, state, why, later });
Object.assign(window, { outbox, send, sender: status, ready: true,
  write: (typed, more = {}) => outbox.add({ ...about, typed, replaces: [], ...more }),
  writeMany: (count) => outbox.addAll([...Array(count).keys()].map((each) => ({ ...about, typed: `${each} mm` }))),
  left: async () => (await outbox.entries()).map(told),
});
""".replace("YARD", YARD).replace("DOOR", str(uuid.UUID(int=2)))
PAGE = """<!doctype html><html lang="en"><meta name="person" content="%s" data-name="%s"><title>phone</title>
<script type="module" src="/start.js"></script>"""
TECHNICIAN, OWNER = (str(uuid.UUID(int=number)) for number in (7, 8))
Answer = tuple[int, Any, dict[str, str]]


@dataclass
class Server:
    """A server of this test: what it was sent, and what it does about it."""

    me: str | None = TECHNICIAN
    token: str = "token 1"
    judge: Callable[[dict[str, Any]], tuple[str, str]] = lambda entry: ("kept", "")
    answer: Callable[[list[dict[str, Any]]], Answer | None] = lambda entries: None  # instead of judging
    asked: list[str] = field(default_factory=list)
    batches: list[list[dict[str, Any]]] = field(default_factory=list)
    log: dict[str, dict[str, Any]] = field(default_factory=dict)
    page_of: str = TECHNICIAN

    def handle(self, route: Any) -> None:
        """Answer one request."""
        path = urlsplit(route.request.url).path
        if path == "/":
            name = "Technician" if self.page_of == TECHNICIAN else "Owner"
            route.fulfill(body=PAGE % (self.page_of, name), content_type="text/html")
        elif path.endswith(".js"):
            body = SCRIPT if path == "/start.js" else (STATIC / path.lstrip("/")).read_text(encoding="utf-8")
            route.fulfill(body=body, content_type="text/javascript")
        else:
            self.asked.append(path)
            found = self._asked(path, route.request)
            if found is None:
                route.abort()
            else:
                status, body, headers = found
                text = body if isinstance(body, str) else json.dumps(body)
                route.fulfill(status=status, body=text, headers=headers, content_type="application/json")

    def _asked(self, path: str, request: Any) -> Answer | None:
        if path == "/api/me":
            told = {"user": {"id": self.me, "name": "x"}, "csrf": self.token}
            return (200, told, {}) if self.me else (401, {"title": "Nobody is signed in"}, {})
        if path != "/api/entries":
            return 500, {}, {}
        entries = json.loads(request.post_data)["entries"]
        self.batches.append(entries)
        if request.headers.get("x-csrftoken") != self.token:
            return 403, {"title": "Load the page again"}, {}
        return self.answer(entries) or (200, {"answers": [self._judged(*each) for each in enumerate(entries)]}, {})

    def _judged(self, index: int, entry: dict[str, Any]) -> dict[str, Any]:
        answer, why = self.judge(entry)
        if answer == "kept":
            self.log[entry["id"]] = entry
        return {"index": index, "id": entry["id"], "answer": answer, "why": why}


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as found:
        yield found


@pytest.fixture
def server() -> Server:
    return Server()


@pytest.fixture
def page(browser: Any, server: Server) -> Iterator[Any]:
    context = browser.new_context()
    context.route("**/*", server.handle)
    yield opened(context)
    context.close()


def opened(context: Any) -> Any:
    """A tab with the scripts of the outbox."""
    page = context.new_page()
    page.goto(HERE)
    until(lambda: page.evaluate("() => window.ready"))
    return page


def send(page: Any) -> str:
    """Send what waits, now; the state it ended in."""
    return str(page.evaluate("() => send(true)"))


def left(page: Any) -> list[str]:
    """What is still on this phone, as typed."""
    return [each.get("typed") or each.get("tag") for each in page.evaluate("() => left()")]


def test_everything_is_sent_once_in_batches_in_the_order_it_was_written(page: Any, server: Server) -> None:
    page.evaluate("() => writeMany(250)")
    assert send(page) == "idle"
    assert [len(each) for each in server.batches] == [100, 100, 50]
    assert [each["typed"] for batch in server.batches for each in batch] == [
        f"{number} mm" for number in range(250)
    ]
    assert left(page) == []
    assert not {"person", "author", "state", "tries", "title"} & set(server.batches[0][0])


def test_a_phone_that_has_nothing_asks_nothing(page: Any, server: Server) -> None:
    assert send(page) == "idle"
    assert server.asked == []


@pytest.mark.parametrize("signed_in", [None, OWNER])
def test_without_its_author_signed_in_nothing_is_sent_and_all_stays(
    page: Any, server: Server, signed_in: str | None
) -> None:
    server.me = signed_in
    page.evaluate("() => write('10 ft')")
    assert send(page) == "signed-out"
    assert left(page) == ["10 ft"]
    assert server.batches == []
    server.me = TECHNICIAN
    assert send(page) == "idle"
    assert left(page) == []


def test_another_person_on_the_same_phone_sends_only_what_is_theirs(page: Any, server: Server) -> None:
    page.evaluate("() => write('10 ft')")
    server.me = server.page_of = OWNER
    page.goto(HERE)
    until(lambda: page.evaluate("() => window.ready"))
    page.evaluate("() => write('12 ft')")
    assert send(page) == "idle"
    assert [each["typed"] for each in server.log.values()] == ["12 ft"]
    assert left(page) == ["10 ft"]


def test_a_token_that_changed_meanwhile_is_asked_for_anew(page: Any, server: Server) -> None:
    page.evaluate("() => write('10 ft')")
    server.token = "token 2"
    real, told = server._asked, []

    def stale_once(path: str, request: Any) -> Answer | None:
        found = real(path, request)
        if path == "/api/me" and not told and found:
            told.append(path)
            return 200, {**found[1], "csrf": "token 1"}, {}
        return found

    server._asked = stale_once  # type: ignore[method-assign]
    assert send(page) == "idle"
    assert left(page) == []
    assert server.asked.count("/api/me") == 2


def test_a_server_that_is_killed_in_the_middle_is_sent_the_same_again_and_nothing_is_twice(
    page: Any, server: Server
) -> None:
    page.evaluate("() => writeMany(150)")
    real, cut = server._asked, []

    def kept_without_an_answer(path: str, request: Any) -> Answer | None:
        found = real(path, request)
        if path == "/api/entries" and len(cut) < 3:
            cut.append(path)
            return None
        return found

    server._asked = kept_without_an_answer  # type: ignore[method-assign]
    for _ in range(3):
        assert send(page) == "offline"
        assert len(left(page)) == 150
    assert send(page) == "idle"
    assert left(page) == []
    assert len(server.log) == 150


def test_one_refused_entry_holds_up_no_other_and_stays_with_its_reason(page: Any, server: Server) -> None:
    server.judge = lambda entry: ("refused", "typed: too wide") if entry["typed"] == "7 mm" else ("kept", "")
    page.evaluate("() => writeMany(20)")
    assert send(page) == "idle"
    (wrong,) = page.evaluate("() => left()")
    assert (wrong["typed"], wrong["state"], wrong["why"]) == ("7 mm", "refused", "typed: too wide")
    asked = len(server.batches)
    assert send(page) == "idle"
    assert len(server.batches) == asked  # what was refused is not sent again by itself


@pytest.mark.parametrize("status", [400, 413, 422, 500])
def test_an_entry_over_which_the_server_stumbles_is_found_and_the_others_go_through(
    page: Any, server: Server, status: int
) -> None:
    def stumbles(entries: list[dict[str, Any]]) -> Answer | None:
        bad = any(each["typed"] == "33 mm" for each in entries)
        return (status, {"title": "no", "detail": "This entry is too large."}, {}) if bad else None

    server.answer = stumbles
    page.evaluate("() => writeMany(100)")
    assert send(page) == "idle"
    assert len(server.log) == 99
    (wrong,) = page.evaluate("() => left()")
    assert wrong["typed"] == "33 mm"
    assert (wrong["state"], wrong["why"]) == (
        ("waiting", None) if status == 500 else ("refused", "This entry is too large.")
    )


def test_a_server_that_fails_on_everything_is_left_alone_for_a_while(page: Any, server: Server) -> None:
    server.answer = lambda entries: (500, {}, {})
    page.evaluate("() => writeMany(100)")
    assert send(page) == "failed"
    asked = len(server.asked)
    assert asked < 30
    assert page.evaluate("() => send()") == "failed"
    assert len(server.asked) == asked
    server.answer = lambda entries: None
    assert send(page) == "idle"
    assert left(page) == []


@pytest.mark.parametrize("status", [429, 503])
def test_a_server_that_asks_to_wait_is_not_asked_before(page: Any, server: Server, status: int) -> None:
    server.answer = lambda entries: (status, {}, {"Retry-After": "20"})
    page.evaluate("() => write('10 ft')")
    assert send(page) == "failed"
    wait = page.evaluate("() => sender.until - performance.now()")
    assert 15_000 < wait <= 20_000
    asked = len(server.asked)
    page.evaluate("() => send()")
    assert len(server.asked) == asked
    assert left(page) == ["10 ft"]


@pytest.mark.parametrize("body", ["<html>Welcome to the hotel</html>", {"answers": "yes"}, {}, {"answers": []}])
def test_an_answer_that_is_none_leaves_everything_where_it_is(page: Any, server: Server, body: Any) -> None:
    server.answer = lambda entries: (200, body, {})
    page.evaluate("() => write('10 ft')")
    send(page)
    assert left(page) == ["10 ft"]


def test_an_answer_about_another_entry_takes_nothing_away(page: Any, server: Server) -> None:
    server.answer = lambda entries: (
        200,
        {"answers": [{"index": 0, "id": str(uuid.UUID(int=9)), "answer": "kept", "why": ""}]},
        {},
    )
    page.evaluate("() => write('10 ft')")
    send(page)
    assert left(page) == ["10 ft"]


def test_a_door_goes_before_what_is_written_of_it_whatever_the_clock_says(page: Any, server: Server) -> None:
    page.evaluate("() => write('10 ft', { at: '2020-01-01T00:00:00.000Z' })")
    made = {"kind": "opening", "id": str(uuid.UUID(int=2)), "site": YARD, "tag": "B9"}
    page.evaluate("(made) => outbox.add(made)", made)
    assert send(page) == "idle"
    assert [each["kind"] for each in server.batches[0]] == ["opening", "observation"]
    assert "device" not in server.batches[0][0]


def test_what_hangs_on_a_door_that_was_refused_waits_until_the_door_is_put_right(page: Any, server: Server) -> None:
    made = {"kind": "opening", "id": str(uuid.UUID(int=2)), "site": YARD, "tag": ""}
    page.evaluate("(made) => outbox.add(made)", made)
    page.evaluate("() => write('10 ft')")
    there: set[str] = set()

    def judge(entry: dict[str, Any]) -> tuple[str, str]:
        if entry["kind"] == "opening":
            there.update([entry["id"]] if entry["tag"] else [])
            return ("kept", "") if entry["tag"] else ("refused", "An opening has a tag.")
        return ("kept", "") if entry["opening"] in there else ("later", "The opening has not arrived.")

    server.judge = judge
    assert send(page) == "idle"
    states = {each["state"]: each for each in page.evaluate("() => left()")}
    assert states["refused"]["why"] == "An opening has a tag."
    assert states["waiting"]["later"] == "The opening has not arrived."
    asked = len(server.batches)
    send(page)
    assert len(server.batches) == asked
    page.evaluate("(id) => outbox.correct(id, { tag: 'B9' })", str(uuid.UUID(int=2)))
    assert send(page) == "idle"
    assert left(page) == []


def test_a_corrected_entry_replaces_the_one_that_may_have_arrived(page: Any, server: Server) -> None:
    server.judge = lambda entry: ("refused", "no") if entry["typed"] == "wide" else ("kept", "")
    page.evaluate("() => write('wide')")
    send(page)
    (first,) = page.evaluate("() => outbox.entries()")
    page.evaluate("(id) => outbox.correct(id, { typed: '10 ft' })", first["id"])
    assert send(page) == "idle"
    (kept,) = server.log.values()
    assert kept["id"] != first["id"]
    assert kept["replaces"] == [first["id"]]


def test_two_tabs_send_everything_once(page: Any, server: Server) -> None:
    other = opened(page.context)
    page.evaluate("() => writeMany(120)")
    page.evaluate("() => { window.sent = send(true); }")
    other.evaluate("() => send(true)")
    page.evaluate("() => window.sent")
    assert left(page) == []
    assert sum(len(each) for each in server.batches) == 120


def test_a_note_of_the_server_on_what_it_kept_is_not_lost(page: Any, server: Server) -> None:
    server.judge = lambda entry: ("kept", "There was an opening “B9” already.")
    page.evaluate("() => write('10 ft')")
    send(page)
    told = page.evaluate("async () => (await import('/offline/store.js')).note('said')")
    assert [each["why"] for each in told] == ["There was an opening “B9” already."]


WHOLE = """async (site) => {
  const db = await (await import("/offline/store.js")).store();
  await db.put("sites", { person: null, site: { id: site, facts: {} }, openings: [] }, site);
  const seen = [];
  for (let turn = 0; turn < 60; turn += 1) {
    const made = await outbox.add({ kind: "opening", site, id: crypto.randomUUID(), tag: `B${turn}` });
    const soon = async () => {
      for (let step = 0; step < turn % 6; step += 1) await db.get("notes", "none");
      return outbox.taken(made);
    };
    const reads = [outbox.site(site), outbox.site(site), soon(), outbox.site(site)];
    for (const each of await Promise.all(reads)) if (each) seen.push([turn + 1, each.openings.length]);
  }
  return seen;
}"""


def test_a_door_is_on_the_list_at_every_moment_while_the_server_takes_it(page: Any) -> None:
    seen = page.evaluate(WHOLE, YARD)
    assert len(seen) == 180
    assert [doors for _, doors in seen] == [written for written, _ in seen]
