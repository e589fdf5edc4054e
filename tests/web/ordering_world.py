"""Quotes and orders in a data folder that holds the invented world, for a browser: prints their ids as JSON."""

from __future__ import annotations

import json
import os
from typing import Any

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "sillwright.web.settings")

CONFIRMED = """tag: W1
quantity: 1
profile: Edge class B
body length: 10 ft 4 in
lead end: left
colour: black
"""


def make() -> dict[str, str]:
    """A site of three doors, quotes in each state that somebody looks at, orders before and after their release."""
    import django

    django.setup()
    from sillwright.web.accounts.models import Organisation, User
    from sillwright.web.orders.acknowledging import pasted
    from sillwright.web.orders.orders import note
    from sillwright.web.orders.received import claim_from, goods_in_from
    from sillwright.web.records.models import Site

    from .conftest import World
    from .ordering import READER, accepted, order_for, quay, quote_of, released, sent

    people = {each.email.partition("@")[0]: each for each in User.objects.all()}
    dealer, other = (Organisation.objects.get(name=name) for name in ("Harbour Doors", "Pier Owners"))
    world = World(dealer, other, people, Site.objects.get())
    site, by = quay(world), people["technician"]
    terms = "Thirty days net.\nGoods stay ours until they are paid."
    words = "The door stops and goes back when its edge touches somebody.\nToday nothing tells it to."
    about = {"terms": terms, "words": words, "exclusions": "Work on the floor", "to": "N. Berg\nInvented Quay"}
    found: dict[str, Any] = {
        "draft": quote_of(world, site, **about),
        "sent": sent(world, quote_of(world, site, "W1", **about)),
        "accepted": accepted(world, sent(world, quote_of(world, site, "W1", "W3"))),
        "blocked": order_for(world, site, "W1", "W2"),
        "released": released(world, order_for(world, site, "W1", "W3")),
    }
    came = {"length": "10 ft 5 in", "rest": "10.1 kohm", "end": "right", "wires": "2", "hours": "5"}
    note(found["released"], "acknowledgement", pasted(CONFIRMED), by=by)
    note(found["released"], "goods_in", goods_in_from(came, [], READER), line=1, by=by)
    note(found["released"], "claim", claim_from({"struck": "yes"}, [], READER), line=2, by=by)
    return {"quay": str(site.pk), "dealer": str(dealer.pk), **{name: str(each.pk) for name, each in found.items()}}


if __name__ == "__main__":
    print(json.dumps(make()))
