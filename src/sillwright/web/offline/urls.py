"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.offline import kept

urlpatterns: list[URLPattern] = [
    path("sites/<uuid:id>/kept.json", kept.kept, name="kept"),
]
