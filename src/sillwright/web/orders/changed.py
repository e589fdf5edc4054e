"""Two people at once: the second is told what the first changed, and nothing that was typed is lost."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from sillwright.web.records.log import Refused


class Meanwhile(Refused):
    """Somebody changed a part after it was read: who, and what the part says now."""

    def __init__(self, who: str, now: Any) -> None:
        super().__init__(_("%(who)s changed this after you read it. Nothing of yours was kept yet.") % {"who": who})
        self.who, self.now = who, now
