"""What a server needs before it answers: a database of this version, and collected style sheets and scripts."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sillwright.base.errors import InputError, OutputError
from sillwright.base.words import N_, say
from sillwright.web.serving.folder import DATABASE

OURS = ("accounts", "records")
UNDER_WAY = "under way"


def prepare(folder: Path) -> None:
    """Bring the database to this version and collect what browsers load. Names of earlier versions stay.

    Raises :class:`OutputError` where the database cannot be reached, or was written by a newer version.
    """
    from django.core.management import call_command

    with plain_errors():
        reach()
        if behind():
            call_command("migrate", verbosity=0, interactive=False)
        call_command("createcachetable", verbosity=0)
        call_command("clearsessions")
        let_go()
    collect(folder)


def ready(folder: Path) -> None:
    """Nothing, where there is a database of this version. Raises :class:`InputError` where there is none."""
    from django.db import connection

    reach()
    if connection.vendor == "sqlite" and not (folder / DATABASE).exists():
        raise InputError(say(N_("{folder}: there is no database here; start the server first"), folder=folder))
    if behind():
        said = N_(
            "the database is not of this version; use the version that wrote it, or start this one's server first"
        )
        raise InputError(say(said))


@contextmanager
def plain_errors() -> Iterator[None]:
    """What the database says of itself becomes one plain sentence."""
    from django.db import Error

    try:
        yield
    except Error as error:
        why = (str(error).strip().splitlines() or [type(error).__name__])[0]
        raise OutputError(say(N_("the database cannot be used ({why})"), why=why)) from error


def reach() -> None:
    """Ask for the database once, without a pool that would wait. Raises :class:`OutputError`."""
    address = os.environ.get("DATABASE_URL")
    if not address:
        return
    import psycopg

    try:
        psycopg.connect(address, connect_timeout=5).close()
    except psycopg.Error as error:
        why = (str(error).strip().splitlines() or [type(error).__name__])[0]
        said = N_("the database at DATABASE_URL cannot be reached ({why})")
        raise OutputError(say(said, why=why)) from None


def behind() -> bool:
    """Whether the database lacks something of this version.

    Raises :class:`OutputError` where it has something that this version does not know.
    """
    from django.db import connection
    from django.db.migrations.executor import MigrationExecutor

    executor = MigrationExecutor(connection)
    known = executor.loader.disk_migrations
    if any(each not in known for each in executor.loader.applied_migrations if each[0] in OURS):
        said = N_("the database was written by a newer version of this program; install that version")
        raise OutputError(say(said))
    return bool(executor.migration_plan(executor.loader.graph.leaf_nodes()))


def let_go() -> None:
    """Close every connection, pools too: what is forked afterwards opens its own."""
    from django.db import connections

    for each in connections.all(initialized_only=True):
        each.close()
        if close_pool := getattr(each, "close_pool", None):
            close_pool()


def collect(folder: Path) -> None:
    """Collect what browsers load, where it has changed; after a start that was cut short, all anew."""
    from django.core.management import call_command

    note = folder / "cache" / "collected"
    wanted = _digest_of_sources()
    noted = note.read_text("utf-8") if note.exists() else ""
    if noted == wanted and (folder / "static" / "staticfiles.json").exists():
        return
    note.write_text(UNDER_WAY, "utf-8")
    call_command("collectstatic", verbosity=0, interactive=False, clear=noted == UNDER_WAY)
    note.write_text(wanted, "utf-8")


def _digest_of_sources() -> str:
    from django.contrib.staticfiles.finders import get_finders

    seen = hashlib.sha256()
    for finder in get_finders():
        for name, storage in sorted(finder.list(None), key=lambda each: each[0]):
            with storage.open(name) as file:
                seen.update(f"{name}\0{hashlib.sha256(file.read()).hexdigest()}\n".encode())
    return seen.hexdigest()
