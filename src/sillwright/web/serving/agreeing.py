"""Whether the facts that pages read are what the log of observations comes to."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from sillwright.web.records.log import Head, head_of
from sillwright.web.records.merge import heads
from sillwright.web.records.models import Fact, Observation

Place = tuple[Any, Any, str]  # site, opening, path


def _of_the_log() -> Iterator[tuple[Place, list[Observation], tuple[Head, ...]]]:
    order = ("site_id", "opening_id", "fact")
    rows = Observation.objects.select_related("author").order_by(*order).iterator(chunk_size=500)
    for place, told in groupby(rows, key=lambda each: (each.site_id, each.opening_id, each.fact)):
        log = list(told)
        yield place, log, heads(head_of(each, each.author.name) for each in log)


def made_anew() -> int:
    """Make every fact anew that is not what the log comes to; how many there were."""
    count, places = 0, set[Place]()
    for place, log, standing in _of_the_log():
        places.add(place)
        site, opening, path = place
        fact = Fact.objects.filter(site=site, opening=opening, path=path).first()
        if fact is None or [each["id"] for each in fact.heads] != [each.id for each in standing]:
            count += 1
            here = {str(each.pk) for each in log}
            fact = fact or Fact(site_id=site, opening_id=opening, path=path)
            fact.heads = [each.as_json() for each in standing]
            fact.awaited = sorted({name for each in log for name in each.replaces} - here)
            fact.save()
    rows = Fact.objects.values_list("pk", "site_id", "opening_id", "path")
    loose = [row[0] for row in rows.iterator(chunk_size=500) if row[1:] not in places]
    Fact.objects.filter(pk__in=loose).delete()
    return count + len(loose)
