"""A short mail to somebody who is asked something, where this server sends mail. It holds no fact and no site."""

from __future__ import annotations

import logging
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import send_mail
from django.db import transaction
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import override

from sillwright.web.records.models import Question

log = logging.getLogger("sillwright.mail")

BY_CONSOLE = "django.core.mail.backends.console.EmailBackend"  # nobody would read it there


def tell(question: Question, server: str) -> None:
    """Send it once the question is kept; a mail that cannot be sent is logged and holds nothing up.

    ``server`` is the address of this server, for the way to the question; without one the mail names none.
    """
    if question.to is not None and settings.EMAIL_BACKEND != BY_CONSOLE:
        transaction.on_commit(lambda: _sent(question, server), robust=True)


def _sent(question: Question, server: str) -> None:
    to = question.to
    assert to is not None  # noqa: S101 - nobody else is told
    with override(to.language):
        who = " ".join(question.by.name.split())
        subject = _("A question for you")
        words = [_("%(name)s has a question for you.") % {"name": who}]
        if server:
            words.append(server.rstrip("/") + reverse("question", args=[question.pk]))
        words.append(_("Sign in; it stands under “Questions”."))
    try:
        send_mail(subject, "\n\n".join(words) + "\n", None, [to.email])
    except (OSError, SMTPException):
        log.exception("not sent", extra={"facts": {"question": str(question.pk)}})
