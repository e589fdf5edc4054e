"""The forms of signing in, in our words. Passwords are asked for once: they can be shown."""

from __future__ import annotations

from typing import Any

from allauth.account import forms as account
from allauth.account.adapter import get_adapter
from allauth.mfa.base import forms as mfa
from allauth.mfa.totp.forms import ActivateTOTPForm
from allauth.mfa.webauthn import forms as webauthn
from django.forms import Field
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from sillwright.web.people.forms import PASSWORD_ASKS


def _say(field: Field, label: Any, why: Any = "", **attributes: Any) -> None:
    """Label a field and tell why it is asked; a label that vanishes while one types is none."""
    field.label, field.help_text = label, why
    field.widget.attrs.pop("placeholder", None)
    field.widget.attrs.update(attributes)


class SignIn(account.LoginForm):  # type: ignore[misc]
    """Address and password."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["login"], _("Mail address"), autocomplete="username")
        _say(self.fields["password"], _("Password"))


class Reauthenticate(account.ReauthenticateForm):  # type: ignore[misc]
    """The password once more."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["password"], _("Password"))


class AskForReset(account.ResetPasswordForm):  # type: ignore[misc]
    """The address that the link goes to. A mail goes out for every address, so that the time tells nothing."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["email"], _("Mail address"), autocomplete="username")

    def save(self, request: HttpRequest, **more: Any) -> Any:
        """Send the link, or word that there is no account."""
        if self.users:
            return super().save(request, **more)
        address = self.cleaned_data["email"]
        get_adapter().send_mail("account/email/unknown_account", address, {})
        return address


class _Once:
    """Asks for a new password once."""

    fields: dict[str, Field]

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        del self.fields["password2"]
        _say(self.fields["password1"], _("New password"), PASSWORD_ASKS)


class NewPassword(_Once, account.ResetPasswordKeyForm):  # type: ignore[misc]
    """A new password, behind a link."""


class FirstPassword(_Once, account.SetPasswordForm):  # type: ignore[misc]
    """A password for an account without one."""


class ChangePassword(_Once, account.ChangePasswordForm):  # type: ignore[misc]
    """A new password in place of the present one."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["oldpassword"], _("Present password"))


class _Code:
    """Asks for a code."""

    fields: dict[str, Field]
    why: Any = _("Six digits from your authenticator app, or one of your recovery codes.")

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["code"], _("Code"), self.why, inputmode="numeric")


class Authenticate(_Code, mfa.AuthenticateForm):  # type: ignore[misc]
    """The code at sign-in."""


class ReauthenticateByCode(_Code, mfa.ReauthenticateForm):  # type: ignore[misc]
    """The code once more."""


class ActivateApp(_Code, ActivateTOTPForm):  # type: ignore[misc]
    """The first code of an app, which shows that it works."""

    why = _("The six digits that the app shows now.")


class AddPasskey(webauthn.AddWebAuthnForm):  # type: ignore[misc]
    """A passkey and what it is called."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["name"], _("Name"), _("So that you know it from others: the device it is kept on."))
        _say(
            self.fields["passwordless"],
            _("Sign in with it alone, without the password"),
            _("The device then asks for your finger, face or number. Without this it is asked after the password."),
        )
        self.fields["passwordless"].initial = True


class NamePasskey(webauthn.EditWebAuthnForm):  # type: ignore[misc]
    """Another name for a passkey."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        _say(self.fields["name"], _("Name"), maxlength=100)
