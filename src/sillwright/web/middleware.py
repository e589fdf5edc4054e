"""What every request passes: an id for the log, and headers that Django does not set."""

from __future__ import annotations

import logging
import time
import uuid
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from sillwright.web.pages.refusals import page_for

Answer = Callable[[HttpRequest], HttpResponse]
log = logging.getLogger("sillwright.requests")

PERMISSIONS = "camera=(self), geolocation=(), microphone=(), payment=(), usb=()"


def request_id(answer: Answer) -> Answer:
    """Gives each request an id that its log lines and its error page carry."""

    def middleware(request: HttpRequest) -> HttpResponse:
        request.id = uuid.uuid4().hex[:16]  # type: ignore[attr-defined]
        began = time.monotonic()
        response = answer(request)
        response["Request-Id"] = request.id  # type: ignore[attr-defined]
        if response.status_code >= 500:
            view = request.resolver_match.view_name if request.resolver_match else ""
            milliseconds = round(1000 * (time.monotonic() - began))
            facts = {"request": request.id, "view": view, "status": response.status_code, "ms": milliseconds}  # type: ignore[attr-defined]
            log.error("failed", extra={"facts": facts})
        return response

    return middleware


def headers(answer: Answer) -> Answer:
    """Permissions policy everywhere; what a person is shown is kept by nobody on the way."""

    def middleware(request: HttpRequest) -> HttpResponse:
        response = answer(request)
        response.setdefault("Permissions-Policy", PERMISSIONS)
        response.setdefault("Cache-Control", "no-store")
        response.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        return response

    return middleware


class Told:
    """Errors raised on purpose become plain pages, by one table."""

    def __init__(self, get_response: Answer) -> None:
        self.answer = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.answer(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        return page_for(request, error)
