"""Problems: what an address below ``/api/`` answers instead of what was asked, as RFC 9457 describes.

One table says which error is which kind of problem. What is not yours and what does not exist are the same kind,
in the same words.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.core.exceptions import (
    BadRequest,
    PermissionDenied,
    RequestDataTooBig,
    SuspiciousOperation,
    TooManyFieldsSent,
    TooManyFilesSent,
)
from django.db import OperationalError
from django.http import Http404, HttpRequest, HttpResponse
from django.http.multipartparser import MultiPartParserError
from django.http.request import UnreadablePostError
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from sillwright.base.errors import (
    DocumentError,
    InputError,
    MissingPart,
    Mistake,
    OutOfRange,
    OutputError,
    QuantityError,
    SillwrightError,
    UnknownName,
)
from sillwright.base.words import Reader, retold
from sillwright.web.records.log import Refused
from sillwright.web.records.papers import Damaged

MEDIA = "application/problem+json"
log = logging.getLogger("sillwright.api")


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A kind of problem: its name in addresses, its status, its title, and what to do about it."""

    name: str
    status: int
    title: Any  # translated where it is shown
    words: Any

    @property
    def address(self) -> str:
        """Where it is described."""
        return f"/api/problems/{self.name}"


_ALL = (
    Kind(
        name="bad-request",
        status=400,
        title=_("This request cannot be read"),
        words=_("The body is not JSON, or the request is cut short. Nothing was changed."),
    ),
    Kind(
        name="signed-out",
        status=401,
        title=_("Nobody is signed in"),
        words=_("Sign in, or send a token that still holds. Nothing was changed."),
    ),
    Kind(
        name="not-permitted",
        status=403,
        title=_("Not yours to do"),
        words=_("You may see this, but your role or your token does not allow it. Nothing was changed."),
    ),
    Kind(
        name="stale-page",
        status=403,
        title=_("Load the page again"),
        words=_("A signed-in browser sends the token of /api/me as X-CSRFToken. Nothing was changed."),
    ),
    Kind(
        name="not-found",
        status=404,
        title=_("Nothing here"),
        words=_("There is nothing here that you may see."),
    ),
    Kind(
        name="method",
        status=405,
        title=_("Not done this way"),
        words=_("This address takes other methods; the header Allow lists them."),
    ),
    Kind(
        name="damaged",
        status=409,
        title=_("This paper is damaged"),
        words=_("The file is not the one that was made, so it is not handed out. Make the paper anew."),
    ),
    Kind(
        name="changed-meanwhile",
        status=412,
        title=_("Changed meanwhile"),
        words=_("Somebody changed this after you read it. Read it again, then send the change again."),
    ),
    Kind(
        name="too-large",
        status=413,
        title=_("Too large"),
        words=_("The request is larger than what is read here. Send it in parts."),
    ),
    Kind(
        name="media-type",
        status=415,
        title=_("Another kind of content is wanted"),
        words=_("Send JSON as application/json, or a survey as the description of the address says."),
    ),
    Kind(
        name="mistakes",
        status=422,
        title=_("This cannot be used"),
        words=_("Mend what “mistakes” lists and send it again. Nothing was changed."),
    ),
    Kind(
        name="key-used",
        status=422,
        title=_("This Idempotency-Key was used for another request"),
        words=_("Choose a new key for a new request. Nothing was changed."),
    ),
    Kind(
        name="too-many",
        status=429,
        title=_("Too many requests"),
        words=_("Wait as many seconds as Retry-After says."),
    ),
    Kind(
        name="failed",
        status=500,
        title=_("This did not work"),
        words=_("Something went wrong here. Try again; if it stays so, tell whoever runs this server."),
    ),
    Kind(
        name="not-now",
        status=503,
        title=_("This cannot be done here now"),
        words=_("Try again in a while; if it stays so, tell whoever runs this server."),
    ),
)
KINDS: Mapping[str, Kind] = {each.name: each for each in _ALL}

TABLE: Mapping[type[Exception], str] = {
    Http404: "not-found",
    PermissionDenied: "not-permitted",
    BadRequest: "bad-request",
    SuspiciousOperation: "bad-request",
    MultiPartParserError: "bad-request",
    UnreadablePostError: "bad-request",
    RequestDataTooBig: "too-large",
    TooManyFieldsSent: "too-large",
    TooManyFilesSent: "too-large",
    Damaged: "damaged",
    Refused: "mistakes",
    InputError: "mistakes",
    QuantityError: "mistakes",
    DocumentError: "mistakes",
    OutOfRange: "mistakes",
    UnknownName: "mistakes",
    OutputError: "not-now",
    MissingPart: "not-now",
    SillwrightError: "not-now",
    OperationalError: "not-now",
}
"""Which error is which kind of problem. An error that is not here is a fault of ours: 500."""


@dataclass(eq=False)
class Problem(Exception):
    """A problem, raised where it is found. ``detail`` says more than its kind does."""

    kind: str
    detail: str = ""
    mistakes: tuple[Mistake, ...] = ()
    headers: Mapping[str, str] = field(default_factory=dict)


KNOWN: tuple[type[Exception], ...] = (Problem, *TABLE)


def problem_of(error: Exception) -> Problem:
    """The problem that an error of the table is. Raises the error itself where it is not in the table."""
    if isinstance(error, Problem):
        return error
    kind = next((TABLE[each] for each in type(error).__mro__ if each in TABLE), None)
    if kind is None:
        raise error
    if kind != "mistakes":
        return Problem(kind)
    if isinstance(error, DocumentError):
        return Problem(kind, mistakes=error.mistakes)
    if isinstance(error, QuantityError):
        return Problem(kind, mistakes=(Mistake(path="", message=error.message, accepted=error.accepted),))
    return Problem(kind, mistakes=(Mistake(path="", message=str(error)),))


def answered(request: HttpRequest, error: Exception) -> HttpResponse:
    """An error of the table as the answer to a request; one that whoever runs the server must see is logged."""
    problem = problem_of(error)
    if KINDS[problem.kind].status >= 500:
        log.error("not now", exc_info=error, extra={"facts": {"request": getattr(request, "id", "")}})
    return told(request, problem)


def told(request: HttpRequest, problem: Problem) -> HttpResponse:
    """A problem as the answer to a request."""
    kind = KINDS[problem.kind]
    body: dict[str, Any] = {
        "type": kind.address,
        "title": str(kind.title),
        "status": kind.status,
        "detail": problem.detail or str(kind.words),
        "instance": getattr(request, "id", ""),
    }
    if kind.status == 422:
        body["mistakes"] = mistakes_as_json(problem.mistakes)
    return HttpResponse(json.dumps(body), content_type=MEDIA, status=kind.status, headers=dict(problem.headers))


def by_status(request: HttpRequest, status: int) -> HttpResponse:
    """The first kind of problem with a status, for what fails before or after an operation."""
    name = next((each.name for each in KINDS.values() if each.status == status), "failed")
    return told(request, Problem(name))


def mistakes_as_json(mistakes: Iterable[Mistake]) -> list[dict[str, Any]]:
    """Mistakes as an answer lists them; the place in a document only where there is one."""
    reader = Reader(language=get_language() or "en")
    return [
        {
            "path": each.path,
            "message": retold(each.message, reader),
            "accepted": retold(each.accepted, reader),
            **({"line": each.line, "column": each.column} if each.line is not None else {}),
        }
        for each in mistakes
    ]
