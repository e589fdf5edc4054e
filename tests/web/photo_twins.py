"""Two senders of one photo at the same moment, against a database in a file; prints what came of each pair.

``python -m tests.web.photo_twins`` with ``SILLWRIGHT_TEST_DATA`` naming an empty folder.
"""

from __future__ import annotations

import json
import threading
import uuid
from typing import Any

import django

PAIRS = 2
STEP = 12_000


def main() -> list[dict[str, Any]]:
    """What came of each pair."""
    django.setup()
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from sillwright.web.accounts.members import found_organisation
    from sillwright.web.accounts.models import User
    from sillwright.web.records.sites import make_opening, make_site
    from tests.web.api_callers import token_of

    owner = User.objects.create_user("twin@people.example", name="Twin")
    site = make_site(found_organisation("Twin Doors", "dealer", owner), "Twin Yard", "US", author=owner)
    opening = make_opening(site, "T1", author=owner)
    token = token_of(owner, "write")
    return [_pair(str(opening.pk), token) for _ in range(PAIRS)]


def _pair(opening: str, token: str) -> dict[str, Any]:
    from django.db import connections

    from sillwright.web.records.arriving import path_of
    from sillwright.web.records.images import picture_of
    from sillwright.web.records.models import Event, Photo
    from tests.web.photographs import noise

    key, content, states = uuid.uuid4(), noise(), list[str]()
    together = threading.Barrier(2)

    def send() -> None:
        together.wait(60)
        try:
            states.append(_sent(opening, token, key, content))
        finally:
            connections.close_all()

    twins = [threading.Thread(target=send) for _ in range(2)]
    for each in twins:
        each.start()
    for each in twins:
        each.join(60)
    return {
        "states": states,
        "lines": Event.objects.filter(verb="photo kept", at__gte=Photo.objects.get(pk=key).received).count(),
        "parts": len(list(path_of(key, "jpg").parent.glob("*.part"))),
        "whole": path_of(key, "jpg").read_bytes() == picture_of(content).content,
    }


def _sent(opening: str, token: str, key: uuid.UUID, content: bytes) -> str:
    import hashlib

    from django.test import Client

    client = Client(SERVER_NAME="localhost", headers={"Authorization": f"Bearer {token}"})
    told = {"opening": opening, "taken": "2026-03-04T10:15:00Z", "size": len(content)}
    told["digest"] = hashlib.sha256(content).hexdigest()
    answer = client.put(f"/api/photos/{key}", json.dumps(told), content_type="application/json").json()
    while answer["state"] == "coming":
        piece = content[answer["arrived"] : answer["arrived"] + STEP]
        headers = {"Upload-Offset": str(answer["arrived"])}
        answer = client.patch(
            f"/api/photos/{key}/bytes", piece, content_type="application/octet-stream", headers=headers
        ).json()
    return str(answer["state"])


if __name__ == "__main__":
    print(json.dumps(main()))
