"""Long lists in pages: each page says where the next one begins, by what its last item is.

An item that comes in meanwhile moves no other one to another page.
"""

from __future__ import annotations

import base64
from collections.abc import Callable
from datetime import datetime
from typing import Annotated, Any, Generic, TypeVar
from urllib.parse import urlencode

from django.core.exceptions import ValidationError
from django.db.models import Model, Q, QuerySet
from django.http import HttpRequest
from django.utils.translation import gettext as _
from ninja import Query
from pydantic import BaseModel, Field

from sillwright.base.errors import Mistake
from sillwright.web.api.problems import Problem

MOST = 200
USUAL = 50

T = TypeVar("T")
M = TypeVar("M", bound=Model)

Limit = Annotated[int, Query(USUAL, ge=1, le=MOST, description="How many items at most.")]
Cursor = Annotated[str, Query("", max_length=200, description="Where to go on: what “next” of a page holds.")]


class Page(BaseModel, Generic[T]):
    """Items in order, and the address of the next page; null where there is none."""

    items: list[T]
    next: str | None = Field(description="Address of the next page.")


def page_of(
    request: HttpRequest,
    rows: QuerySet[M],
    said: Callable[[M], Any],
    *,
    limit: int,
    cursor: str,
    by: str = "made",
    newest_first: bool = False,
) -> dict[str, Any]:
    """One page of rows in the order of ``by``. Raises :class:`Problem` for a cursor that none of our pages gave."""
    sign, than = ("-", "lt") if newest_first else ("", "gt")
    if cursor:
        moment, key = _place(cursor, rows)
        rows = rows.filter(Q(**{f"{by}__{than}": moment}) | Q(**{by: moment, f"pk__{than}": key}))
    found = list(rows.order_by(f"{sign}{by}", f"{sign}pk")[: limit + 1])
    address = None
    if len(found) > limit:
        last = found[limit - 1]
        more = {**request.GET.dict(), "limit": limit, "cursor": _cursor(getattr(last, by), last.pk)}
        address = f"{request.path}?{urlencode(more)}"
    return {"items": [said(each) for each in found[:limit]], "next": address}


def _cursor(moment: datetime, key: Any) -> str:
    return base64.urlsafe_b64encode(f"{moment.isoformat()} {key}".encode()).decode().rstrip("=")


def _place(cursor: str, rows: QuerySet[Any]) -> tuple[datetime, Any]:
    try:
        text = base64.b64decode(cursor + "=" * (-len(cursor) % 4), altchars=b"-_", validate=True).decode("ascii")
        moment, _space, key = text.partition(" ")
        when = datetime.fromisoformat(moment)
        if when.tzinfo is None:
            raise ValueError(moment)
        return when, rows.model._meta.pk.to_python(key)
    except (ValueError, ValidationError, OverflowError):
        wrong = Mistake(path="cursor", message=_("no place in this list"), accepted=_("the address in “next”"))
        raise Problem("mistakes", mistakes=(wrong,)) from None
