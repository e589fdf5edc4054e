"""One file with everything, while the server runs: rows as JSON lines from one snapshot, then the papers."""

from __future__ import annotations

import hashlib
import json
import os
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import Any

from sillwright import __version__
from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.serving.keeping import FORMAT, KEPT, MANIFEST, Count, migrations, model


def write_backup(folder: Path, file: Path) -> Count:
    """Write the backup of a data folder; it gets its name when it is whole.

    Raises :class:`OutputError` where it cannot be written, or where something of that name is there.
    """
    if file.exists():
        raise OutputError(say(N_("{file}: is there already and was left as it is; choose another name"), file=file))
    aside = None
    try:
        handle, name = tempfile.mkstemp(prefix=f".{file.name[:40]}.", dir=file.resolve().parent)
        aside = Path(name)
        with os.fdopen(handle, "wb") as out:
            count = _write(folder, out)
            out.flush()
            os.fsync(out.fileno())
        aside.replace(file)
    except OSError as error:
        if aside:
            aside.unlink(missing_ok=True)
        said = N_("{file}: cannot be written ({why})")
        raise OutputError(say(said, file=file, why=error.strerror or str(error))) from None
    return count


def _write(folder: Path, out: Any) -> Count:
    sums: dict[str, str] = {}
    rows: dict[str, int] = {}
    with tarfile.open(fileobj=out, mode="w") as tar, tempfile.TemporaryDirectory(dir=folder / "cache") as aside:
        with snapshot():
            state = migrations()
            for label in KEPT:
                part = Path(aside) / label
                rows[label] = _dump(label, part)
                _add(tar, f"data/{label}.jsonl", part, sums)
            papers = [str(key) for key in model("records.paper").objects.values_list("pk", flat=True)]
        for key in papers:
            name = f"files/papers/{key[:2]}/{key}"
            if (folder / name).is_file():
                _add(tar, name, folder / name, sums)
        told = {"format": FORMAT, "version": __version__, "migrations": state, "rows": rows, "sha256": sums}
        content = json.dumps(told, indent=1).encode()
        entry = tarfile.TarInfo(MANIFEST)
        entry.size, entry.mode = len(content), 0o600
        tar.addfile(entry, BytesIO(content))
    return Count(sum(rows.values()), len(papers))


def _dump(label: str, part: Path) -> int:
    from django.core import serializers

    found = model(label)
    with part.open("w", encoding="utf-8") as lines:
        serializers.serialize("jsonl", found.objects.order_by("pk").iterator(chunk_size=500), stream=lines)
    return int(found.objects.count())


def _add(tar: tarfile.TarFile, name: str, path: Path, sums: dict[str, str]) -> None:
    with path.open("rb") as content:
        entry = tarfile.TarInfo(name)
        entry.size, entry.mode = os.fstat(content.fileno()).st_size, 0o600
        summed = _Summed(content)
        tar.addfile(entry, summed)  # type: ignore[arg-type]
        sums[name] = summed.sum.hexdigest()


class _Summed:
    """A file whose digest is known when it was read."""

    def __init__(self, content: Any) -> None:
        self.content, self.sum = content, hashlib.sha256()

    def read(self, size: int = -1) -> bytes:
        """The next bytes."""
        found: bytes = self.content.read(size)
        self.sum.update(found)
        return found


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
