"""Remarks are only added to, as observations are: the database refuses anything else."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from django.db import migrations

_before = import_module("sillwright.web.records.migrations.0002_only_added_to")
TABLES = ("records_remark",)


def guard(apps: Any, editor: Any) -> None:
    _before.guard(apps, editor, TABLES)


def unguard(apps: Any, editor: Any) -> None:
    _before.unguard(apps, editor, TABLES)


class Migration(migrations.Migration):
    dependencies = [("records", "0003_remarks_photos_questions")]
    operations = [migrations.RunPython(guard, unguard)]
