"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.lesson import attendance_pages, board, pages

urlpatterns: list[URLPattern] = [
    path("lessons/", pages.lessons, name="lessons"),
    path("lessons/new/", pages.lesson_new, name="lesson_new"),
    path("lessons/<uuid:id>/", pages.lesson, name="lesson"),
    path("lessons/<uuid:id>/attendance/", attendance_pages.attendance, name="attendance"),
    path("lessons/<uuid:id>/handout/", pages.handout, name="handout"),
    path("lessons/<uuid:id>/handout.pdf", pages.handout_file, name="handout_file"),
    path("class/<str:token>/", board.board, name="board"),
]
