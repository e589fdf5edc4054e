"""Reading a backup back: into an empty folder and an empty database, as a whole or not at all."""

from __future__ import annotations

import hashlib
import json
import shutil
import tarfile
import tempfile
from pathlib import Path
from typing import Any

from sillwright.base.errors import InputError, OutputError
from sillwright.base.words import N_, say
from sillwright.web.serving.keeping import (
    FORMAT,
    KEPT,
    MANIFEST,
    MEMBER,
    MOST_MANIFEST,
    Count,
    migrations,
    model,
)

AT_ONCE = 500  # rows of one statement


def read_backup(folder: Path, file: Path) -> Count:
    """Restore a backup.

    Raises :class:`InputError` for a file that is no backup, is not whole or was changed, and :class:`OutputError`
    where anything is here already.
    """
    from sillwright.web.serving.preparing import prepare

    prepare()
    _refuse_unless_empty(folder)
    with tempfile.TemporaryDirectory(dir=folder / "cache") as aside:
        manifest = _unpacked(file, Path(aside))
        _refuse_other_tables(file, manifest)
        rows = _loaded(file, Path(aside), manifest)
        papers = _moved(Path(aside) / "files/papers", folder / "files/papers")
    return Count(rows, papers)


def _refuse_unless_empty(folder: Path) -> None:
    papers = folder / "files/papers"
    if any(model(label).objects.exists() for label in KEPT) or (papers.is_dir() and any(papers.iterdir())):
        raise OutputError(
            say(N_("{folder}: there are records here already; restore into an empty folder"), folder=folder)
        )


def _unpacked(file: Path, aside: Path) -> dict[str, Any]:
    """The parts of the file, each as its digest says. Names that no backup has are refused unread."""
    try:
        with tarfile.open(file, "r:") as tar:
            entries = tar.getmembers()
            for each in entries:
                if not each.isreg() or not MEMBER.fullmatch(each.name):
                    raise InputError(say(N_("{file}: holds something that no backup holds"), file=file))
            manifest = _manifest(file, tar, entries)
            for each in entries:
                if each.name != MANIFEST:
                    _unpack(file, tar, each, aside, manifest["sha256"])
    except (OSError, tarfile.TarError, EOFError) as error:
        said = N_("{file}: cannot be read as a backup ({why})")
        raise InputError(say(said, file=file, why=str(error))) from None
    missing = sorted(set(manifest["sha256"]) - {each.name for each in entries})
    if missing or {f"data/{label}.jsonl" for label in KEPT} - set(manifest["sha256"]):
        raise InputError(say(N_("{file}: is not whole; a part is missing"), file=file))
    return manifest


def _manifest(file: Path, tar: tarfile.TarFile, entries: list[tarfile.TarInfo]) -> dict[str, Any]:
    found = [each for each in entries if each.name == MANIFEST and each.size <= MOST_MANIFEST]
    content = tar.extractfile(found[0]) if len(found) == 1 else None
    try:
        told = json.loads(content.read()) if content else {}
    except ValueError:
        told = {}
    parts = ("version", "migrations", "rows", "sha256")
    if not isinstance(told, dict) or told.get("format") != FORMAT or not all(part in told for part in parts):
        raise InputError(say(N_("{file}: is no backup that is read here"), file=file))
    return told


def _unpack(file: Path, tar: tarfile.TarFile, entry: tarfile.TarInfo, aside: Path, sums: dict[str, str]) -> None:
    target, content, seen = aside / entry.name, tar.extractfile(entry), hashlib.sha256()
    target.parent.mkdir(parents=True, exist_ok=True)
    with target.open("xb") as out:
        while content and (part := content.read(1 << 20)):
            seen.update(part)
            out.write(part)
    if sums.get(entry.name) != seen.hexdigest():
        raise InputError(say(N_("{file}: {part} is not what was backed up"), file=file, part=entry.name))


def _refuse_other_tables(file: Path, manifest: dict[str, Any]) -> None:
    if manifest["migrations"] != migrations():
        said = N_(
            "{file}: was made by version {version}, whose tables differ; install that version, restore, then start "
            "this one on the same data"
        )
        raise InputError(say(said, file=file, version=str(manifest["version"])[:40]))


def _loaded(file: Path, aside: Path, manifest: dict[str, Any]) -> int:
    from django.core import serializers
    from django.core.management.color import no_style
    from django.db import connection, transaction

    count = 0
    with transaction.atomic():
        for label in KEPT:
            with (aside / f"data/{label}.jsonl").open(encoding="utf-8") as lines:
                waiting: list[Any] = []
                for row in serializers.deserialize("jsonl", lines):
                    waiting.append(row.object)
                    if len(waiting) == AT_ONCE:
                        count += _insert(label, waiting)
                count += _insert(label, waiting)
            if model(label).objects.count() != manifest["rows"].get(label):
                raise InputError(say(N_("{file}: {part} is not what was backed up"), file=file, part=label))
        wanted = [model(label) for label in KEPT]
        with connection.cursor() as cursor:
            for statement in connection.ops.sequence_reset_sql(no_style(), wanted):
                cursor.execute(statement)
    return count


def _insert(label: str, waiting: list[Any]) -> int:
    done = len(waiting)
    model(label).objects.bulk_create(waiting)
    waiting.clear()
    return done


def _moved(here: Path, there: Path) -> int:
    papers = [each for each in here.rglob("*") if each.is_file()] if here.is_dir() else []
    for each in papers:
        target = there / each.relative_to(here)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(each, target)
    return len(papers)
