"""Which program this is: a digest of everything that an answer is made by."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

import sillwright

WHOLE = Path(sillwright.__file__).parent
MADE_BY = ("*.py", "*.toml", "*.html", "*.po", "*.mo")


@cache
def program(folder: Path = WHOLE) -> str:
    """The digest of code, tables, templates and words in a folder; a rule that was mended gives another one.

    The number of a version alone would let an answer stand that the mended rule does not give.
    """
    found = hashlib.sha256(sillwright.__version__.encode())
    for path in sorted(each for pattern in MADE_BY for each in folder.rglob(pattern)):
        found.update(path.relative_to(folder).as_posix().encode() + b"\0")
        found.update(hashlib.sha256(path.read_bytes()).digest())
    return found.hexdigest()[:24]
