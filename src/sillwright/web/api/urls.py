"""Addresses of the API. Whatever else lies below ``/api/`` is answered in the same form."""

from __future__ import annotations

from django.urls import URLPattern, path, re_path

from sillwright.web.api.app import api
from sillwright.web.api.front import fronted
from sillwright.web.api.pages import kind_page, nothing, openapi, overview

app_name = "api"


def _operations() -> list[URLPattern]:
    found = [each for each in api.urls[0] if isinstance(each, URLPattern) and each.name != "api-root"]
    for each in found:
        each.callback = fronted(each.callback)
    return found


urlpatterns = [
    path("", fronted(overview), name="overview"),
    path("openapi.json", fronted(openapi), name="openapi"),
    path("problems/<slug:name>", fronted(kind_page), name="problem"),
    *_operations(),
    re_path(r"", fronted(nothing)),
]
