"""The invented world on a data folder of its own, for a browser: prints sessions and ids as JSON."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "sillwright.web.settings")


def make() -> dict[str, object]:
    """Migrate, fill, and tell what a browser needs."""
    import django

    django.setup()
    from django.contrib.auth import login
    from django.core.management import call_command
    from django.http import HttpRequest

    from sillwright.web.accounts.sessions import SessionStore
    from tests.web.conftest import _make_world

    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)
    _make_world()
    from sillwright.web.accounts.models import User
    from sillwright.web.records.models import Site

    sessions = {}
    for user in User.objects.all():
        request = HttpRequest()
        request.session = SessionStore()
        request.META["REMOTE_ADDR"] = "127.0.0.1"
        login(request, user, backend="allauth.account.auth_backends.AuthenticationBackend")
        request.session.save()
        sessions[user.email.partition("@")[0]] = request.session.session_key
    site = Site.objects.get()
    openings = {each.tag: str(each.pk) for each in site.openings.all()}
    return {"sessions": sessions, "site": str(site.pk), "openings": openings}


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))
    print(json.dumps(make()))
