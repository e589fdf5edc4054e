"""The file of a backup: a plain tar of ordinary files with a manifest.

It is written by the standard library and read by few rules of our own: ordinary files with the names that a backup
has, each once, no longer than the file itself. Links, devices, sparse files and long headers are never looked into.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import tarfile
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from io import BytesIO
from pathlib import Path
from typing import IO, Any

from sillwright.base.errors import InputError
from sillwright.base.words import N_, say
from sillwright.web.serving.keeping import FORMAT

MANIFEST = "manifest.json"
MEMBER = re.compile(
    r"manifest\.json|data/[a-z_]+\.[a-z_]+\.jsonl"
    r"|files/papers/[0-9a-f]{2}/[0-9a-f-]{36}|files/photos/[0-9a-f]{2}/[0-9a-f-]{36}(\.small)?\.jpg"
)
MOST_MANIFEST = 256_000_000  # bytes; a file takes some 150 of them
BLOCK = 512
PIECE = 1 << 20

NO_BACKUP = N_("{file}: is no backup that is read here")
NOT_WHOLE = N_("{file}: is not whole; a part is missing")
CHANGED = N_("{file}: {part} is not what was backed up")
FOREIGN = N_("{file}: holds something that no backup holds")


@dataclass(frozen=True)
class Manifest:
    """What a backup says of itself."""

    version: str
    migrations: dict[str, list[str]]  # that the database had had, by application
    rows: dict[str, int]  # by table, in the order in which they are read
    sha256: dict[str, str]  # by part


class Writing:
    """A tar that is being written; knows the digest of every part."""

    def __init__(self, out: IO[bytes]) -> None:
        self.tar = tarfile.open(fileobj=out, mode="w", format=tarfile.GNU_FORMAT)  # noqa: SIM115 - closed by end()
        self.sums: dict[str, str] = {}

    def add(self, name: str, path: Path) -> None:
        """Add a file under a name."""
        with path.open("rb") as content:
            entry = tarfile.TarInfo(name)
            entry.size, entry.mode = os.fstat(content.fileno()).st_size, 0o600
            summed = _Summed(content)
            self.tar.addfile(entry, summed)
            self.sums[name] = summed.sum.hexdigest()

    def end(self, version: str, migrations: dict[str, list[str]], rows: dict[str, int]) -> None:
        """Add the manifest, the last part: without it the file is no backup."""
        told = {"format": FORMAT, **asdict(Manifest(version, migrations, rows, self.sums))}
        content = json.dumps(told, indent=1).encode()
        entry = tarfile.TarInfo(MANIFEST)
        entry.size, entry.mode = len(content), 0o600
        self.tar.addfile(entry, BytesIO(content))
        self.tar.close()


class _Summed:
    """A file whose digest is known when it was read."""

    def __init__(self, content: IO[bytes]) -> None:
        self.content, self.sum = content, hashlib.sha256()

    def read(self, size: int = -1) -> bytes:
        """The next bytes."""
        found = self.content.read(size)
        self.sum.update(found)
        return found


@dataclass(frozen=True)
class _Part:
    name: str
    start: int
    size: int


def unpacked(file: Path, aside: Path) -> Manifest:
    """Write every part into a folder, each as its digest says; what the manifest says.

    Raises :class:`InputError` for a file that is no backup, is not whole or was changed.
    """
    try:
        with file.open("rb") as content:
            parts = list(_parts(file, content))
            manifest = _manifest(file, content, parts)
            named = {each.name for each in parts} - {MANIFEST}
            if named != set(manifest.sha256) or {f"data/{table}.jsonl" for table in manifest.rows} - named:
                raise InputError(say(NOT_WHOLE, file=file))
            for each in parts:
                if each.name != MANIFEST and _digest(content, each, aside) != manifest.sha256[each.name]:
                    raise InputError(say(CHANGED, file=file, part=each.name))
    except OSError as error:
        said = N_("{file}: cannot be read ({why})")
        raise InputError(say(said, file=file, why=error.strerror)) from None
    return manifest


def _parts(file: Path, content: IO[bytes]) -> Iterator[_Part]:
    length, at, seen = os.fstat(content.fileno()).st_size, 0, set[str]()
    while True:
        content.seek(at)
        head = content.read(BLOCK)
        if seen and (not head or not head.strip(b"\0")):
            return
        try:
            entry = tarfile.TarInfo.frombuf(head, "ascii", "strict")
        except (tarfile.HeaderError, UnicodeDecodeError):
            raise InputError(say(NOT_WHOLE if seen else NO_BACKUP, file=file)) from None
        if entry.type != tarfile.REGTYPE or not MEMBER.fullmatch(entry.name) or entry.name in seen:
            raise InputError(say(FOREIGN, file=file))
        if not 0 <= entry.size <= length - at - BLOCK:
            raise InputError(say(NOT_WHOLE, file=file))
        seen.add(entry.name)
        yield _Part(entry.name, at + BLOCK, entry.size)
        at += BLOCK + -(-entry.size // BLOCK) * BLOCK


def _manifest(file: Path, content: IO[bytes], parts: list[_Part]) -> Manifest:
    found = next((each for each in parts if each.name == MANIFEST), None)
    if found is None or found.size > MOST_MANIFEST:
        raise InputError(say(NOT_WHOLE, file=file))
    content.seek(found.start)
    try:
        told = json.loads(content.read(found.size))
    except (ValueError, RecursionError):
        told = None
    if not isinstance(told, dict) or told.pop("format", "") != FORMAT or not _fits(told):
        raise InputError(say(NO_BACKUP, file=file))
    return Manifest(**told)


def _fits(told: dict[str, Any]) -> bool:
    tables = {"migrations": list, "rows": int, "sha256": str}
    if set(told) != {"version", *tables} or not isinstance(told["version"], str):
        return False
    return all(
        isinstance(told[name], dict) and all(isinstance(value, kind) for value in told[name].values())
        for name, kind in tables.items()
    )


def _digest(content: IO[bytes], part: _Part, aside: Path) -> str:
    target, seen, left = aside / part.name, hashlib.sha256(), part.size
    target.parent.mkdir(parents=True, exist_ok=True)
    content.seek(part.start)
    with target.open("xb") as out:
        while left and (piece := content.read(min(PIECE, left))):
            seen.update(piece)
            out.write(piece)
            left -= len(piece)
    return seen.hexdigest()
