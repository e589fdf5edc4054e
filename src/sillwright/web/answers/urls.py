"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.answers import cutting, links, pages, papers, trying

urlpatterns: list[URLPattern] = [
    path("openings/<uuid:id>/", pages.opening, name="opening"),
    path("openings/<uuid:id>/what-if/", trying.what_if, name="what_if"),
    path("openings/<uuid:id>/drawing.svg", pages.drawing, name="drawing"),
    path("openings/<uuid:id>/wiring.svg", pages.wiring, name="wiring"),
    path("openings/<uuid:id>/papers/", papers.of_opening, name="papers"),
    path("sites/<uuid:id>/papers/", papers.of_site, name="site_papers"),
    path("sites/<uuid:id>/cut-list/", cutting.cut_list, name="cut_list"),
    path("cut-list/", cutting.van, name="cut_list_van"),
    path("papers/<uuid:id>/", papers.paper, name="paper"),
    path("papers/<uuid:id>/links/", links.links, name="paper_links"),
    path("links/<uuid:id>/withdraw/", links.withdrawn, name="link_withdraw"),
    path("shared/<str:token>/", links.shared, name="shared"),
    path("units/", pages.units, name="units"),
]
