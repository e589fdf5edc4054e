"""What each role may do. The only place that knows."""

from __future__ import annotations

from enum import Enum
from typing import Literal

from django.utils.translation import gettext_lazy as _

Deed = Literal["read", "write", "manage"]
"""``read`` sees everything of a site. ``write`` takes down facts, settles readings, makes openings and papers.
``manage`` makes sites, shares them and papers, and takes sites out of view."""


class Role(Enum):
    """A person's role in an organisation."""

    OWNER = "owner"
    ADVISOR = "advisor"
    TECHNICIAN = "technician"
    READER = "reader"

    @property
    def label(self) -> str:
        """The role in words."""
        return _LABELS[self]  # type: ignore[return-value]


_LABELS = {
    Role.OWNER: _("owner"),
    Role.ADVISOR: _("advisor"),
    Role.TECHNICIAN: _("technician"),
    Role.READER: _("reader"),
}

MAY: dict[Deed, tuple[str, ...]] = {
    "read": ("owner", "advisor", "technician", "reader"),
    "write": ("owner", "advisor", "technician"),
    "manage": ("owner", "advisor"),
}
PEOPLE = ("owner",)
"""Roles that invite, change roles, see the audit trail and make tokens for programs of the organisation."""
