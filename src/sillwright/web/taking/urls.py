"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.taking import facts, listing, replacing, say

urlpatterns: list[URLPattern] = [
    path("openings/<uuid:id>/facts/", facts.facts_page, name="facts"),
    path("openings/<uuid:id>/facts/group/<str:name>/", facts.group_page, name="facts_group"),
    path("openings/<uuid:id>/facts/<path:fact>/", facts.fact_page, name="fact"),
    path("openings/<uuid:id>/say/", say.say, name="say"),
    path("openings/<uuid:id>/drawn/", say.drawn, name="drawn"),
    path("openings/<uuid:id>/read/", say.read_text, name="read_back"),
    path("openings/<uuid:id>/list/<str:name>/", listing.list_page, name="list"),
    path("openings/<uuid:id>/replace/", replacing.replace_page, name="replace"),
    path("sites/<uuid:id>/facts/", facts.site_facts_page, name="site_facts"),
    path("sites/<uuid:id>/facts/<path:fact>/", facts.site_fact_page, name="site_fact"),
    path("sites/<uuid:id>/say/", say.site_say, name="site_say"),
    path("sites/<uuid:id>/drawn/", say.site_drawn, name="site_drawn"),
    path("sites/<uuid:id>/read/", say.site_read_text, name="site_read_back"),
]
