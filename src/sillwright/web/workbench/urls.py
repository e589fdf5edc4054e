"""The addresses of this part."""

from __future__ import annotations

from django.urls import path

from sillwright.web.workbench import fault_bench, views

urlpatterns = [
    path("", views.workbench, name="workbench"),
    path("fault-bench/", fault_bench.fault_bench, name="fault_bench"),
    path("fault-bench/kept/", fault_bench.kept, name="fault_bench_kept"),
    path("fault-bench/book.json", fault_bench.book, name="fault_book"),
    path("<str:name>/", views.bench, name="bench"),
]
