"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.photos import files, pages

urlpatterns: list[URLPattern] = [
    path("photos/<uuid:id>/", files.photo, name="photo"),
    path("openings/<uuid:id>/photos/", pages.photos, name="photos"),
    path("openings/<uuid:id>/photos/<uuid:photo>/", pages.photo_page, name="photo_page"),
]
