"""Tokens with which programs act for a person."""

from __future__ import annotations

import uuid
from datetime import UTC, date, datetime, time, timedelta

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from sillwright.web.accounts.models import User, new_token
from sillwright.web.people.forms import KeyForm
from sillwright.web.people.who import person
from sillwright.web.records.audit import digest, record
from sillwright.web.records.models import Key


@require_http_methods(["GET", "HEAD", "POST"])
def keys(request: HttpRequest) -> HttpResponse:
    """The keys of whoever is signed in; a new one is shown, this once."""
    who = person(request)
    form = KeyForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        told = form.cleaned_data
        made, token = make_key(who, told["name"], told["scope"], told["ends"], request=request)
        return render(request, "people/key_made_page.html", {"key": made, "token": token}, status=201)
    held = who.keys.filter(withdrawn=None, ends__gt=timezone.now()).order_by("made")
    shown = {"form": form, "keys": held}
    return render(request, "people/keys_page.html", shown, status=422 if form.is_bound else 200)


@require_POST
def key_withdraw(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Close a key of one's own."""
    with transaction.atomic():
        key = get_object_or_404(Key.objects.select_for_update(), user=person(request), pk=id)
        if key.withdrawn is None:
            key.withdrawn = timezone.now()
            key.save(update_fields=["withdrawn"])
            record(request, "key withdrawn", key.name)
    messages.success(request, _("The key is withdrawn. Its token opens nothing any more."))
    return redirect("keys")


@transaction.atomic
def make_key(
    user: User, name: str, scope: str, last_day: date, *, request: HttpRequest | None = None
) -> tuple[Key, str]:
    """A new key, good until the end of a day, and its token; only the token's digest is kept."""
    token = f"sw_{new_token()}"
    ends = datetime.combine(last_day, time.min, UTC) + timedelta(days=1)
    made = Key.objects.create(user=user, name=name, scope=scope, ends=ends, digest=digest(token))
    record(request, "key made", f"{name}: {scope}", who=user)
    return made, token
