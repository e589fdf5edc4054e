"""Who calls: a person signed in with a browser, or a program with a person's token.

A request that carries a token is judged by the token alone, whatever cookies come with it. A browser's request that
changes something carries the token of forms as well, so that no other site can send it.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import AnonymousUser
from django.http import HttpRequest
from django.middleware.csrf import CsrfViewMiddleware
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User
from sillwright.web.api.problems import Problem
from sillwright.web.records.models import Key

SAFE = ("GET", "HEAD")
REALM = 'Bearer realm="Sillwright"'


@dataclass(frozen=True)
class Caller:
    """A person, and the token that acts for the person; no token is a browser's session."""

    user: User
    key: Key | None = None

    @property
    def may_write(self) -> bool:
        """Whether this way of signing in may change anything; what the person may is another question."""
        return self.key is None or self.key.scope == "write"

    @property
    def means(self) -> str:
        """Which way of signing in this is, as a word of its own."""
        return f"key {self.key.pk}" if self.key else f"person {self.user.pk}"


def caller_of(request: HttpRequest) -> Caller | None:
    """Who calls; None for nobody. From here on the request's user is the one whom a token acts for."""
    if not has_token(request):
        return Caller(request.user) if request.user.is_authenticated else None
    key = _key(request.headers["Authorization"].partition(" ")[2].strip())
    request.user = key.user if key else AnonymousUser()
    return Caller(key.user, key) if key else None


def has_token(request: HttpRequest) -> bool:
    """Whether a token came along, good or not."""
    return request.headers.get("Authorization", "").partition(" ")[0].lower() == "bearer"


def _key(token: str) -> Key | None:
    """The key of a token that still opens; notes the day of its use, once a day."""
    digest = hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
    key = Key.objects.select_related("user").filter(digest=digest).first()
    if key is None or not key.good or not key.user.is_active:
        return None
    today = timezone.now().date()
    if key.used != today:
        Key.objects.filter(pk=key.pk).update(used=today)
    return key


# what an operation asks of its caller


def reads(request: HttpRequest) -> Caller:
    """Somebody. Raises :class:`Problem` for nobody, and for a browser's POST without the token of forms."""
    caller: Caller | None = getattr(request, "caller", None)
    if caller is None:
        said = f'{REALM}, error="invalid_token"' if has_token(request) else REALM
        raise Problem("signed-out", headers={"WWW-Authenticate": said})
    if caller.key is None and request.method not in SAFE:
        _same_site(request)
    return caller


def writes(request: HttpRequest) -> Caller:
    """Somebody who may change something. Raises :class:`Problem` for a token that may only read."""
    caller = reads(request)
    if not caller.may_write:
        raise Problem("not-permitted", _("This token may read only. Nothing was changed."))
    return caller


def in_browser(request: HttpRequest) -> Caller:
    """A person who is signed in with a browser. Raises :class:`Problem` for any token."""
    caller = reads(request)
    if caller.key is not None:
        raise Problem("not-permitted", _("A token does not do this: sign in with a browser. Nothing was changed."))
    return caller


class _Forms(CsrfViewMiddleware):
    """Django's own check of the token of forms, which answers with the reason."""

    def _reject(self, request: HttpRequest, reason: str) -> Any:
        raise Problem("stale-page")


def _view(request: HttpRequest) -> None:
    """Stands for a view that nobody excused from the check."""


def _same_site(request: HttpRequest) -> None:
    request.csrf_processing_done = False  # type: ignore[attr-defined]
    _Forms(lambda _request: None).process_view(request, _view, (), {})  # type: ignore[arg-type]


def person(request: HttpRequest) -> User:
    """The person who calls, or for whom a program calls; behind one of the checks above."""
    caller: Caller = request.caller  # type: ignore[attr-defined]
    return caller.user
