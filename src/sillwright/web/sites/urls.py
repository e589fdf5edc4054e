"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.sites import changing, giving, home, making, sharing, site, taking_in

urlpatterns: list[URLPattern] = [
    path("", home.home, name="home"),
    path("survey-template.xlsx", giving.survey_template, name="survey_template"),
    path("sites/new/", making.site_new, name="site_new"),
    path("sites/take-in/", taking_in.site_take_in, name="site_take_in"),
    path("sites/<uuid:id>/", site.site, name="site"),
    path("sites/<uuid:id>/openings/new/", making.opening_new, name="opening_new"),
    path("sites/<uuid:id>/take-in/", taking_in.site_take_in_more, name="site_take_in_more"),
    path("sites/<uuid:id>/survey.yaml", giving.site_survey, name="site_survey"),
    path("sites/<uuid:id>/survey.xlsx", giving.site_sheet, name="site_sheet"),
    path("sites/<uuid:id>/sharing/", sharing.site_sharing, name="site_sharing"),
    path("sites/<uuid:id>/name/", changing.site_name, name="site_name"),
    path("sites/<uuid:id>/put-away/", changing.site_put_away, name="site_put_away"),
    path("openings/<uuid:id>/headline.json", site.headline, name="headline"),
    path("openings/<uuid:id>/name/", changing.opening_name, name="opening_name"),
    path("openings/<uuid:id>/put-away/", changing.opening_put_away, name="opening_put_away"),
]
