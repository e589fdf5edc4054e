"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.asking import asked, asking, questions

urlpatterns: list[URLPattern] = [
    path("openings/<uuid:id>/ask/<path:fact>/", asking.ask_page, name="ask"),
    path("questions/", questions.questions, name="questions"),
    path("questions/<uuid:id>/", questions.question, name="question"),
    path("questions/<uuid:id>/link/", questions.link, name="question_link"),
    path("questions/<uuid:id>/withdraw/", questions.withdrawn, name="question_withdraw"),
    path("asked/<str:token>/", asked.asked, name="asked"),
    path("asked/<str:token>/photo/", asked.photo, name="asked_photo"),
]
