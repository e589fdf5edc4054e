"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.orders import (
    catalogue_pages,
    order_deeds,
    order_pages,
    quote_deeds,
    quote_forms,
    quote_pages,
)

urlpatterns: list[URLPattern] = [
    path("organisations/<uuid:id>/catalogue/", catalogue_pages.catalogue, name="catalogue"),
    path(
        "organisations/<uuid:id>/catalogue/<int:number>.yaml", catalogue_pages.catalogue_file, name="catalogue_file"
    ),
    path("quotes/", quote_pages.to_ask_about, name="quotes"),
    path("sites/<uuid:id>/quotes/", quote_pages.of_site, name="site_quotes"),
    path("quotes/<uuid:id>/", quote_pages.quote, name="quote"),
    path("quotes/<uuid:id>/change/", quote_forms.quote_change, name="quote_change"),
    path("quotes/<uuid:id>/alternatives/<int:place>/", quote_forms.alternative, name="quote_alternative"),
    path("quotes/<uuid:id>/step/", quote_deeds.quote_step, name="quote_step"),
    path("quotes/<uuid:id>/ask/", quote_deeds.quote_ask, name="quote_ask"),
    path("quotes/<uuid:id>/prices/", quote_deeds.quote_prices, name="quote_prices"),
    path("quotes/<uuid:id>/copy/", quote_deeds.quote_copy, name="quote_copy"),
    path("quotes/<uuid:id>/order/", quote_deeds.quote_order, name="quote_order"),
    path("quotes/<uuid:id>/quote.<str:ending>", quote_deeds.quote_file, name="quote_file"),
    path("sites/<uuid:id>/orders/", order_pages.of_site, name="site_orders"),
    path("orders/<uuid:id>/", order_pages.order, name="order"),
    path("orders/<uuid:id>/change/", order_pages.order_change, name="order_change"),
    path("orders/<uuid:id>/release/", order_deeds.order_release, name="order_release"),
    path("orders/<uuid:id>/split/", order_deeds.order_split, name="order_split"),
    path("orders/<uuid:id>/catalogue/", order_deeds.order_catalogue, name="order_catalogue"),
    path("orders/<uuid:id>/acknowledgement/", order_deeds.order_acknowledgement, name="order_acknowledgement"),
    path("orders/<uuid:id>/answers/", order_deeds.order_answer, name="order_answer"),
    path("orders/<uuid:id>/lines/<int:line>/goods-in/", order_deeds.goods_in, name="goods_in"),
    path("orders/<uuid:id>/lines/<int:line>/claim/", order_deeds.claim, name="claim"),
    path("orders/<uuid:id>/lines/<int:line>/install.pdf", order_deeds.install_sheet, name="install_sheet"),
    path("orders/<uuid:id>/agreed.pdf", order_deeds.order_agreed, name="order_agreed"),
    path("orders/<uuid:id>/order.<str:ending>", order_deeds.order_file, name="order_file"),
]
