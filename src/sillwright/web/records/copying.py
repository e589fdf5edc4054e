"""As the door before: the facts of one opening as a beginning for another."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.survey.questions import pattern_of
from sillwright.survey.spec import join
from sillwright.web.accounts.models import User
from sillwright.web.records.audit import id_of
from sillwright.web.records.log import Said, write_all
from sillwright.web.records.models import Opening
from sillwright.web.records.surveys import facts_of

# What is of one door alone, and is taken down at each.
OF_ONE_DOOR = (
    "tag", "name", "as_found", "readings", "tests", "statements", "photos", "incident", "parts_kept", "last_work",
    "temporary_parts", "defeats", "floor", "lead.confirmed", "use.observed",
    "door.serial", "door.fire_label", "door.last_drop_test", "door.bottom.condition", "door.guide_condition",
    "protection.*.id", "protection.*.state", "protection.*.date_code",
)  # fmt: skip


def copy_facts(
    like: Opening, *openings: Opening, author: User, request: HttpRequest | None = None
) -> list[dict[str, str]]:
    """Take the facts of one opening over to others that have none yet; by path the id of what each got.

    What was measured, read or told at the other door was not at this one: every value comes over as *assumed*, so
    that no rule and no order rests on it until somebody looks here. What contradicts itself there stays there.
    """
    facts, by = list(_facts(like)), _("comparison with %(tag)s") % {"tag": like.tag}
    written = []
    for opening in openings:
        now = timezone.now()
        said = [
            Said(fact=path, typed=typed, origin="assumed", by=by, at=now + timedelta(microseconds=number))
            for number, (path, typed) in enumerate(facts)
        ]
        if said:
            write_all(opening.site, opening, said, author=author, request=id_of(request))
        written.append({each.fact: str(each.id) for each in said})
    return written


def _facts(like: Opening) -> Iterator[tuple[str, str]]:
    rebuilt = facts_of(like).rebuilt
    for spec, fact in rebuilt.survey.openings[0].facts():
        path = rebuilt.named(fact.path)
        if fact.reading is None or fact.value is None or _of_one_door(path):
            continue
        yield path, "none" if spec.kind == "texts" and not fact.value else fact.reading.typed


def _of_one_door(path: str) -> bool:
    return any(join(pattern_of(path), "").startswith(f"{each}.") for each in OF_ONE_DOOR)
