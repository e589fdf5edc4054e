"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.walk import pages

urlpatterns: list[URLPattern] = [
    path("sites/<uuid:id>/walk/", pages.walk, name="walk"),
    path("sites/<uuid:id>/evening/", pages.evening, name="evening"),
]
