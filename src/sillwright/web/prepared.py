"""Queries that are built once. Every page asks the same few questions; building them anew costs more than asking.

Only single rows by equal columns, with one row that they point to; everything else is for Django's own queries.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import Any, Generic, TypeVar

from django.db import connection, models

M = TypeVar("M", bound=models.Model)
Convert = Callable[[Any], Any]
Columns = list[tuple[str, list[Convert]]]


class Prepared(Generic[M]):
    """The row whose ``where`` columns equal what is asked, with the row that its ``related`` column points to."""

    def __init__(self, model: type[M], where: Sequence[str], related: str = "") -> None:
        self.model, self.where, self.related = model, where, related

    def get(self, *values: Any) -> M | None:
        """The row, None where there is none."""
        sql, columns, others, kinds = self._built
        asked = [field.get_db_prep_value(value, connection) for field, value in zip(kinds, values, strict=True)]
        with connection.cursor() as cursor:
            cursor.execute(sql, asked)
            row = cursor.fetchone()
        if row is None:
            return None
        found: M = _made(self.model, columns, row)
        if self.related:
            target: Any = self.model._meta.get_field(self.related)
            known = getattr(found, target.attname) is not None
            pointed = _made(target.related_model, others, row[len(columns) :]) if known else None
            setattr(found, self.related, pointed)
        return found

    @cached_property
    def _built(self) -> tuple[str, Columns, Columns, list[Any]]:
        quote: Any = connection.ops.quote_name
        meta: Any = self.model._meta
        columns, others = _columns(self.model), []
        shown = [f"a.{quote(field.column)}" for field in meta.concrete_fields]
        source = f"{quote(meta.db_table)} a"
        if self.related:
            target: Any = meta.get_field(self.related)
            there = target.related_model._meta
            others = _columns(target.related_model)
            shown += [f"b.{quote(field.column)}" for field in there.concrete_fields]
            source += (
                f" LEFT JOIN {quote(there.db_table)} b ON b.{quote(there.pk.column)} = a.{quote(target.column)}"
            )
        kinds = [meta.get_field(name) for name in self.where]
        asked = " AND ".join(f"a.{quote(field.column)} = %s" for field in kinds)
        return f"SELECT {', '.join(shown)} FROM {source} WHERE {asked}", columns, others, kinds  # noqa: S608 - names of ours


def _columns(model: type[models.Model]) -> Columns:
    """Each column's attribute, and what turns the database's value into Python's."""
    found: Columns = []
    for field in model._meta.concrete_fields:
        column = field.get_col(model._meta.db_table)
        chain = [*connection.ops.get_db_converters(column), *column.get_db_converters(connection)]
        found.append((field.attname, [_bound(convert, column) for convert in chain]))
    return found


def _bound(convert: Any, column: Any) -> Convert:
    return lambda value: convert(value, column, connection)


def _made(model: type[Any], columns: Columns, row: Sequence[Any]) -> Any:
    values = []
    for (_, chain), value in zip(columns, row[: len(columns)], strict=True):
        for convert in chain:
            value = convert(value)
        values.append(value)
    return model.from_db("default", [name for name, _ in columns], values)
