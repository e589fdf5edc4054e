"""The workbench: every calculation has a page, its address is its state, and it stays small and cheap."""

from __future__ import annotations

import gzip
import json
import subprocess
import sys
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from click.testing import CliRunner
from django.core.cache import caches
from django.test import Client, RequestFactory

from sillwright.base.calculation import as_json
from sillwright.base.case_reading import read_case
from sillwright.base.words import Reader
from sillwright.cli.main import sillwright
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.workbench import admission, sheet, vary
from sillwright.web.workbench.asked import Asked
from sillwright.web.workbench.example import Example
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.names import NAMES, QUESTIONS
from sillwright.web.workbench.sheet import worked
from sillwright.web.workbench.typed import Typed, node_of, tidy

from .conftest import World

STATIC = Path(sheet.__file__).parents[1] / "static"
CASES = [(name, each) for name, examples in EXAMPLES.items() for each in examples]
EACH = pytest.mark.parametrize(("name", "example"), CASES, ids=[f"{name}: {each.title}" for name, each in CASES])
ANY = pytest.mark.parametrize("name", TABLE)


@pytest.fixture(autouse=True)
def _nobody_counted_yet() -> None:
    caches["near"].clear()


def query_of(name: str, typed: Typed) -> str:
    return Asked(typed=typed, vary={}).query(calculation(name))


def page(name: str, query: str = "", status: int = 200) -> str:
    """A bench as a stranger sees it. A test that has no world has no database either."""
    response = Client().get(f"/workbench/{name}/?{query}")
    assert response.status_code == status
    return response.content.decode()


class Fields(HTMLParser):
    """What a browser would send of a page's form."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.sent: list[tuple[str, str]] = []
        self.quiet, self.select = 0, ""
        self.address = ""
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {key: value or "" for key, value in attrs}
        self.quiet += tag == "template"
        self.address = self.address or given.get("data-address", "")
        if self.quiet:
            return
        if tag == "select":
            self.select = given["name"]
        elif tag == "option" and "selected" in given:
            self.sent.append((self.select, given["value"]))
        elif tag == "input" and (given.get("type") != "radio" or "checked" in given):
            self.sent.append((given["name"], given["value"]))

    def handle_endtag(self, tag: str) -> None:
        self.quiet -= tag == "template"


@ANY
def test_every_registered_calculation_has_a_page_that_answers_before_anything_is_typed(name: str) -> None:
    html = page(name)
    assert 'class="headline">' in html
    assert "No result" not in html
    assert html.count("<h1>") == 1


def test_the_list_names_every_calculation_with_the_question_it_answers() -> None:
    html = Client().get("/workbench/").content.decode()
    for name in TABLE:
        assert f'href="/workbench/{name}/"' in html
        assert calculation(name).title in html
    assert set(NAMES) == set(TABLE)
    assert {calculation(name).title for name in TABLE} == {str(each) for each in QUESTIONS}


def test_a_calculation_that_does_not_exist_is_not_found() -> None:
    assert Client().get("/workbench/nothing/").status_code == 404
    assert Client().get("/workbench/contact-spread/").status_code == 404
    assert Client().post("/workbench/contact/").status_code == 405


def test_every_calculation_has_prepared_cases_and_says_which_are_invented() -> None:
    assert set(EXAMPLES) == set(TABLE)
    assert all(2 <= len(each) <= 4 for each in EXAMPLES.values())
    for name, example in CASES:
        html = unescape(page(name, query_of(name, example.typed)))
        assert str(example.source) in html
        assert str(example.title) in html
        assert example.expected or "invented" in str(example.source)


@EACH
def test_a_prepared_case_computes_and_agrees_with_what_is_known_of_it(name: str, example: Example) -> None:
    found = worked(calculation(name), Asked(typed=example.typed, vary={}), Reader())
    assert found.good, found.form.mistakes
    for field, known, within in example.expected:
        here = getattr(found.result, field)
        assert here == known if isinstance(known, str) else here == pytest.approx(known, abs=within, rel=0)
    html = page(name, query_of(name, example.typed))
    assert html.count("they agree") == len(example.expected)
    assert "they differ" not in html


def state_of(address: str) -> Typed:
    """What an address says of a case; an empty place in a column is part of it."""
    return parse_qs(urlsplit(address).query, keep_blank_values=True)


@EACH
def test_an_address_draws_a_page_that_sends_the_same_address(name: str, example: Example) -> None:
    first = Fields(page(name, query_of(name, example.typed)))
    again = Fields(page(name, urlencode(first.sent)))
    assert state_of(first.address) == example.typed
    here = state_of(again.address)
    assert {key: each for key, each in here.items() if not key.startswith("vary")} == example.typed
    assert Fields(page(name, urlsplit(again.address).query)).address == again.address


@EACH
def test_the_case_file_gives_the_command_line_the_same_result(name: str, example: Example, tmp_path: Path) -> None:
    response = Client().get(f"/workbench/{name}/?{query_of(name, example.typed)}&as=yaml")
    assert response["Content-Disposition"] == f'attachment; filename="{name}.yaml"'
    path = tmp_path / "case.yaml"
    path.write_bytes(response.content)
    told = CliRunner().invoke(sillwright, ["calc", name, str(path), "--json"])
    assert told.exit_code == 0, told.output
    found = calculation(name)
    here = found.function(read_case(found.case, node_of(found.case, example.typed), name))
    assert json.loads(told.stdout) == json.loads(json.dumps(as_json(here)))


def test_a_case_with_mistakes_has_no_file() -> None:
    response = Client().get("/workbench/impact/?method=impact-free&mass=heavy&as=yaml")
    assert response.status_code == 422
    assert "text/html" in response["Content-Type"]


@ANY
def test_a_page_is_light(name: str) -> None:
    assert len(gzip.compress(page(name).encode())) <= 40_000
    assert len(gzip.compress(page(name, "large=1&units=metric").encode())) <= 40_000


def test_the_scripts_are_light() -> None:
    scripts = list(STATIC.glob("workbench*.js"))
    assert len(scripts) == 3
    assert sum(each.stat().st_size for each in scripts) <= 20_000


HOSTILE = [
    "{field}=" + "9" * 10_000, "{field}=" + "8" * 6_000, "{field}=%00", "{field}=NaN", "{field}=1e999+m",
    "{field}=-inf", "{field}=%3Cscript%3Ealert(1)%3C/script%3E", "{field}=1&" * 2_500,
    "{field}=%F0%9F%98%80%E2%80%AE", "{field}=%ff%fe",
]  # fmt: skip


@pytest.mark.parametrize("query", HOSTILE, ids=lambda text: text[:24])
@ANY
def test_a_hostile_address_is_refused_and_never_fails(name: str, query: str) -> None:
    first = next(iter(EXAMPLES[name][0].typed))
    response = Client().get(f"/workbench/{name}/?{query.format(field=first)}")
    assert response.status_code in {400, 422}
    assert b"<script>alert" not in response.content


@pytest.mark.parametrize(
    "extra",
    [
        "vary=__class__", "vary=case.__class__&vary.show=__doc__", "vary=%00", "vary.from=NaN&vary=moving_mass",
        "vary=moving_mass&vary.to=1e999+kg", "vary=moving_mass&vary.show=trace", "vary=moving_mass&vary.from=5",
        "vary=moving_mass&vary.from=9+kg&vary.to=8+kg",
    ],
)  # fmt: skip
def test_a_hostile_variation_is_refused_at_its_field(extra: str) -> None:
    html = page("contact", f"{query_of('contact', EXAMPLES['contact'][0].typed)}&{extra}", status=422)
    assert '<p class="wrong">' in html[html.index('id="vary"') :]


@pytest.mark.parametrize(
    "extra", ["less=edge.curve[99999999999999]", "less=edge.curve[-1]", "more=%3Cb%3E", "less=["]
)
def test_a_row_that_is_not_there_is_not_taken_out(extra: str) -> None:
    query = query_of("contact", EXAMPLES["contact"][0].typed)
    assert Fields(page("contact", f"{query}&{extra}")).address == f"/workbench/contact/?{query}"


def test_without_a_script_rows_are_added_and_taken_out_by_buttons() -> None:
    query = query_of("risk_level", EXAMPLES["risk_level"][0].typed)
    more = Fields(page("risk_level", f"{query}&more=steps")).sent
    assert [value for key, value in more if key == "steps"] == ["1", "1/50", "1/10", "1", ""]
    less = Fields(page("risk_level", f"{query}&less=steps%5B1%5D")).sent
    assert [value for key, value in less if key == "steps"] == ["1", "1/10", "1"]


def test_what_is_no_input_is_left_out_of_the_state() -> None:
    found = calculation("impact")
    query = {"mass": ["5 kg"], "massive": ["1"], "as": ["yaml"], "speed": ["  "]}
    assert tidy(found.case, query) == {"mass": ["5 kg"]}


def test_a_closed_workbench_asks_who_one_is(settings: Any) -> None:
    settings.OPEN_WORKBENCH = False
    for path in ("/workbench/", "/workbench/contact/?closing_speed=8+in%2Fs"):
        response = Client().get(path)
        assert response.status_code == 302
        assert response["Location"].startswith("/accounts/login/?next=/workbench/")


def test_a_closed_workbench_is_open_to_whoever_signed_in(settings: Any, world: World) -> None:
    settings.OPEN_WORKBENCH = False
    assert world.client("reader").get("/workbench/").status_code == 200
    assert world.client("reader").get("/workbench/approach/").status_code == 200


def test_strangers_get_so_many_answers_a_minute(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(admission, "A_MINUTE", 2)
    client = Client()
    answers = [client.get("/workbench/impact/").status_code for _ in range(3)]
    assert answers == [200, 200, 429]
    assert client.get("/workbench/impact/")["Retry-After"] == "60"
    assert client.get("/workbench/").status_code == 200
    assert client.get("/workbench/impact/", REMOTE_ADDR="192.0.2.7").status_code == 200


def test_who_signed_in_is_not_counted(monkeypatch: pytest.MonkeyPatch, world: World) -> None:
    monkeypatch.setattr(admission, "A_MINUTE", 0)
    assert world.client("reader").get("/workbench/impact/").status_code == 200


@pytest.mark.parametrize(
    ("tls", "remote", "forwarded", "counted"),
    [
        (False, "192.0.2.7", "198.51.100.1", "192.0.2.7"),
        (True, "127.0.0.1", "203.0.113.9, 198.51.100.1", "198.51.100.1"),
        (True, "192.0.2.7", "", "unknown"),
        (False, "2001:db8:1:2:3:4:5:6", "", "2001:db8:1:2::/64"),
    ],
)
def test_only_a_proxy_of_ours_is_believed_about_an_address(
    settings: Any, tls: bool, remote: str, forwarded: str, counted: str
) -> None:
    settings.TLS = tls
    request = RequestFactory().get("/", REMOTE_ADDR=remote, HTTP_X_FORWARDED_FOR=forwarded)
    assert admission.client_address(request) == counted


@pytest.mark.parametrize(("count", "status"), [("495", 200), ("496", 422)])
def test_more_than_500_pieces_are_left_to_the_command_line(count: str, status: int) -> None:
    typed = {**EXAMPLES["cutlist"][0].typed, "pieces.count": [count, "5"]}
    html = page("cutlist", query_of("cutlist", typed), status=status)
    told = html[html.index('id="told-pieces"') :]
    said = "501 in all; these pages cut at most 500. The command line takes more."
    assert (said in told[: told.index("</div>")]) == (status == 422)


def test_a_cut_list_waits_for_its_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(admission, "PATIENCE", 0.01)
    with admission.a_turn(), admission.a_turn():
        assert Client().get("/workbench/cutlist/").status_code == 503
    assert Client().get("/workbench/cutlist/").status_code == 200


def test_how_hard_a_cut_list_is_looked_for_cannot_be_asked_of_a_page() -> None:
    query = query_of("cutlist", EXAMPLES["cutlist"][0].typed)
    html = page("cutlist", f"{query}&effort=10")
    assert Fields(html).address == f"/workbench/cutlist/?{query}"
    assert 'name="effort"' not in html


def test_the_first_cut_list_that_is_shown_compiles_nothing() -> None:
    code = (
        "import sys, django; django.setup(); from django.test import Client; "
        "assert Client(HTTP_HOST='localhost').get('/workbench/cutlist/').status_code == 200; "
        "sys.exit('sillwright.takeoff.cutting.kernel' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], check=False, capture_output=True, timeout=120)
    assert done.returncode == 0, done.stderr.decode()[-2000:]


def test_a_contact_with_too_many_points_is_refused_at_the_points() -> None:
    typed = {**EXAMPLES["contact_spread"][0].typed, "points": ["65536"]}
    html = page("contact_spread", query_of("contact_spread", typed), status=422)
    told = html[html.index('id="told-points"') :]
    assert "512 are accepted. The command line takes more." in told[: told.index("</div>")]


def test_a_contact_that_cannot_be_followed_is_refused_before_it_is_tried_often() -> None:
    state = {
        "base.closing_speed": "5 m/s", "base.moving_mass": "10 g", "base.drive.stiffness": "60 N/mm",
        "base.obstruction.stiffness": "500 N/mm", "base.duration": "60 s", "base.edge": "none",
    }  # fmt: skip
    typed = {**EXAMPLES["contact_spread"][0].typed, **{key: [value] for key, value in state.items()}}
    assert "changes too often to follow" in page("contact_spread", query_of("contact_spread", typed), status=422)


def test_when_others_compute_for_long_one_is_asked_to_come_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(admission, "PATIENCE", 0.01)
    with admission.a_turn(), admission.a_turn():
        response = Client().get("/workbench/contact_spread/")
        assert response.status_code == 503
        assert response["Retry-After"] == "5"
        assert Client().get("/workbench/impact/").status_code == 200
    assert Client().get("/workbench/contact_spread/").status_code == 200


def test_a_curve_that_takes_too_long_ends_early_and_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(vary, "SECONDS", -1.0)
    assert "it ends early" in page("impact")


def test_a_script_gets_the_part_that_changes_and_no_page() -> None:
    html = page("impact", "mass=&part=result")
    assert "<html" not in html
    assert "No result" in html
    assert "data-region" in html
