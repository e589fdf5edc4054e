"""The addresses of this part."""

from __future__ import annotations

from django.urls import path

from sillwright.web.workbench import views

urlpatterns = [
    path("", views.workbench, name="workbench"),
    path("<str:name>/", views.bench, name="bench"),
]
