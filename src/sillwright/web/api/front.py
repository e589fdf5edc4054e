"""What every address below ``/api/`` passes: who calls, how often, and problems in one form."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.csrf import csrf_exempt

from sillwright.web.api.limits import count
from sillwright.web.api.problems import KNOWN, Problem, told
from sillwright.web.api.problems import answered as answered_with
from sillwright.web.api.signing import caller_of

View = Callable[..., HttpResponse]


def fronted(view: View) -> View:
    """A view of the API: it sees nobody as nobody, and what cannot be is answered in one form."""

    @wraps(view)
    def answered(request: HttpRequest, **path: Any) -> HttpResponse:
        asked = request.method
        request.method = "GET" if asked == "HEAD" else asked
        headers: dict[str, str] = {}
        try:
            request.caller = caller_of(request)  # type: ignore[attr-defined]
            headers = count(request).headers
            answer = view(request, **path)
        except KNOWN as error:
            answer = answered_with(request, error)
        finally:
            request.method = asked
        if answer.status_code == 405:
            answer = told(request, Problem("method", headers={"Allow": _allowed(answer)}))
        for name, value in headers.items():
            answer.headers.setdefault(name, value)
        if asked == "HEAD":
            answer["Content-Length"] = str(len(answer.content))
            answer.content = b""
        return answer

    return csrf_exempt(login_not_required(answered))


def _allowed(answer: HttpResponse) -> str:
    methods = {each.strip() for each in answer.get("Allow", "").split(",") if each.strip()}
    return ", ".join(sorted(methods | ({"HEAD"} if "GET" in methods else set())))
