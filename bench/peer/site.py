"""Settings, page and server entry of the plain page, by Django's own defaults."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import django
from django.conf import settings

from sillwright.web.databases import database

DATA = Path(os.environ["PEER_DATA"])
TEMPLATE = """<!doctype html><html lang="en"><head><title>{{ place.name }}</title></head><body>
<p>{{ user.username }} <form method="post">{% csrf_token %}<input name="words"></form></p><h1>{{ place.name }}</h1>
<table>{% for item in items %}<tr><td>{{ item.name }}</td><td>{{ item.value }}</td></tr>{% endfor %}</table>
<ul>{% for note in notes %}<li>{{ note.at }} {{ note.words }}</li>{% endfor %}</ul></body></html>"""

settings.configure(
    SECRET_KEY="only for a measurement on this machine",  # noqa: S106
    ALLOWED_HOSTS=["127.0.0.1"],
    ROOT_URLCONF=__name__,
    INSTALLED_APPS=[
        "django.contrib.auth",
        "django.contrib.contenttypes",
        "django.contrib.sessions",
        "django.contrib.messages",
        "peer",
    ],
    MIDDLEWARE=[
        "django.middleware.security.SecurityMiddleware",
        "django.contrib.sessions.middleware.SessionMiddleware",
        "django.middleware.common.CommonMiddleware",
        "django.middleware.csrf.CsrfViewMiddleware",
        "django.contrib.auth.middleware.AuthenticationMiddleware",
        "django.contrib.messages.middleware.MessageMiddleware",
        "django.middleware.clickjacking.XFrameOptionsMiddleware",
    ],
    TEMPLATES=[
        {
            "BACKEND": "django.template.backends.django.DjangoTemplates",
            "OPTIONS": {
                "loaders": [("django.template.loaders.locmem.Loader", {"page.html": TEMPLATE})],
                "context_processors": [
                    "django.template.context_processors.request",
                    "django.contrib.auth.context_processors.auth",
                    "django.contrib.messages.context_processors.messages",
                ],
            },
        }
    ],
    DATABASES={"default": database(DATA, os.environ.get("DATABASE_URL"))},
    DEFAULT_AUTO_FIELD="django.db.models.BigAutoField",
    USE_TZ=True,
)
django.setup()

from django.contrib.auth.decorators import login_required  # noqa: E402
from django.core.wsgi import get_wsgi_application  # noqa: E402
from django.http import HttpRequest, HttpResponse  # noqa: E402
from django.shortcuts import get_object_or_404, render  # noqa: E402
from django.urls import path  # noqa: E402

from peer.models import Item, Note, Place  # noqa: E402


@login_required
def page(request: HttpRequest, number: int) -> HttpResponse:
    """Session, user, place, its items, its notes: five queries."""
    place = get_object_or_404(Place, pk=number, owner=request.user)
    if request.method == "POST":
        Note.objects.create(place=place, words=request.POST["words"])
    items = Item.objects.filter(place=place)
    notes = Note.objects.filter(place=place).order_by("pk")[:5]
    return render(request, "page.html", {"place": place, "items": items, "notes": notes})


urlpatterns = [path("<int:number>/", page)]
application = get_wsgi_application()


def fill() -> None:
    """Tables, one user, one place with 30 items; prints what a client needs: session and token."""
    from django.contrib.auth.models import User
    from django.core.management import call_command
    from django.test import Client

    call_command("migrate", "auth", verbosity=0)  # the peer's own tables name its users
    call_command("migrate", run_syncdb=True, verbosity=0)
    user = User.objects.create_user("someone")
    place = Place.objects.create(name="A place", owner=user)
    Item.objects.bulk_create(Item(place=place, name=f"item {n}", value=f"{n} mm") for n in range(30))
    client = Client(SERVER_NAME="127.0.0.1")
    client.force_login(user)
    client.get(f"/{place.pk}/")
    print(place.pk, client.cookies["sessionid"].value, client.cookies["csrftoken"].value)


if __name__ == "__main__":
    fill()
    sys.exit(0)
