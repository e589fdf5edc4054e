"""Sends pairs of like requests at the same moment, against a database in a file; prints what came of each pair.

``python -m tests.web.twins`` with ``SILLWRIGHT_TEST_DATA`` naming an empty folder.
"""

from __future__ import annotations

import json
import threading
from typing import Any

import django

PAIRS = 5


def main() -> list[dict[str, Any]]:
    """What came of each pair."""
    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from sillwright.web.accounts.members import found_organisation
    from sillwright.web.accounts.models import User
    from sillwright.web.records.sites import make_site
    from tests.web.api_callers import token_of

    owner = User.objects.create_user("twin@people.example", name="Twin")
    site = make_site(found_organisation("Twin Doors", "dealer", owner), "Twin Yard", "US", author=owner)
    token = token_of(owner, "write")
    return [_pair(f"/api/sites/{site.pk}/openings", f"N{number}", token) for number in range(PAIRS)]


def _pair(address: str, tag: str, token: str) -> dict[str, Any]:
    from django.db import connections
    from django.http import HttpResponse
    from django.test import Client

    from sillwright.web.records.models import Opening
    from tests.web.api_callers import with_token

    answers: list[HttpResponse] = []
    together = threading.Barrier(2)

    def send() -> None:
        together.wait(60)
        caller = with_token(token, Client(SERVER_NAME="localhost"))
        answers.append(caller.ask("POST", address, {"tag": tag}, **{"Idempotency-Key": tag}))
        connections.close_all()

    twins = [threading.Thread(target=send) for _ in range(2)]
    for each in twins:
        each.start()
    for each in twins:
        each.join(30)
    return {
        "statuses": [each.status_code for each in answers],
        "replays": sum("Idempotent-Replay" in each for each in answers),
        "bodies": len({each.content for each in answers}),
        "made": Opening.objects.filter(tag=tag).count(),
    }


if __name__ == "__main__":
    print(json.dumps(main()))
