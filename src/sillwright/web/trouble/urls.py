"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.trouble import call_pages, first, pages, rates, substitute_pages

urlpatterns: list[URLPattern] = [
    path("trouble/", pages.trouble, name="trouble"),
    path("trouble/first/", first.first, name="trouble_first"),
    path("trouble/keep/", call_pages.keep, name="trouble_keep"),
    path("organisations/<uuid:id>/calls/", rates.rates, name="rates"),
    path("openings/<uuid:id>/calls/", call_pages.calls, name="calls"),
    path("calls/<uuid:id>/", call_pages.call, name="call"),
    path("openings/<uuid:id>/substitutes/", substitute_pages.substitutes, name="substitutes"),
    path("substitutes/<uuid:id>/out/", substitute_pages.substitute_out, name="substitute_out"),
]
