"""As the door before: the facts of one opening as a beginning for another."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from sillwright.web.accounts.models import User
from sillwright.web.records.log import Head, Said, write_all
from sillwright.web.records.models import Fact, Opening

# What is of one door alone, and is taken down at each.
OF_ONE_DOOR = (
    "name", "door.serial", "door.fire_label", "readings", "tests", "statements", "photos", "incident",
    "temporary_parts", "defeats", "as_found", "last_work", "lead.confirmed", "floor", "parts_kept",
    "door.last_drop_test",
)  # fmt: skip
_ORIGINS_KEPT = {"assumed", "told", "support"}


def copy_facts(like: Opening, opening: Opening, *, author: User) -> int:
    """Take the facts of one opening over to another; how many there were.

    What was measured or read at the other door is not measured at this one: such a value comes over as *assumed*,
    so that no rule and no order rests on it until somebody looks here.
    """
    now = timezone.now()
    said: list[Said] = []
    for fact in Fact.objects.filter(opening=like).order_by("pk"):
        if any(fact.path == each or fact.path.startswith(f"{each}.") for each in OF_ONE_DOOR):
            continue
        for each in fact.heads:
            head = Head(**each)
            if head.says != "value":
                continue  # that there is none, or that nobody knows, was found at the other door
            origin = head.origin if head.origin in _ORIGINS_KEPT else "assumed"
            at = now + timedelta(microseconds=len(said))
            said.append(Said(fact=fact.path, typed=head.typed, origin=origin, by=like.tag, at=at))
    if said:
        write_all(opening.site, opening, said, author=author)
    return len(said)
