"""The addresses of signing in: those that are needed, each named. There is no open sign-up."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from allauth.account import views as account
from allauth.mfa.base import views as mfa
from allauth.mfa.recovery_codes import views as codes
from allauth.mfa.totp import views as app
from allauth.mfa.webauthn import views as passkeys
from allauth.usersessions import views as sessions
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, path, re_path

View = Callable[..., HttpResponse]
TOO_MANY = {"too_many_login_attempts", "rate_limited"}


def told(view: View) -> View:
    """The view, whose status says when a form came back: 422 for mistakes, 429 for too many tries."""

    @wraps(view)
    def answered(request: HttpRequest, *args: Any, **more: Any) -> HttpResponse:
        answer = view(request, *args, **more)
        if request.method == "POST" and answer.status_code == 200:
            shown = getattr(answer, "context_data", None) or {}
            codes = {code for form in shown.values() if isinstance(form, BaseForm) for code in _codes(form)}
            answer.status_code = 429 if codes & TOO_MANY else 422 if codes else 200
        return answer

    return answered


def _codes(form: BaseForm) -> list[str]:
    return [str(error.code) for errors in form.errors.as_data().values() for error in errors]


def _at(address: str, view: View, name: str) -> URLPattern:
    return path(address, told(view), name=name)


urlpatterns: list[URLPattern] = [
    _at("login/", account.login, "account_login"),
    _at("logout/", account.logout, "account_logout"),
    _at("inactive/", account.account_inactive, "account_inactive"),
    _at("reauthenticate/", account.reauthenticate, "account_reauthenticate"),
    _at("password/change/", account.password_change, "account_change_password"),
    _at("password/set/", account.password_set, "account_set_password"),
    _at("password/reset/", account.password_reset, "account_reset_password"),
    _at("password/reset/done/", account.password_reset_done, "account_reset_password_done"),
    _at("password/reset/key/done/", account.password_reset_from_key_done, "account_reset_password_from_key_done"),
    re_path(
        r"^password/reset/key/(?P<uidb36>[0-9A-Za-z]+)-(?P<key>.+)/$",
        told(account.password_reset_from_key),
        name="account_reset_password_from_key",
    ),
    _at("sessions/", sessions.list_usersessions, "usersessions_list"),
    _at("2fa/", mfa.index, "mfa_index"),
    _at("2fa/authenticate/", mfa.authenticate, "mfa_authenticate"),
    _at("2fa/reauthenticate/", mfa.reauthenticate, "mfa_reauthenticate"),
    _at("2fa/totp/activate/", app.activate_totp, "mfa_activate_totp"),
    _at("2fa/totp/deactivate/", app.deactivate_totp, "mfa_deactivate_totp"),
    _at("2fa/recovery-codes/", codes.view_recovery_codes, "mfa_view_recovery_codes"),
    _at("2fa/recovery-codes/generate/", codes.generate_recovery_codes, "mfa_generate_recovery_codes"),
    _at("2fa/recovery-codes/download/", codes.download_recovery_codes, "mfa_download_recovery_codes"),
    _at("2fa/webauthn/", passkeys.list_webauthn, "mfa_list_webauthn"),
    _at("2fa/webauthn/add/", passkeys.add_webauthn, "mfa_add_webauthn"),
    _at("2fa/webauthn/login/", passkeys.login_webauthn, "mfa_login_webauthn"),
    _at("2fa/webauthn/reauthenticate/", passkeys.reauthenticate_webauthn, "mfa_reauthenticate_webauthn"),
    _at("2fa/webauthn/keys/<int:pk>/edit/", passkeys.edit_webauthn, "mfa_edit_webauthn"),
    _at("2fa/webauthn/keys/<int:pk>/remove/", passkeys.remove_webauthn, "mfa_remove_webauthn"),
]
