"""The addresses of this part."""

from __future__ import annotations

from django.urls import URLPattern, path

from sillwright.web.people import invitations, keys, me, membership, organisations, trail

urlpatterns: list[URLPattern] = [
    path("organisations/", organisations.organisations, name="organisations"),
    path("organisations/new/", organisations.organisation_new, name="organisation_new"),
    path("organisations/<uuid:id>/", organisations.organisation, name="organisation"),
    path("organisations/<uuid:id>/name/", organisations.organisation_name, name="organisation_name"),
    path("organisations/<uuid:id>/members/<uuid:who>/role/", membership.member_role, name="member_role"),
    path("organisations/<uuid:id>/members/<uuid:who>/remove/", membership.member_remove, name="member_remove"),
    path("organisations/<uuid:id>/invitations/", invitations.invite, name="invite"),
    path(
        "organisations/<uuid:id>/invitations/<uuid:invitation>/withdraw/",
        invitations.invitation_withdraw,
        name="invitation_withdraw",
    ),
    path("organisations/<uuid:id>/trail/", trail.trail, name="trail"),
    path("organisations/<uuid:id>/trail.csv", trail.trail_table, name="trail_table"),
    path("invitations/<str:token>/", invitations.invitation, name="invitation"),
    path("me/", me.me, name="me"),
    path("me/sign-out-everywhere/", me.sign_out_everywhere, name="sign_out_everywhere"),
    path("me/keys/", keys.keys, name="keys"),
    path("me/keys/<uuid:id>/withdraw/", keys.key_withdraw, name="key_withdraw"),
]
