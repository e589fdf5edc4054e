"""Every page in a real browser: accessible in both themes, light to load, still, large enough to press."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from .browser import DESK, PHONE, Served, page_of

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

NO_HARM = "harm=hurt:no&harm=hanging:no&harm=only_way_out:no&harm=closed:yes&harm=fire_door:no"
TOLD = f"{NO_HARM}&left=1&who=technician&symptom=CALL-01"
SIGNED_OUT = {
    "call": "/trouble/",
    "call: what it does": f"/trouble/?{NO_HARM}&left=1&who=owner",
    "call: a question": f"/trouble/?{TOLD}",
    "call: the end": f"/trouble/?{TOLD}&a=closes_on_objects:yes&a=ohms_pressed:no_change",
    "call: stop": "/trouble/?harm=hurt:yes",
    "call: first": "/trouble/first/",
    "workbench": "/workbench/",
    "fault bench": "/workbench/fault-bench/?circuit=plain&hurt=cut&place=edge_middle&also=wet-3@edge_far&press=far",
    "fault bench kept": "/workbench/fault-bench/kept/",
    "bench contact": "/workbench/contact/",
    "bench approach": "/workbench/approach/",
    "sign in": "/accounts/login/",
    "reset": "/accounts/password/reset/",
    "nothing here": "/nowhere/",
}
SIGNED_IN = {
    "home": "/",
    "new site": "/sites/new/",
    "take in": "/sites/take-in/",
    "site": "/sites/{site}/",
    "site facts": "/sites/{site}/facts/",
    "sharing": "/sites/{site}/sharing/",
    "new opening": "/sites/{site}/openings/new/",
    "site papers": "/sites/{site}/papers/",
    "opening": "/openings/{B1}/",
    "opening of a gate": "/openings/{G1}/",
    "what if": "/openings/{B1}/what-if/",
    "papers": "/openings/{B1}/papers/",
    "calls": "/openings/{B1}/calls/",
    "keep a call": f"/trouble/keep/?{TOLD}",
    "substitute parts": "/openings/{B1}/substitutes/",
    "lessons": "/lessons/",
    "photos": "/openings/{B1}/photos/",
    "ask": "/openings/{B1}/ask/door.clear_width/",
    "questions": "/questions/",
    "here": "/here/",
    "hand over": "/here/take-in/",
    "facts": "/openings/{B1}/facts/",
    "fact": "/openings/{B1}/facts/door.clear_width/",
    "replace": "/openings/{B1}/replace/",
    "me": "/me/",
    "keys": "/me/keys/",
    "organisation": "/organisations/new/",
    "password": "/accounts/password/change/",
    "sessions": "/accounts/sessions/",
    "second factor": "/accounts/2fa/",
    "api": "/api/",
}
PAGES = {**{name: (None, path) for name, path in SIGNED_OUT.items()}} | {
    name: ("owner", path) for name, path in SIGNED_IN.items()
}
WHOLE, FIRST = 120_000, 40_000  # bytes transferred


@pytest.fixture(scope="module")
def axe() -> str:
    import axe_playwright_python

    return (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


AXE = """async () => {
  const found = await axe.run(document, {
    runOnly: {type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]},
    rules: {"color-contrast-enhanced": {enabled: true}, "target-size": {enabled: true}},
  });
  return found.violations.map(v => v.id + ": " + v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(" | "));
}"""
SMALL = """() => [...document.querySelectorAll("button, .button, summary, select, input:not([type=hidden]), nav a")]
  .filter(e => e.offsetParent !== null && !e.closest(".unseen") && !e.matches(".skip"))
  .map(e => { const label = e.closest("label"), mark = e.matches("[type=checkbox],[type=radio]");
    const box = (mark && label ? label : e).getBoundingClientRect();
    return [e.outerHTML.slice(0, 120), box.width, box.height]; })
  .filter(([, w, h]) => h < 47.5 || w < 43.5).map(([html, w, h]) => `${Math.round(w)}x${Math.round(h)} ${html}`)"""
MAIN = """() => [...document.querySelectorAll("button.main, .button.main")].filter(e => e.offsetParent !== null)
  .map(e => [e.outerHTML.slice(0, 120), e.getBoundingClientRect().height]).filter(([, h]) => h < 87.5)"""
WIDE = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
SHIFTS = """() => new Promise(done => { let sum = 0;
  new PerformanceObserver(list => { for (const e of list.getEntries()) if (!e.hadRecentInput) sum += e.value; })
    .observe({type: "layout-shift", buffered: true}); setTimeout(() => done(sum), 400); })"""


def _open(browser: Any, served: Served, name: str, device: dict[str, Any]) -> Any:
    who, path = PAGES[name]
    page = page_of(browser, served, who, device)
    page.goto(path.format(site=served.site, **served.openings))
    page.wait_for_load_state("networkidle")
    return page


@dataclass
class Looked:
    """What one visit on a phone told of a page."""

    kinds: dict[str, str] = field(default_factory=dict)  # of what was loaded
    sizes: dict[str, int] = field(default_factory=dict)
    small: list[str] = field(default_factory=list)
    main: list[Any] = field(default_factory=list)
    wide: int = 0
    shift: float = 0.0
    violations: dict[str, list[str]] = field(default_factory=dict)  # by theme
    said: list[str] = field(default_factory=list)


Look = Callable[[str], Looked]


@pytest.fixture(scope="module")
def look(browser: Any, served: Served, axe: str) -> Look:
    """Visits a page, each only once."""

    @cache
    def visited(name: str) -> Looked:
        return _visit(browser, served, axe, name)

    return visited


def _visit(browser: Any, served: Served, axe: str, name: str) -> Looked:
    who, path = PAGES[name]
    page, found = page_of(browser, served, who, PHONE), Looked()
    kinds, sizes = dict[str, str](), dict[str, int]()
    devtools = page.context.new_cdp_session(page)
    devtools.send("Network.enable")
    devtools.on("Network.responseReceived", lambda each: kinds.update({each["requestId"]: each["type"]}))
    devtools.on(
        "Network.loadingFinished",
        lambda each: sizes.update({each["requestId"]: int(each["encodedDataLength"])}),
    )
    page.goto(path.format(site=served.site, **served.openings))
    page.wait_for_load_state("networkidle")
    found.kinds, found.sizes = dict(kinds), dict(sizes)  # what comes later is asked for by a hand
    found.small, found.main, found.wide, found.shift = (page.evaluate(each) for each in (SMALL, MAIN, WIDE, SHIFTS))
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
    # The bar at the thumb lies over whatever is scrolled below it; what it covers just now is no small target.
    page.evaluate(
        "() => document.querySelectorAll('*').forEach(each => { if "
        "(getComputedStyle(each).position === 'sticky') each.style.position = 'static'; })"
    )
    page.evaluate(axe)
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        found.violations[theme] = page.evaluate(AXE)
    found.said = [each for each in page.said if "404" not in each or name != "nothing here"]
    page.context.close()
    return found


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_accessible(look: Look, name: str, theme: str) -> None:
    assert not look(name).violations[theme]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_says_nothing_on_the_console(look: Look, name: str) -> None:
    assert not look(name).said


@pytest.mark.parametrize("name", PAGES)
def test_a_page_fits_a_phone_and_what_is_pressed_is_large_enough(look: Look, name: str) -> None:
    found = look(name)
    assert not found.small
    assert not found.main
    assert found.wide <= 0
    assert found.shift < 0.05  # a headline longer than the room kept for it moves the list a little


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_light(look: Look, name: str) -> None:
    kinds, sizes = look(name).kinds, look(name).sizes
    first = sum(size for key, size in sizes.items() if kinds.get(key) in {"Document", "Stylesheet"})
    assert sum(sizes.values()) <= WHOLE, sizes
    assert first <= FIRST, {kinds.get(key, ""): size for key, size in sizes.items()}


def test_pages_read_at_twice_the_text_size_without_cutting_anything_off(browser: Any, served: Served) -> None:
    for name in ("opening", "facts", "site"):
        page = _open(browser, served, name, {**PHONE, "viewport": {"width": 195, "height": 422}})
        wide = page.evaluate(WIDE)
        page.context.close()
        assert wide <= 0, name


def test_a_page_in_print_shows_no_chrome(browser: Any, served: Served) -> None:
    page = _open(browser, served, "opening", DESK)
    page.emulate_media(media="print")
    assert not page.locator("header.top").is_visible()
    assert page.locator("h1").is_visible()
    page.context.close()


def test_the_style_sheet_alone_is_a_small_part_of_the_first_view() -> None:
    sheet = Path(__file__).parents[2] / "src/sillwright/web/static/page.css"
    assert len(gzip.compress(sheet.read_bytes())) < 6_000
