"""The log of observations and the audit trail are only added to: the database refuses anything else."""

from __future__ import annotations

from typing import Any

from django.db import migrations

TABLES = ("records_observation", "records_event")
SQLITE = """
CREATE TRIGGER {table}_{verb} BEFORE {verb} ON {table}
BEGIN SELECT RAISE(ABORT, '{table} is only added to'); END
"""
POSTGRES = """
CREATE FUNCTION {table}_kept() RETURNS trigger AS $$
BEGIN RAISE EXCEPTION '{table} is only added to' USING ERRCODE = 'restrict_violation'; END
$$ LANGUAGE plpgsql;
CREATE TRIGGER {table}_kept BEFORE UPDATE OR DELETE ON {table} FOR EACH ROW EXECUTE FUNCTION {table}_kept()
"""


def guard(apps: Any, editor: Any, tables: tuple[str, ...] = TABLES) -> None:
    for table in tables:
        if editor.connection.vendor == "sqlite":
            for verb in ("UPDATE", "DELETE"):
                editor.execute(SQLITE.format(table=table, verb=verb))
        else:
            editor.execute(POSTGRES.format(table=table))


def unguard(apps: Any, editor: Any, tables: tuple[str, ...] = TABLES) -> None:
    for table in tables:
        if editor.connection.vendor == "sqlite":
            for verb in ("UPDATE", "DELETE"):
                editor.execute(f"DROP TRIGGER {table}_{verb}")
        else:
            editor.execute(f"DROP TRIGGER {table}_kept ON {table}; DROP FUNCTION {table}_kept()")


class Migration(migrations.Migration):
    dependencies = [("records", "0001_initial")]
    operations = [migrations.RunPython(guard, unguard)]
