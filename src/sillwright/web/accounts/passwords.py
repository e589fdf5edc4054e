"""What a password must be beside Django's own checks: long passphrases are welcome, endless ones are not."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

MOST = 128  # signs; hashing an endless one would hold the server up


class NotTooLong:
    """At most 128 signs. No sign classes and no expiry are asked for, by current guidance (NIST SP 800-63B)."""

    def validate(self, password: str, user: Any = None) -> None:
        """Raises :class:`ValidationError` for a longer one."""
        if len(password) > MOST:
            raise ValidationError(self.get_help_text(), code="password_too_long")

    def get_help_text(self) -> str:
        """What is asked, in words."""
        return _("A password has at most %(most)d signs.") % {"most": MOST}
