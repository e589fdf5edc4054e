"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.sites import home

urlpatterns: list[URLPattern] = [
    path("", home.home, name="home"),
]
