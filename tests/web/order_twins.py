"""Presses the same buttons of quotes and orders at the same moment, against a database in a file; prints what came.

``python -m tests.web.order_twins`` with ``SILLWRIGHT_TEST_DATA`` naming an empty folder.
"""

from __future__ import annotations

import json
import threading
import uuid
from collections import Counter
from collections.abc import Callable
from typing import Any

import django

AT_ONCE = 4


def main() -> dict[str, Any]:
    """What came of each deed: the statuses that were answered, and what there is afterwards."""
    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from sillwright.web.accounts.models import Organisation, User
    from sillwright.web.records.models import Site
    from tests.web.conftest import World, _make_world
    from tests.web.ordering import quay, with_catalogue

    _make_world()
    people = {each.email.partition("@")[0]: each for each in User.objects.all()}
    dealer, other = (Organisation.objects.get(name=name) for name in ("Harbour Doors", "Pier Owners"))
    world = World(dealer, other, people, Site.objects.get())
    with_catalogue(world)
    return _quotes(world, quay(world)) | _orders(world, Site.objects.get(name="Invented Quay"))


def _quotes(world: Any, site: Any) -> dict[str, Any]:
    from sillwright.web.orders.models import Quote
    from sillwright.web.orders.quotes import worked_out
    from tests.web.ordering import READER, accepted, quote_of, sent
    from tests.web.test_quote_pages import _picked, _typed

    found: dict[str, Any] = {}
    picked, listed = _picked(site, "W1"), f"/sites/{site.pk}/quotes/"
    answers = _together(world, lambda _n: (listed, {**picked, "key": str(uuid.uuid4())}))
    numbers = sorted(Quote.objects.values_list("number", flat=True))
    found["four forms"] = [answers, numbers]
    key = str(uuid.uuid4())
    answers = _together(world, lambda _n: (listed, {**picked, "key": key}))
    found["one form"] = [answers, Quote.objects.count() - len(numbers)]

    draft = quote_of(world, site, "W1")
    answers = _together(world, lambda n: (f"/quotes/{draft.pk}/change/", _typed(draft, 0, title=f"Title {n}")))
    draft.refresh_from_db()
    found["changed"] = [answers, draft.revision]
    told = {"state": "sent", "seen": worked_out(draft, READER).mark, "name": "Owner"}
    answers = _together(world, lambda _n: (f"/quotes/{draft.pk}/step/", told))
    found["sent"] = [answers, draft.steps.filter(state="sent").count(), draft.files.count()]
    won = {"state": "accepted", "name": "N. Berg"}
    names = ("Common edge", "Tall edge")
    answers = _together(world, lambda n: (f"/quotes/{draft.pk}/step/", {**won, "alternative": names[n % 2]}))
    found["accepted"] = [answers, draft.steps.filter(state="accepted").count()]
    row = accepted(world, sent(world, quote_of(world, site, "W1")))
    answers = _together(world, lambda _n: (f"/quotes/{row.pk}/order/", {}))
    found["ordered"] = [answers, row.orders.count()]
    return found


def _orders(world: Any, site: Any) -> dict[str, Any]:
    from sillwright.web.orders.orders import lines_now
    from tests.web.ordering import order_for
    from tests.web.test_orders import AS_ORDERED

    found: dict[str, Any] = {}
    row = order_for(world, site, "W1", quantity=4)
    told = {"seen": lines_now(row).mark, "name": "Owner"}
    answers = _together(world, lambda _n: (f"/orders/{row.pk}/release/", told))
    found["released"] = [answers, row.notes.filter(kind="release").count()]
    came = {"length": "10 ft 6 in", "key": str(uuid.uuid4())}
    answers = _together(world, lambda _n: (f"/orders/{row.pk}/lines/1/goods-in/", came))
    found["came once"] = [answers, row.notes.filter(kind="goods_in").count()]
    answers = _together(
        world, lambda _n: (f"/orders/{row.pk}/lines/1/goods-in/", {**came, "key": str(uuid.uuid4())})
    )
    found["came"] = [answers, row.notes.filter(kind="goods_in").count()]
    answers = _together(world, lambda _n: (f"/orders/{row.pk}/acknowledgement/", {"text": AS_ORDERED}))
    found["acknowledged"] = [answers, row.notes.filter(kind="acknowledgement").count()]
    return found


def _together(world: Any, deed: Callable[[int], tuple[str, dict[str, Any]]]) -> dict[str, int]:
    """The owner does it in four browsers at once; how many answers of which status there were."""
    from django.db import connections
    from django.test import Client

    answers: list[int] = []
    begin = threading.Barrier(AT_ONCE)
    clients = [Client(SERVER_NAME="localhost") for _ in range(AT_ONCE)]
    for each in clients:
        each.force_login(world.people["owner"])

    def press(number: int) -> None:
        address, told = deed(number)
        begin.wait(60)
        answers.append(clients[number].post(address, told).status_code)
        connections.close_all()

    threads = [threading.Thread(target=press, args=(number,)) for number in range(AT_ONCE)]
    for one in threads:
        one.start()
    for one in threads:
        one.join(60)
    return {str(status): count for status, count in sorted(Counter(answers).items())}


if __name__ == "__main__":
    print(json.dumps(main()))
