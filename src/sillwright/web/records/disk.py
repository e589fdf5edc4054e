"""Files that are there whole or not at all."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path


def put(path: Path, content: bytes) -> None:
    """Write a file aside, onto the disk, then give it its name; its folder is made if need be.

    Raises :class:`OSError`; then nothing of it is left.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(path)
        settle(path.parent)
    except OSError:
        Path(name).unlink(missing_ok=True)
        raise


def settle(folder: Path) -> None:
    """What was named or unnamed in a folder is so on the disk, too. Raises :class:`OSError`."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
