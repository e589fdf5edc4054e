"""Reading a backup back: into an empty folder and an empty database, as a whole or not at all.

The rows are inserted into tables of the version that wrote them; then the database is brought to this version as
any other one would be. On SQLite all that happens in a folder aside; on PostgreSQL in one transaction.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sillwright import __version__
from sillwright.base.errors import InputError, OutputError
from sillwright.base.words import N_, say
from sillwright.web.serving.archive import CHANGED, NOT_WHOLE, Manifest, unpacked
from sillwright.web.serving.folder import DATABASE, set_up, use
from sillwright.web.serving.keeping import KEPT, Count
from sillwright.web.serving.preparing import let_go, plain_errors, reach
from sillwright.web.serving.rows import NotRows, load

ASIDE = "restoring-"
MOVING = "restoring.moving"
"""Lies in the folder while papers and photos are in place and their records are not yet."""


def read_backup(folder: Path, file: Path) -> Count:
    """Restore a backup; loads Django itself, because the database is built aside.

    Raises :class:`InputError` for a file that is no backup, is not whole, was changed or is of a newer version, and
    :class:`OutputError` where anything is here already.
    """
    _refuse_unless_empty(folder)
    for left in folder.glob(f"{ASIDE}*"):
        shutil.rmtree(left, ignore_errors=True)
    aside = Path(tempfile.mkdtemp(prefix=ASIDE, dir=folder))
    try:
        manifest = unpacked(file, aside)
        use(aside, cache=folder / "cache")
        set_up()
        with plain_errors():
            reach()
            with _whole():
                _refuse_where_tables_are()
                rows = _loaded(file, aside, manifest)
                odd = _checked()
                (folder / MOVING).touch()
                papers, photos = (_moved(aside, folder, kind) for kind in ("papers", "photos"))
            let_go()
        _move_the_rest(aside, folder)
        (folder / MOVING).unlink()
    finally:
        shutil.rmtree(aside, ignore_errors=True)
    return Count(rows, papers, photos, odd)


def _refuse_unless_empty(folder: Path) -> None:
    """Files that a killed restore had moved already are nobody's: their records never came."""
    files = any(each.is_file() for each in (folder / "files").rglob("*"))
    if (folder / DATABASE).exists() or (files and not (folder / MOVING).exists()):
        raise OutputError(
            say(N_("{folder}: there are records here already; restore into an empty folder"), folder=folder)
        )


@contextmanager
def _whole() -> Iterator[None]:
    """All or nothing: a transaction, where tables can be made in one. On SQLite the folder aside is thrown away."""
    from django.db import connection, transaction

    if connection.vendor == "sqlite":
        yield
    else:
        with transaction.atomic():
            yield


def _refuse_where_tables_are() -> None:
    from django.db import connection
    from django.db.migrations.recorder import MigrationRecorder

    if MigrationRecorder(connection).applied_migrations():
        raise OutputError(say(N_("the database holds tables already; restore into an empty one")))


def _loaded(file: Path, aside: Path, manifest: Manifest) -> int:
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    graph = executor.loader.graph
    had = {(app, name) for app, names in manifest.migrations.items() for name in names}
    if had - set(graph.nodes):
        said = N_(
            "{file}: was made by version {theirs}, which is newer than this one, {ours}; install that version"
        )
        raise InputError(say(said, file=file, theirs=manifest.version[:40], ours=__version__))
    wanted = [each for each in sorted(had) if not _goes_on(graph, each, had)]
    executor.migrate(wanted)
    tables = executor.loader.project_state(wanted).apps
    count = _inserted(file, aside, manifest, tables)
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
    return count


def _goes_on(graph: Any, migration: tuple[str, str], had: set[tuple[str, str]]) -> bool:
    """Whether the database had a later one of the same application, too."""
    later = {each.key for each in graph.node_map[migration].children}
    return any(each[0] == migration[0] for each in later & had)


def _inserted(file: Path, aside: Path, manifest: Manifest, tables: Any) -> int:
    """Every row into the tables as they were then."""
    from django.db import connection, transaction

    there = {model._meta.label_lower for model in tables.get_models()}
    if set(manifest.rows) - there or (there & set(KEPT)) - set(manifest.rows):
        raise InputError(say(NOT_WHOLE, file=file))
    with transaction.atomic():
        for label, count in manifest.rows.items():
            try:
                with (aside / f"data/{label}.jsonl").open("rb") as part:
                    found = load(tables.get_model(label), part)
            except NotRows:
                found = -1
            if found != count:
                raise InputError(say(CHANGED, file=file, part=label))
        _settle([tables.get_model(label) for label in manifest.rows])
        connection.check_constraints()
    return sum(manifest.rows.values())


def _settle(tables: list[Any]) -> None:
    """Numbers that the database gives out go on after the last one."""
    from django.core.management.color import no_style
    from django.db import connection

    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(statement)


def _checked() -> int:
    """How many facts were made anew from the log. Raises :class:`OutputError` for a database that is not whole."""
    from django.db import connection

    from sillwright.web.serving.agreeing import made_anew

    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA integrity_check")
            if cursor.fetchall() != [("ok",)]:
                raise OutputError(say(N_("the database that was written is not whole; is the disk sound?")))
    return made_anew()


def _moved(aside: Path, folder: Path, kind: str) -> int:
    """How many papers or photos are in their place now."""
    here, there = aside / "files" / kind, folder / "files" / kind
    if not here.is_dir():
        return 0
    os.sync()
    if there.is_dir():
        shutil.rmtree(there)  # empty folders, or what a killed restore left: looked at before
    here.replace(there)
    return sum(each.is_file() and not each.name.endswith(".small.jpg") for each in there.rglob("*"))


def _move_the_rest(aside: Path, folder: Path) -> None:
    """The secret stays where there is one. The database comes last: without it nothing is here."""
    if (aside / "secret_key").exists() and not (folder / "secret_key").exists():
        (aside / "secret_key").replace(folder / "secret_key")
    if (aside / DATABASE).exists():
        os.sync()
        (aside / DATABASE).replace(folder / DATABASE)
        os.sync()
