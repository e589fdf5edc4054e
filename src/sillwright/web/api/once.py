"""Requests that may be sent again: with the same ``Idempotency-Key`` a deed is done once, and answered alike.

Deed and answer are kept in one transaction. A twin that comes while the first is at work waits for it; where the
first fails, nothing is kept, and the next one tries anew. Secrets are shown once: a repeat has null in their place.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable
from datetime import timedelta
from functools import wraps
from typing import Any

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _
from ninja.decorators import decorate_view

from sillwright.base.errors import Mistake
from sillwright.web.api.problems import Problem, told
from sillwright.web.api.signing import Caller
from sillwright.web.records.models import Once

HEADER = "Idempotency-Key"
LASTS = timedelta(hours=24)
SECRETS = ("token", "address")
_KEY = re.compile(r"[\x21-\x7e]{1,100}")

Run = Callable[..., HttpResponse]


def once(run: Run) -> Run:
    """An operation that heeds the header."""

    @wraps(run)
    def answered(request: HttpRequest, **path: Any) -> HttpResponse:
        caller: Caller | None = getattr(request, "caller", None)
        key = request.headers.get(HEADER)
        if key is None or caller is None:
            return run(request, **path)
        if not _KEY.fullmatch(key):
            accepted = _("1 to 100 printable signs, no spaces")
            wrong = Mistake(path=HEADER, message=_("this cannot be used"), accepted=accepted)
            return told(request, Problem("mistakes", mistakes=(wrong,)))
        return _first_or_again(lambda: run(request, **path), request, caller, key)

    return answered


made_once = decorate_view(once)
"""Marks an operation as one that heeds the header."""


def _first_or_again(
    run: Callable[[], HttpResponse], request: HttpRequest, caller: Caller, key: str
) -> HttpResponse:
    asked = _digest(request, caller)
    with transaction.atomic():
        Once.objects.filter(made__lt=timezone.now() - LASTS).delete()
        mine = _taken(caller, key, asked)
        if mine is None:
            return _again(request, Once.objects.get(user=caller.user, key=key), asked)
        answer = run()
        if answer.status_code >= 400:
            transaction.set_rollback(True)
        else:
            mine.status, mine.answer = answer.status_code, _without_secrets(answer)
            mine.save(update_fields=["status", "answer"])
        return answer


def _taken(caller: Caller, key: str, asked: str) -> Once | None:
    """The row of this key, made now; None where there is one. Waits for a twin that is at work."""
    try:
        with transaction.atomic():
            return Once.objects.create(user=caller.user, key=key, digest=asked, status=0)
    except IntegrityError:
        return None


def _again(request: HttpRequest, before: Once, asked: str) -> HttpResponse:
    if before.digest != asked:
        return told(request, Problem("key-used"))
    return HttpResponse(
        before.answer or "",
        status=before.status,
        content_type="application/json; charset=utf-8",
        headers={"Idempotent-Replay": "true"},
    )


def _digest(request: HttpRequest, caller: Caller) -> str:
    """What was asked, and by which way of signing in; a form's border changes from one sending to the next."""
    body = request.body
    border = (request.content_params or {}).get("boundary", "").encode()
    if border:
        body = body.replace(border, b"")
    parts = (caller.means, request.method, request.get_full_path(), request.content_type)
    return hashlib.sha256("\n".join(map(str, parts)).encode() + b"\n" + body).hexdigest()


def _without_secrets(answer: HttpResponse) -> str:
    text = answer.content.decode()
    found = json.loads(text) if text else None
    if not isinstance(found, dict) or not any(found.get(name) for name in SECRETS):
        return text
    return json.dumps({**found, **{name: None for name in SECRETS if name in found}})
