"""What text may come in: any writing, but nothing that a database or a paper cannot hold."""

from __future__ import annotations

import re

_NOT_KEPT = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


def unkept(text: str) -> str:
    """The first sign that cannot be kept, as its number in words; empty where all can.

    >>> unkept("10 ft"), unkept("10\\x00")
    ('', 'U+0000')
    """
    found = _NOT_KEPT.search(text)
    return f"U+{ord(found[0]):04X}" if found else ""
