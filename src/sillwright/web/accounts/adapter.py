"""How people sign in: accounts are made by invitations alone, and the words are ours."""

from __future__ import annotations

import logging
from smtplib import SMTPRecipientsRefused
from typing import Any, ClassVar

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.adapter import DefaultMFAAdapter
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.accounts.noting import note_failed

log = logging.getLogger("sillwright.mail")

CODE_WRONG = gettext_lazy("This code or passkey is not right, or its time is over. Try again.")
TOO_MANY = gettext_lazy("Too many tries. Wait five minutes, then try again.")


class ByInvitation(DefaultAccountAdapter):  # type: ignore[misc]
    """Sign-up is closed; a failed sign-in leaves a line in the trail."""

    error_messages: ClassVar[dict[str, Any]] = {
        **DefaultAccountAdapter.error_messages,
        "account_inactive": gettext_lazy("This account is closed."),
        "email_password_mismatch": gettext_lazy("Address and password do not belong together. Type both again."),
        "enter_current_password": gettext_lazy("This is not the present password."),
        "incorrect_password": gettext_lazy("This is not your password."),
        "incorrect_code": CODE_WRONG,
        "invalid_password_reset": gettext_lazy("This link is not good any more."),
        "too_many_login_attempts": TOO_MANY,
        "rate_limited": TOO_MANY,
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Nobody signs up without an invitation."""
        return False

    def authentication_failed(self, request: HttpRequest, **credentials: Any) -> None:
        """Called for an unknown address and for a wrong password alike."""
        note_failed(request, credentials.get("email") or "")

    def send_mail(self, template_prefix: str, email: str, context: dict[str, Any]) -> None:
        """Send a mail. That a server refuses the recipient is told to nobody: no answer tells addresses apart.

        Raises :class:`OutputError` where no mail can be sent.
        """
        try:
            super().send_mail(template_prefix, email, context)
        except SMTPRecipientsRefused:
            log.warning("mail refused")
        except OSError as error:
            said = N_("The mail could not be sent. Try again later; if it stays so, tell whoever runs this server.")
            raise OutputError(say(said)) from error

    def get_password_change_redirect_url(self, request: HttpRequest) -> str:
        """Every session has ended: to the page where one signs in."""
        return reverse("account_login")


class SecondFactors(DefaultMFAAdapter):  # type: ignore[misc]
    """Authenticator apps, passkeys and codes on paper, in our words."""

    error_messages: ClassVar[dict[str, Any]] = {**DefaultMFAAdapter.error_messages, "incorrect_code": CODE_WRONG}

    def generate_authenticator_name(self, user: Any, type: Any) -> str:
        """What a new passkey is called until its person names it."""
        number = user.authenticator_set.filter(type=type).count() + 1
        return _("Passkey %(number)d") % {"number": number}
