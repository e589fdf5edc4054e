"""One's own page: name, units, and the way to everything about signing in."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from sillwright.web.accounts.ending import end_everything
from sillwright.web.people.forms import MeForm
from sillwright.web.people.who import person


@require_http_methods(["GET", "HEAD", "POST"])
def me(request: HttpRequest) -> HttpResponse:
    """Name and units of whoever is signed in."""
    who = person(request)
    form = MeForm(
        request.POST if request.method == "POST" else None, initial={"name": who.name, "units": who.units}
    )
    if form.is_valid():
        who.name, who.units = form.cleaned_data["name"], form.cleaned_data["units"]
        who.save(update_fields=["name", "units"])
        messages.success(request, _("Kept."))
        return redirect("me")
    return render(request, "people/me_page.html", {"form": form}, status=422 if form.is_bound else 200)


@require_POST
def sign_out_everywhere(request: HttpRequest) -> HttpResponse:
    """End every session of this person, on every device, and every key for programs."""
    end_everything(person(request), request=request)
    logout(request)
    messages.success(request, _("You are signed out on every device. Keys for programs have ended too."))
    return redirect("account_login")
