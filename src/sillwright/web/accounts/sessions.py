"""Sessions that know whose they are: session and person come with one query, and all of a person's end at once.

The table is Django's own with a column for the person. What Django checks of a session it still checks: the digest
of the password it was made with, and that the person is active.
"""

from __future__ import annotations

from typing import Any, cast

from allauth.usersessions.models import UserSession
from django.contrib import auth
from django.contrib.auth.middleware import AuthenticationMiddleware
from django.contrib.auth.models import AnonymousUser
from django.contrib.sessions.backends.db import SessionStore as DatabaseStore
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.functional import SimpleLazyObject

from sillwright.web.accounts.models import Session, User
from sillwright.web.prepared import Prepared

_SESSION = Prepared(Session, ["session_key"], "person")


class SessionStore(DatabaseStore):
    """The store of sessions; after loading, ``person`` is whose it is."""

    person: User | None = None

    @classmethod
    def get_model_class(cls) -> type[Session]:
        """The table."""
        return Session

    def create_model_instance(self, data: Any) -> Session:
        """A row, with the person who signed in."""
        row = cast("Session", super().create_model_instance(data))
        row.person_id = data.get(auth.SESSION_KEY)
        return row

    def _get_session_from_db(self) -> Session | None:
        found = _SESSION.get(self.session_key)
        if found is None or found.expire_date <= timezone.now():
            self._session_key = None
            return None
        self.person = found.person
        return found


def person_of(request: HttpRequest) -> User | AnonymousUser:
    """Who signed in, with the session's own query; where anything is unlike, Django's own way decides."""
    session = request.session
    key = session.get(auth.SESSION_KEY)
    found: User | None = getattr(session, "person", None)
    if key is None:
        return AnonymousUser()
    digest = session.get(auth.HASH_SESSION_KEY)
    if (
        found is not None
        and str(found.pk) == key
        and found.is_active
        and digest
        and constant_time_compare(digest, found.get_session_auth_hash())
    ):
        return found
    return auth.get_user(request)


class Who(AuthenticationMiddleware):
    """Puts the person on the request, looked up when first asked for."""

    def process_request(self, request: HttpRequest) -> None:
        """Called before the view."""
        request.user = SimpleLazyObject(lambda: person_of(request))  # type: ignore[assignment]


@transaction.atomic
def end_all(person: User) -> int:
    """End every session of a person, this one too; how many there were."""
    UserSession.objects.filter(user=person).delete()  # the list that is shown to the person
    return Session.objects.filter(person=person).delete()[0]
