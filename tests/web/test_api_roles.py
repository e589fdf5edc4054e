"""Who may do what through the API: every operation, by everybody."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.db import transaction

from sillwright.study.calculations import TABLE
from sillwright.web.api.document import operations

from .api_callers import CALLERS, callers, things
from .conftest import World

SURVEY = """
format: sillwright-survey/1
site: {name: Invented Yard, country: US}
openings: [{tag: D1, door: {kind: sectional}}]
"""
CATALOGUE = """
format: sillwright-catalogue/1
name: Invented, brought by a program
currency: USD
priced_on: 2026-02-05
"""
ELSEWHERE = [{"opening": "00000000-0000-4000-8000-000000000000"}]  # an opening that is none of the site's
OFFERED = {"title": "Edges", "alternatives": [{"name": "Edge", "lines": ELSEWHERE}]}
ORDERED = {"title": "Edges", "lines": ELSEWHERE}
ANSWERS = {"acknowledgement": 1, "answers": [{"about": "1.length", "holds": "ordered"}]}
OBSERVATION = {"observations": [{"id": str(uuid.uuid4()), "fact": "door.clear_width", "typed": "10 ft"}]}
PHOTO = {"opening": "{opening}", "taken": "2026-03-04T10:15:00Z", "size": "9", "digest": "0" * 64}
QUESTION = {"fact": "door.kind", "words": "Which?", "name": "Gate keeper"}
OF_SITE = {"observations": [{"id": str(uuid.uuid4()), "fact": "site.coldest", "typed": "0 degF"}]}

#            owner advi tech read frie stra nobo reading writing ended withdrawn
ANYBODY = "  200   200  200  200  200  200  200  200     200     401   401"
SIGNED_IN = "200   200  200  200  200  200  401  200     200     401   401"
MEMBERS = "  200   200  200  200  404  404  401  200     200     401   401"
READERS = "  200   200  200  200  200  404  401  200     200     401   401"
WRITERS = "  OK    OK   OK   403  403  404  401  403     OK      401   401"
MANAGERS = " OK    OK   403  403  403  404  401  403     OK      401   401"
SHARERS = "  200   200  403  403  403  404  401  200     200     401   401"
MAKERS = "   OK    OK   403  403  404  404  401  403     OK      401   401"
OWNERS = "   200   403  403  403  404  404  401  200     200     401   401"
RENAMERS = " OK    403  403  403  404  404  401  403     OK      401   401"
BROWSERS = " OK    OK   OK   OK   OK   OK   401  403     403     401   401"
INVITERS = " OK    403  403  403  404  404  401  403     403     401   401"
AUTHORS = "  422   403  403  403  403  404  401  403     422     401   401"  # a photo's bytes come from one person
ASKED = "    OK    OK   OK   OK   403  404  401  403     OK      401   401"  # writers, and whom it is to
NOWHERE = " 404   404  404  404  404  404  401  404     404     401   401"  # not there yet
NO_LINE = " 404   404  404  403  403  404  401  403     404     401   401"
MINE = "     OK    404  404  404  404  404  401  403     403     401   401"

Row = tuple[str, str, Any, str, int]  # method, address, body, who may, and what OK stands for
ROWS: list[Row] = [
    ("GET", "/api/me", None, SIGNED_IN, 200),
    ("PATCH", "/api/me", {"units": "us"}, "OK OK OK OK OK OK 401 403 OK 401 401", 200),
    ("GET", "/api/me/keys", None, SIGNED_IN, 200),
    ("POST", "/api/me/keys", {"name": "hoist", "scope": "read"}, BROWSERS, 201),
    ("DELETE", "/api/me/keys/{key}", None, MINE, 204),
    ("GET", "/api/organisations", None, SIGNED_IN, 200),
    ("POST", "/api/organisations", {"name": "Quay Gates", "kind": "dealer"}, BROWSERS, 201),
    ("GET", "/api/organisations/{organisation}", None, MEMBERS, 200),
    ("PUT", "/api/organisations/{organisation}", {"name": "Quay", "kind": "dealer"}, RENAMERS, 200),
    ("GET", "/api/organisations/{organisation}/members", None, MEMBERS, 200),
    ("PATCH", "/api/organisations/{organisation}/members/{user}", {"role": "reader"}, INVITERS, 200),
    (
        "DELETE",
        "/api/organisations/{organisation}/members/{user}",
        None,
        "OK 403 OK 403 404 404 401 403 403 401 401",
        204,
    ),
    ("GET", "/api/organisations/{organisation}/invitations", None, OWNERS, 200),
    ("POST", "/api/organisations/{organisation}/invitations", {"role": "reader"}, INVITERS, 201),
    ("DELETE", "/api/organisations/{organisation}/invitations/{invitation}", None, INVITERS, 204),
    ("GET", "/api/organisations/{organisation}/trail", None, OWNERS, 200),
    ("GET", "/api/sites", None, SIGNED_IN, 200),
    ("POST", "/api/sites", {"organisation": "{organisation}", "name": "Quay", "country": "US"}, MAKERS, 201),
    ("GET", "/api/sites/{site}", None, READERS, 200),
    ("PATCH", "/api/sites/{site}", {"name": "Quay", "put_away": True}, MANAGERS, 200),
    ("GET", "/api/sites/{site}/shares", None, SHARERS, 200),
    ("PUT", "/api/sites/{site}/shares/{other}", {"mode": "write"}, MANAGERS, 200),
    ("DELETE", "/api/sites/{site}/shares/{other}", None, MANAGERS, 204),
    ("POST", "/api/surveys?organisation={organisation}", SURVEY, MAKERS, 201),
    ("POST", "/api/sites/{site}/survey", SURVEY, WRITERS, 200),
    ("GET", "/api/sites/{site}/survey.yaml", None, READERS, 200),
    ("GET", "/api/sites/{site}/survey.json", None, READERS, 200),
    ("GET", "/api/sites/{site}/openings", None, READERS, 200),
    ("POST", "/api/sites/{site}/openings", {"tag": "N1"}, WRITERS, 201),
    ("GET", "/api/openings/{opening}", None, READERS, 200),
    ("PATCH", "/api/openings/{opening}", {"tag": "N2", "put_away": True}, WRITERS, 200),
    ("GET", "/api/openings/{opening}/facts", None, READERS, 200),
    ("GET", "/api/sites/{site}/facts", None, READERS, 200),
    ("POST", "/api/openings/{opening}/observations", OBSERVATION, WRITERS, 200),
    ("GET", "/api/openings/{opening}/observations", None, READERS, 200),
    ("POST", "/api/sites/{site}/observations", OF_SITE, WRITERS, 200),
    ("GET", "/api/sites/{site}/observations", None, READERS, 200),
    ("POST", "/api/entries", {"entries": [{"kind": "none"}]}, "OK OK OK OK OK OK 401 403 OK 401 401", 200),
    ("GET", "/api/openings/{opening}/study", None, READERS, 200),
    ("POST", "/api/openings/{opening}/what-if", {"facts": {"name": "Bay"}}, READERS, 200),
    ("GET", "/api/openings/{opening}/drawing.svg", None, READERS, 200),
    ("GET", "/api/sites/{site}/papers", None, READERS, 200),
    ("POST", "/api/sites/{site}/papers", {"kind": "elevation"}, WRITERS, 422),  # of one opening only
    ("GET", "/api/openings/{opening}/papers", None, READERS, 200),
    ("POST", "/api/openings/{opening}/papers", {"kind": "answer"}, WRITERS, 422),  # too little is known
    ("GET", "/api/papers/{paper}", None, READERS, 200),
    ("GET", "/api/openings/{opening}/photos", None, READERS, 200),
    ("PUT", "/api/photos/{photo}", PHOTO, "200 422 422 403 403 404 401 403 200 401 401", 200),  # the owner's
    ("GET", "/api/photos/{photo}", None, READERS, 200),
    ("PATCH", "/api/photos/{photo}", {"words": "Cable frayed"}, WRITERS, 200),
    ("PATCH", "/api/photos/{photo}/bytes", None, AUTHORS, 0),
    ("GET", "/api/questions", None, SIGNED_IN, 200),
    ("GET", "/api/openings/{opening}/questions", None, READERS, 200),
    ("POST", "/api/openings/{opening}/questions", QUESTION, WRITERS, 201),
    ("GET", "/api/questions/{question}", None, READERS, 200),
    ("POST", "/api/questions/{question}/answer", {"typed": "sectional"}, ASKED, 200),
    ("DELETE", "/api/questions/{question}", None, WRITERS, 204),
    ("GET", "/api/organisations/{organisation}/catalogues", None, MEMBERS, 200),
    ("POST", "/api/organisations/{organisation}/catalogues", CATALOGUE, MAKERS, 201),
    ("GET", "/api/organisations/{organisation}/catalogues/{catalogue}", None, MEMBERS, 200),
    ("GET", "/api/quotes", None, SIGNED_IN, 200),
    ("GET", "/api/sites/{site}/quotes", None, READERS, 200),
    ("POST", "/api/sites/{site}/quotes", OFFERED, WRITERS, 422),
    ("GET", "/api/quotes/{quote}", None, READERS, 200),
    ("PATCH", "/api/quotes/{quote}", {"title": "Other"}, WRITERS, 422),  # it went out
    ("POST", "/api/quotes/{quote}/steps", {"state": "lost", "reason": "price"}, MANAGERS, 200),
    ("POST", "/api/quotes/{quote}/prices", None, WRITERS, 422),  # it went out
    ("GET", "/api/quotes/{quote}/files/{ending}", None, NOWHERE, 0),
    ("POST", "/api/quotes/{quote}/order", None, WRITERS, 422),  # it was not accepted
    ("GET", "/api/sites/{site}/orders", None, READERS, 200),
    ("POST", "/api/sites/{site}/orders", ORDERED, WRITERS, 422),
    ("GET", "/api/orders/{order}", None, READERS, 200),
    ("PATCH", "/api/orders/{order}", {"title": "Other"}, WRITERS, 422),  # nothing is ordered
    ("POST", "/api/orders/{order}/release", {"seen": "x"}, MANAGERS, 422),
    ("POST", "/api/orders/{order}/split", None, WRITERS, 422),
    ("GET", "/api/orders/{order}/sheet", None, NOWHERE, 0),  # not released
    ("POST", "/api/orders/{order}/acknowledgements", {"text": "tag: B1"}, WRITERS, 422),
    ("POST", "/api/orders/{order}/answers", ANSWERS, WRITERS, 422),
    ("POST", "/api/orders/{order}/lines/{line}/goods-in", {"wires": "2"}, NO_LINE, 0),
    ("POST", "/api/orders/{order}/lines/{line}/claims", {"facts": {}}, NO_LINE, 0),
    ("GET", "/api/papers/{paper}/links", None, SHARERS, 200),
    ("POST", "/api/papers/{paper}/links", {"days": 7}, MANAGERS, 201),
    ("DELETE", "/api/papers/{paper}/links/{link}", None, MANAGERS, 204),
    ("POST", "/api/trouble/advice", {"call": {"symptom": "CALL-01"}}, ANYBODY, 200),
    ("GET", "/api/calc", None, ANYBODY, 200),
]


def _named(row: Row) -> str:
    return f"{row[0]} {row[1].partition('?')[0].removeprefix('/api/')}"


@pytest.mark.parametrize("row", ROWS, ids=_named)
def test_each_may_do_what_the_role_allows_and_no_more(world: World, row: Row) -> None:
    method, address, body, may, done = row
    keys = vars(things(world))
    sent = (
        {name: str(each).format(**keys) for name, each in body.items()}
        if isinstance(body, dict) and {"organisation", "opening"} & set(body)
        else body
    )
    found = {}
    for who, caller in callers(world).items():
        with transaction.atomic():
            if isinstance(body, str):
                response = caller.client.post(
                    address.format(**keys), body, content_type="application/yaml", headers=caller.headers
                )
            else:
                response = caller.ask(method, address.format(**keys), sent, **{"Upload-Offset": "0"})
            found[who] = response.status_code
            transaction.set_rollback(True)
    assert found == dict(zip(CALLERS, (done if each == "OK" else int(each) for each in may.split()), strict=True))


def test_every_operation_stands_in_the_table() -> None:
    told = {(method, address.partition("?")[0]) for method, address, *_more in ROWS}
    for name in TABLE:
        told |= {("GET", f"/api/calc/{name}"), ("POST", f"/api/calc/{name}")}
    there = {(method.upper(), address) for address, methods, _operation in operations() for method in methods}
    assert {(method, address.replace("{other}", "{organisation}")) for method, address in told} == there
