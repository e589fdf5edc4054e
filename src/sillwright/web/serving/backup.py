"""One file with everything, while the server runs: every row from one moment, then the files they name."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

from sillwright import __version__
from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.serving.archive import Writing
from sillwright.web.serving.keeping import KEPT, Count
from sillwright.web.serving.preparing import plain_errors, ready
from sillwright.web.serving.rows import lines


def write_backup(folder: Path, file: Path) -> Count:
    """Write the backup of a data folder; the file gets its name when it is whole.

    Raises :class:`OutputError` where it cannot be written, or where something of that name is there, and
    :class:`InputError` where there is no database of this version.
    """
    if file.exists():
        raise OutputError(say(N_("{file}: is there already and was left as it is; choose another name"), file=file))
    with plain_errors():
        ready(folder)
        aside = None
        try:
            handle, name = tempfile.mkstemp(prefix=f".{file.name[:40]}.", dir=file.resolve().parent)
            aside = Path(name)
            with os.fdopen(handle, "wb") as out:
                count = _write(folder, out)
                out.flush()
                os.fsync(out.fileno())
            aside.replace(file)
            _settle(file.resolve().parent)
        except OSError as error:
            said = N_("{file}: cannot be written ({why})")
            raise OutputError(say(said, file=file, why=error.strerror or str(error))) from None
        finally:
            if aside:
                aside.unlink(missing_ok=True)
    return count


def _settle(folder: Path) -> None:
    """The name is on the disk, too."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _write(folder: Path, out: IO[bytes]) -> Count:
    archive, rows = Writing(out), dict[str, int]()
    with tempfile.TemporaryDirectory(dir=folder / "cache") as aside:
        with snapshot():
            state = migrations()
            for label in KEPT:
                part = Path(aside) / label
                rows[label] = _dump(label, part)
                archive.add(f"data/{label}.jsonl", part)
                part.unlink()
            papers, photos = _named()
        gone = [key for key in papers if not _add(archive, folder, f"papers/{key[:2]}/{key}")]
        lost = [key for key in photos if not _add_photo(archive, folder, key)]
        archive.end(__version__, state, rows)
    odd = len(gone) + len(lost)
    return Count(sum(rows.values()), len(papers) - len(gone), len(photos) - len(lost), odd)


def _named() -> tuple[list[str], list[str]]:
    """The papers and photos that have files; of a photo that is on its way or was refused nothing is kept."""
    from django.apps import apps

    papers = apps.get_model("records.paper").objects.values_list("pk", flat=True)
    photos = apps.get_model("records.photo").objects.filter(state="kept").values_list("pk", flat=True)
    return [str(key) for key in papers], [str(key) for key in photos]


def _add(archive: Writing, folder: Path, name: str) -> bool:
    """Add a file, where it is there; whether it was."""
    if there := (folder / "files" / name).is_file():
        archive.add(f"files/{name}", folder / "files" / name)
    return there


def _add_photo(archive: Writing, folder: Path, key: str) -> bool:
    _add(archive, folder, f"photos/{key[:2]}/{key}.small.jpg")
    return _add(archive, folder, f"photos/{key[:2]}/{key}.jpg")


def migrations() -> dict[str, list[str]]:
    """The migrations that the database has had, by application."""
    from django.db import connection
    from django.db.migrations.recorder import MigrationRecorder

    found: dict[str, list[str]] = {}
    for app, name in sorted(MigrationRecorder(connection).applied_migrations()):
        found.setdefault(app, []).append(name)
    return found


def _dump(label: str, part: Path) -> int:
    from django.apps import apps

    count = 0
    with part.open("w", encoding="ascii") as out:
        for line in lines(apps.get_model(label)):
            out.write(f"{line}\n")
            count += 1
    return count


@contextmanager
def snapshot() -> Iterator[None]:
    """Everything read inside is of one moment; nobody who writes waits for it."""
    from django.db import connection, transaction

    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("BEGIN DEFERRED")
            try:
                yield
            finally:
                cursor.execute("ROLLBACK")
    else:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield
