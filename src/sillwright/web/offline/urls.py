"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.offline import book_view, here, kept, worker

urlpatterns: list[URLPattern] = [
    path("sw.js", worker.worker, name="worker"),
    path("manifest.webmanifest", worker.app_manifest, name="app_manifest"),
    path("here/", here.here, name="here"),
    path("here/take-in/", here.take_in, name="here_take_in"),
    path("offline/", worker.offline, name="offline"),
    path("offline/book.json", book_view.book, name="book"),
    path("sites/<uuid:id>/kept.json", kept.kept, name="kept"),
]
