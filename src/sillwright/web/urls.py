"""All addresses."""

from __future__ import annotations

from django.urls import include, path

urlpatterns = [
    path("", include("sillwright.web.sites.urls")),
    path("", include("sillwright.web.taking.urls")),
    path("", include("sillwright.web.answers.urls")),
    path("", include("sillwright.web.offline.urls")),
    path("", include("sillwright.web.photos.urls")),
    path("", include("sillwright.web.walk.urls")),
    path("", include("sillwright.web.asking.urls")),
    path("", include("sillwright.web.orders.urls")),
    path("", include("sillwright.web.trouble.urls")),
    path("", include("sillwright.web.lesson.urls")),
    path("", include("sillwright.web.people.urls")),
    path("workbench/", include("sillwright.web.workbench.urls")),
    path("api/", include("sillwright.web.api.urls")),
    path("accounts/", include("sillwright.web.people.account_urls")),
]
handler400 = "sillwright.web.pages.refusals.bad_request"
handler403 = "sillwright.web.pages.refusals.not_permitted"
handler404 = "sillwright.web.pages.refusals.not_found"
handler500 = "sillwright.web.pages.refusals.failed"
