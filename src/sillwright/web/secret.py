"""The installation's secret: made at first start, readable by its owner alone."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from pathlib import Path


def secret_key(path: Path) -> str:
    """The secret in a file; a new one where there is none. Two servers that start at once agree on one."""
    with suppress(FileNotFoundError):
        if found := path.read_text("ascii").strip():
            return found
    aside = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
    handle = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(64))
        file.flush()
        os.fsync(file.fileno())
    with suppress(FileExistsError):
        os.link(aside, path)  # only the first one gets the name
    aside.unlink()
    return path.read_text("ascii").strip()
