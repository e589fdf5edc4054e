"""The data folder: where it is, who may look, and that only one server works in it."""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sillwright.base.errors import InputError, OutputError
from sillwright.base.words import N_, say

NAME = "sillwright-data"
DATABASE = "db.sqlite3"
INNER = ("run", "files", "cache/numba")
CLOSED = 0o077  # what is written here is read by its owner alone


def data_folder(name: str = NAME) -> Path:
    """The folder that ``SILLWRIGHT_DATA`` names, else one of this name here; made if need be, closed to others.

    Raises :class:`OutputError` where it cannot be made.
    """
    folder = Path(os.environ.get("SILLWRIGHT_DATA") or name).resolve()
    os.umask(CLOSED)
    try:
        for path in (folder, *(folder / inner for inner in INNER)):
            path.mkdir(parents=True, exist_ok=True, mode=0o700)
        (folder / "run" / "serve.lock").touch()
    except OSError as error:
        said = N_("{folder}: this folder cannot be used ({why}); choose another one with SILLWRIGHT_DATA")
        raise OutputError(say(said, folder=folder, why=error.strerror)) from None
    return folder


def existing_folder() -> Path:
    """The data folder, which has to be there. Raises :class:`InputError`."""
    folder = Path(os.environ.get("SILLWRIGHT_DATA") or NAME).resolve()
    os.umask(CLOSED)
    if not (folder / "run").is_dir():
        said = N_("{folder}: this is no data folder; name it with SILLWRIGHT_DATA")
        raise InputError(say(said, folder=folder))
    return folder


def use(folder: Path, cache: Path | None = None) -> None:
    """Point this process and its children at a data folder, before Django or a compiler is loaded."""
    os.environ["SILLWRIGHT_DATA"] = str(folder)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "sillwright.web.settings")
    os.environ.setdefault("NUMBA_CACHE_DIR", str((cache or folder / "cache") / "numba"))


def set_up() -> None:
    """Load Django; after this its models can be used."""
    import django

    django.setup()


@contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """Hold the folder's lock; it goes with this process and its children, however they end.

    Raises :class:`OutputError` where another server holds it.
    """
    with (folder / "run" / "serve.lock").open("a") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            said = N_(
                "{folder}: another server works with this folder already; end it first, or use another folder"
            )
            raise OutputError(say(said, folder=folder)) from None
        yield
